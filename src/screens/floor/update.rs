//! What keys do on the floor.

use super::state::count;
use crate::figures::catalogue::Subject;
use crate::screens::movement::Movement;
use crate::screens::parts::how::{result, show_how};
use crate::screens::state::State;

/// Goes so many joints in or out.
pub fn step(state: &mut State, movement: Movement) {
    let Some((_, _, figures)) = state.current() else {
        return;
    };
    // What is entered says how many are run.
    if state.entered().is_some() {
        return;
    }
    let steps = count(figures) + 1;
    let cursor = state.cursor_mut();
    cursor.pieces_in = movement.from(cursor.pieces_in, steps);
}

/// Opens how the stick-up with so many joints in came about.
pub fn open(state: &mut State) {
    let pieces_in = state.pieces_in();
    show_how(state, Some(Subject::Run(pieces_in)));
}

/// The stick-up with so many joints in.
pub fn copied(state: &State) -> Option<String> {
    result(state, Subject::Run(state.pieces_in()))
}
