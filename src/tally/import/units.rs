//! Units that a file states apart from its headings: in a row of their own, or above the table.

use super::cell_text::{is_joint_like, starts_as_number};
use super::grid::Grid;
use super::synonyms::{Field, is_percent, normalise, unit_cell};
use crate::measure::Unit;

/// How far under the header the row of units may be: the header may have a second line.
const UNITS_WITHIN: usize = 3;

/// The row of units under the header, if there is one.
pub(super) fn units_row(
    grid: &Grid,
    header: usize,
    field: impl Fn(usize) -> Option<Field>,
) -> Option<usize> {
    (header + 1..grid.len())
        .filter(|row| !grid.is_blank(*row))
        .take(UNITS_WITHIN)
        .take_while(|row| !grid.cells(*row).any(starts_as_number))
        .find(|row| is_units_row(grid, *row, &field))
}

/// Whether a row names the units of the columns: every cell of a length column is a unit or a dash,
/// and what is under the joint is no joint number. Other columns may have units of their own
/// (`t`, `kg/m`), which are no business of ours.
pub(super) fn is_units_row(
    grid: &Grid,
    row: usize,
    field: impl Fn(usize) -> Option<Field>,
) -> bool {
    let mut units = 0;
    for column in 0..grid.width(row) {
        let cell = grid.cell(row, column);
        if cell.is_empty() {
            continue;
        }
        let is_unit = unit_cell(cell).is_some();
        match field(column) {
            Some(field) if field.is_length() && is_percent(cell) => units += 1,
            Some(field) if field.is_length() && !is_unit && !is_dash(cell) => return false,
            Some(Field::Joint) if is_joint_like(cell) => return false,
            Some(field) if !field.is_length() => {}
            _ => units += usize::from(is_unit),
        }
    }
    units > 0
}

fn is_dash(cell: &str) -> bool {
    matches!(
        cell.trim_matches(['(', ')', '[', ']', ' ']),
        "-" | "–" | "—" | ""
    )
}

/// The unit that a line above the table states: `All lengths in feet`, `Units: m`.
pub(super) fn title_unit(text: &str) -> Option<Unit> {
    let words = normalise(text);
    let tail = [
        "lengths in ",
        "length in ",
        "dimensions in ",
        "measurements in ",
        "measured in ",
        "units ",
        "unit ",
        "all in ",
    ]
    .iter()
    .find_map(|lead| words.split_once(lead).map(|(_, tail)| tail))?;
    let first = tail.split(' ').next().unwrap_or_default();
    let feet_inches = ["feet and inches", "ft and in", "feet inches", "ft in"]
        .iter()
        .any(|lead| tail.starts_with(lead));
    if feet_inches {
        Some(Unit::FootInch)
    } else {
        Unit::from_word(first)
    }
}
