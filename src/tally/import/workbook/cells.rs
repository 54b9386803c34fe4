//! From what a workbook keeps to rows of cells, each with the row of the sheet that it is in.

use std::borrow::Cow;

use calamine::{CellErrorType, Data, ExcelDateTime};
use compact_str::{CompactString, ToCompactString as _, format_compact};

use super::super::cell::{CellValue, SheetCell, SheetRow};
use super::super::damage::WorkbookDamage;
use super::super::error::Problem;
use super::super::place::address;
use super::limits::{
    LATE, MAX_COLUMNS, MAX_PLACES, MAX_ROWS, MAX_TEXT, ROW, broken, too_much_text, too_scattered,
};

/// Most cells for which room is made before a row is known to have them.
const USUAL_WIDTH: usize = 64;

/// Cells as they come from a workbook, in any order.
#[derive(Default)]
pub(super) struct LooseCells {
    /// The rows so far, as nearly every workbook has them: from top to bottom, each from left to right.
    rows: Vec<SheetRow>,
    /// Cells that come out of that order.
    late: Vec<(u32, u32, SheetCell)>,
    /// How many cells there are, the blank ones before others counted, of this sheet and those before it.
    places: usize,
    text: usize,
}

impl LooseCells {
    /// None yet, of a workbook whose other sheets have so many.
    pub(super) fn after(places: usize) -> Self {
        Self {
            places,
            ..Self::default()
        }
    }

    /// How many cells there are, of this sheet and those before it.
    pub(super) fn places(&self) -> usize {
        self.places + LATE * self.late.len()
    }

    /// Adds a cell; row and column are counted from 0.
    pub(super) fn add(
        &mut self,
        (row, column): (u32, u32),
        value: CellValue,
        formula: bool,
    ) -> Result<(), Problem> {
        let cell = SheetCell { value, formula };
        if cell.value == CellValue::Blank && !formula {
            return Ok(());
        }
        let beyond = |at: u32, most: usize| usize::try_from(at).is_ok_and(|at| at >= most);
        if beyond(row, MAX_ROWS) || beyond(column, MAX_COLUMNS) {
            return Err(broken(WorkbookDamage::BeyondEdge));
        }
        self.text = self.text.saturating_add(cell.text().len());
        if self.text > MAX_TEXT {
            return Err(too_much_text(MAX_TEXT));
        }
        self.place((row, column), cell)
    }

    /// Puts a cell at the end of the rows, or aside where it does not come there.
    fn place(&mut self, (row, column): (u32, u32), cell: SheetCell) -> Result<(), Problem> {
        let line = row.saturating_add(1);
        let at = usize::try_from(column).unwrap_or(MAX_COLUMNS);
        let last = self.rows.last_mut();
        let is_late = last
            .as_ref()
            .is_some_and(|last| last.line > line || (last.line == line && last.cells.len() > at));
        if is_late {
            self.late.push((row, column, cell));
            return if self.places() > MAX_PLACES {
                Err(too_scattered(MAX_PLACES))
            } else {
                Ok(())
            };
        }
        let cells = match last {
            Some(last) if last.line == line => &mut last.cells,
            last => {
                // Most rows are as wide as the one above.
                let width = last.map_or(0, |above| above.cells.len().min(USUAL_WIDTH));
                let cells = Vec::with_capacity(width);
                self.rows.push(SheetRow {
                    line,
                    skip: 0,
                    cells,
                });
                let Some(last) = self.rows.last_mut() else {
                    return Ok(());
                };
                &mut last.cells
            }
        };
        self.places += at + 1 - cells.len() + if cells.is_empty() { ROW } else { 0 };
        if self.places > MAX_PLACES {
            return Err(too_scattered(MAX_PLACES));
        }
        cells.resize_with(at, SheetCell::default);
        cells.push(cell);
        Ok(())
    }

    /// The rows, with blanks where a cell is further right than the one before it.
    pub(super) fn into_rows(mut self) -> Result<Vec<SheetRow>, Problem> {
        if self.late.is_empty() {
            return Ok(self.rows);
        }
        let mut all = std::mem::take(&mut self.late);
        for row in std::mem::take(&mut self.rows) {
            let cells = (0_u32..).zip(row.cells);
            let held = cells.filter(|(_, cell)| cell.formula || cell.value != CellValue::Blank);
            all.extend(held.map(|(column, cell)| (row.line - 1, column, cell)));
        }
        all.sort_by_key(|(row, column, _)| (*row, *column));
        let mut sorted = Self::default();
        for (row, column, cell) in all {
            sorted.place((row, column), cell)?;
            // In order a cell is late only where there is one at its place.
            if !sorted.late.is_empty() {
                let column = usize::try_from(column).unwrap_or(MAX_COLUMNS);
                let at = address(row.saturating_add(1), column.saturating_add(1));
                return Err(broken(WorkbookDamage::TwoCells(at)));
            }
        }
        Ok(sorted.rows)
    }
}

/// The value of a cell of an old workbook or an open document.
pub(super) fn of_data(data: &Data, formula: bool) -> CellValue {
    match data {
        Data::Int(number) => CellValue::Number(number.to_compact_string()),
        Data::Float(number) => of_float(*number),
        Data::String(text) => of_text(text, formula),
        Data::Bool(truth) => of_truth(*truth),
        Data::DateTime(moment) => CellValue::Text(of_moment(moment).into()),
        Data::DateTimeIso(text) | Data::DurationIso(text) => {
            CellValue::Text(clean(text).as_ref().into())
        }
        Data::Error(error) => of_error(error),
        Data::Empty => CellValue::Blank,
    }
}

