//! A workbook opened, and the rows of its sheets.

use std::io::Cursor;

use calamine::{Ods, Reader, Sheet, SheetType, SheetVisible, Xls};

use super::super::cell::{CellValue, SheetMarks, SheetRow};
use super::super::damage::WorkbookDamage;
use super::super::error::Problem;
use super::cells::{LooseCells, of_data};
use super::guard::guarded;
use super::limits::{BookKind, broken, unreadable};
use super::opened::Parts;
use super::xlsx::XlsxBook;
use super::{archive, marks_ods, ole};

/// Whether a file begins as workbooks do. What lies behind that mark is told by [`open`].
pub(in super::super) fn is_one(bytes: &[u8]) -> bool {
    bytes.starts_with(b"PK\x03\x04") || bytes.starts_with(b"\xD0\xCF\x11\xE0\xA1\xB1\x1A\xE1")
}

/// A workbook that could be opened.
pub(in super::super) struct Book<'a> {
    bytes: &'a [u8],
    reader: BookReader<'a>,
    /// How many cells were read so far.
    places: usize,
}

/// A sheet that was read.
pub(in super::super) struct SheetCells {
    /// The rows that hold anything.
    pub(in super::super) rows: Vec<SheetRow>,
    /// What is hidden, struck through or merged in it; `None` where that is not known: of old workbooks, and
    /// where the sheet is not where its workbook says.
    pub(in super::super) marks: Option<SheetMarks>,
}

/// What reads each kind.
enum BookReader<'a> {
    Xlsx(Box<XlsxBook<'a>>),
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
    let reader = tried(|| {
        let cursor = Cursor::new(bytes);
        Ok(match kind {
            BookKind::Xlsx => BookReader::Xlsx(Box::new(XlsxBook::open(Parts::of(bytes)?)?)),
            BookKind::Ods => BookReader::Ods(Ods::new(cursor).map_err(|error| unreadable(&error))?),
            BookKind::Xls => BookReader::Xls(Box::new(
                Xls::new(cursor).map_err(|error| unreadable(&error))?,
            )),
        })
    })?;
    Ok(Book {
        bytes,
        reader,
        places: 0,
    })
}

impl Book<'_> {
    pub(in super::super) fn sheets(&self) -> Vec<Sheet> {
        match &self.reader {
            BookReader::Xlsx(book) => book.sheets().to_vec(),
            BookReader::Ods(book) => book.sheets_metadata().to_vec(),
            BookReader::Xls(book) => book.sheets_metadata().to_vec(),
        }
    }

    /// Reads a sheet.
    pub(in super::super) fn sheet(&mut self, name: &str) -> Result<SheetCells, Problem> {
        let mut loose = LooseCells::after(self.places);
        let marks = tried(|| match &mut self.reader {
            BookReader::Xlsx(book) => book.read(name, &mut loose).map(Some),
            BookReader::Ods(book) => {
                cells_of_ranges(book, name, &mut loose)?;
                marks_ods::of_sheet(&mut Parts::of(self.bytes)?, name)
            }
            BookReader::Xls(book) => {
                cells_of_ranges(book.as_mut(), name, &mut loose)?;
                Ok(None)
            }
        })?;
        self.places = loose.places();
        Ok(SheetCells {
            rows: loose.into_rows()?,
            marks,
        })
    }
}

pub(in super::super) fn is_hidden(sheet: &Sheet) -> bool {
    sheet.visible != SheetVisible::Visible
}

pub(in super::super) fn holds_cells(sheet: &Sheet) -> bool {
    sheet.typ == SheetType::WorkSheet
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
