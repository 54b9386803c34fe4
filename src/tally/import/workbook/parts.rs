//! What the XML parts of a workbook claim, counted before anything is set aside for it.

use std::borrow::Cow;
use std::io::{self, BufRead, Read};

use quick_xml::Reader;
use quick_xml::escape::unescape;
use quick_xml::events::{BytesStart, Event};
use quick_xml::name::QName;

use super::super::damage::WorkbookDamage;
use super::super::error::Problem;
use super::limits::{
    MAX_COLUMNS, MAX_PIECE, MAX_REPEATED, MAX_REPEATED_TEXT, MAX_ROWS, broken, too_much_text,
    too_scattered, unreadable,
};
use crate::measure::Excerpt;

/// More spaces in a row than any cell has.
const MAX_SPACES: usize = 10_000;

/// How far a part is XML.
#[derive(Debug, PartialEq, Eq)]
pub(super) enum End {
    /// To its end.
    Whole,
    /// Up to a mistake.
    Mistake(String),
}

/// Goes through the elements of a part; `strict` if each must end by the name by which it began.
pub(super) fn elements(
    part: impl BufRead,
    strict: bool,
    mut take: impl FnMut(&Event<'_>) -> Result<(), Problem>,
) -> Result<End, Problem> {
    let mut reader = Reader::from_reader(Pieces { part, taken: 0 });
    let config = reader.config_mut();
    config.check_end_names = strict;
    config.expand_empty_elements = true;
    let mut buffer = Vec::new();
    loop {
        match reader.read_event_into(&mut buffer) {
            Ok(Event::Eof) => return Ok(End::Whole),
            Ok(event) => take(&event)?,
            Err(error) => return Ok(End::Mistake(error.to_string())),
        }
        buffer.clear();
        reader.get_mut().taken = 0;
    }
}

/// Goes through the elements of a part, each of which must end, and by the name by which it began.
pub(super) fn whole_elements(
    part: impl BufRead,
    mut take: impl FnMut(&Event<'_>) -> Result<(), Problem>,
) -> Result<(), Problem> {
    let mut open = 0_u64;
    let end = elements(part, true, |event| {
        match event {
            Event::Start(_) => open += 1,
            // The reader of elements refuses an end without its beginning.
            Event::End(_) => open = open.saturating_sub(1),
            _ => {}
        }
        take(event)
    })?;
    match end {
        End::Whole if open == 0 => Ok(()),
        End::Whole => Err(broken(WorkbookDamage::PartEndsWithin)),
        End::Mistake(mistake) => Err(unreadable(&mistake)),
    }
}

/// A part of which no element, text or remark may be too long: each is kept in memory as a whole.
struct Pieces<R> {
    part: R,
    /// How much was taken since the last of them.
    taken: usize,
}

impl<R: BufRead> Read for Pieces<R> {
    fn read(&mut self, into: &mut [u8]) -> io::Result<usize> {
        let read = self.part.read(into)?;
        self.taken = self.taken.saturating_add(read);
        Ok(read)
    }
}

impl<R: BufRead> BufRead for Pieces<R> {
    fn fill_buf(&mut self) -> io::Result<&[u8]> {
        if self.taken > MAX_PIECE {
            return Err(io::Error::other(WorkbookDamage::LongPiece(MAX_PIECE)));
        }
        self.part.fill_buf()
    }

    fn consume(&mut self, bytes: usize) {
        self.taken = self.taken.saturating_add(bytes);
        self.part.consume(bytes);
    }
}

/// The name of an element without the prefix of its namespace.
pub(super) fn local_name(name: QName<'_>) -> &str {
    let name = name.into_inner();
    // Sooner than the crate's own search, which goes by letters: names are short.
    let colon = name.bytes().position(|byte| byte == b':');
    colon.map_or(name, |colon| name.get(colon + 1..).unwrap_or_default())
}

pub(super) fn attribute<'a>(element: &'a BytesStart<'_>, name: &str) -> Option<Cow<'a, str>> {
    element
        .attributes()
        .with_checks(false)
        .flatten()
        .find(|attribute| attribute.key.as_ref() == name)
        .map(|attribute| attribute.value)
}

/// An attribute as text.
pub(super) fn text_of(element: &BytesStart<'_>, name: &str) -> Option<String> {
    let raw = attribute(element, name)?;
    Some(unescape(&raw).map_or_else(|_| raw.to_string(), Cow::into_owned))
}

/// Whether an element that switches something on does so.
pub(super) fn switches_on(element: &BytesStart<'_>) -> bool {
    attribute(element, "val").is_none_or(|value| !matches!(&*value, "0" | "false" | "off"))
}

/// The number of a repeat; none stated is one.
pub(super) fn times(element: &BytesStart<'_>, name: &str) -> Result<usize, Problem> {
    attribute(element, name).map_or(Ok(1), |text| {
        text.parse().map_err(|_| {
            broken(WorkbookDamage::NoNumber {
                text: Excerpt::of(&text),
                name: name.to_owned(),
            })
        })
    })
}

/// A protected workbook says so in its list of parts.
pub(super) fn inspect_manifest(part: impl BufRead) -> Result<(), Problem> {
    let end = elements(part, true, |event| match event {
        Event::Start(element) if local_name(element.name()) == "encryption-data" => {
            Err(Problem::PasswordProtected)
        }
        _ => Ok(()),
    })?;
    whole(end, 0)
}

/// The sheets of an open document, which repeat cells and rows by a number: how many cells that
/// makes. The crate that reads them waits for the ends of elements for ever, so that each must have
/// its own.
pub(super) fn inspect_tables(part: impl BufRead) -> Result<(), Problem> {
    let mut tables = Tables::default();
    let end = elements(part, true, |event| {
        match event {
            Event::Start(element) => tables.start(element)?,
            Event::End(element) => tables.end(element.name().as_ref()),
            Event::Text(text) => tables.text.cell += text.len(),
            Event::CData(text) => tables.text.cell += text.len(),
            _ => {}
        }
        if tables.text.all > MAX_REPEATED_TEXT {
            return Err(too_much_text(MAX_REPEATED_TEXT));
        }
        if tables.open < 0 || tables.places > MAX_REPEATED {
            return Err(if tables.open < 0 {
                broken(WorkbookDamage::EndsTooMany)
            } else {
                too_scattered(MAX_REPEATED)
            });
        }
        Ok(())
    })?;
    whole(end, tables.open)
}

fn whole(end: End, open: i64) -> Result<(), Problem> {
    match end {
        End::Whole if open == 0 => Ok(()),
        End::Whole => Err(broken(WorkbookDamage::EndsWithin)),
        End::Mistake(mistake) => Err(unreadable(&mistake)),
    }
}

/// Bytes of text so far, each as often as its cell and its row are repeated.
#[derive(Default)]
struct RepeatedText {
    cell: usize,
    row: usize,
    all: usize,
    /// How often this cell occurs.
    cells: usize,
}

/// Cells and rows so far.
#[derive(Default)]
struct Tables {
    text: RepeatedText,
    open: i64,
    /// Cells in all.
    places: usize,
    /// Cells of this row up to its last that holds something, and blanks after it.
    row: usize,
    blanks: usize,
    /// How often this row occurs.
    rows: usize,
    /// Blank rows before this one, and the widest row of the table.
    blank_rows: usize,
    width: usize,
}

impl Tables {
    fn start(&mut self, element: &BytesStart<'_>) -> Result<(), Problem> {
        self.open += 1;
        match element.name().as_ref() {
            "table:table" => (self.width, self.blank_rows) = (0, 0),
            "table:table-row" => {
                self.rows = times(element, "table:number-rows-repeated")?.min(MAX_ROWS);
                (self.row, self.blanks) = (0, 0);
                self.text.row = 0;
            }
            "table:table-cell" | "table:covered-table-cell" => {
                let cells = times(element, "table:number-columns-repeated")?.min(MAX_COLUMNS);
                let said = attribute(element, "office:string-value");
                self.text.cell = said.map_or(0, |text| text.len());
                self.text.cells = cells;
                let holds = |name| attribute(element, name).is_some();
                if holds("office:value-type")
                    || holds("calcext:value-type")
                    || holds("office:value")
                    || holds("office:string-value")
                    || holds("office:date-value")
                    || holds("office:time-value")
                    || holds("office:boolean-value")
                    || holds("table:formula")
                {
                    self.row = (self.row + self.blanks + cells).min(MAX_COLUMNS);
                    self.blanks = 0;
                } else {
                    self.blanks = (self.blanks + cells).min(MAX_COLUMNS);
                }
            }
            "text:s" => {
                let spaces = times(element, "text:c")?;
                if spaces > MAX_SPACES {
                    return Err(broken(WorkbookDamage::OnlySpaces));
                }
                self.text.cell += spaces;
            }
            _ => {}
        }
        Ok(())
    }

    fn end(&mut self, name: &str) {
        self.open -= 1;
        if name == "table:table-cell" || name == "table:covered-table-cell" {
            let text = self.text.cell.saturating_mul(self.text.cells);
            self.text.row = self.text.row.saturating_add(text);
            self.text.cell = 0;
        }
        if name != "table:table-row" {
            return;
        }
        let text = self.text.row.saturating_mul(self.rows);
        self.text.all = self.text.all.saturating_add(text);
        if self.row == 0 {
            self.blank_rows = self.blank_rows.saturating_add(self.rows);
            return;
        }
        self.width = self.width.max(self.row);
        // Rows are made as wide as the widest so far, the blank ones before them too.
        let rows = self.rows.saturating_add(self.blank_rows);
        self.places = self.places.saturating_add(rows.saturating_mul(self.width));
        self.blank_rows = 0;
    }
}
