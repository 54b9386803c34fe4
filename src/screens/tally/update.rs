//! What keys do on the tally.

use super::names::Answer;
use super::state::{TallyRow, count, note};
use crate::figures::catalogue::Subject;
use crate::report::said::Said;
use crate::screens::movement::Movement;
use crate::screens::parts::how::{result, show_how};
use crate::screens::screen::Screen;
use crate::screens::state::State;

/// Which row the cursor is on; `None` where that row is gone.
pub fn row(state: &State) -> Option<usize> {
    let (_, tally, _) = state.current()?;
    match state.cursor().and_then(|cursor| cursor.tally.as_ref()) {
        Some(row) => row.find(tally),
        None => Some(state.tally_order.shown(0, tally.joints.len())),
    }
}

/// Moves the cursor to a row, or to the last where there are fewer.
pub fn move_to(state: &mut State, row: usize) {
    let row = state.current().and_then(|(_, tally, _)| {
        let last = count(tally).saturating_sub(1);
        TallyRow::at(tally, row.min(last))
    });
    state.cursor_mut().tally = row;
}

/// Moves the cursor, up and down as the rows are shown.
pub fn step(state: &mut State, movement: Movement) {
    let Some((_, tally, _)) = state.current() else {
        return;
    };
    let (joints, count) = (tally.joints.len(), count(tally));
    let order = state.tally_order;
    let shown = order.shown(row(state).unwrap_or(0), joints);
    let shown = movement.from(shown, count);
    move_to(state, order.shown(shown, joints));
}

/// Lists the joints the other way round.
pub fn turn(state: &mut State) {
    state.tally_order = state.tally_order.other();
}

/// Opens the upper make-up plane of the joint that the cursor is on, or says why there is none.
pub fn open(state: &mut State) {
    let at = row(state).unwrap_or(0);
    let Some((_, tally, figures)) = state.current() else {
        return;
    };
    if at < figures.chain.string.pieces.len() {
        if figures.chain.shoe.is_none() {
            state.message = Some(Said::NoElevations);
        } else {
            show_how(state, Some(Subject::Plane(at)));
        }
    } else if at < tally.joints.len() {
        state.message = Some(Said::LandingPiece);
    } else if let Some(skip) = tally.skipped.get(at - tally.joints.len()) {
        state.message = Some(Said::NotAJoint {
            line: skip.line,
            why: skip.why,
        });
    } else if let Some(note) = note(tally, at) {
        state.message = Some(Said::Note(note.clone()));
    }
}

/// Goes to the next joint that has what is looked for, in the slot in front first, then in the
/// others. A joint whose number or serial is just that goes before one that only contains it.
pub fn find(state: &mut State) {
    let wanted = state.sought.trim().to_lowercase();
    if wanted.is_empty() {
        return;
    }
    // On the tally one goes on from where one is; from elsewhere, from the first joint.
    let from = if state.screen == Screen::Tally {
        row(state).map_or(0, |row| row + 1)
    } else {
        0
    };
    let front = state.slot_index();
    let others = (front + 1..state.names.len()).chain(0..front);
    // Joints of the slot in front that lie behind come round last.
    let places = [(front, from)].into_iter();
    let places: Vec<(usize, usize)> = places
        .chain(others.chain([front]).map(|slot| (slot, 0)))
        .collect();
    let found = Answer::ALL.into_iter().find_map(|answer| {
        places.iter().find_map(|(slot, from)| {
            let row = state.names.get(*slot)?.find(&wanted, answer, *from)?;
            let joint = state.inputs.tallies.get(*slot)?.joints.get(row)?;
            Some((answer, *slot, row, joint.clone()))
        })
    });
    let Some((answer, slot, row, joint)) = found else {
        state.message = Some(Said::NoJoint(state.sought.trim().to_owned()));
        return;
    };
    state.bring_to_front(slot);
    state.screen = Screen::Tally;
    move_to(state, row);
    let by_serial = matches!(answer, Answer::Serial | Answer::InSerial);
    state.message = Some(Said::JointFound {
        joint: joint.number.to_string(),
        serial: joint.serial.filter(|_| by_serial).map(Into::into),
        is_it: answer < Answer::InNumber,
        sought: state.sought.trim().to_owned(),
    });
}

/// The make-up plane of the joint under the cursor, or its number where it has none.
pub fn copied(state: &State) -> Option<String> {
    let at = row(state)?;
    let (_, tally, _) = state.current()?;
    let joint = tally.joints.get(at)?;
    Some(result(state, Subject::Plane(at)).unwrap_or_else(|| joint.number.to_string()))
}
