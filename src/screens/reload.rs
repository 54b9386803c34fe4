//! What a reading of the files does to the state: figures, what changed, and each cursor and overlay
//! found again by what it is on.

use super::cursor::SlotCursor;
use super::loaded::Loaded;
use super::overlay::Overlay;
use super::parts::how;
use super::parts::kept::Kept;
use super::screen::Screen;
use super::state::State;
use super::{cut, floor, levels, overview, reconcile, tally};
use crate::figures;
use crate::journal::Inputs;
use crate::report;
use crate::report::said::{Closed, Lost, Said};

/// Takes over what was read, or keeps the figures as old ones.
pub(super) fn reloaded(state: &mut State, read: Result<Loaded, String>) {
    let Loaded {
        inputs,
        figures,
        slips,
        names,
        filled,
        levels,
    } = match read {
        Ok(loaded) => loaded,
        Err(reason) => {
            // What was said before gives way: why the figures are old matters more.
            state.message = None;
            state.old = Some(reason);
            return;
        }
    };
    let before = Positions::of(state);
    let was_on_cut = state
        .current()
        .is_some_and(|(_, _, it)| it.cut.target == state.view.cursor);
    let old_inputs = std::mem::replace(&mut state.inputs, inputs);
    let old_figures = std::mem::replace(&mut state.figures, figures);
    state.old = None;
    (state.slips, state.names, state.filled) = (slips, names, filled);
    state.levels = levels;
    (state.slot_table, state.flag_items) = (Kept::default(), Kept::default());
    state.seating = None;
    let cursors = cursors(state, (&old_inputs, &old_figures));
    state.cursors = cursors;
    // Told from what the person last looked at, so that a second change hides nothing of the first.
    if std::mem::take(&mut state.looked) {
        state.seen = None;
    }
    state
        .seen
        .get_or_insert_with(|| Box::new((old_inputs, old_figures)));
    let known = std::mem::take(&mut state.changes);
    name_changes(state);
    if state.changes.is_empty() {
        state.seen = None;
    }
    let (closed, lost) = (close_what_is_gone(state), before.find_again(state));
    // What a key came to is not taken away by a reading that brings nothing new.
    let is_news = closed.is_some() || lost.is_some() || state.changes != known;
    if is_news || state.message.is_none() {
        state.message = Some(Said::ReadAgain {
            closed,
            lost,
            changes: state.changes.clone(),
        });
    }
    // A cursor on the cut stays on it where that moved.
    let target = state.current().map(|(_, _, it)| it.cut.target);
    if let (true, Some(target)) = (was_on_cut, target) {
        state.view.cursor = target;
    }
    if floor::ask_again(state) {
        state.message = Some(Said::CountAgain);
    }
    let whole = state.whole_view();
    state.view.cursor = state.view.cursor.clamp(whole.top - whole.span, whole.top);
}

/// Names what changed since the person last looked, in the unit in use.
pub(super) fn name_changes(state: &mut State) {
    if let Some(seen) = &state.seen {
        state.changes = report::changes(
            state.show,
            (&seen.0, &seen.1),
            (&state.inputs, &state.figures),
        );
    }
}

/// Slots keep their cursors by their names. What was said by hand of a slot counts no more once its stick-up was read,
/// or is no longer.
fn cursors(
    state: &State,
    (inputs, figures): (&Inputs, &figures::Figures),
) -> std::collections::BTreeMap<String, SlotCursor> {
    let slots = state.inputs.job.slots.iter().zip(&state.figures.slots);
    let kept = slots.map(|(slot, now)| {
        let mut before = inputs.job.slots.iter().zip(&figures.slots);
        let before = before.find(|(it, _)| it.name == slot.name);
        let mut cursor = state.cursors.get(&slot.name).cloned().unwrap_or_default();
        if before.is_none_or(|(_, was)| was.chain.basis != now.chain.basis) {
            cursor.by_hand = None;
        }
        (slot.name.clone(), cursor)
    });
    kept.collect()
}

/// Closes an overlay that speaks of what is gone, and says so.
fn close_what_is_gone(state: &mut State) -> Option<Closed> {
    let closed = match &state.overlay {
        Overlay::Measured { of, .. } => {
            Closed::Deciding(of.name(), reconcile::find(state, of).err()?)
        }
        Overlay::Thing(of, _) => Closed::Thing(of.name(), reconcile::locate(state, of).err()?),
        Overlay::How { slot, figure, .. } if how::of(state, slot, figure).is_none() => {
            Closed::Figure(slot.clone())
        }
        Overlay::Level(of, _) if levels::lines(state, of, usize::MAX).is_empty() => Closed::Level,
        Overlay::Flag(flag, _) if overview::flag_of(state, flag).is_none() => {
            Closed::Flag(flag.code)
        }
        _ => return None,
    };
    state.overlay = Overlay::None;
    Some(closed)
}

/// Where the cursors of the slot in front were, for those whose thing is gone.
struct Positions {
    slot: usize,
    overview: usize,
    tally: usize,
    list: usize,
    thing: usize,
    cut: usize,
}

impl Positions {
    /// Where the cursors are. Each holds from here on what it is on, also where it was never moved.
    fn of(state: &mut State) -> Self {
        let positions = Self {
            slot: state.slot_index(),
            overview: overview::row(state).unwrap_or(0),
            tally: tally::row(state).unwrap_or(0),
            list: reconcile::list_at(state).unwrap_or(0),
            thing: reconcile::position(state).unwrap_or(0),
            cut: cut::line(state).unwrap_or(0),
        };
        tally::move_to(state, positions.tally);
        cut::move_to(state, positions.cut);
        reconcile::move_to(state, positions.thing);
        positions
    }

    /// Moves each cursor whose thing is gone to the nearest, and says so of what is in sight.
    fn find_again(&self, state: &mut State) -> Option<Lost> {
        let mut gone = None;
        if state.index_of(&state.slot).is_none() {
            gone = Some(Lost::Slot(state.slot.clone()));
            let last = state.figures.slots.len().saturating_sub(1);
            state.bring_to_front(self.slot.min(last));
            state.overview.flag = None;
            return gone;
        }
        if overview::row(state).is_none() {
            let flag = state.overview.flag.as_ref().map(|flag| flag.code);
            if let (Screen::Overview, Some(code)) = (state.screen, flag) {
                gone = Some(Lost::Flag(code));
            }
            overview::move_to(state, self.overview);
        }
        if tally::row(state).is_none() {
            let row = state.cursor().and_then(|cursor| cursor.tally.as_ref());
            if let (Screen::Tally, Some(row)) = (state.screen, row) {
                gone = Some(Lost::Row(row.name()));
            }
            tally::move_to(state, self.tally);
        }
        let on_reconcile = state.screen == Screen::Reconcile;
        let reconcile = state.cursor().map(|cursor| cursor.reconcile.clone());
        if reconcile::all(state).is_some() && reconcile::list_at(state).is_none() {
            if let (true, Some(list)) = (on_reconcile, reconcile.and_then(|it| it.list)) {
                gone = Some(Lost::List(list));
            }
            reconcile::move_to_list(state, self.list);
        }
        let thing = state.cursor().and_then(|it| it.reconcile.thing.clone());
        if thing.is_some() && reconcile::position(state).is_none() {
            if let (true, Some(key)) = (on_reconcile, thing) {
                gone = Some(Lost::Thing(key.of, key.joint));
            }
            reconcile::move_to(state, self.thing);
        }
        if cut::line(state).is_none() {
            if state.screen == Screen::Cut {
                gone = Some(Lost::CutLine);
            }
            cut::move_to(state, self.cut);
        }
        gone
    }
}
