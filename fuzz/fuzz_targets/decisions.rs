//! The reader of decisions, and that what was read is written such that it is read the same.

#![no_main]

use kerfmark::measure::Unit;
use kerfmark::reconcile::{read_decisions, write_decision};
use libfuzzer_sys::fuzz_target;

fuzz_target!(|text: &str| {
    let Ok(decisions) = read_decisions(text, Unit::Metre) else {
        return;
    };
    let rows: Vec<String> = decisions
        .iter()
        .enumerate()
        .map(|(index, decision)| write_decision(decision, index == 0))
        .collect();
    let again = read_decisions(&rows.concat(), Unit::Metre);
    assert_eq!(again.as_ref().ok(), Some(&decisions), "{again:?}");
});
