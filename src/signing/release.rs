//! Which conductors are released for cutting, and whose signatures do not stand any more.

use std::collections::BTreeMap;

use super::readiness::still_lacks;
use super::verify::{Verified, verify};
use crate::figures::{CutStatus, Figures, Release};
use crate::job::{Hold, Role};
use crate::journal::Inputs;

/// Notes of every slot what its signatures are worth now: whether it is released, and how many have fallen.
pub fn note_signatures(inputs: &Inputs, figures: &mut Figures) {
    if inputs.record.slots.iter().all(|it| it.signed.is_empty()) {
        return;
    }
    let verified = verify(inputs);
    for (standing, slot) in figures.standings.iter_mut().zip(&inputs.job.slots) {
        standing.fallen = fallen(&verified, &slot.name);
        standing.is_accepted = accepted(inputs, &verified, &slot.name);
    }
    releases(inputs, &verified, figures);
}

/// How many roles of the slot's hold points signed last what does not stand. What was signed anew counts
/// by its newest signature alone.
fn fallen(verified: &[Verified], slot: &str) -> usize {
    // A statement that no entry names has a flag of its own.
    let of_slot = verified
        .iter()
        .filter(|it| it.slot == slot && it.seq.is_some());
    let last: BTreeMap<_, bool> = of_slot
        .map(|it| ((it.hold, it.role), it.state.stands()))
        .collect();
    last.values().filter(|stands| !**stands).count()
}

/// Whether the finished top of a slot is accepted in every role that its hold point asks for.
fn accepted(inputs: &Inputs, verified: &[Verified], slot: &str) -> bool {
    let points = inputs.job.people.hold_points();
    let last: Vec<(Hold, Vec<Role>)> = points
        .into_iter()
        .filter(|(hold, _)| *hold == Hold::Final)
        .collect();
    !last.is_empty() && signatures(verified, slot, &last).is_some()
}

/// Notes which clear slots are released for cutting: the cut release and, where it is used, the off-cut's
/// lift are signed in every role, every signature stands, and what a release needs is there still.
fn releases(inputs: &Inputs, verified: &[Verified], figures: &mut Figures) {
    let points = inputs.job.people.hold_points();
    let needed: Vec<(Hold, Vec<Role>)> = points
        .into_iter()
        .filter(|(hold, _)| matches!(hold, Hold::CutRelease | Hold::OffCutLift))
        .collect();
    let is_used = needed.iter().any(|(hold, _)| *hold == Hold::CutRelease);
    if !is_used {
        return;
    }
    let released: Vec<Option<Release>> = figures
        .standings
        .iter()
        .enumerate()
        .map(|(slot, standing)| {
            let name = &inputs.job.slots.get(slot)?.name;
            (standing.status == CutStatus::Clear).then_some(())?;
            let signed = signatures(verified, name, &needed)?;
            still_lacks(inputs, figures, slot)
                .is_empty()
                .then_some(())?;
            Some(release(&signed))
        })
        .collect();
    for (standing, release) in figures.standings.iter_mut().zip(released) {
        standing.release = release;
    }
}

/// The signatures that a release needs, where all stand.
fn signatures<'v>(
    verified: &'v [Verified],
    slot: &str,
    needed: &[(Hold, Vec<Role>)],
) -> Option<Vec<&'v Verified>> {
    let mut signed = Vec::new();
    for (hold, roles) in needed {
        for role in roles {
            let mut last = verified.iter().rev();
            let last = last
                .find(|it| it.slot == slot && it.hold == Some(*hold) && it.role == Some(*role))?;
            last.state.stands().then_some(())?;
            signed.push(last);
        }
    }
    Some(signed)
}

fn release(signed: &[&Verified]) -> Release {
    let mut names: Vec<String> = Vec::new();
    for it in signed {
        if !names.contains(&it.name) {
            names.push(it.name.clone());
        }
    }
    let last = signed.iter().max_by_key(|it| it.seq);
    Release {
        names,
        at: last.map_or_else(String::new, |it| it.at.clone()),
        on_paper: signed.iter().any(|it| it.on_paper),
    }
}
