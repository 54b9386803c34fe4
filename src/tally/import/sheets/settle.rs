//! Cells of the columns that are read: formulas that gave nothing are refused, and numbers become the
//! decimals that were meant.

use super::super::cell::{CellValue, SheetCell, SheetRow};
use super::super::error::Problem;
use super::super::grid::Grid;
use super::super::place::address;
use super::super::problems::Problems;
use super::super::rows::{RowKind, Rows};
use super::super::synonyms::Field;
use super::super::table::TallyTable;
use super::numbers::{on_the_grid, padded, places};
use crate::measure::{Excerpt, Unit};
use crate::tally::remarks::FileNote;

/// Most cells that are named one by one as moved.
const MOST_NAMED: usize = 10;

/// Refuses formulas in the columns that are read which failed, or which nobody computed.
pub(super) fn refuse_failed(
    grid: &Grid,
    table: &TallyTable,
    rows: &[SheetRow],
) -> Result<(), Vec<Problem>> {
    let mut problems = Problems::default();
    let below = || rows.iter().enumerate().skip(table.header + 1);
    let read = |column: usize| table.field(column).is_some() || table.is_inches(column);
    for (row, cells) in below() {
        for (column, cell) in cells.looked_at().iter().enumerate() {
            if let CellValue::Failed(found) = &cell.value
                && read(column)
            {
                problems.push(Problem::FormulaFailed {
                    at: table.at(grid, row, column),
                    found: Excerpt::of(found),
                });
            }
        }
    }
    let computed = rows
        .iter()
        .flat_map(|row| &row.cells)
        .any(|cell| cell.formula && !is_nothing(cell));
    for column in 0..table.width() {
        let Some(field) = table.field(column).filter(|field| field.is_length()) else {
            continue;
        };
        // Rows of joints, whether they have lengths or not.
        let (mut first, mut formulas, mut others) = (None, 0_usize, false);
        let mut all_nothing = true;
        for (row, cells) in below() {
            let Some(cell) = cells.looked_at().get(column) else {
                continue;
            };
            if grid.cell(row, table.joint()).is_empty() {
                continue;
            }
            if cell.formula {
                formulas += 1;
                first = first.or(Some(row));
                all_nothing &= is_nothing(cell);
            } else {
                others |= !is_nothing(cell);
            }
        }
        // No length is zero. A loss may be, that of the shoe joint alone or all of them, so that other
        // signs must agree.
        let may_be_zero = field == Field::Loss && (others || formulas < 2 || computed);
        if let Some(first) = first.filter(|_| all_nothing && !may_be_zero) {
            problems.push(Problem::NotComputed {
                at: table.at(grid, first, column),
            });
        }
    }
    problems.into_result()
}

/// What programs that do not compute leave behind.
fn is_nothing(cell: &SheetCell) -> bool {
    matches!(cell.text(), "" | "0")
}

/// Writes the numbers of length columns as the decimals that were meant, to the last place of their
/// column; says which of them were moved.
pub(super) fn settle_numbers(
    grid: &Grid,
    table: &TallyTable,
    rows: &mut [SheetRow],
) -> Vec<FileNote> {
    let kinds = Rows::classify(grid, table);
    let figures: Vec<usize> = kinds
        .iter()
        .filter(|(_, kind)| {
            matches!(
                kind,
                RowKind::Joint
                    | RowKind::PerhapsJoint
                    | RowKind::Total
                    | RowKind::Forward
                    | RowKind::LengthWithoutJoint
            )
        })
        .map(|(row, _)| row)
        .collect();
    let mut moved = Vec::new();
    let mut more = 0_usize;
    for column in 0..table.width() {
        let is_length = table.field(column).is_some_and(Field::is_length);
        let unit = match table.unit(column) {
            _ if table.is_inches(column) => Unit::Inch,
            // A bare decimal of feet and inches is a question, not a number to be moved.
            Some(unit)
                if is_length && (unit != Unit::FootInch || table.feet_point_inches(column)) =>
            {
                unit
            }
            _ => continue,
        };
        let mut decimals = 0;
        for row in &figures {
            let Some(row) = rows.get_mut(*row) else {
                continue;
            };
            let (line, skip) = (row.line, row.skip);
            let Some(CellValue::Number(text)) = row.cell_mut(column).map(|cell| &mut cell.value)
            else {
                continue;
            };
            if let Some(meant) = on_the_grid(text, unit) {
                if moved.len() < MOST_NAMED {
                    moved.push(FileNote::CellMoved {
                        cell: address(line, skip + column + 1),
                        found: text.to_string(),
                        read_as: meant.clone(),
                    });
                } else {
                    more += 1;
                }
                *text = meant.into();
            }
            if !text.ends_with('"') {
                decimals = decimals.max(places(text));
            }
        }
        // What is no whole number of nanometres is an error that repeats it as it was found.
        if decimals > 9 {
            continue;
        }
        for row in &figures {
            let cell = rows.get_mut(*row).and_then(|row| row.cell_mut(column));
            if let Some(CellValue::Number(text)) = cell.map(|cell| &mut cell.value)
                && !text.ends_with('"')
            {
                *text = padded(text, decimals).into();
            }
        }
    }
    if more > 0 {
        moved.push(FileNote::MoreCellsMoved(more));
    }
    moved
}
