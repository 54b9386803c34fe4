//! The things of joints that are shown, and the one in front.

use super::thing::{Seen, ThingId, ThingKey};
use crate::figures::{SlotLists, Trial};
use crate::reconcile::Topic;
use crate::reconcile::many::{ListRow, State as Agreed};
use crate::report::said::Gone;
use crate::screens::state::State;

/// Something of the joint of a row.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ThingAt {
    /// The row.
    pub row: usize,
    /// What of it.
    pub of: Topic,
}

/// All lists of the slot in front; `None` where there is no other than the tally of record.
pub fn all(state: &State) -> Option<&SlotLists> {
    state.figures.side_by_side.get(state.slot_index())?.as_ref()
}

/// Whether all lists agree on everything of a joint.
pub fn agrees(row: &ListRow) -> bool {
    Topic::ALL.iter().all(|of| row.state(*of) == Agreed::Agreed)
}

/// The things that are shown, in their order: of each joint its length, and what else the lists do not agree on.
pub fn things(state: &State) -> Vec<ThingAt> {
    let Some(all) = all(state) else {
        return Vec::new();
    };
    let shows_all = state.cursor().is_some_and(|it| it.reconcile.all_joints);
    let rows = all.lists.rows.iter().enumerate();
    let shown = rows.filter(|(_, row)| shows_all || !agrees(row));
    shown
        .flat_map(|(at, row)| {
            let of = Topic::ALL.into_iter();
            of.filter(|of| *of == Topic::Length || row.state(*of) != Agreed::Agreed)
                .map(move |of| ThingAt { row: at, of })
        })
        .collect()
}

/// Which of them the cursor is on; `None` where that is gone. A cursor that was never moved is on the first thing
/// that is open.
pub fn thing_at(state: &State, things: &[ThingAt]) -> Option<usize> {
    let all = all(state)?;
    let key = state.cursor().and_then(|it| it.reconcile.thing.as_ref());
    let Some(key) = key else {
        let is_open = |it: &ThingAt| {
            let row = all.lists.rows.get(it.row);
            row.is_some_and(|row| matches!(row.state(it.of), Agreed::Open | Agreed::Conflict))
        };
        return Some(things.iter().position(is_open).unwrap_or(0));
    };
    let row = key.find(&all.lists)?;
    let is_it = |it: &ThingAt| it.row == row && it.of == key.of;
    things.iter().position(is_it)
}

/// The place of the cursor among the things that are shown.
pub fn position(state: &State) -> Option<usize> {
    thing_at(state, &things(state))
}

/// The thing in front.
pub fn thing_in_front(state: &State) -> Option<ThingAt> {
    let things = things(state);
    let at = thing_at(state, &things).unwrap_or(0);
    things.get(at).copied()
}

/// Which list the cursor is on; `None` where that list is gone.
pub fn list_at(state: &State) -> Option<usize> {
    let all = all(state)?;
    match state.cursor().and_then(|it| it.reconcile.list.as_ref()) {
        Some(name) => all.names.iter().position(|it| it == name),
        None => Some(0),
    }
}

/// The list in front.
pub fn list_in_front(state: &State) -> usize {
    list_at(state).unwrap_or(0)
}

/// A thing of the slot in front, by what a reload does not move.
pub fn id_of(state: &State, thing: ThingAt) -> Option<ThingId> {
    let all = all(state)?;
    let row = all.lists.rows.get(thing.row)?;
    Some(ThingId {
        slot: state.current()?.0.name.clone(),
        key: ThingKey::of(&all.lists, thing.row, thing.of)?,
        seen: Seen::of(all, row, thing.of),
    })
}

/// A thing with its slot and its row, as they are now.
#[derive(Clone, Copy, Debug)]
pub struct Found<'a> {
    /// The index of the slot.
    pub slot: usize,
    /// All lists of its string.
    pub all: &'a SlotLists,
    /// The index of the row.
    pub at: usize,
    /// The row.
    pub row: &'a ListRow,
}

/// Finds a thing again; the reason where it is gone.
pub fn locate<'a>(state: &'a State, of: &ThingId) -> Result<Found<'a>, Gone> {
    let slot = state.index_of(&of.slot).ok_or(Gone::Slot)?;
    let all = state.figures.side_by_side.get(slot);
    let all = all.and_then(Option::as_ref).ok_or(Gone::Joint)?;
    let at = of.key.find(&all.lists).ok_or(Gone::Joint)?;
    let row = all.lists.rows.get(at).ok_or(Gone::Joint)?;
    Ok(Found { slot, all, at, row })
}

/// Finds a thing again of which lists and decisions say what they said; the reason where they do not.
pub fn find<'a>(state: &'a State, of: &ThingId) -> Result<Found<'a>, Gone> {
    let found = locate(state, of)?;
    match of.changed(found.all) {
        Some(gone) => Err(gone),
        None => Ok(found),
    }
}

/// The string of a slot by what stands, to try choices on.
pub fn trial(state: &State, slot: usize) -> Option<Trial<'_>> {
    let all = state.figures.side_by_side.get(slot)?.as_ref()?;
    Trial::of(&state.inputs, slot, all)
}
