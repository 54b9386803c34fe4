//! The list and the difference in front, and a difference found again by what it is.

use crate::figures::ListFigures;
use crate::journal::OtherList;
use crate::reconcile::Difference;
use crate::report::said::Gone;
use crate::screens::identity::{DifferenceId, DifferenceKey};
use crate::screens::state::State;
use crate::tally::Pins;

/// The other lists of the slot in front.
pub fn lists(state: &State) -> &[OtherList] {
    let lists = state.inputs.lists.get(state.slot_index());
    lists.map_or(&[], Vec::as_slice)
}

/// Which of the lists the cursor is on; `None` where that list is gone.
pub fn list_at(state: &State) -> Option<usize> {
    match state.cursor().and_then(|it| it.reconcile.list.as_ref()) {
        Some(name) => lists(state).iter().position(|list| list.name == *name),
        None => Some(0),
    }
}

/// The list in front, with its figures where it could be read.
pub fn list_in_front(state: &State) -> Option<(&OtherList, Option<&ListFigures>)> {
    let at = list_at(state).unwrap_or(0);
    let figures = state.figures.lists.get(state.slot_index())?;
    Some((
        lists(state).get(at)?,
        figures.get(at).and_then(Option::as_ref),
    ))
}

/// The differences of the list in front.
fn all(state: &State) -> &[Difference] {
    let figures = list_in_front(state).and_then(|(_, figures)| figures);
    figures.map_or(&[], |figures| figures.differences.as_slice())
}

/// How many differences can be gone through.
pub fn count(state: &State) -> usize {
    all(state).len()
}

/// Which of the differences the cursor is on; `None` where that difference is gone.
pub fn difference_at(state: &State) -> Option<usize> {
    match state
        .cursor()
        .and_then(|it| it.reconcile.difference.as_ref())
    {
        Some(key) => key.find(all(state)),
        None => Some(0),
    }
}

/// The key of the difference in a row.
pub fn key_of(state: &State, row: usize) -> Option<DifferenceKey> {
    all(state).get(row).map(DifferenceKey::of)
}

/// The difference in front.
pub fn difference_in_front(state: &State) -> Option<&Difference> {
    all(state).get(difference_at(state).unwrap_or(0))
}

/// The difference in front, by what a reload does not move.
pub fn in_front(state: &State) -> Option<DifferenceId> {
    let difference = difference_in_front(state)?;
    Some(DifferenceId {
        slot: state.current()?.0.name.clone(),
        list: list_in_front(state)?.0.name.clone(),
        key: DifferenceKey::of(difference),
        said: difference.said,
    })
}

/// A difference with its slot and its list, as they are now.
#[derive(Clone, Copy, Debug)]
pub struct Found<'a> {
    /// The index of the slot.
    pub slot: usize,
    /// The list.
    pub list: &'a OtherList,
    /// The difference.
    pub difference: &'a Difference,
}

/// Finds a difference again; the reason where it is gone.
pub fn locate<'a>(state: &'a State, of: &DifferenceId) -> Result<Found<'a>, Gone> {
    let slot = state.index_of(&of.slot).ok_or(Gone::Slot)?;
    let lists = state.inputs.lists.get(slot).into_iter().flatten();
    let figures = state.figures.lists.get(slot);
    let mut both = lists.zip(figures.into_iter().flatten());
    let (list, figures) = both
        .find(|(list, _)| list.name == of.list)
        .ok_or(Gone::List)?;
    let figures = figures.as_ref().ok_or(Gone::ListUnreadable)?;
    let difference = of.key.find(&figures.differences);
    let difference = difference.and_then(|at| figures.differences.get(at));
    let difference = difference.ok_or(Gone::Agrees)?;
    Ok(Found {
        slot,
        list,
        difference,
    })
}

/// Finds a difference again that says what it said; the reason where it does not.
pub fn find<'a>(state: &'a State, of: &DifferenceId) -> Result<Found<'a>, Gone> {
    let found = locate(state, of)?;
    if found.difference.said == of.said {
        Ok(found)
    } else {
        Err(Gone::Figures)
    }
}

/// Which end of the slot's joints carries the pin.
pub fn pins(state: &State, slot: usize) -> Pins {
    let slot = state.inputs.job.slots.get(slot);
    slot.map(|slot| slot.pipe.pins).unwrap_or_default()
}
