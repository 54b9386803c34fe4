//! The reader of decisions: it reads or names what is wrong, and each row that it reads the journal can take over.

#![no_main]

use kerfmark::journal::{Draft, taken_over};
use kerfmark::measure::Unit;
use kerfmark::reconcile::read_decisions;
use libfuzzer_sys::fuzz_target;

fuzz_target!(|text: &str| {
    let Ok(decisions) = read_decisions(text, Unit::Metre) else {
        return;
    };
    for decision in &decisions {
        let event = taken_over(("A", "yard"), decision, "A/yard/2", true);
        if let Err(problems) = Draft::by_program(&event) {
            panic!("{event}: {problems:?}");
        }
    }
});
