//! What the floor says in lines: what must be seen first, what to fit, why a string does not close, loads.

use crate::figures::{RunStep, SlotState};
use crate::journal::Source;
use crate::report::words;
use crate::screens::state::State;

/// What must be seen before anything else: joints that are not run as they are listed, and a string that must
/// not be slacked off.
pub(super) fn urgent(state: &State) -> Vec<String> {
    let mut lines = Vec::new();
    let slot = state.slot_index();
    let (Some(said), Some(tally)) = (
        state.inputs.record.slots.get(slot),
        state.inputs.tallies.get(slot),
    ) else {
        return lines;
    };
    let run = said.hanging.iter().enumerate();
    let mut otherwise = run.filter(|(at, it)| it.what.source != Source::Tally(*at));
    if let Some((at, it)) = otherwise.next() {
        let listed = tally.joints.get(at).map_or("none", |joint| &joint.number);
        lines.push(words::run_otherwise(at + 1, &it.what.run.joint, listed));
    }
    if let Some(placed) = state.placed(slot) {
        let left = state.now.as_ref().map(|now| now.until(&placed.until));
        lines.push(words::not_slacked_off(&placed.what, &placed.until, left));
    }
    lines
}

/// Where the string does not close as it is run, and what may be the cause.
pub(super) fn misclosure(state: &State) -> Vec<String> {
    let found = state.figures.misclosures.get(state.slot_index());
    let found = found.and_then(Option::as_ref);
    found.map_or_else(Vec::new, |found| {
        words::misclosure_on_floor(found, state.show)
    })
}

/// What the weight indicator is expected to show, and what is lifted next.
pub(super) fn loads(state: &State) -> Vec<String> {
    let running = state.figures.running.get(state.slot_index());
    let Some(running) = running.filter(|running| running.joints_run > 0) else {
        return Vec::new();
    };
    let hangs = state.figures.state(state.slot_index()) == Some(SlotState::Running);
    let load = hangs.then(|| words::hook_load(running.hook_load.as_ref()));
    let lift = running.next_lift.map(words::next_lift);
    load.into_iter().chain(lift).collect()
}

/// What to fit on the next joint, and where.
pub(super) fn fit(state: &State, step: &RunStep) -> Vec<String> {
    let mut lines = Vec::new();
    let Some((_, tally, figures)) = state.current() else {
        return lines;
    };
    if figures
        .chain
        .shoulder
        .is_some_and(|shoulder| Some(shoulder.piece) == step.next)
    {
        lines.push("THIS IS THE RUNNING JOINT: IT CARRIES THE SHOULDER".to_owned());
    }
    for place in &step.fit {
        let Some((accessory, height)) = state
            .inputs
            .job
            .accessories
            .get(place.accessory)
            .zip(place.above_lower_plane)
        else {
            continue;
        };
        lines.push(words::fit(
            &accessory.name,
            height,
            place.clear == Some(false),
            (&figures.chain, tally, step.next.unwrap_or(step.pieces_in)),
            state.show,
        ));
    }
    if lines.is_empty() {
        // One line at least, so that nothing jumps from joint to joint.
        let line = if step.next.is_some() {
            words::NOTHING_TO_FIT
        } else {
            "ALL JOINTS ARE RUN"
        };
        lines.push(line.to_owned());
    }
    lines
}

/// That the hull is not where the slot's stick-up is read from: it moves, or was found at another position since.
pub(super) fn other_hull(state: &State) -> Option<String> {
    let (slot, ..) = state.current()?;
    let record = &state.inputs.record;
    if record.moving.is_some() {
        return Some(words::hull_is_moving(&slot.hull.name));
    }
    let last = record.positions.last()?;
    (last.what.0 != slot.hull.name).then(|| words::hull_is_at(&last.what.0, &slot.hull.name))
}
