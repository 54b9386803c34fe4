//! When commands work: by the state, and by what lies over the screen, which need not be what lies over it now: help
//! and palette list what works under them.

use super::entry::Stage;
use super::overlay::Overlay;
use super::reconcile;
use super::screen::Screen;
use super::state::State;

pub(super) fn typing(_: &State, over: &Overlay) -> bool {
    over.is_typed_into()
}

pub(super) fn not_typing(state: &State, over: &Overlay) -> bool {
    !typing(state, over)
}

/// Nothing is typed, and no statement is read that would be closed by what lies over it.
pub(super) fn not_signing(state: &State, over: &Overlay) -> bool {
    not_typing(state, over) && !matches!(over, Overlay::Sign(_))
}

/// A joint can be looked for: not where readings or the deck are in front.
pub(super) fn can_find(state: &State, over: &Overlay) -> bool {
    not_signing(state, over) && !matches!(state.screen, Screen::Levels | Screen::Deck)
}

pub(super) fn no_overlay(_: &State, over: &Overlay) -> bool {
    *over == Overlay::None
}

pub(super) fn on_floor(state: &State, over: &Overlay) -> bool {
    no_overlay(state, over) && state.screen == Screen::Floor
}

/// A joint can be run: the conductor is not cut.
pub(super) fn can_run(state: &State, over: &Overlay) -> bool {
    let said = state.inputs.record.slots.get(state.slot_index());
    let is_cut = said.is_some_and(|said| said.final_cut.is_some())
        || state.current().is_some_and(|(_, _, it)| it.cut.is_cut());
    on_floor(state, over) && !is_cut
}

pub(super) fn on_levels(state: &State, over: &Overlay) -> bool {
    no_overlay(state, over) && state.screen == Screen::Levels
}

/// No joint is entered as run: the floor counts as it is told.
pub(super) fn counts_by_hand(state: &State, over: &Overlay) -> bool {
    on_floor(state, over) && state.entered().is_none()
}

pub(super) fn can_move_hull(state: &State, over: &Overlay) -> bool {
    no_overlay(state, over) && matches!(state.screen, Screen::Floor | Screen::Cut | Screen::Record)
}

pub(super) fn can_enter(state: &State, over: &Overlay) -> bool {
    no_overlay(state, over) && state.screen != Screen::Reconcile
}

/// Who enters can be changed: on a screen, and over what a hold point lacks.
pub(super) fn can_say_who(state: &State, over: &Overlay) -> bool {
    no_overlay(state, over) || matches!(over, Overlay::Hold { .. })
}

pub(super) fn on_record(state: &State, over: &Overlay) -> bool {
    no_overlay(state, over) && state.screen == Screen::Record
}

pub(super) fn in_form(_: &State, over: &Overlay) -> bool {
    matches!(over, Overlay::Form(form) if form.stage != Stage::Confirming)
}

/// A statement is read, and nothing is typed yet.
pub(super) fn reading_statement(state: &State, over: &Overlay) -> bool {
    matches!(over, Overlay::Sign(_)) && not_typing(state, over)
}

pub(super) fn in_menu(_: &State, over: &Overlay) -> bool {
    matches!(over, Overlay::Menu(_) | Overlay::Hold { .. })
}

pub(super) fn on_profile(state: &State, over: &Overlay) -> bool {
    no_overlay(state, over) && state.screen == Screen::Profile
}

pub(super) fn on_reconcile(state: &State, over: &Overlay) -> bool {
    no_overlay(state, over) && state.screen == Screen::Reconcile
}

/// There are lists side by side.
pub(super) fn has_lists(state: &State, over: &Overlay) -> bool {
    on_reconcile(state, over) && reconcile::all(state).is_some()
}

/// Something is in front that can be decided.
pub(super) fn has_thing(state: &State, over: &Overlay) -> bool {
    on_reconcile(state, over) && reconcile::count(state) > 0
}

pub(super) fn can_open(state: &State, over: &Overlay) -> bool {
    no_overlay(state, over)
        && !matches!(
            state.screen,
            Screen::Profile | Screen::Deck | Screen::Record
        )
}

pub(super) fn can_go_back(state: &State, over: &Overlay) -> bool {
    no_overlay(state, over) && state.screen != Screen::Overview
}

/// Something lies over the screen, and nothing is typed into it.
pub(super) fn covered(state: &State, over: &Overlay) -> bool {
    !no_overlay(state, over) && !typing(state, over)
}

pub(super) fn has_slots(state: &State, over: &Overlay) -> bool {
    not_typing(state, over) && state.figures.slots.len() > 1
}

pub(super) fn has_sought(state: &State, over: &Overlay) -> bool {
    no_overlay(state, over) && !state.sought.is_empty()
}

pub(super) fn has_changes(state: &State, over: &Overlay) -> bool {
    no_overlay(state, over) && (!state.changes.is_empty() || state.old.is_some())
}

/// In the palette.
pub(super) fn in_palette(_: &State, over: &Overlay) -> bool {
    matches!(over, Overlay::Palette(_))
}

pub(super) fn on_overview(state: &State, over: &Overlay) -> bool {
    no_overlay(state, over) && state.screen == Screen::Overview
}

pub(super) fn on_tally(state: &State, over: &Overlay) -> bool {
    no_overlay(state, over) && state.screen == Screen::Tally
}

/// On the deck, where it rocks between two rests.
pub(super) fn has_rests(state: &State, over: &Overlay) -> bool {
    let seating = state.seating.as_ref().and_then(|it| it.as_ref().ok());
    let rests = seating.map_or(0, |it| it.seat.rests.len());
    no_overlay(state, over) && state.screen == Screen::Deck && rests > 1
}

/// Left and right go from slot to slot: no other use of them is in front.
pub(super) fn turns_slots(state: &State, over: &Overlay) -> bool {
    let own = [on_overview, on_levels, has_rests, on_reconcile];
    not_typing(state, over) && !own.iter().any(|it| it(state, over))
}
