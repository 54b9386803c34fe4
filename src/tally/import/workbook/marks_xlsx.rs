//! What is hidden or struck through in a sheet of a workbook in XML.

use std::borrow::Cow;
use std::collections::{BTreeMap, BTreeSet};
use std::io::BufRead;

use quick_xml::escape::unescape;
use quick_xml::events::{BytesStart, Event};

use super::super::cell::SheetMarks;
use super::super::error::Problem;
use super::super::place::column_of_letters;
use super::opened::{Parts, to_its_end};
use super::parts::{attribute, elements};

/// The part that lists the sheets, and the one that says where each is.
const BOOK: &str = "xl/workbook.xml";
const PLACES: &str = "xl/_rels/workbook.xml.rels";

pub(super) fn of_sheet(parts: &mut Parts<'_>, sheet: &str) -> Result<Option<SheetMarks>, Problem> {
    let id = parts.with(BOOK, |part| sheet_id(part, sheet))?;
    let places = parts.with(PLACES, |part| places(part))?;
    let of_kind = |kind: &str| {
        let ends = |place: &&Place| place.kind.ends_with(kind);
        places.iter().find(ends).map(|place| place.target.clone())
    };
    let styles = of_kind("/styles").unwrap_or_else(|| "xl/styles.xml".to_owned());
    let texts = of_kind("/sharedStrings").unwrap_or_else(|| "xl/sharedStrings.xml".to_owned());
    let Some(place) = id.and_then(|id| places.iter().find(|place| place.id == id)) else {
        return Ok(None);
    };
    let styles = parts.with(&styles, |part| struck_styles(part))?;
    let texts = parts.with(&texts, |part| struck_texts(part))?;
    parts.find(&place.target, |part| marks(part, &styles, &texts))
}

/// Where a part is.
struct Place {
    id: String,
    kind: String,
    target: String,
}

fn sheet_id(part: &mut dyn BufRead, sheet: &str) -> Result<Option<String>, Problem> {
    let mut found = None;
    let end = elements(part, false, |event| {
        if let Event::Start(element) = event
            && element.local_name().as_ref() == "sheet"
            && text_of(element, "name").as_deref() == Some(sheet)
        {
            let mut attributes = element.attributes();
            let mut attributes = attributes.with_checks(false).flatten();
            let id = attributes.find(|it| it.key.as_ref().ends_with(":id"));
            found = id.map(|it| it.value.into_owned());
        }
        Ok(())
    })?;
    to_its_end(end)?;
    Ok(found)
}

fn places(part: &mut dyn BufRead) -> Result<Vec<Place>, Problem> {
    let mut places = Vec::new();
    let end = elements(part, false, |event| {
        let Event::Start(element) = event else {
            return Ok(());
        };
        if let (Some(id), Some(kind), Some(target)) = (
            text_of(element, "Id"),
            text_of(element, "Type"),
            text_of(element, "Target"),
        ) {
            let target = match target.strip_prefix('/') {
                Some(from_root) => from_root.to_owned(),
                None => format!("xl/{target}"),
            };
            places.push(Place { id, kind, target });
        }
        Ok(())
    })?;
    to_its_end(end)?;
    Ok(places)
}

/// An attribute as text.
fn text_of(element: &BytesStart<'_>, name: &str) -> Option<String> {
    let raw = attribute(element, name)?;
    Some(unescape(&raw).map_or_else(|_| raw.to_string(), Cow::into_owned))
}

fn is_on(element: &BytesStart<'_>, name: &str) -> bool {
    attribute(element, name).is_some_and(|value| matches!(&*value, "1" | "true" | "on"))
}

/// Whether an element that switches something on does so.
fn switches_on(element: &BytesStart<'_>) -> bool {
    attribute(element, "val").is_none_or(|value| !matches!(&*value, "0" | "false" | "off"))
}

/// The styles of cells whose font is struck through, by their number.
fn struck_styles(part: &mut dyn BufRead) -> Result<BTreeSet<usize>, Problem> {
    let mut fonts: BTreeSet<usize> = BTreeSet::new();
    let mut styles: BTreeSet<usize> = BTreeSet::new();
    let (mut font, mut style) = (0_usize, 0_usize);
    let (mut in_fonts, mut in_styles) = (false, false);
    let end = elements(part, false, |event| {
        match event {
            Event::Start(element) => match element.local_name().as_ref() {
                "fonts" => in_fonts = true,
                "cellXfs" => in_styles = true,
                "font" if in_fonts => font += 1,
                "strike" if in_fonts && switches_on(element) => {
                    fonts.insert(font);
                }
                "xf" if in_styles => {
                    let own = attribute(element, "fontId");
                    let own = own.and_then(|number| number.parse::<usize>().ok());
                    // Fonts are counted from 0, here as they begin.
                    if own.is_some_and(|own| fonts.contains(&(own + 1))) {
                        styles.insert(style);
                    }
                    style += 1;
                }
                _ => {}
            },
            Event::End(element) => match element.local_name().as_ref() {
                "fonts" => in_fonts = false,
                "cellXfs" => in_styles = false,
                _ => {}
            },
            _ => {}
        }
        Ok(())
    })?;
    to_its_end(end)?;
    Ok(styles)
}