/// A number that is written as a text: the shortest text of just this number, never with an exponent.
pub(super) fn of_number(written: &str, number: f64) -> CellValue {
    if is_shortest(written) {
        return CellValue::Number(written.into());
    }
    of_float(number)
}

/// Whether a text is a plain decimal without zeros that say nothing, of so few digits that no other text of as
/// few is the same number: fifteen, by IEEE 754's double precision.
fn is_shortest(text: &str) -> bool {
    let digits = text.strip_prefix('-').unwrap_or(text).as_bytes();
    let (whole, decimals) = match memchr::memchr(b'.', digits) {
        Some(point) => (digits.get(..point), digits.get(point + 1..)),
        None => (Some(digits), None),
    };
    let are_digits = |part: &[u8]| part.iter().all(u8::is_ascii_digit);
    let is_whole = |part: &[u8]| match part {
        [b'0'] => decimals.is_some(),
        [b'1'..=b'9', rest @ ..] => are_digits(rest),
        _ => false,
    };
    let ends = |part: &[u8]| are_digits(part) && matches!(part, [.., b'1'..=b'9']);
    let count = digits.len() - usize::from(decimals.is_some());
    count <= 15 && whole.is_some_and(is_whole) && decimals.is_none_or(ends)
}

/// The shortest text of just this number, never with an exponent.
fn of_float(number: f64) -> CellValue {
    // The crate's own way writes exponents.
    let text = format_compact!("{number}");
    match text.as_str() {
        "-0" => CellValue::Number(CompactString::const_new("0")),
        _ if number.is_finite() => CellValue::Number(text),
        _ => CellValue::Text(text),
    }
}

pub(super) fn of_text(text: &str, formula: bool) -> CellValue {
    let text = clean(text);
    if text.is_empty() {
        return CellValue::Blank;
    }
    // Open documents keep what a formula could not give as text.
    let failed = (text.starts_with('#') && text.ends_with(['!', '?']))
        || text == "#N/A"
        || text.starts_with("Err:");
    if formula && failed {
        CellValue::Failed(text.as_ref().into())
    } else {
        CellValue::Text(text.as_ref().into())
    }
}

fn of_truth(truth: bool) -> CellValue {
    CellValue::Text(if truth { "TRUE" } else { "FALSE" }.into())
}

fn of_error(error: &CellErrorType) -> CellValue {
    CellValue::Failed(error.to_compact_string())
}

/// One line: a cell may be broken into lines, and a heading often is.
pub(in super::super) fn clean(text: &str) -> Cow<'_, str> {
    let replaced = |letter: char| match letter {
        '\n' | '\r' | '\t' | '\u{b}' | '\u{c}' | '\u{85}' | '\u{2028}' | '\u{2029}' => ' ',
        letter => letter,
    };
    let is_plain = text.bytes().all(|byte| matches!(byte, b' '..=b'~'));
    if is_plain || text.chars().all(|letter| replaced(letter) == letter) {
        return Cow::Borrowed(text.trim());
    }
    let one_line: String = text.chars().map(replaced).collect();
    Cow::Owned(one_line.trim().to_owned())
}

/// A day, a time, or both.
pub(super) fn of_moment(moment: &ExcelDateTime) -> String {
    let (year, month, day, hour, minute, second, _) = moment.to_ymd_hms_milli();
    let time = format!("{hour:02}:{minute:02}:{second:02}");
    // Times alone are kept as a part of the day before all days.
    if moment.is_duration() || year < 1900 || moment.as_f64() < 1.0 {
        return time;
    }
    let date = format!("{year:04}-{month:02}-{day:02}");
    if (hour, minute, second) == (0, 0, 0) {
        date
    } else {
        format!("{date} {time}")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_written_out_by_the_shortest_text() {
        for (number, text) in [
            (12.19, "12.19"),
            (0.1 + 0.2, "0.30000000000000004"),
            (12.0, "12"),
            (-0.0, "0"),
            (1e21, "1000000000000000000000"),
            (1.5e-7, "0.00000015"),
        ] {
            assert_eq!(of_float(number), CellValue::Number(text.into()));
        }
        assert_eq!(of_float(f64::NAN), CellValue::Text("NaN".into()));
    }

    #[test]
    fn a_cell_of_several_lines_becomes_one() {
        assert_eq!(clean("Overall\r\nlength\n"), "Overall  length");
    }

    #[test]
    fn cells_come_in_any_order_but_each_once() {
        let number = |text: &str| CellValue::Number(text.into());
        let mut loose = LooseCells::default();
        for (at, text) in [((6, 2), "3"), ((6, 0), "1"), ((3, 1), "2")] {
            loose.add(at, number(text), false).expect("a cell");
        }
        let rows = loose.into_rows().expect("rows");
        let texts: Vec<Vec<&str>> = rows
            .iter()
            .map(|row| row.cells.iter().map(SheetCell::text).collect())
            .collect();
        assert_eq!(texts, [vec!["", "2"], vec!["1", "", "3"]]);
        assert_eq!(rows[1].line, 7);
        let mut twice = LooseCells::default();
        for _ in 0..2 {
            twice.add((6, 2), number("1"), false).expect("a cell");
        }
        let problem = twice.into_rows().expect_err("two of them").to_string();
        assert!(problem.contains("two cells C7"), "{problem}");
    }

    #[test]
    fn cells_beyond_the_edge_or_too_far_apart_are_refused() {
        let one = || CellValue::Number("1".into());
        let mut beyond = LooseCells::default();
        assert!(beyond.add((1_048_576, 0), one(), false).is_err());
        assert!(beyond.add((0, 16_384), one(), false).is_err());
        let mut scattered = LooseCells::default();
        let added = (0..2_000).try_for_each(|row| scattered.add((row, 16_383), one(), false));
        assert!(added.is_err());
    }
}
