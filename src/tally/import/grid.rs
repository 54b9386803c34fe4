//! From text to cells, each row with the line on which it starts.

use std::borrow::Cow;

use csv::{ReaderBuilder, StringRecord};
use memchr::{memchr, memchr2_iter};

use super::Problem;
use super::workbook::{self, Value};
use crate::measure::{Excerpt, visible_lines};

/// The separators that are tried, in order of preference where two serve equally well.
pub(super) const SEPARATORS: [u8; 4] = [b',', b';', b'\t', b'|'];

/// Most characters of a row that are listed where it is not used.
const LISTED: usize = 200;

/// How much of a file is looked at to choose the separator. Title blocks are shorter.
const SAMPLE: usize = 64 * 1024;

/// The cells of a file: places in its text, so that a million rows cost few allocations. Only rows in
/// which something is quoted are copied.
#[derive(Debug)]
pub(super) struct Grid<'t> {
    text: &'t str,
    /// The cells of rows with quotes, one after the other, the quotes taken off.
    unquoted: String,
    /// The end of each cell after the first of its row, as if no separators stood between them.
    ends: Vec<u32>,
    rows: Vec<Row>,
    /// Runs of blank lines: the first line, and how many.
    blanks: Vec<(u32, u32)>,
    pub(super) separator: u8,
    /// Whether every cell that is not quoted shows as it is.
    harmless: bool,
    /// Of a workbook: whether each cell, in the order of `ends`, is a number. Empty for text.
    numbers: Vec<bool>,
    pub(super) workbook: bool,
}

#[derive(Clone, Copy, Debug)]
struct Row {
    /// Where it starts, in `text` or in `unquoted`.
    start: u32,
    /// The row's first cell in `ends`.
    first: u32,
    /// How many cells it has.
    cells: u32,
    line: u32,
    /// Whether it stands in `unquoted`.
    quoted: bool,
}

impl<'t> Grid<'t> {
    /// The cells of the beginning of a text, cut at the end of a line. Its quotes are not judged.
    pub(super) fn sample(text: &'t str, separator: u8) -> Self {
        let mut end = text.len().min(SAMPLE);
        while !text.is_char_boundary(end) {
            end -= 1;
        }
        let (mut head, _) = text.split_at(end);
        if end < text.len()
            && let Some(last) = head.rfind(['\n', '\r'])
        {
            head = head.split_at(last).0;
        }
        Self::parse(head, separator).0
    }

    /// The cells of a whole text.
    pub(super) fn whole(text: &'t str, separator: u8) -> Result<Self, Vec<Problem>> {
        let (grid, open_quotes) = Self::parse(text, separator);
        if open_quotes.is_empty() {
            Ok(grid)
        } else {
            Err(open_quotes)
        }
    }

    fn parse(text: &'t str, separator: u8) -> (Self, Vec<Problem>) {
        let mut reader = ReaderBuilder::new()
            .has_headers(false)
            .flexible(true)
            .delimiter(separator)
            .from_reader(text.as_bytes());
        let mut grid = Self {
            text,
            unquoted: String::new(),
            ends: Vec::new(),
            rows: Vec::new(),
            blanks: Vec::new(),
            separator,
            harmless: is_harmless(text),
            numbers: Vec::new(),
            workbook: false,
        };
        let mut open_quotes = Vec::new();
        let mut record = StringRecord::new();
        let mut from = 0_usize;
        let mut line = 1_u32;
        // ParsedLength from text in memory cannot fail: there is no I/O, it is valid UTF-8, and rows
        // may have any number of cells.
        while reader.read_record(&mut record).unwrap_or(false) {
            let to = usize::try_from(reader.position().byte()).unwrap_or(text.len());
            let raw = text.get(after_line_end(text, from)..to).unwrap_or_default();
            let body = raw.trim_start_matches(['\r', '\n']);
            let blank = line_ends(raw.get(..raw.len() - body.len()).unwrap_or_default());
            if blank > 0 {
                grid.blanks.push((line, blank));
                line += blank;
            }
            // Without a quote a record cannot run over the end of its line.
            let quoted = memchr(b'"', body.as_bytes()).is_some();
            let lines = if quoted {
                line_ends(body)
            } else {
                u32::from(body.ends_with(['\r', '\n']))
            };
            if let Some(problem) =
                swallowed_rows(body, &record, separator, line, lines, to == text.len())
            {
                open_quotes.push(problem);
            }
            grid.push(&record, (!quoted).then_some(to - body.len()), line);
            line += lines;
            from = to;
        }
        let rest = line_ends(text.get(after_line_end(text, from)..).unwrap_or_default());
        if rest > 0 {
            grid.blanks.push((line, rest));
        }
        (grid, open_quotes)
    }

