//! What keys do on the overview.

use super::flags::{COLUMNS, flags, row, subject};
use crate::finding::Place;
use crate::screens::identity::FlagId;
use crate::screens::movement::Movement;
use crate::screens::overlay::Overlay;
use crate::screens::parts::how::{result, show_how};
use crate::screens::screen::Screen;
use crate::screens::state::State;
use crate::screens::{reconcile, tally};

/// Moves the cursor to a row, slots first, then flags; to the last where there are fewer.
pub fn move_to(state: &mut State, row: usize) {
    let slots = state.figures.slots.len();
    let flag = {
        let flags = flags(state);
        let at = row.checked_sub(slots);
        let flag = at.and_then(|at| flags.get(at).or(flags.last()));
        flag.map(|(slot, flag)| FlagId::of(&state.inputs, &state.figures, *slot, flag))
    };
    if flag.is_none() {
        state.bring_to_front(row.min(slots.saturating_sub(1)));
    }
    state.overview.flag = flag;
}

/// Moves the cursor up or down.
pub fn step(state: &mut State, movement: Movement) {
    let rows = state.figures.slots.len() + flags(state).len();
    let row = row(state).unwrap_or(0);
    move_to(state, movement.from(row, rows));
}

/// Moves the cursor to the left or right.
pub fn turn_column(state: &mut State, movement: Movement) {
    state.overview.column = movement.from(state.overview.column, COLUMNS);
}

/// Opens the figure that the cursor is on, or goes where the flag leads.
pub fn open(state: &mut State) {
    if state.overview.flag.is_none() {
        let Some((_, _, figures)) = state.current() else {
            return;
        };
        let column = state.overview.column;
        let (subject, flag) = (
            subject(column, figures),
            figures.flags.first().map(|flag| flag.place.clone()),
        );
        match (column, flag) {
            (0 | 2, _) => state.screen = Screen::Tally,
            (9, Some(place)) if subject.is_none() => go(state, &place),
            _ => show_how(state, subject),
        }
        return;
    }
    let flag = row(state).and_then(|row| {
        let flags = flags(state);
        let (slot, flag) = flags.get(row.checked_sub(state.figures.slots.len())?)?;
        Some((*slot, flag.place.clone()))
    });
    match flag {
        Some((Some(slot), place)) => {
            state.bring_to_front(slot);
            go(state, &place);
        }
        Some((None, _)) => {
            if let Some(flag) = state.overview.flag.clone() {
                state.overlay = Overlay::Flag(flag, 0);
            }
        }
        None => {}
    }
}

/// Goes to the place of a flag in the slot in front.
fn go(state: &mut State, place: &Place) {
    let Some((_, list, figures)) = state.current() else {
        return;
    };
    let row = match place {
        Place::Joint(joint) => Some(*joint),
        Place::Line(line) => {
            let joint = list.joints.iter().position(|joint| joint.line == *line);
            let skipped = list.skipped.iter().position(|skip| skip.line == *line);
            // A line that is no row: the joint above it in the file.
            let near = || {
                let above = list.joints.iter().enumerate();
                above
                    .filter(|(_, joint)| joint.line < *line)
                    .max_by_key(|(_, joint)| joint.line)
                    .map(|(index, _)| index)
            };
            joint
                .or(skipped.map(|skip| list.joints.len() + skip))
                .or_else(near)
        }
        Place::Shoulder => figures.chain.shoulder.map(|shoulder| shoulder.piece),
        Place::Accessory(index) => figures.accessories.get(*index).and_then(|it| it.piece),
        Place::List(list) => {
            let lists = state.inputs.lists.get(state.slot_index());
            let list = lists.and_then(|lists| lists.get(*list));
            let list = list.map(|list| list.name.clone());
            state.screen = Screen::Reconcile;
            reconcile::lead_to(state, list);
            return;
        }
        Place::Cut | Place::Whole => None,
    };
    match row {
        Some(row) => {
            state.screen = Screen::Tally;
            tally::move_to(state, row);
        }
        None => state.screen = Screen::Cut,
    }
}

/// The figure under the cursor, or the slot's name, or the code of the flag.
pub fn copied(state: &State) -> Option<String> {
    if let Some(flag) = &state.overview.flag {
        return Some(flag.code.name().to_owned());
    }
    let (slot, _, figures) = state.current()?;
    match subject(state.overview.column, figures) {
        Some(subject) => result(state, subject),
        None => Some(slot.name.clone()),
    }
}
