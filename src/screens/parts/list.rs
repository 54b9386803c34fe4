//! Lists of what can be selected.

use super::pen::{Pen, StyledLine, cells};
use crate::report::words;
use crate::screens::action::Action;
use crate::screens::theme::Role;

/// The first row to show so that the selected one is in the middle where it can.
pub fn scroll(selected: usize, rows: usize, height: usize) -> usize {
    selected
        .saturating_sub(height / 2)
        .min(rows.saturating_sub(height))
}

/// What can be selected as one: one or more lines.
#[derive(Clone, Debug, Default)]
pub struct ListItem<T> {
    pub lines: Vec<StyledLine>,
    pub opens: T,
}

/// Draws a list of items with the selected one in sight. A click goes to the row of an item, the first of which is
/// `from`.
pub fn list<T>(pen: &mut Pen<'_>, items: &[ListItem<T>], selected: Option<usize>, from: usize) {
    let rows: usize = items.iter().map(|item| item.lines.len()).sum();
    let before: usize = items
        .iter()
        .take(selected.unwrap_or(0))
        .map(|item| item.lines.len())
        .sum();
    // Where not all is in sight, the last row says so: nothing is written over.
    let all = usize::from(pen.area.height);
    let height = if rows > all {
        all.saturating_sub(1)
    } else {
        all
    };
    let first = scroll(before, rows, height);
    if rows > all {
        let below = rows.saturating_sub(first + height);
        let text = words::more(first, below);
        pen.right(cells(height), &format!(" {text} "), Role::Label);
    }
    let lines = items
        .iter()
        .enumerate()
        .flat_map(|(index, item)| item.lines.iter().map(move |line| (index, line)));
    for (row, (index, line)) in lines.skip(first).take(height).enumerate() {
        let y = cells(row);
        pen.line(1, y, line);
        pen.target((0, y, pen.area.width), Action::ToRow(from + index));
        if Some(index) == selected {
            let width = pen.area.width;
            pen.select(0, y, width);
        }
    }
}
