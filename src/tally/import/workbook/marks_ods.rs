//! What is hidden or struck through in a sheet of an open document.

use std::borrow::Cow;
use std::collections::HashMap;

use quick_xml::escape::unescape;
use quick_xml::events::{BytesStart, Event};

use super::super::cell::SheetMarks;
use super::super::error::Problem;
use super::limits::{MAX_COLUMNS, MAX_ROWS};
use super::opened::{PartReader, Parts, to_its_end};
use super::parts::{attribute, elements, times};

/// A style may be based on another, and so on; more than this often nobody does.
const DEEPEST: usize = 32;

pub(super) fn of_sheet(parts: &mut Parts<'_>, sheet: &str) -> Result<Option<SheetMarks>, Problem> {
    let mut styles = Styles::default();
    for name in ["styles.xml", "content.xml"] {
        let found = parts.with(name, |part| Styles::read(part))?;
        styles.0.extend(found.0);
    }
    let struck = styles.struck();
    parts.with("content.xml", |part| marks(part, sheet, &struck))
}

/// Styles by family and name: whether they strike through, and what they are based on.
#[derive(Default)]
struct Styles(HashMap<(String, String), (Option<bool>, Option<String>)>);

/// The styles that strike through, by family and name.
type Struck = HashMap<(String, String), bool>;

impl Styles {
    fn read(part: &mut PartReader<'_>) -> Result<Self, Problem> {
        let mut styles = Self::default();
        let mut own: Option<(String, String)> = None;
        let end = elements(part, false, |event| {
            match event {
                Event::Start(element) => match element.name().as_ref() {
                    "style:style" => {
                        let text = |name| attribute(element, name).map(Cow::into_owned);
                        own = text("style:family").zip(text("style:name"));
                        if let Some(own) = &own {
                            let parent = text("style:parent-style-name");
                            styles.0.insert(own.clone(), (None, parent));
                        }
                    }
                    "style:text-properties" => {
                        if let Some((strikes, _)) =
                            own.as_ref().and_then(|own| styles.0.get_mut(own))
                        {
                            *strikes = strikes_through(element).or(*strikes);
                        }
                    }
                    _ => {}
                },
                Event::End(element) if element.name().as_ref() == "style:style" => own = None,
                _ => {}
            }
            Ok(())
        })?;
        to_its_end(end)?;
        Ok(styles)
    }

    /// What each style comes to with those that it is based on.
    fn struck(&self) -> Struck {
        let resolve = |own: &(String, String)| {
            let mut at = own.clone();
            for _ in 0..DEEPEST {
                let (strikes, parent) = self.0.get(&at)?;
                if strikes.is_some() {
                    return *strikes;
                }
                at.1.clone_from(parent.as_ref()?);
            }
            None
        };
        let struck = self.0.keys();
        struck
            .filter_map(|own| Some((own.clone(), resolve(own)?)))
            .collect()
    }
}

/// Whether properties of text strike it through; `None` where they do not say.
fn strikes_through(element: &BytesStart<'_>) -> Option<bool> {
    let says = [
        "style:text-line-through-style",
        "style:text-line-through-type",
    ]
    .into_iter()
    .filter_map(|name| attribute(element, name));
    let mut strikes = None;
    for value in says {
        strikes = Some(strikes.unwrap_or(true) && &*value != "none");
    }
    strikes
}

/// A sheet as it is gone through.
#[derive(Default)]
struct Sheet<'s> {
    /// How many tables are open; a table in a cell is none of the sheet.
    depth: usize,
    /// Whether the table is the sheet that is wanted, and whether that was there at all.
    wanted: bool,
    found: bool,
    /// Groups of rows that are open, each with whether it is folded.
    groups: Vec<bool>,
    /// The style of each column's cells.
    columns: Vec<(usize, Option<&'s bool>)>,
    /// The row from 1, how often it occurs, and whether it is hidden, and by a filter.
    row: usize,
    repeats: usize,
    hidden: Option<bool>,
    row_style: Option<&'s bool>,
    row_holds: bool,
    /// The cell from 0.
    column: usize,
    cell: TableCell,
    struck: Vec<(usize, usize)>,
    annotations: usize,
    marks: SheetMarks,
}

/// What is known of the cell so far.
#[derive(Default)]
struct TableCell {
    /// How often it occurs.
    repeats: usize,
    holds: bool,
    struck: bool,
}

fn marks(
    part: &mut PartReader<'_>,
    name: &str,
    struck: &Struck,
) -> Result<Option<SheetMarks>, Problem> {
    let mut sheet = Sheet::default();
    let end = elements(part, false, |event| {
        match event {
            Event::Start(element) => sheet.start(element, name, struck)?,
            Event::Text(text)
                if sheet.annotations == 0 && text.chars().any(|c| !c.is_whitespace()) =>
            {
                sheet.cell.holds = true;
            }
            Event::End(element) => sheet.end(element.name().as_ref()),
            _ => {}
        }
        Ok(())
    })?;
    to_its_end(end)?;
    Ok(sheet.found.then_some(sheet.marks))
}

