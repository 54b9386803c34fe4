//! From text to cells.

use csv::{ReaderBuilder, StringRecord};
use memchr::{memchr, memchr2_iter, memchr3};

use super::cell_text::starts_as_number;
use super::error::Problem;
use super::grid::Grid;

/// The separators that are tried, in order of preference where two serve equally well.
pub(super) const SEPARATORS: [u8; 4] = [b',', b';', b'\t', b'|'];

/// How much of a file is looked at to choose the separator. Title blocks are shorter.
const SAMPLE: usize = 64 * 1024;

/// The cells of the beginning of a text, cut at the end of a line. Its quotes are not judged.
pub(super) fn sample(text: &str, separator: u8) -> Grid<'_> {
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
    parse(head, separator).0
}

/// The cells of a whole text.
pub(super) fn whole(text: &str, separator: u8) -> Result<Grid<'_>, Vec<Problem>> {
    let (mut grid, open_quotes) = parse(text, separator);
    if is_harmless(text) {
        grid.set_harmless();
    }
    if open_quotes.is_empty() {
        Ok(grid)
    } else {
        Err(open_quotes)
    }
}

/// Whether a text that was decoded is printable ASCII but for line ends and tabs. Of other control
/// characters it can hold these three alone: decoding refuses the rest.
fn is_harmless(text: &str) -> bool {
    const FORM_FEED: u8 = 0x0C;
    const END_OF_FILE: u8 = 0x1A;
    const DELETE: u8 = 0x7F;
    text.is_ascii() && memchr3(FORM_FEED, END_OF_FILE, DELETE, text.as_bytes()).is_none()
}

fn parse(text: &str, separator: u8) -> (Grid<'_>, Vec<Problem>) {
    let mut reader = ReaderBuilder::new()
        .has_headers(false)
        .flexible(true)
        .delimiter(separator)
        .from_reader(text.as_bytes());
    let mut grid = Grid::of_text(text, separator);
    let mut open_quotes = Vec::new();
    let mut record = StringRecord::new();
    let mut from = 0_usize;
    let mut line = 1_u32;
    // Reading from text in memory cannot fail: there is no I/O, it is valid UTF-8, and rows
    // may have any number of cells.
    while reader.read_record(&mut record).unwrap_or(false) {
        let to = usize::try_from(reader.position().byte()).unwrap_or(text.len());
        let raw = text.get(after_line_end(text, from)..to).unwrap_or_default();
        let body = raw.trim_start_matches(['\r', '\n']);
        let blank = line_ends(raw.get(..raw.len() - body.len()).unwrap_or_default());
        if blank > 0 {
            grid.push_blanks(line, blank);
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
        grid.push_blanks(line, rest);
    }
    (grid, open_quotes)
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
                !joint.trim().contains(' ') && starts_as_number(length)
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
