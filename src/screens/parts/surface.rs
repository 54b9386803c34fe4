//! The surface from which stick-ups are measured.

use crate::figures::side_of_surface;
use crate::job::Hull;
use crate::measure::Length;
use crate::screens::state::State;

/// What a stick-up is measured from, and on which side of it the top stands: never a bare sign.
pub fn surface_words(state: &State, stick_up: Length) -> String {
    format!("{} {}", side_of_surface(stick_up), surface(state))
}

/// Its name at the hull position of the slot in front.
pub fn surface(state: &State) -> &'static str {
    let hull = state
        .current()
        .and_then(|(slot, _, _)| state.inputs.job.hulls.get(slot.hull));
    hull.map_or("RT", Hull::surface_name)
}