/// Whether the style that an element names strikes through; `None` where it names none that says so.
fn style<'s>(
    element: &BytesStart<'_>,
    attribute_name: &str,
    family: &str,
    struck: &'s Struck,
) -> Option<&'s bool> {
    let name = attribute(element, attribute_name)?;
    struck.get(&(family.to_owned(), name.into_owned()))
}

impl<'s> Sheet<'s> {
    fn start(
        &mut self,
        element: &BytesStart<'_>,
        name: &str,
        struck: &'s Struck,
    ) -> Result<(), Problem> {
        let element_name = element.name();
        let element_name = element_name.as_ref();
        if element_name == "table:table" {
            self.depth += 1;
            if self.depth == 1 {
                let own = attribute(element, "table:name");
                let own =
                    own.map(|own| unescape(&own).map_or_else(|_| own.to_string(), Cow::into_owned));
                self.wanted = own.as_deref() == Some(name);
                self.found |= self.wanted;
                (self.row, self.columns) = (0, Vec::new());
            }
            return Ok(());
        }
        if !self.wanted || self.depth != 1 {
            return Ok(());
        }
        match element_name {
            "table:table-row-group" => {
                let shown = attribute(element, "table:display");
                self.groups.push(shown.as_deref() == Some("false"));
            }
            "table:table-column" => {
                let repeats = times(element, "table:number-columns-repeated")?;
                let style = style(
                    element,
                    "table:default-cell-style-name",
                    "table-cell",
                    struck,
                );
                self.columns.push((repeats.min(MAX_COLUMNS), style));
            }
            "table:table-row" => {
                self.repeats = times(element, "table:number-rows-repeated")?.min(MAX_ROWS);
                self.hidden = match attribute(element, "table:visibility").as_deref() {
                    Some("filter") => Some(true),
                    Some("collapse") => Some(false),
                    _ => self.groups.contains(&true).then_some(false),
                };
                self.row_style = style(
                    element,
                    "table:default-cell-style-name",
                    "table-cell",
                    struck,
                );
                (self.column, self.row_holds) = (0, false);
                self.struck.clear();
            }
            "table:table-cell" | "table:covered-table-cell" => {
                let repeats = times(element, "table:number-columns-repeated")?;
                self.cell.repeats = repeats.min(MAX_COLUMNS);
                let named = attribute(element, "table:style-name").is_some();
                let own = style(element, "table:style-name", "table-cell", struck);
                let inherited = self.row_style.or_else(|| self.column_style());
                let strikes = if named { own } else { inherited };
                self.cell.struck = strikes.copied().unwrap_or(false);
                self.cell.holds = attribute(element, "office:value").is_some();
                if attribute(element, "table:number-rows-spanned").is_some() {
                    self.merge(times(element, "table:number-rows-spanned")?);
                }
            }
            "text:span" if self.annotations == 0 => {
                let span = style(element, "text:style-name", "text", struck);
                self.cell.struck |= span.copied().unwrap_or(false);
            }
            "text:p" if self.annotations == 0 => {
                let paragraph = style(element, "text:style-name", "paragraph", struck);
                self.cell.struck |= paragraph.copied().unwrap_or(false);
            }
            "office:annotation" => self.annotations += 1,
            _ => {}
        }
        Ok(())
    }

    /// Notes that the cell goes on over so many rows.
    fn merge(&mut self, rows: usize) {
        let line = |row: usize| u32::try_from(row).unwrap_or(u32::MAX);
        let first = line(self.row.saturating_add(1));
        let last = line(self.row.saturating_add(rows));
        self.marks.merge(self.column, first, last);
    }

    /// The style of the cells of this column.
    fn column_style(&self) -> Option<&'s bool> {
        let mut before = 0;
        for (repeats, style) in &self.columns {
            before += repeats;
            if self.column < before {
                return *style;
            }
        }
        None
    }

    fn end(&mut self, name: &str) {
        if name == "table:table" {
            self.depth = self.depth.saturating_sub(1);
            return;
        }
        if !self.wanted || self.depth != 1 {
            return;
        }
        match name {
            "table:table-row-group" => {
                self.groups.pop();
            }
            "office:annotation" => self.annotations = self.annotations.saturating_sub(1),
            "table:table-cell" | "table:covered-table-cell" => {
                if self.cell.holds && self.cell.struck {
                    self.struck.push((self.column, self.cell.repeats));
                }
                self.row_holds |= self.cell.holds;
                self.column = self.column.saturating_add(self.cell.repeats);
            }
            "table:table-row" => self.end_row(),
            _ => {}
        }
    }

    /// Notes what a row has. Blank rows are hidden by the million at the end of a sheet.
    fn end_row(&mut self) {
        let first = self.row;
        self.row = self.row.saturating_add(self.repeats);
        if !self.row_holds {
            return;
        }
        for row in first..self.row {
            let Ok(line) = u32::try_from(row.saturating_add(1)) else {
                return;
            };
            if let Some(is_filtered) = self.hidden {
                self.marks.hidden.insert(line, is_filtered);
            }
            for (column, repeats) in &self.struck {
                let columns = *column..column.saturating_add(*repeats);
                self.marks
                    .struck
                    .extend(columns.map(|column| (line, column)));
            }
        }
    }
}
