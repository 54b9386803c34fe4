//! Workbooks: which sheet is the tally, and its cells as rows for the same steps that read text.
//!
//! What a workbook says of itself is looked through before the crate that reads it sets anything
//! aside for it (`archive`, `parts`, `ole`), and a panic of that crate becomes an error (`guard`).

mod archive;
mod cells;
mod choose;
mod guard;
mod numbers;
mod ole;
mod parts;
mod settle;

use std::io::Cursor;

use calamine::{Ods, Reader, Sheet, SheetType, SheetVisible, Xls, Xlsx};

use super::columns::Table;
use super::grid::Grid;
use super::{Options, Problem};
use crate::measure::Excerpt;
pub(super) use cells::{Cell, Row, Value};
use cells::{Loose, clean, of_data, of_ref};
use guard::guarded;

/// Most cells of a workbook, counting the blank ones between others: a million rows of twenty.
const MAX_PLACES: usize = 20_000_000;

/// The edge of a sheet.
const MAX_COLUMNS: usize = 16_384;
const MAX_ROWS: usize = 1_048_576;

/// The kinds of workbook, told by their bytes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Kind {
    /// An archive of XML: `.xlsx`.
    Xlsx,
    /// An open document: `.ods`.
    Ods,
    /// A file of sectors: `.xls`.
    Xls,
}

/// Whether a file begins as workbooks do. What lies behind that mark is told by [`open`].
pub(super) fn is_one(bytes: &[u8]) -> bool {
    bytes.starts_with(b"PK\x03\x04") || bytes.starts_with(b"\xD0\xCF\x11\xE0\xA1\xB1\x1A\xE1")
}

/// The sheet that is the tally, ready for the steps that follow.
pub(super) struct Chosen {
    pub(super) grid: Grid<'static>,
    pub(super) table: Table,
    /// Which sheet it is, in the words that stand for an encoding elsewhere.
    pub(super) source: String,
    /// Sheets that were left out, and cells that were moved.
    pub(super) notes: Vec<String>,
}

/// Finds the sheet of a tally in the bytes of a workbook, and its table.
pub(super) fn read(bytes: &[u8], options: &Options) -> Result<Chosen, Vec<Problem>> {
    let mut book = open(bytes).map_err(|problem| vec![problem])?;
    let choice = choose::sheet(&mut book, options)?;
    let mut rows = choice.rows;
    let grid = Grid::of_rows(&rows);
    let table = Table::find(&grid, options)?;
    settle::refuse_failed(&grid, &table, &rows)?;
    let mut notes = choice.notes;
    notes.extend(settle::settle_numbers(&grid, &table, &mut rows));
    Ok(Chosen {
        // The same rows again, some numbers of which are written otherwise now.
        grid: Grid::of_rows(&rows),
        table,
        source: format!("workbook sheet {}", Excerpt::of(&clean(&choice.name))),
        notes,
    })
}

