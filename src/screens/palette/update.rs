//! What keys do in the palette.

use super::named::named;
use crate::screens::action::Effect;
use crate::screens::overlay::{Overlay, Palette};
use crate::screens::state::State;
use crate::screens::update;

/// Opens it over what is in front.
pub fn open(state: &mut State) {
    let under = std::mem::replace(&mut state.overlay, Overlay::None);
    state.overlay = Overlay::Palette(Box::new(Palette {
        text: String::new(),
        at: 0,
        under,
    }));
}

/// How many commands are listed.
pub fn count(state: &State) -> usize {
    match &state.overlay {
        Overlay::Palette(palette) => named(state, palette).len(),
        _ => 0,
    }
}

/// Runs the command in front, as its key would.
pub fn run(state: &mut State, palette: Palette) -> Vec<Effect> {
    let chosen = named(state, &palette).get(palette.at).copied();
    state.overlay = palette.under;
    let action = chosen.and_then(|command| (command.action)(state));
    action.map_or_else(Vec::new, |action| update(state, action))
}
