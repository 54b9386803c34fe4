//! The surface from which stick-ups are measured.

use crate::measure::Length;
use crate::report::words::side_of_surface;
use crate::screens::state::State;

/// What a stick-up is measured from, and on which side of it the top stands: never a bare sign.
pub fn surface_words(state: &State, stick_up: Length) -> String {
    format!("{} {}", side_of_surface(stick_up), surface(state))
}

/// Its name at the hull position of the slot in front.
pub fn surface(state: &State) -> &'static str {
    let current = state.current();
    current.map_or("RT", |(slot, _, _)| slot.hull.surface_name())
}
