//! What is open when the shift changes.

use super::readiness::next_hold;
use super::verify::verify;
use crate::figures::Figures;
use crate::finding::{Flag, Severity};
use crate::journal::Inputs;

/// What stands open, a place after the other: `A: check top-moved, next cut-release; job: stop hull-moving`.
/// Blank where nothing does.
pub fn open_items(inputs: &Inputs, figures: &Figures) -> String {
    let verified = verify(inputs);
    let slots = inputs.job.slots.iter().zip(&figures.slots).enumerate();
    let mut places: Vec<(&str, Vec<String>)> = slots
        .map(|(index, (slot, figures))| {
            let mut open = of_flags(&figures.flags);
            let next = next_hold(inputs, &verified, index);
            open.extend(next.map(|next| format!("next {}", next.hold.name())));
            (slot.name.as_str(), open)
        })
        .collect();
    places.push(("job", of_flags(&figures.flags)));
    let open = places.iter().filter(|(_, open)| !open.is_empty());
    let open: Vec<String> = open
        .map(|(place, open)| format!("{place}: {}", open.join(", ")))
        .collect();
    open.join("; ")
}

/// Stops and checks that are not waived, each once.
fn of_flags(flags: &[Flag]) -> Vec<String> {
    let mut open: Vec<String> = flags
        .iter()
        .filter(|flag| flag.severity != Severity::Note && flag.counts())
        .map(|flag| format!("{} {}", flag.severity.word(), flag.code.name()))
        .collect();
    open.dedup();
    open
}
