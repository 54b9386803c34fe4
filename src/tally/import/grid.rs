//! The cells of a text or of a sheet, row by row, each row with the line on which it starts.

use compact_str::CompactString;
use csv::StringRecord;
use memchr::memchr;

use super::cell::{CellValue, MAX_MERGED, SheetMarks, SheetRow};
use crate::finding::RowSign;
use crate::measure::{Excerpt, visible_lines};

/// Most characters of a row that are listed where it is not used.
const LISTED: usize = 200;

/// The cells of a file: places in its text, so that a million rows cost few allocations. Only rows in
/// which something is quoted are copied.
#[derive(Clone, Debug)]
pub(super) struct Grid<'t> {
    text: &'t str,
    /// The cells of rows with quotes, one after the other, the quotes taken off.
    unquoted: String,
    /// The end of each cell after the first of its row, as if no separators were between them.
    ends: Vec<u32>,
    rows: Vec<GridRow>,
    /// Runs of blank lines: the first line, and how many.
    blanks: Vec<(u32, u32)>,
    pub(super) separator: u8,
    /// Whether every cell is known to show as it is.
    harmless: bool,
    /// Of a workbook: whether each cell, in the order of `ends`, is a number. Empty for text.
    numbers: Vec<bool>,
    pub(super) workbook: bool,
    /// Of a workbook: what is hidden or struck through.
    marks: SheetMarks,
}

/// A part of a row.
#[derive(Clone, Copy, Debug)]
pub(super) struct RowSlice {
    pub(super) row: usize,
    /// Its first cell.
    pub(super) from: usize,
    /// The cell after its last.
    pub(super) to: usize,
}

impl RowSlice {
    /// All of a row.
    pub(super) const fn whole(row: usize) -> Self {
        Self {
            row,
            from: 0,
            to: usize::MAX,
        }
    }
}

#[derive(Clone, Copy, Debug)]
struct GridRow {
    /// Where it starts, in `text` or in `unquoted`.
    start: u32,
    /// The row's first cell in `ends`.
    first: u32,
    /// How many of its cells are not looked at: those of tables to the left of this one.
    skip: u16,
    /// How many cells it has.
    cells: u32,
    line: u32,
    /// Whether it is in `unquoted`.
    quoted: bool,
}

impl<'t> Grid<'t> {
    /// A grid for the rows of a text, which are added one after the other.
    pub(super) fn of_text(text: &'t str, separator: u8) -> Self {
        Self {
            text,
            unquoted: String::new(),
            ends: Vec::new(),
            rows: Vec::new(),
            blanks: Vec::new(),
            separator,
            harmless: false,
            numbers: Vec::new(),
            workbook: false,
            marks: SheetMarks::default(),
        }
    }

    /// Adds a run of blank lines.
    pub(super) fn push_blanks(&mut self, line: u32, lines: u32) {
        self.blanks.push((line, lines));
    }

