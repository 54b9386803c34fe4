//! The reader of decisions: it reads or names what is wrong, and a row that the journal takes over says the same there.

#![no_main]

use kerfmark::journal::{Draft, Event, taken_over};
use kerfmark::measure::Unit;
use kerfmark::reconcile::read_decisions;
use libfuzzer_sys::fuzz_target;

fuzz_target!(|text: &str| {
    let Ok(decisions) = read_decisions(text, Unit::Metre) else {
        return;
    };
    for decision in &decisions {
        let event = taken_over(("A", "yard"), decision, "A/yard/2", true);
        // A row that the journal has no form for, as one with a length of a kilometre, stays in its file.
        if let Ok(draft) = Draft::by_program(&event)
            && let Event::Decision { joint, of, .. } = &draft.event
        {
            assert_eq!((joint, of.as_str()), (&decision.joint, decision.topic.name()));
        }
    }
});
