//! How the columns of a terminal are shared.

/// From so many columns on the cut joint is drawn beside the sheet, and from so many how a figure came about.
pub(super) const TWO_PANES: u16 = 118;
pub(super) const THREE_PANES: u16 = 170;
/// Columns of the drawing, and of how a figure came about.
pub(super) const SKETCH: u16 = 52;
pub(super) const HOW: u16 = 56;

/// The columns of the sheet in a terminal of so many.
pub(super) const fn list_columns(columns: u16) -> u16 {
    if columns >= THREE_PANES {
        columns - SKETCH - HOW
    } else if columns >= TWO_PANES {
        columns - SKETCH
    } else {
        columns
    }
}
