//! What keys do on the cut.

use super::sheet::items;
use super::writer::Opens;
use crate::screens::movement::Movement;
use crate::screens::parts::how::{result, show_how};
use crate::screens::parts::list::ListItem;
use crate::screens::state::State;

/// Which line of the sheet the cursor is on; `None` where that line is gone.
pub fn line(state: &State) -> Option<usize> {
    line_among(state, &items(state))
}

/// The same among lines that are at hand.
pub fn line_among(state: &State, items: &[ListItem<Opens>]) -> Option<usize> {
    let Some(line) = state.cursor().and_then(|cursor| cursor.cut.as_ref()) else {
        return Some(0);
    };
    items.iter().position(|item| item.opens.0 == *line)
}

/// Moves the cursor to a line, or to the last where there are fewer.
pub fn move_to(state: &mut State, line: usize) {
    let items = items(state);
    let item = items.get(line.min(items.len().saturating_sub(1)));
    state.cursor_mut().cut = item.map(|item| item.opens.0.clone());
}

/// Moves the cursor.
pub fn step(state: &mut State, movement: Movement) {
    let items = items(state);
    let line = line_among(state, &items).unwrap_or(0);
    move_to(state, movement.from(line, items.len()));
}

/// Opens the figure of the line that the cursor is on.
pub fn open(state: &mut State) {
    let items = items(state);
    let item = line_among(state, &items).and_then(|line| items.get(line));
    show_how(state, item.and_then(|item| item.opens.1));
}

/// The figure of the line that the cursor is on.
pub fn copied(state: &State) -> Option<String> {
    let items = items(state);
    let item = items.get(line_among(state, &items)?)?;
    result(state, item.opens.1?)
}