    /// A grid for rows of cells that were found one by one.
    pub(super) fn of_cells() -> Grid<'static> {
        Grid::of_text("", b' ')
    }

    /// Adds a row of such cells.
    pub(super) fn push_cells<'c>(&mut self, cells: impl Iterator<Item = &'c str>, line: u32) {
        let (start, first) = (self.unquoted.len(), self.ends.len());
        for cell in cells {
            self.unquoted.push_str(cell);
            self.ends.push(place(self.unquoted.len() - start));
        }
        self.rows.push(GridRow {
            start: place(start),
            first: place(first),
            skip: 0,
            cells: place(self.ends.len() - first),
            line,
            quoted: true,
        });
    }

    /// The cells of a sheet. Rows that hold nothing are runs of blank lines.
    pub(super) fn of_rows(rows: &[SheetRow]) -> Self {
        let mut grid = Self {
            text: "",
            unquoted: String::new(),
            ends: Vec::new(),
            rows: Vec::with_capacity(rows.len()),
            blanks: Vec::new(),
            separator: b'|',
            harmless: false,
            numbers: Vec::new(),
            workbook: true,
            marks: SheetMarks::default(),
        };
        let mut next = 1;
        for row in rows {
            if row.line > next {
                grid.blanks.push((next, row.line - next));
            }
            // Of tables side by side the second begins with the lines of the first again.
            next = next.max(row.line.saturating_add(1));
            // A sheet holds at most 64 MiB of text and eight million cells, so that places fit a u32.
            let start = grid.unquoted.len();
            grid.rows.push(GridRow {
                start: place(start),
                first: place(grid.ends.len()),
                skip: skipped(row.skip),
                cells: place(row.looked_at().len()),
                line: row.line,
                quoted: true,
            });
            for cell in &row.cells {
                grid.unquoted.push_str(cell.text());
                grid.ends.push(place(grid.unquoted.len() - start));
                grid.numbers
                    .push(matches!(cell.value, CellValue::Number(_)));
            }
        }
        grid
    }

    /// The same grid with what is hidden in it or struck through.
    pub(super) fn with_marks(self, marks: SheetMarks) -> Self {
        Self { marks, ..self }
    }

    /// Whether anything is hidden or struck through.
    pub(super) fn has_marks(&self) -> bool {
        !self.marks.is_empty()
    }

    /// Whether a row is not shown.
    pub(super) fn hidden(&self, row: usize) -> Option<RowSign> {
        let is_filtered = self.marks.hidden.get(&self.line(row))?;
        Some(if *is_filtered {
            RowSign::Filtered
        } else {
            RowSign::Hidden
        })
    }

    /// Whether a cell is struck through, or a part of it.
    pub(super) fn is_struck(&self, row: usize, column: usize) -> bool {
        let column = self.column(row, column).saturating_sub(1);
        self.marks.struck.contains(&(self.line(row), column))
    }

    /// The text of a cell above that goes on over this row.
    pub(super) fn merged_over(&self, row: usize, column: usize) -> Option<&str> {
        let (line, place) = (self.line(row), self.column(row, column) - 1);
        let mut above = self.marks.merged.range(..(place, line));
        let ((_, first), _) = above
            .next_back()
            .filter(|((of, _), last)| *of == place && line <= **last)?;
        // The nearest above: of tables side by side, that of the same table.
        let mut rows = (0..row).rev().take(MAX_MERGED);
        rows.find(|row| self.line(*row) == *first)
            .map(|row| self.cell(row, column))
    }

    /// The column of the file that a cell is in, counted from 1.
    pub(super) fn column(&self, row: usize, column: usize) -> usize {
        let skip = self.rows.get(row).map_or(0, |row| row.skip);
        usize::from(skip) + column + 1
    }

    /// The same cells, of which these parts of rows are looked at, in this order.
    pub(super) fn taken(&self, slices: &[RowSlice]) -> Self {
        let part = |slice: &RowSlice| {
            let row = self.rows.get(slice.row)?;
            let cells = usize::try_from(row.cells).ok()?;
            let from = slice.from.min(cells);
            Some(GridRow {
                skip: skipped(from),
                cells: place(slice.to.min(cells).saturating_sub(from)),
                ..*row
            })
        };
        Self {
            rows: slices.iter().filter_map(part).collect(),
            ..self.clone()
        }
    }

    /// Whether a cell is a number of a workbook: its decimal mark is a point, whatever text uses.
    pub(super) fn is_number(&self, row: usize, column: usize) -> bool {
        self.workbook && self.number_at(row, column).unwrap_or(false)
    }

    fn number_at(&self, row: usize, column: usize) -> Option<bool> {
        let row = self.rows.get(row)?;
        if column >= usize::try_from(row.cells).ok()? {
            return None;
        }
        let cell = usize::try_from(row.first).ok()? + usize::from(row.skip) + column;
        self.numbers.get(cell).copied()
    }

    /// The widest of the rows from `row` on.
    pub(super) fn widest_from(&self, row: usize) -> usize {
        (row..self.len())
            .map(|row| self.width(row))
            .max()
            .unwrap_or(0)
    }

    /// Adds a row: it is in the text at `start`, or is copied where something in it is quoted.
    pub(super) fn push(&mut self, record: &StringRecord, start: Option<usize>, line: u32) {
        let row = GridRow {
            start: place(start.unwrap_or(self.unquoted.len())),
            first: place(self.ends.len()),
            skip: 0,
            cells: place(record.len()),
            line,
            quoted: start.is_none(),
        };
        if row.quoted {
            self.unquoted.push_str(record.as_slice());
        }
        let ends = (0..record.len()).filter_map(|cell| record.range(cell));
        self.ends.extend(ends.map(|range| place(range.end)));
        self.rows.push(row);
    }

    /// The text of rows as it stands in the file, separators and all; `None` where something in them is
    /// quoted, or they are cells of a workbook.
    pub(super) fn text_of(&self, rows: std::ops::Range<usize>) -> Option<&str> {
        let rows = self.rows.get(rows)?;
        if rows.iter().any(|row| row.quoted || row.skip > 0) {
            return None;
        }
        let (first, last) = (rows.first()?, rows.last()?);
        let at = |place: u32| usize::try_from(place).ok();
        let cells = at(last.cells)?;
        let end = match cells.checked_sub(1) {
            None => 0,
            Some(before) => at(*self.ends.get(at(last.first)? + before)?)? + before,
        };
        // Of tables side by side the rows do not follow each other in the text.
        self.text.get(at(first.start)?..at(last.start)? + end)
    }

    pub(super) fn len(&self) -> usize {
        self.rows.len()
    }

    /// The line on which a row starts.
    pub(super) fn line(&self, row: usize) -> u32 {
        self.rows.get(row).map_or(0, |row| row.line)
    }

    /// How many cells a row has.
    pub(super) fn width(&self, row: usize) -> usize {
        self.rows
            .get(row)
            .map_or(0, |row| usize::try_from(row.cells).unwrap_or(0))
    }

    /// The text of a cell without spaces around it; blank beyond the end of the row.
    pub(super) fn cell(&self, row: usize, column: usize) -> &str {
        let raw = self.raw_cell(row, column).unwrap_or_default();
        // Most cells have no space around them, which two bytes tell sooner than `trim` does.
        match raw.as_bytes() {
            [b'!'..=b'~'] | [b'!'..=b'~', .., b'!'..=b'~'] => raw,
            _ => raw.trim(),
        }
    }

    fn raw_cell(&self, row: usize, column: usize) -> Option<&str> {
        let row = self.rows.get(row)?;
        let at = |place: u32| usize::try_from(place).ok();
        if column >= at(row.cells)? {
            return None;
        }
        let column = column + usize::from(row.skip);
        let cell = at(row.first)? + column;
        let end = at(*self.ends.get(cell)?)?;
        let start = match column {
            0 => 0,
            _ => at(*self.ends.get(cell - 1)?)?,
        };
        let from = at(row.start)?;
        if row.quoted {
            self.unquoted.get(from + start..from + end)
        } else {
            // In the text itself a separator is before each cell but the first.
            self.text.get(from + start + column..from + end + column)
        }
    }

    /// A text of a cell as it is kept beyond the reader: control characters as their code, but for the
    /// line ends and tabs of a remark.
    pub(super) fn kept(&self, text: &str) -> CompactString {
        if self.harmless {
            CompactString::from(text)
        } else {
            shown(text)
        }
    }

    /// What a message repeats of a cell.
    pub(super) fn excerpt(&self, row: usize, column: usize) -> Excerpt {
        Excerpt::of(self.cell(row, column))
    }

    /// The cells of a row.
    pub(super) fn cells(&self, row: usize) -> impl Iterator<Item = &str> {
        (0..self.width(row)).map(move |column| self.cell(row, column))
    }

    pub(super) fn is_blank(&self, row: usize) -> bool {
        self.cells(row).all(str::is_empty)
    }

    /// A row as one line of text, for listing it: its beginning, where it is long.
    pub(super) fn joined(&self, row: usize) -> String {
        let separator = char::from(self.separator);
        let words = self.cells(row).enumerate().flat_map(|(column, cell)| {
            let before = (column > 0).then_some(separator);
            let words = cell.split_whitespace().enumerate();
            let words = words.flat_map(|(place, word)| {
                let space = (place > 0).then_some(' ');
                space.into_iter().chain(word.chars())
            });
            before.into_iter().chain(words)
        });
        // One letter too many tells that there is more.
        let mut line: String = words.take(LISTED + 1).collect();
        if let Some((end, _)) = line.char_indices().nth(LISTED) {
            line.truncate(end);
            line.push('…');
        }
        line
    }

    /// Notes that a text holds no character that is shown as its code.
    pub(super) fn set_harmless(&mut self) {
        // Only what is quoted can hold a line end, and of those the line feed alone is kept.
        self.harmless = memchr(b'\r', self.unquoted.as_bytes()).is_none();
    }

    pub(super) fn blanks(&self) -> &[(u32, u32)] {
        &self.blanks
    }
}

#[cold]
fn shown(text: &str) -> CompactString {
    if text.contains('\r') {
        let lines = text.replace("\r\n", "\n").replace('\r', "\n");
        CompactString::from(visible_lines(&lines))
    } else {
        CompactString::from(visible_lines(text))
    }
}

/// A text is at most 256 MiB long (in UTF-8 at most three times that), so that places in it fit a u32.
fn place(at: usize) -> u32 {
    u32::try_from(at).unwrap_or(u32::MAX)
}

/// Tables side by side begin within the columns of a sheet.
fn skipped(cells: usize) -> u16 {
    u16::try_from(cells).unwrap_or(u16::MAX)
}
