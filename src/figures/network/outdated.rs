//! Entered readings of a string that has moved since: what they say is of where it was.

use std::collections::BTreeSet;

use crate::journal::{Event, Inputs, Said, StringState};

/// When the string of a slot last moved, and its entry: a joint was run or pulled, or it was slacked off; with `crops` also when
/// its top was cropped. `gone` are the entries that are struck.
pub(super) fn last_moved(
    inputs: &Inputs,
    gone: &BTreeSet<u64>,
    slot: usize,
    crops: bool,
) -> Option<(i64, u64)> {
    let name = &inputs.job.slots.get(slot)?.name;
    let said = inputs.record.slots.get(slot)?;
    let entries = inputs.journal.entries.iter().filter(|entry| {
        let moves = match entry.event {
            Event::JointRun(_) | Event::JointPulled { .. } => true,
            Event::Cropped { .. } => crops,
            _ => false,
        };
        moves && entry.event.slot() == Some(name) && !gone.contains(&entry.seq)
    });
    let entries = entries.map(|entry| (entry.at.seconds(), entry.seq));
    let slacked_off = said.stick_ups.iter();
    let slacked_off = slacked_off
        .filter(|it| it.what.state == StringState::SlackedOff)
        .map(Said::order);
    entries.chain(slacked_off).max()
}

/// Entered readings at a point of a string that has moved since: each entry with that point. A crop moves the top alone.
pub(super) fn outdated(inputs: &Inputs, gone: &BTreeSet<u64>) -> Vec<(u64, String)> {
    let moved: Vec<[Option<(i64, u64)>; 2]> = (0..inputs.job.slots.len())
        .map(|slot| [false, true].map(|crops| last_moved(inputs, gone, slot, crops)))
        .collect();
    let is_moved_since = |name: &str, read: (i64, u64)| {
        let mut slots = inputs.job.slots.iter().enumerate();
        let of = slots.find_map(|(at, slot)| {
            let point = name.strip_prefix(slot.name.as_str())?.strip_prefix('.')?;
            Some((at, point))
        });
        let Some(([string, top], point)) =
            of.and_then(|(at, point)| Some((*moved.get(at)?, point)))
        else {
            return false;
        };
        let is_of_string =
            matches!(point, "top" | "shoulder" | "shoe") || point.starts_with("plane@");
        let moved = if point == "top" { top } else { string };
        is_of_string && moved.is_some_and(|moved| moved > read)
    };
    let entries = inputs.journal.entries.iter();
    let readings = entries.filter_map(|entry| match &entry.event {
        Event::Reading { from, to, .. } if !gone.contains(&entry.seq) => {
            let mut ends = [from, to].into_iter();
            let end = ends.find(|it| is_moved_since(it, (entry.at.seconds(), entry.seq)))?;
            Some((entry.seq, end.clone()))
        }
        _ => None,
    });
    readings.collect()
}