/// The shared texts of which a part is struck through, by their number.
fn struck_texts(part: &mut dyn BufRead) -> Result<BTreeSet<usize>, Problem> {
    let mut struck = BTreeSet::new();
    let mut next = 0_usize;
    let end = elements(part, false, |event| {
        if let Event::Start(element) = event {
            match element.local_name().as_ref() {
                "si" => next += 1,
                "strike" if switches_on(element) => {
                    struck.extend(next.checked_sub(1));
                }
                _ => {}
            }
        }
        Ok(())
    })?;
    to_its_end(end)?;
    Ok(struck)
}

/// A sheet as it is gone through.
#[derive(Default)]
struct Sheet {
    row: u32,
    column: usize,
    cell: SheetCell,
    in_value: bool,
    hidden: BTreeSet<u32>,
    filter: Option<(u32, u32)>,
    struck: BTreeSet<(u32, usize)>,
    /// Merged cells: the column from 0, the first and the last row.
    merged: Vec<(usize, u32, u32)>,
}

/// What is known of the cell so far.
#[derive(Default)]
struct SheetCell {
    /// Whether its style or a part of its text is struck through.
    struck: bool,
    /// Whether its value is the number of a shared text.
    shared: bool,
    holds: bool,
}

fn marks(
    part: &mut dyn BufRead,
    styles: &BTreeSet<usize>,
    texts: &BTreeSet<usize>,
) -> Result<SheetMarks, Problem> {
    let mut sheet = Sheet::default();
    let end = elements(part, false, |event| {
        match event {
            Event::Start(element) => sheet.start(element, styles),
            Event::Text(text) if sheet.in_value && sheet.cell.shared => {
                let number = text.trim().parse::<usize>().ok();
                sheet.cell.struck |= number.is_some_and(|number| texts.contains(&number));
            }
            Event::End(element) => sheet.end(element.local_name().as_ref()),
            _ => {}
        }
        Ok(())
    })?;
    to_its_end(end)?;
    let is_filtered = |row: u32| {
        sheet
            .filter
            .is_some_and(|(first, last)| first < row && row <= last)
    };
    let hidden: BTreeMap<u32, bool> = sheet
        .hidden
        .iter()
        .map(|row| (*row, is_filtered(*row)))
        .collect();
    let mut marks = SheetMarks {
        hidden,
        struck: sheet.struck,
        ..SheetMarks::default()
    };
    for (column, first, last) in sheet.merged {
        marks.merge(column, first, last);
    }
    Ok(marks)
}

impl Sheet {
    fn start(&mut self, element: &BytesStart<'_>, styles: &BTreeSet<usize>) {
        match element.local_name().as_ref() {
            "row" => {
                let number = attribute(element, "r").and_then(|row| row.parse().ok());
                self.row = number.unwrap_or_else(|| self.row.saturating_add(1));
                self.column = 0;
                let height = attribute(element, "ht");
                let is_flat = height.is_some_and(|it| it.parse::<u32>() == Ok(0));
                if is_on(element, "hidden") || is_flat {
                    self.hidden.insert(self.row);
                }
            }
            "c" => {
                let letters = attribute(element, "r").and_then(|place| {
                    let digits = place.find(|c: char| c.is_ascii_digit())?;
                    column_of_letters(place.get(..digits)?)
                });
                // A cell without a place follows the one before it.
                self.column = letters.map_or(self.column + 1, |column| column + 1);
                let style = attribute(element, "s").and_then(|number| number.parse().ok());
                self.cell = SheetCell {
                    struck: styles.contains(&style.unwrap_or(0)),
                    shared: attribute(element, "t").as_deref() == Some("s"),
                    holds: false,
                };
            }
            "v" => (self.in_value, self.cell.holds) = (true, true),
            "is" => self.cell.holds = true,
            "strike" if switches_on(element) => self.cell.struck = true,
            "mergeCell" => {
                let span = attribute(element, "ref");
                self.merged.extend(span.and_then(|span| {
                    let (first, last) = rows_of(&span)?;
                    let digits = span.find(|c: char| c.is_ascii_digit())?;
                    Some((column_of_letters(span.get(..digits)?)?, first, last))
                }));
            }
            "autoFilter" => {
                self.filter = attribute(element, "ref").and_then(|span| rows_of(&span));
            }
            _ => {}
        }
    }

    fn end(&mut self, name: &str) {
        match name {
            "v" => self.in_value = false,
            "c" if self.cell.holds && self.cell.struck => {
                if let Some(column) = self.column.checked_sub(1) {
                    self.struck.insert((self.row, column));
                }
            }
            _ => {}
        }
    }
}

/// The first and the last row of a span such as `A3:F20`.
fn rows_of(span: &str) -> Option<(u32, u32)> {
    let (first, last) = span.split_once(':')?;
    let row = |place: &str| {
        place
            .trim_start_matches(|c: char| !c.is_ascii_digit())
            .parse::<u32>()
            .ok()
    };
    Some((row(first)?, row(last)?))
}
