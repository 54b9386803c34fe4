//! What keys do on the deck.

use crate::figures::Seating;
use crate::screens::movement::Movement;
use crate::screens::state::State;

/// How often the cuts are drawn, and the seed: those of `kerfmark seat`.
const DRAWN: (u32, u64) = (10_000, 1);

/// Seats the deck, where that was not done since the files were read.
pub fn work(state: &mut State) {
    if state.seating.is_none() {
        let seating = Seating::of(&state.inputs, &state.figures, DRAWN);
        state.seating = Some(seating.map_err(|error| error.to_string()));
    }
}

/// Scrolls what stands below the plan.
pub fn step(state: &mut State, movement: Movement) {
    let lines = super::view::said(state, usize::from(state.size.0)).len();
    state.at_deck.first = movement.from(state.at_deck.first, lines);
}

/// Shows the other rest of a deck that rocks.
pub fn sideways(state: &mut State, movement: Movement) {
    let rests = state.seating.as_ref().and_then(|it| it.as_ref().ok());
    let rests = rests.map_or(0, |it| it.seat.rests.len());
    state.at_deck.rest = movement.from(state.at_deck.rest, rests);
}

/// The gap over the top of the slot in front.
pub fn copied(state: &State) -> Option<String> {
    let seating = state.seating.as_ref()?.as_ref().ok()?;
    let gaps = seating.gaps(super::view::shown(state, seating));
    Some(state.show.small(*gaps.get(state.slot_index())?))
}
