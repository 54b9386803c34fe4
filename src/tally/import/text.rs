//! From text to cells.

use std::str;

use csv_core::{ReadRecordResult, Reader, ReaderBuilder};
use memchr::{memchr, memchr2_iter, memchr3};

use super::cell_text::starts_as_number;
use super::error::Problem;
use super::grid::Grid;
use super::limits::{Limit, MAX_GRID, MAX_ROW, MAX_ROWS};
use super::marks::Marks;

/// The separators that are tried, in order of preference where two serve equally well.
pub(super) const SEPARATORS: [u8; 4] = [b',', b';', b'\t', b'|'];

/// How much of a file is looked at to choose the separator. Title blocks are shorter.
const SAMPLE: usize = 64 * 1024;

/// The beginning of a text, cut at the end of a line.
pub(super) struct Sample<'t> {
    /// Its cells. Its quotes are not judged.
    pub(super) grid: Grid<'t>,
    /// Whether it ends within quotes.
    pub(super) in_quotes: bool,
}

/// The cells of the beginning of a text.
pub(super) fn sample(text: &str, separator: u8) -> Sample<'_> {
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
    let mut rows = TextRows::new(head, separator);
    rows.take_all();
    Sample {
        in_quotes: rows.in_quotes,
        grid: rows.grid,
    }
}

/// The cells of a whole text.
pub(super) fn whole(text: &str, separator: u8) -> Result<Grid<'_>, Vec<Problem>> {
    let mut rows = TextRows::new(text, separator);
    rows.take_all();
    if !rows.problems.is_empty() {
        return Err(rows.problems);
    }
    let mut grid = rows.grid;
    if is_harmless(text) {
        grid.set_harmless();
    }
    Ok(grid)
}

/// Whether a text that was decoded is printable ASCII but for line ends and tabs. Of other control
/// characters it can hold these three alone: decoding refuses the rest.
fn is_harmless(text: &str) -> bool {
    const FORM_FEED: u8 = 0x0C;
    const END_OF_FILE: u8 = 0x1A;
    const DELETE: u8 = 0x7F;
    text.is_ascii() && memchr3(FORM_FEED, END_OF_FILE, DELETE, text.as_bytes()).is_none()
}

/// Most problems with quotes that are told.
const MOST: usize = 40;

/// The rows of a text, taken one after the other.
struct TextRows<'t> {
    text: &'t str,
    separator: u8,
    grid: Grid<'t>,
    problems: Vec<Problem>,
    /// Whether the last row ends within quotes.
    in_quotes: bool,
    /// From where on it is looked again how much memory the rows take.
    looked_at: usize,
    /// Where the next row begins, and on which line.
    at: usize,
    line: u32,
    /// Separators and line ends, counted from `marks_from`.
    marks: Marks<'t>,
    marks_from: usize,
    /// The next quote, or the end of the text.
    quote: usize,
    /// What reads rows with quotes, from the first of them on: to make it takes as long as to read a short list.
    quoted: Option<QuotedRow>,
}

impl<'t> TextRows<'t> {
    fn new(text: &'t str, separator: u8) -> Self {
        let mut rows = Self {
            text,
            separator,
            grid: Grid::of_text(text, separator),
            problems: Vec::new(),
            in_quotes: false,
            looked_at: 0,
            at: 0,
            line: 1,
            marks: Marks::new(separator, b""),
            marks_from: 0,
            quote: 0,
            quoted: None,
        };
        rows.look_on();
        rows
    }

