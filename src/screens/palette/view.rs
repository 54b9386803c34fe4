//! The palette, drawn: what is typed, and below it the commands, each with its key.

use super::named::named;
use crate::report::words;
use crate::screens::action::Action;
use crate::screens::overlay::Palette;
use crate::screens::parts::list::scroll;
use crate::screens::parts::pen::{Pen, cells, width};
use crate::screens::state::State;
use crate::screens::theme::Role;

/// Draws it.
pub fn draw(state: &State, pen: &mut Pen<'_>, palette: &Palette) {
    let named = named(state, palette);
    let end = pen.text(1, 0, ": ", Role::Key);
    let end = pen.text(end, 0, &palette.text, Role::Title);
    pen.text(end, 0, " ", Role::Selected);
    if named.is_empty() {
        pen.text(3, 2, words::NO_COMMAND, Role::Label);
        return;
    }
    let wide = pen.area.width;
    // What the one in front does, in full.
    if let Some(command) = named.get(palette.at) {
        pen.text(3, 1, command.help, Role::Plain);
    }
    let rows = usize::from(pen.area.height.saturating_sub(3));
    let widths = named.iter().map(|it| width(&it.name()));
    let help_at = widths.max().unwrap_or(0) + 5;
    let keys = named.iter().map(|it| width(it.hint)).max().unwrap_or(0) + 2;
    let first = scroll(palette.at, named.len(), rows);
    for (row, command) in named.iter().enumerate().skip(first).take(rows) {
        let y = cells(row - first + 3);
        pen.text(3, y, &command.name(), Role::Title);
        let room = usize::from(wide).saturating_sub(help_at + keys);
        let help = words::shortened(command.help, room);
        pen.text(cells(help_at), y, &help, Role::Label);
        pen.right(y, &format!("{} ", command.hint), Role::Key);
        if row == palette.at {
            pen.select(0, y, wide);
        }
        pen.target((0, y, wide), Action::ToRow(row));
    }
}
