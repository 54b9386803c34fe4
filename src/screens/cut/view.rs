//! The cut's sheet, its head and its caution always in sight.

use super::sheet::items;
use super::update::line_among;
use crate::screens::parts::list::list;
use crate::screens::parts::pen::Pen;
use crate::screens::state::State;
use crate::screens::theme::Role;

/// The caution in one line, always in sight; the whole of it stands at the end of the sheet.
const SHORT_CAUTION: &str =
    "CAUTION: computed, not authorised. Verify independently; no cut can be undone.";

pub fn draw(state: &State, pen: &mut Pen<'_>) {
    let mut items = items(state);
    let (width, height) = (pen.area.width, pen.area.height);
    // Whose sheet it is, and whether it may be cut, stay in sight however far one scrolls.
    let at = line_among(state, &items).unwrap_or(0);
    let mut rows = 0;
    if let Some(head) = items.first_mut() {
        for line in std::mem::take(&mut head.lines) {
            pen.line(1, rows, &line);
            if at == 0 {
                pen.select(0, rows, width);
            }
            rows += 1;
        }
    }
    list(
        &mut pen.part(0, rows, width, height.saturating_sub(rows + 1)),
        &items,
        Some(at),
        0,
    );
    pen.text(1, height.saturating_sub(1), SHORT_CAUTION, Role::Title);
}
