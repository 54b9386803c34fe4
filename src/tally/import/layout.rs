//! The table of a grid, with tables side by side put one under the other.

use super::error::Problem;
use super::grid::Grid;
use super::header::locate;
use super::options::Options;
use super::table::TallyTable;
use crate::tally::remarks::FileNote;

/// A table found in a grid.
pub(super) struct Found<'t> {
    /// The grid; where tables side by side were found, with these one under the other.
    pub(super) grid: Grid<'t>,
    pub(super) table: TallyTable,
    /// What is to be said of that.
    pub(super) note: Option<FileNote>,
}

/// Finds the table of a grid.
pub(super) fn find<'t>(grid: Grid<'t>, options: &Options) -> Result<Found<'t>, Vec<Problem>> {
    let mut header = locate(&grid, options)?;
    let Some(tables) = header.tables.take() else {
        return Ok(Found {
            table: TallyTable::of_header(&grid, header, options)?,
            grid,
            note: None,
        });
    };
    let plan = tables
        .plan(
            &grid,
            (header.row, header.second.unwrap_or(header.row) + 1),
            &header.roles,
            options,
        )
        .map_err(|question| vec![question.into()])?;
    tables.narrow(&mut header.roles);
    let grid = grid.taken(plan.slices);
    Ok(Found {
        table: TallyTable::of_header(&grid, header, options)?,
        grid,
        note: Some(plan.note),
    })
}
