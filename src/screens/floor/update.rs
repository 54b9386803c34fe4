//! What keys do on the floor.

use super::count::pieces_in;
use super::state::ByHand;
use crate::figures::catalogue::Subject;
use crate::figures::pieces_to_run;
use crate::report::said::Said;
use crate::screens::movement::Movement;
use crate::screens::parts::how::{result, show_how};
use crate::screens::state::State;

/// Says by hand that so many joints more or less are in; the first time that none is.
pub fn step(state: &mut State, movement: Movement) {
    // What is entered says how many are run.
    if state.entered().is_some() {
        return;
    }
    let known = pieces_in(state);
    let Some((_, tally, figures)) = state.current() else {
        return;
    };
    let steps = pieces_to_run(figures) + 1;
    let joints = match (known, movement) {
        (Some(known), movement) => movement.from(known, steps),
        (None, Movement::Last) => steps - 1,
        (None, _) => 0,
    };
    let by_hand = ByHand::of(tally, joints);
    state.cursor_mut().by_hand = Some(by_hand);
}

/// Opens how the stick-up with so many joints in came about.
pub fn open(state: &mut State) {
    match pieces_in(state) {
        Some(pieces_in) => show_how(state, Some(Subject::Run(pieces_in))),
        None => state.message = Some(Said::CountNotKnown),
    }
}

/// The stick-up with so many joints in.
pub fn copied(state: &State) -> Option<String> {
    result(state, Subject::Run(pieces_in(state)?))
}