/// A workbook that could be opened.
enum Book<'a> {
    Xlsx(Box<Xlsx<Cursor<&'a [u8]>>>),
    Ods(Ods<Cursor<&'a [u8]>>),
    Xls(Box<Xls<Cursor<&'a [u8]>>>),
}

/// Most characters of the reason that a crate gives: it may repeat what it found.
const MAX_REASON: usize = 300;

fn broken(why: impl AsRef<str>) -> Problem {
    Problem::BrokenWorkbook {
        why: Excerpt::at_most(why.as_ref(), MAX_REASON),
    }
}

fn too_scattered() -> Problem {
    broken(format!(
        "its cells lie too far apart: more than {MAX_PLACES} places to look at"
    ))
}

/// The result of work by the crate that reads workbooks.
fn tried<T>(work: impl FnOnce() -> Result<T, Problem>) -> Result<T, Problem> {
    guarded(work).unwrap_or_else(|| Err(broken("it is damaged")))
}

fn open(bytes: &[u8]) -> Result<Book<'_>, Problem> {
    let kind = if bytes.starts_with(b"PK") {
        tried(|| archive::inspect(bytes))?
    } else {
        ole::inspect(bytes)?;
        Kind::Xls
    };
    let reason = |error: &dyn std::fmt::Display| broken(error.to_string());
    tried(|| {
        let bytes = Cursor::new(bytes);
        Ok(match kind {
            Kind::Xlsx => Book::Xlsx(Box::new(Xlsx::new(bytes).map_err(|error| reason(&error))?)),
            Kind::Ods => Book::Ods(Ods::new(bytes).map_err(|error| reason(&error))?),
            Kind::Xls => Book::Xls(Box::new(Xls::new(bytes).map_err(|error| reason(&error))?)),
        })
    })
}

impl Book<'_> {
    fn sheets(&self) -> Vec<Sheet> {
        match self {
            Self::Xlsx(book) => book.sheets_metadata().to_vec(),
            Self::Ods(book) => book.sheets_metadata().to_vec(),
            Self::Xls(book) => book.sheets_metadata().to_vec(),
        }
    }

    /// The rows of a sheet that hold anything.
    fn rows(&mut self, name: &str) -> Result<Vec<Row>, Problem> {
        tried(|| match self {
            Self::Xlsx(book) => rows_of_stream(book, name),
            Self::Ods(book) => rows_of_ranges(book, name),
            Self::Xls(book) => rows_of_ranges(book.as_mut(), name),
        })
    }
}

fn is_hidden(sheet: &Sheet) -> bool {
    sheet.visible != SheetVisible::Visible
}

fn holds_cells(sheet: &Sheet) -> bool {
    sheet.typ == SheetType::WorkSheet
}

/// Cell by cell: the rectangle around them, which a single stray cell makes huge, is never made.
fn rows_of_stream(book: &mut Xlsx<Cursor<&[u8]>>, name: &str) -> Result<Vec<Row>, Problem> {
    let mut reader = book
        .worksheet_cells_reader(name)
        .map_err(|error| broken(error.to_string()))?;
    let mut loose = Loose::default();
    while let Some(cell) = reader
        .next_cell_with_formula_metadata()
        .map_err(|error| broken(error.to_string()))?
    {
        let formula = cell.formula.is_some();
        loose.add(cell.pos, of_ref(&cell.value, formula), formula)?;
    }
    loose.into_rows()
}

fn rows_of_ranges<'a, R>(book: &mut R, name: &str) -> Result<Vec<Row>, Problem>
where
    R: Reader<Cursor<&'a [u8]>>,
    R::Error: std::fmt::Display,
{
    let values = book
        .worksheet_range(name)
        .map_err(|error| broken(error.to_string()))?;
    let formulas = book
        .worksheet_formula(name)
        .map_err(|error| broken(error.to_string()))?;
    let place = |start: Option<(u32, u32)>, row: usize, column: usize| {
        let (top, left) = start.unwrap_or_default();
        let down = u32::try_from(row).unwrap_or(u32::MAX);
        let right = u32::try_from(column).unwrap_or(u32::MAX);
        (top.saturating_add(down), left.saturating_add(right))
    };
    let has_formula = |at: (u32, u32)| {
        formulas
            .get_value(at)
            .is_some_and(|formula| !formula.is_empty())
    };
    let mut loose = Loose::default();
    for (row, column, data) in values.used_cells() {
        let at = place(values.start(), row, column);
        let formula = has_formula(at);
        loose.add(at, of_data(data, formula), formula)?;
    }
    for (row, column, _) in formulas.used_cells() {
        let at = place(formulas.start(), row, column);
        // A formula whose value was never kept has a cell in this range alone.
        if values
            .get_value(at)
            .is_none_or(calamine::DataType::is_empty)
        {
            loose.add(at, Value::Blank, true)?;
        }
    }
    loose.into_rows()
}
