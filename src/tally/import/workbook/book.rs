//! A workbook opened, and the rows of its sheets.

use std::io::Cursor;

use calamine::{Ods, Reader, Sheet, SheetType, SheetVisible, Xls, Xlsx};

use super::super::cell::{CellValue, SheetMarks, SheetRow};
use super::super::damage::WorkbookDamage;
use super::super::error::Problem;
use super::cells::{LooseCells, of_data, of_ref};
use super::guard::guarded;
use super::limits::{BookKind, broken, unreadable};
use super::{archive, marks, ole};

/// Whether a file begins as workbooks do. What lies behind that mark is told by [`open`].
pub(in super::super) fn is_one(bytes: &[u8]) -> bool {
    bytes.starts_with(b"PK\x03\x04") || bytes.starts_with(b"\xD0\xCF\x11\xE0\xA1\xB1\x1A\xE1")
}

/// A workbook that could be opened.
pub(in super::super) struct Book<'a> {
    bytes: &'a [u8],
    kind: BookKind,
    reader: BookReader<'a>,
    /// How many cells were read so far.
    places: usize,
}

/// The crate's own reader of each kind.
enum BookReader<'a> {
    Xlsx(Box<Xlsx<Cursor<&'a [u8]>>>),
    Ods(Ods<Cursor<&'a [u8]>>),
    Xls(Box<Xls<Cursor<&'a [u8]>>>),
}

/// The result of work by the crate that reads workbooks.
fn tried<T>(work: impl FnOnce() -> Result<T, Problem>) -> Result<T, Problem> {
    guarded(work).unwrap_or_else(|| Err(broken(WorkbookDamage::Whole)))
}

pub(in super::super) fn open(bytes: &[u8]) -> Result<Book<'_>, Problem> {
    let kind = if bytes.starts_with(b"PK") {
        tried(|| archive::inspect(bytes))?
    } else {
        ole::inspect(bytes)?;
        BookKind::Xls
    };
    let reason = unreadable;
    let reader = tried(|| {
        let bytes = Cursor::new(bytes);
        Ok(match kind {
            BookKind::Xlsx => {
                BookReader::Xlsx(Box::new(Xlsx::new(bytes).map_err(|error| reason(&error))?))
            }
            BookKind::Ods => BookReader::Ods(Ods::new(bytes).map_err(|error| reason(&error))?),
            BookKind::Xls => {
                BookReader::Xls(Box::new(Xls::new(bytes).map_err(|error| reason(&error))?))
            }
        })
    })?;
    Ok(Book {
        bytes,
        kind,
        reader,
        places: 0,
    })
}

impl Book<'_> {
    /// What is hidden or struck through in a sheet; `None` where that is not known.
    pub(in super::super) fn marks(&self, name: &str) -> Result<Option<SheetMarks>, Problem> {
        marks::of_sheet(self.bytes, self.kind, name)
    }

    pub(in super::super) fn sheets(&self) -> Vec<Sheet> {
        match &self.reader {
            BookReader::Xlsx(book) => book.sheets_metadata().to_vec(),
            BookReader::Ods(book) => book.sheets_metadata().to_vec(),
            BookReader::Xls(book) => book.sheets_metadata().to_vec(),
        }
    }

    /// The rows of a sheet that hold anything.
    pub(in super::super) fn rows(&mut self, name: &str) -> Result<Vec<SheetRow>, Problem> {
        let mut loose = LooseCells::after(self.places);
        tried(|| match &mut self.reader {
            BookReader::Xlsx(book) => cells_of_stream(book, name, &mut loose),
            BookReader::Ods(book) => cells_of_ranges(book, name, &mut loose),
            BookReader::Xls(book) => cells_of_ranges(book.as_mut(), name, &mut loose),
        })?;
        self.places = loose.places();
        loose.into_rows()
    }
}

pub(in super::super) fn is_hidden(sheet: &Sheet) -> bool {
    sheet.visible != SheetVisible::Visible
}

pub(in super::super) fn holds_cells(sheet: &Sheet) -> bool {
    sheet.typ == SheetType::WorkSheet
}

/// Cell by cell: the rectangle around them, which a single stray cell makes huge, is never made.
fn cells_of_stream(
    book: &mut Xlsx<Cursor<&[u8]>>,
    name: &str,
    loose: &mut LooseCells,
) -> Result<(), Problem> {
    let mut reader = book
        .worksheet_cells_reader(name)
        .map_err(|error| unreadable(&error))?;
    while let Some(cell) = reader
        .next_cell_with_formula_metadata()
        .map_err(|error| unreadable(&error))?
    {
        let formula = cell.formula.is_some();
        loose.add(cell.pos, of_ref(&cell.value, formula), formula)?;
    }
    Ok(())
}

fn cells_of_ranges<'a, R>(book: &mut R, name: &str, loose: &mut LooseCells) -> Result<(), Problem>
where
    R: Reader<Cursor<&'a [u8]>>,
    R::Error: std::fmt::Display,
{
    let values = book
        .worksheet_range(name)
        .map_err(|error| unreadable(&error))?;
    let formulas = book
        .worksheet_formula(name)
        .map_err(|error| unreadable(&error))?;
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
            loose.add(at, CellValue::Blank, true)?;
        }
    }
    Ok(())
}
