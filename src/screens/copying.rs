//! What `y` copies: the figure under the cursor, as it is shown.

use super::action::Effect;
use super::overlay::Overlay;
use super::parts::how;
use super::screen::Screen;
use super::state::State;
use super::{cut, deck, floor, levels, overview, profile, reconcile, record, tally};
use crate::report::said::Said;

/// The figure under the cursor; `None` where there is none.
pub(super) fn figure(state: &State) -> Option<String> {
    if let Overlay::How { slot, figure, .. } = &state.overlay {
        return how::of(state, slot, figure).map(|how| how.result);
    }
    match state.screen {
        Screen::Overview => overview::copied(state),
        Screen::Tally => tally::copied(state),
        Screen::Reconcile => reconcile::copied(state),
        Screen::Profile => Some(profile::copied(state)),
        Screen::Cut => cut::copied(state),
        Screen::Floor => floor::copied(state),
        Screen::Levels => levels::copied(state),
        Screen::Deck => deck::copied(state),
        Screen::Record => record::copied(state),
    }
}

/// Hands it to the terminal.
pub(super) fn copy(state: &mut State) -> Vec<Effect> {
    let Some(text) = figure(state).filter(|text| !text.is_empty()) else {
        state.message = Some(Said::NothingToCopy);
        return Vec::new();
    };
    state.message = Some(Said::Copied(text.clone()));
    vec![Effect::Copy(text)]
}
