//! From the bytes of a workbook to the grid of the sheet that is the tally.

use super::super::error::Problem;
use super::super::grid::{Grid, RowSlice};
use super::super::layout;
use super::super::options::Options;
use super::super::table::TallyTable;
use super::super::workbook::{SheetCells, clean, open};
use super::choose::choose_sheet;
use super::settle::{refuse_failed, settle_numbers};
use crate::measure::Excerpt;
use crate::tally::remarks::FileNote;

/// The sheet that is the tally, ready for the steps that follow.
pub(in super::super) struct Chosen {
    pub(in super::super) grid: Grid<'static>,
    pub(in super::super) table: TallyTable,
    /// Which sheet it is, where a text file has its encoding.
    pub(in super::super) source: String,
    /// Sheets that were left out, and cells that were moved.
    pub(in super::super) notes: Vec<FileNote>,
}

/// Finds the sheet of a tally in the bytes of a workbook, and its table.
pub(in super::super) fn read(bytes: &[u8], options: &Options) -> Result<Chosen, Vec<Problem>> {
    let mut book = open(bytes).map_err(|problem| vec![problem])?;
    let choice = choose_sheet(&mut book, options)?;
    let SheetCells { mut rows, marks } = choice.cells;
    drop(book);
    let found = layout::find(Grid::of_rows(&rows), options)?;
    let (grid, table) = (found.grid, found.table);
    if let Some(slices) = grid.slices() {
        let part = |slice: &RowSlice| Some(rows.get(slice.row())?.part(slice.from(), slice.to()));
        rows = slices.iter().filter_map(part).collect();
    }
    refuse_failed(&grid, &table, &rows)?;
    let mut notes = choice.notes;
    notes.extend(found.note);
    if marks.is_none() {
        notes.push(FileNote::MarksNotRead);
    }
    notes.extend(settle_numbers(&grid, &table, &mut rows));
    drop(grid);
    // The same rows again, some numbers of which are written otherwise now.
    let grid = Grid::of_rows(&rows);
    Ok(Chosen {
        grid: grid.with_marks(marks.unwrap_or_default()),
        table,
        source: format!("workbook sheet {}", Excerpt::of(&clean(&choice.name))),
        notes,
    })
}
