//! A cell of a joint's row, read as a length.

use super::cell_text::says_nothing;
use super::error::Problem;
use super::grid::{Grid, GridRow};
use super::problems::Problems;
use super::table::TallyTable;
use crate::measure::{
    DecimalMark, Excerpt, LengthError, ParseOptions, ParsedLength, Unit, read_length, read_plain,
};

/// Reads the cells of a table as lengths, each in the unit of its column.
pub(super) struct LengthReader<'a> {
    pub(super) grid: &'a Grid<'a>,
    pub(super) table: &'a TallyTable,
    pub(super) decimal: DecimalMark,
    /// The unit of each column's bare numbers.
    units: Vec<Option<Unit>>,
    /// Whether a column holds feet with inches beside them or after a point.
    unusual: Vec<bool>,
    /// Columns about whose unit a question was asked already.
    asked: Vec<usize>,
}

impl<'a> LengthReader<'a> {
    pub(super) fn new(grid: &'a Grid<'a>, table: &'a TallyTable, decimal: DecimalMark) -> Self {
        Self {
            grid,
            table,
            decimal,
            units: (0..table.width())
                .map(|column| table.unit(column))
                .collect(),
            unusual: (0..table.width())
                .map(|column| table.has_inches(column) || table.feet_point_inches(column))
                .collect(),
            asked: Vec::new(),
        }
    }

    /// Whether a cell, and the inches beside it if it has any, hold no length.
    pub(super) fn is_blank(&self, row: usize, column: usize) -> bool {
        let inches = self.table.has_inches(column) && !self.grid.cell(row, column + 1).is_empty();
        !inches && says_nothing(self.grid.cell(row, column))
    }

    /// A length that may be blank.
    #[inline]
    pub(super) fn optional(
        &mut self,
        cells: &GridRow<'_>,
        (row, column): (usize, usize),
        problems: &mut Problems,
    ) -> Option<ParsedLength> {
        let text = cells.cell(column);
        if let Some(reading) = self.plain(text, row, column) {
            return Some(reading);
        }
        let may_be_blank = !text.starts_with(|it: char| it.is_ascii_digit());
        if may_be_blank && self.is_blank(row, column) {
            return None;
        }
        match self.reading_of(text, row, column) {
            Ok(reading) => Some(reading),
            Err(error) => {
                self.report(row, column, error, problems);
                None
            }
        }
    }

    /// The length of a cell with this text where it is a plain decimal, as nearly all are; `None` says nothing.
    #[inline]
    pub(super) fn plain(&self, text: &str, row: usize, column: usize) -> Option<ParsedLength> {
        if self.unusual.get(column).copied().unwrap_or(false) {
            return None;
        }
        read_plain(text, self.rules(row, column))
    }

    /// How the bare numbers of a cell are read.
    #[inline]
    fn rules(&self, row: usize, column: usize) -> ParseOptions {
        ParseOptions {
            bare: self.units.get(column).copied().flatten(),
            decimal: self.mark(row, column),
        }
    }

    #[inline]
    pub(super) fn reading(&self, row: usize, column: usize) -> Result<ParsedLength, LengthError> {
        self.reading_of(self.grid.cell(row, column), row, column)
    }

    /// The length of a cell with this text.
    #[inline]
    pub(super) fn reading_of(
        &self,
        text: &str,
        row: usize,
        column: usize,
    ) -> Result<ParsedLength, LengthError> {
        if self.unusual.get(column).copied().unwrap_or(false) {
            return self.unusual_reading(row, column);
        }
        let rules = self.rules(row, column);
        let read = read_length(text, &rules);
        if read.is_err() {
            return or_zero(text, rules, read);
        }
        read
    }

    /// The decimal mark of a cell.
    fn mark(&self, row: usize, column: usize) -> DecimalMark {
        if self.grid.is_number(row, column) {
            DecimalMark::Point
        } else {
            self.decimal
        }
    }

    /// Feet and inches in two columns, or with a point between them.
    #[cold]
    fn unusual_reading(&self, row: usize, column: usize) -> Result<ParsedLength, LengthError> {
        let inches_beside = self.table.has_inches(column);
        let rules = ParseOptions {
            bare: self.units.get(column).copied().flatten(),
            // Of feet and inches in two cells, the inches have the decimals.
            decimal: self.mark(row, column + usize::from(inches_beside)),
        };
        let text = self.grid.cell(row, column);
        if !inches_beside {
            return feet_point_inches(text, self.grid.is_number(row, column), rules);
        }
        let inches = self
            .grid
            .cell(row, column + 1)
            .trim_end_matches(['"', '″', '”', '\'', ' ']);
        let feet = match text.trim_end_matches(['\'', '′', '’', ' ']) {
            "" => "0",
            feet => feet,
        };
        let joined = if inches.is_empty() {
            format!("{feet}'")
        } else {
            format!("{feet}' {inches}\"")
        };
        read_length(&joined, &rules)
    }

    pub(super) fn report(
        &mut self,
        row: usize,
        column: usize,
        error: LengthError,
        problems: &mut Problems,
    ) {
        let at = self.table.at(self.grid, row, column);
        if matches!(error, LengthError::NoUnit(_)) {
            // One question for the column, not one for each of its rows.
            if !self.asked.contains(&column) {
                self.asked.push(column);
                problems.push(Problem::UnitQuestion { at });
            }
            return;
        }
        problems.push(Problem::Length { at, error });
    }
}

/// What was read, but that a bare zero needs no unit: nothing is nothing in any.
#[cold]
fn or_zero(
    text: &str,
    rules: ParseOptions,
    read: Result<ParsedLength, LengthError>,
) -> Result<ParsedLength, LengthError> {
    match read {
        Err(LengthError::NoUnit(_)) if is_zero(text) => read_length(
            text,
            &ParseOptions {
                bare: Some(Unit::Metre),
                ..rules
            },
        ),
        read => read,
    }
}

/// Whether a text is a bare zero, with decimals or without.
fn is_zero(text: &str) -> bool {
    text.contains('0') && text.bytes().all(|byte| matches!(byte, b'0' | b'.' | b','))
}

/// A length in feet, a point and inches of two digits. What states its units itself is read as ever.
fn feet_point_inches(
    text: &str,
    is_number: bool,
    rules: ParseOptions,
) -> Result<ParsedLength, LengthError> {
    let (sign, body) = match text.strip_prefix('-') {
        Some(body) => ("-", body),
        None => ("", text),
    };
    let is_bare = !body.is_empty()
        && body
            .bytes()
            .all(|byte| byte.is_ascii_digit() || matches!(byte, b'.' | b','));
    if !is_bare {
        return read_length(text, &rules);
    }
    let (feet, inches) = body.split_once(['.', ',']).unwrap_or((body, "00"));
    // A cell drops the zero of ten inches.
    let dropped = is_number && inches == "1";
    let inches = if dropped { "10" } else { inches };
    if inches.len() != 2 || inches > "11" || !feet.bytes().all(|byte| byte.is_ascii_digit()) {
        return Err(LengthError::FeetPointInches(Excerpt::of(text)));
    }
    let feet = if feet.is_empty() { "0" } else { feet };
    read_length(&format!("{sign}{feet}' {inches}\""), &rules)
}
