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
            open.extend(
                next.as_ref()
                    .map(|next| format!("next {}", next.hold.name())),
            );
            // What is signed to the end was looked at by all who sign.
            let is_signed = next.is_none() && !inputs.job.people.hold_points().is_empty();
            if !is_signed {
                open.extend(of_one_person(inputs, index));
            }
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

/// Readings of a slot that one person alone made, and nobody repeated.
fn of_one_person(inputs: &Inputs, slot: usize) -> Vec<String> {
    let (Some(said), Some(stated)) = (inputs.record.slots.get(slot), inputs.job.slots.get(slot))
    else {
        return Vec::new();
    };
    let mut found = Vec::new();
    let at_rest = said
        .stick_ups
        .iter()
        .filter(|it| it.what.state.is_at_rest());
    let read_by: Vec<&str> = at_rest.map(|it| it.by.as_str()).collect();
    found.extend(alone(&read_by).map(|who| format!("one-person stick-up {who}")));
    let hull = &stated.hull.name;
    let positions = inputs.record.positions.iter();
    let of_hull = positions.filter(|it| it.what.0 == *hull);
    let found_by: Vec<&str> = of_hull.map(|it| it.by.as_str()).collect();
    found.extend(alone(&found_by).map(|who| format!("one-person rotary {hull} {who}")));
    let surveyed = said.as_cut.as_ref();
    found.extend(surveyed.map(|it| format!("one-person as-cut {}", it.by)));
    found
}

/// The one person who made all of some readings.
fn alone<'a>(by: &[&'a str]) -> Option<&'a str> {
    let first = *by.first()?;
    by.iter().all(|it| *it == first).then_some(first)
}
