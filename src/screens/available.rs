//! When commands work.

use super::entry::Stage;
use super::overlay::Overlay;
use super::reconcile;
use super::screen::Screen;
use super::state::State;

pub(super) fn typing(state: &State) -> bool {
    state.overlay.is_typed_into()
}

pub(super) fn not_typing(state: &State) -> bool {
    !typing(state)
}

/// Nothing is typed, and no statement is read that would be closed by what lies over it.
pub(super) fn not_signing(state: &State) -> bool {
    not_typing(state) && !matches!(state.overlay, Overlay::Sign(_))
}

/// A joint can be looked for: not where readings or the deck are in front.
pub(super) fn can_find(state: &State) -> bool {
    not_signing(state) && !matches!(state.screen, Screen::Levels | Screen::Deck)
}

pub(super) fn no_overlay(state: &State) -> bool {
    state.overlay == Overlay::None
}

pub(super) fn on_floor(state: &State) -> bool {
    no_overlay(state) && state.screen == Screen::Floor
}

/// A joint can be run: the conductor is not cut.
pub(super) fn can_run(state: &State) -> bool {
    let said = state.inputs.record.slots.get(state.slot_index());
    let is_cut = said.is_some_and(|said| said.final_cut.is_some())
        || state.current().is_some_and(|(_, _, it)| it.cut.is_cut());
    on_floor(state) && !is_cut
}

pub(super) fn on_levels(state: &State) -> bool {
    no_overlay(state) && state.screen == Screen::Levels
}

/// No joint is entered as run: the floor counts as it is told.
pub(super) fn counts_by_hand(state: &State) -> bool {
    on_floor(state) && state.entered().is_none()
}

pub(super) fn can_move_hull(state: &State) -> bool {
    no_overlay(state) && matches!(state.screen, Screen::Floor | Screen::Cut | Screen::Record)
}

pub(super) fn can_enter(state: &State) -> bool {
    no_overlay(state) && state.screen != Screen::Reconcile
}

/// Who enters can be changed: on a screen, and over what a hold point lacks.
pub(super) fn can_say_who(state: &State) -> bool {
    no_overlay(state) || matches!(state.overlay, Overlay::Hold { .. })
}

pub(super) fn on_record(state: &State) -> bool {
    no_overlay(state) && state.screen == Screen::Record
}

pub(super) fn in_form(state: &State) -> bool {
    matches!(&state.overlay, Overlay::Form(form) if form.stage != Stage::Confirming)
}

/// A statement is read, and nothing is typed yet.
pub(super) fn reading_statement(state: &State) -> bool {
    matches!(state.overlay, Overlay::Sign(_)) && not_typing(state)
}

pub(super) fn in_menu(state: &State) -> bool {
    matches!(state.overlay, Overlay::Menu(_) | Overlay::Hold { .. })
}

pub(super) fn on_profile(state: &State) -> bool {
    no_overlay(state) && state.screen == Screen::Profile
}

pub(super) fn on_reconcile(state: &State) -> bool {
    no_overlay(state) && state.screen == Screen::Reconcile
}

/// There are lists side by side.
pub(super) fn has_lists(state: &State) -> bool {
    on_reconcile(state) && reconcile::all(state).is_some()
}

/// Something is in front that can be decided.
pub(super) fn has_thing(state: &State) -> bool {
    on_reconcile(state) && reconcile::count(state) > 0
}

pub(super) fn can_open(state: &State) -> bool {
    no_overlay(state)
        && !matches!(
            state.screen,
            Screen::Profile | Screen::Deck | Screen::Record
        )
}

pub(super) fn can_go_back(state: &State) -> bool {
    no_overlay(state) && state.screen != Screen::Overview
}

/// Something lies over the screen, and nothing is typed into it.
pub(super) fn covered(state: &State) -> bool {
    !no_overlay(state) && !typing(state)
}

pub(super) fn has_slots(state: &State) -> bool {
    not_typing(state) && state.figures.slots.len() > 1
}

pub(super) fn has_sought(state: &State) -> bool {
    no_overlay(state) && !state.sought.is_empty()
}

pub(super) fn has_changes(state: &State) -> bool {
    no_overlay(state) && (!state.changes.is_empty() || state.old.is_some())
}