    /// The cells of a sheet. Rows that hold nothing are runs of blank lines.
    pub(super) fn of_rows(rows: &[workbook::Row]) -> Self {
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
        };
        let mut next = 1;
        for row in rows {
            if row.line > next {
                grid.blanks.push((next, row.line - next));
            }
            next = row.line.saturating_add(1);
            // A sheet holds at most 256 MiB of text and twenty million cells.
            let start = grid.unquoted.len();
            grid.rows.push(Row {
                start: place(start),
                first: place(grid.ends.len()),
                cells: place(row.cells.len()),
                line: row.line,
                quoted: true,
            });
            for cell in &row.cells {
                grid.unquoted.push_str(cell.text());
                grid.ends.push(place(grid.unquoted.len() - start));
                grid.numbers.push(matches!(cell.value, Value::Number(_)));
            }
        }
        grid
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
        let cell = usize::try_from(row.first).ok()? + column;
        self.numbers.get(cell).copied()
    }

    /// The widest of the rows from `row` on.
    pub(super) fn widest_from(&self, row: usize) -> usize {
        (row..self.len())
            .map(|row| self.width(row))
            .max()
            .unwrap_or(0)
    }

    /// Adds a row: it stands in the text at `start`, or is copied where something in it is quoted.
    fn push(&mut self, record: &StringRecord, start: Option<usize>, line: u32) {
        let row = Row {
            start: place(start.unwrap_or(self.unquoted.len())),
            first: place(self.ends.len()),
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
            // In the text itself a separator stands before each cell but the first.
            self.text.get(from + start + column..from + end + column)
        }
    }

    /// The text of a cell as it is kept beyond the reader: control characters as their code, but for
    /// the line ends and tabs of a remark.
    pub(super) fn shown(&self, row: usize, column: usize) -> Cow<'_, str> {
        let cell = self.cell(row, column);
        let quoted = self.rows.get(row).is_some_and(|row| row.quoted);
        if self.harmless && !quoted {
            Cow::Borrowed(cell)
        } else if cell.contains('\r') {
            let lines = cell.replace("\r\n", "\n").replace('\r', "\n");
            Cow::Owned(visible_lines(&lines).into_owned())
        } else {
            visible_lines(cell)
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

    pub(super) fn blanks(&self) -> &[(u32, u32)] {
        &self.blanks
    }
}

/// Whether a text is printable ASCII but for line ends and tabs. Looked for without an early end: that
/// goes many bytes at a time.
fn is_harmless(text: &str) -> bool {
    text.bytes().fold(true, |harmless, byte| {
        harmless & matches!(byte, b' '..=b'~' | b'\n' | b'\r' | b'\t')
    })
}

/// A text is at most 256 MiB long (in UTF-8 at most three times that), so that places in it fit a u32.
fn place(at: usize) -> u32 {
    u32::try_from(at).unwrap_or(u32::MAX)
}

/// Where a row may begin at the earliest: the reader of cells stops between the CR and the LF of the
/// row before, and that LF is no line end of its own.
fn after_line_end(text: &str, from: usize) -> usize {
    let before = from.checked_sub(1).and_then(|at| text.as_bytes().get(at));
    let splits = before == Some(&b'\r') && text.as_bytes().get(from) == Some(&b'\n');
    from + usize::from(splits)
}

/// How many line ends a text holds; CR LF is one.
fn line_ends(text: &str) -> u32 {
    let bytes = text.as_bytes();
    let ends = memchr2_iter(b'\n', b'\r', bytes)
        .filter(|at| bytes.get(*at) == Some(&b'\n') || bytes.get(at + 1) != Some(&b'\n'))
        .count();
    u32::try_from(ends).unwrap_or(u32::MAX)
}

/// A quoted field that runs over line ends is a problem when it never closes, or when a line within
/// it has as many separators as a row: rows would be lost in it.
fn swallowed_rows(
    body: &str,
    record: &StringRecord,
    separator: u8,
    line: u32,
    lines: u32,
    at_end: bool,
) -> Option<Problem> {
    // The last row of a file, opened and never closed, becomes one cell.
    let row_in_a_cell = at_end
        && memchr(b'"', body.as_bytes()).is_some()
        && !body.trim_end().ends_with('"')
        && record
            .iter()
            .next_back()
            .is_some_and(|cell| memchr(separator, cell.as_bytes()).is_some());
    if row_in_a_cell {
        return Some(Problem::OpenQuote {
            line,
            lines: lines.max(1),
        });
    }
    if lines < 2 && !(at_end && lines == 1 && body.trim_end().contains(['\n', '\r'])) {
        return None;
    }
    let looks_like_row = |text: &str| {
        let mut cells = text.split(char::from(separator));
        match (cells.next(), cells.next(), cells.next()) {
            (_, _, Some(_)) => true,
            // A joint and its length, nothing more.
            (Some(joint), Some(length), None) => {
                !joint.trim().contains(' ') && super::rows::starts_as_number(length)
            }
            _ => false,
        }
    };
    let hidden_row = record
        .iter()
        .filter(|cell| cell.contains(['\n', '\r']))
        .any(|cell| cell.split(['\n', '\r']).any(looks_like_row));
    let never_closed = at_end
        && !body.trim_end().ends_with('"')
        && record
            .iter()
            .next_back()
            .is_some_and(|cell| cell.contains(['\n', '\r']));
    (hidden_row || never_closed).then_some(Problem::OpenQuote { line, lines })
}