    /// What is left of the text.
    fn rest(&self) -> &'t str {
        self.text.get(self.at..).unwrap_or_default()
    }

    /// Looks for marks and quotes from here on.
    fn look_on(&mut self) {
        let rest = self.rest().as_bytes();
        self.marks = Marks::new(self.separator, rest);
        self.marks_from = self.at;
        self.quote = memchr(b'"', rest).map_or(self.text.len(), |quote| self.at + quote);
    }

    fn take_all(&mut self) {
        loop {
            self.take_blanks();
            if self.at >= self.text.len() {
                return;
            }
            let beyond = if self.grid.len() >= MAX_ROWS {
                Some(Limit::Rows)
            } else {
                self.takes_too_much().then_some(Limit::Memory)
            };
            let taken = match beyond {
                None => self.take_row(),
                Some(limit) => Err(Problem::Beyond {
                    line: self.line,
                    limit,
                }),
            };
            if let Err(problem) = taken {
                self.problems.push(problem);
                return;
            }
        }
    }

    /// Whether what is kept of the rows takes too much memory: looked at again after some text, of which no cell takes
    /// more than a few bytes.
    fn takes_too_much(&mut self) -> bool {
        const BETWEEN: usize = 64 * 1024;
        if self.at < self.looked_at {
            return false;
        }
        self.looked_at = self.at.saturating_add(BETWEEN);
        self.grid.bytes() > MAX_GRID
    }

    /// Passes over line ends before a row: blank lines.
    fn take_blanks(&mut self) {
        if !matches!(self.text.as_bytes().get(self.at), Some(b'\r' | b'\n')) {
            return;
        }
        let rest = self.rest();
        let body = rest.trim_start_matches(['\r', '\n']);
        let blanks = rest.len() - body.len();
        let lines = line_ends(rest.get(..blanks).unwrap_or_default());
        self.grid.push_blanks(self.line, lines);
        self.line += lines;
        self.at += blanks;
    }

    /// Takes the row that begins here.
    fn take_row(&mut self) -> Result<(), Problem> {
        let start = self.at;
        let mut end = self.text.len();
        let store = self.grid.store();
        for mark in self.marks.by_ref() {
            let at = self.marks_from + mark.at;
            // Line ends that were passed over.
            let Some(place) = at.checked_sub(start) else {
                continue;
            };
            store.add_end(place);
            if mark.is_line_end || place > MAX_ROW {
                end = at;
                break;
            }
        }
        if self.quote < end {
            store.leave_row();
            return self.take_quoted();
        }
        if end - start > MAX_ROW {
            return Err(Problem::Beyond {
                line: self.line,
                limit: Limit::Row,
            });
        }
        if end == self.text.len() {
            store.add_end(end - start);
        }
        store.end_in_text(start, self.line);
        self.at = end;
        self.end_line();
        Ok(())
    }

    /// Passes over the line end after a row, of which CR LF is one.
    fn end_line(&mut self) {
        let rest = self.rest();
        let end = match rest.as_bytes() {
            [b'\r', b'\n', ..] => 2,
            [b'\r' | b'\n', ..] => 1,
            _ => 0,
        };
        self.at += end;
        self.line += u32::from(end > 0);
    }

    /// Takes the row that begins here, in which a quote is.
    fn take_quoted(&mut self) -> Result<(), Problem> {
        let rest = self.rest();
        let bytes = rest.as_bytes();
        let window = bytes.get(..MAX_ROW.min(bytes.len())).unwrap_or_default();
        let is_all = window.len() == rest.len();
        let quoted = self
            .quoted
            .get_or_insert_with(|| QuotedRow::new(self.separator));
        let Some(taken) = quoted.read(window, is_all) else {
            let lines = line_ends(&String::from_utf8_lossy(window));
            return Err(Problem::OpenQuote {
                line: self.line,
                lines: lines.max(1),
            });
        };
        let body = rest.get(..taken).unwrap_or_default();
        let lines = line_ends(body);
        let cells: Vec<&str> = quoted.cells().collect();
        let at_end = self.at + taken == self.text.len();
        self.in_quotes = at_end && is_left_open(body);
        let place = (self.line, lines);
        let problem = swallowed_rows(body, &cells, self.separator, place, at_end);
        self.problems
            .extend(problem.filter(|_| self.problems.len() < MOST));
        self.grid.push_cells(cells.into_iter(), self.line);
        self.line += lines;
        self.at += taken;
        // The reader of quoted rows stops between CR and LF.
        if body.ends_with('\r') && self.rest().starts_with('\n') {
            self.at += 1;
        }
        self.look_on();
        Ok(())
    }
}

/// The reader of rows with quotes, and the row that it read last.
struct QuotedRow {
    reader: Reader,
    text: Vec<u8>,
    ends: Vec<usize>,
    cells: usize,
}

impl QuotedRow {
    fn new(separator: u8) -> Self {
        Self {
            reader: ReaderBuilder::new().delimiter(separator).build(),
            text: vec![0; 256],
            ends: vec![0; 16],
            cells: 0,
        }
    }

    /// Reads one row from the start of some bytes and says how many of them it takes; `None` where it does not end
    /// in them and they are not all there are.
    fn read(&mut self, bytes: &[u8], is_all: bool) -> Option<usize> {
        self.reader.reset();
        let (mut taken, mut written) = (0, 0);
        self.cells = 0;
        loop {
            let input = bytes.get(taken..).unwrap_or_default();
            let (result, read, wrote, ended) = self.reader.read_record(
                input,
                self.text.get_mut(written..).unwrap_or_default(),
                self.ends.get_mut(self.cells..).unwrap_or_default(),
            );
            taken += read;
            written += wrote;
            self.cells += ended;
            match result {
                ReadRecordResult::Record | ReadRecordResult::End => return Some(taken),
                ReadRecordResult::InputEmpty if !is_all => return None,
                // The next call says that there is no more.
                ReadRecordResult::InputEmpty => {}
                ReadRecordResult::OutputFull => self.text.resize(self.text.len() * 2, 0),
                ReadRecordResult::OutputEndsFull => self.ends.resize(self.ends.len() * 2, 0),
            }
        }
    }

    /// The cells of the row, the quotes taken off.
    fn cells(&self) -> impl Iterator<Item = &str> {
        let ends = self.ends.iter().copied().take(self.cells);
        let starts = std::iter::once(0).chain(ends.clone());
        starts.zip(ends).map(|(from, to)| {
            // Cells of a text end at signs of one byte, so that each is a text.
            let bytes = self.text.get(from..to).unwrap_or_default();
            str::from_utf8(bytes).unwrap_or_default()
        })
    }
}

/// How many line ends a text holds; CR LF is one.
fn line_ends(text: &str) -> u32 {
    let bytes = text.as_bytes();
    let ends = memchr2_iter(b'\n', b'\r', bytes)
        .filter(|at| bytes.get(*at) == Some(&b'\n') || bytes.get(at + 1) != Some(&b'\n'))
        .count();
    u32::try_from(ends).unwrap_or(u32::MAX)
}

/// Whether a row with quotes ends where none is closed.
fn is_left_open(body: &str) -> bool {
    !body.trim_end().ends_with('"')
}

/// A quoted field that runs over line ends is a problem when it never closes, or when a line within
/// it has as many separators as a row: rows would be lost in it.
fn swallowed_rows(
    body: &str,
    cells: &[&str],
    separator: u8,
    (line, lines): (u32, u32),
    at_end: bool,
) -> Option<Problem> {
    let is_left_open = at_end && is_left_open(body);
    let last = cells.last().copied().unwrap_or_default();
    // The last row of a file, opened and never closed, becomes one cell.
    if is_left_open && memchr(separator, last.as_bytes()).is_some() {
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
                !joint.trim().contains(' ') && starts_as_number(length)
            }
            _ => false,
        }
    };
    let hidden_row = cells
        .iter()
        .filter(|cell| cell.contains(['\n', '\r']))
        .any(|cell| cell.split(['\n', '\r']).any(looks_like_row));
    let never_closed = is_left_open && last.contains(['\n', '\r']);
    (hidden_row || never_closed).then_some(Problem::OpenQuote { line, lines })
}
