//! One sheet, from its first element to its last.

use std::collections::BTreeSet;

use calamine::ExcelDateTime;
use quick_xml::events::{BytesStart, Event};

use super::super::super::cell::{CellValue, SheetMarks};
use super::super::super::damage::WorkbookDamage;
use super::super::super::error::Problem;
use super::super::super::place::{address, column_of_letters};
use super::super::cells::{LooseCells, clean, of_moment, of_number, of_text};
use super::super::limits::{MAX_COLUMNS, broken, unreadable};
use super::super::opened::PartReader;
use super::super::parts::{attribute, local_name, whole_elements};
use super::rich_text::{RichText, push_text, unescaped};
use super::styles::Styles;
use super::texts::SharedTexts;
use crate::measure::Excerpt;

/// What the cells of every sheet may refer to.
#[derive(Debug, Default)]
pub(super) struct Shared {
    pub(super) texts: SharedTexts,
    pub(super) styles: Styles,
    /// Whether days are counted from 1904.
    pub(super) from_1904: bool,
}

/// Reads the cells of a sheet; gives what is hidden, struck through or merged.
pub(super) fn read(
    part: &mut PartReader<'_>,
    shared: &Shared,
    cells: &mut LooseCells,
) -> Result<SheetMarks, Problem> {
    let mut sheet = Sheet::new(shared, cells);
    whole_elements(part, |event| sheet.take(event))?;
    if !sheet.has_data {
        return Err(broken(WorkbookDamage::NoCells));
    }
    Ok(sheet.marks())
}

/// Where in a sheet.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Within {
    /// Before or after the rows.
    Sheet,
    /// Rows, and between their cells.
    Rows,
    /// A cell, and between its elements.
    Cell,
    /// The value of a cell.
    Value,
    /// The formula of a cell.
    Formula,
    /// A text that is kept with its cell.
    Text,
}

/// What the value of a cell is said to be (ECMA-376 part 1, 18.18.11).
#[derive(Clone, Copy, Default, PartialEq, Eq)]
enum ValueKind {
    /// A number; what is none is text, as it has to be said to be.
    #[default]
    NotSaid,
    Number,
    /// The number of a shared text.
    Shared,
    /// A text that a formula gives.
    Text,
    /// A text that is kept with the cell.
    Inline,
    Truth,
    Failed,
    /// A day or a time, written out.
    Moment,
}

impl ValueKind {
    fn from_word(word: &str) -> Option<Self> {
        Some(match word {
            "n" => Self::Number,
            "s" => Self::Shared,
            "str" => Self::Text,
            "inlineStr" => Self::Inline,
            "b" => Self::Truth,
            "e" => Self::Failed,
            "d" => Self::Moment,
            _ => return None,
        })
    }
}

/// A cell as it is gone through.
#[derive(Default)]
struct OpenCell {
    /// Counted from 0.
    column: usize,
    kind: ValueKind,
    style: usize,
    value: String,
    text: RichText,
    has_formula: bool,
    has_value: bool,
}

/// A sheet as it is gone through.
struct Sheet<'a> {
    shared: &'a Shared,
    cells: &'a mut LooseCells,
    within: Within,
    has_data: bool,
    /// Counted from 1; 0 before the first.
    row: u32,
    /// Whether the row says its own number, and whether it is hidden.
    row_is_said: bool,
    row_is_hidden: bool,
    /// The column after the last cell of the row, counted from 0.
    next: usize,
    cell: OpenCell,
    hidden: BTreeSet<u32>,
    filter: Option<(u32, u32)>,
    struck: BTreeSet<(u32, usize)>,
    /// Merged cells: the column from 0, the first and the last row.
    merged: Vec<(usize, u32, u32)>,
}

impl<'a> Sheet<'a> {
    fn new(shared: &'a Shared, cells: &'a mut LooseCells) -> Self {
        Self {
            shared,
            cells,
            within: Within::Sheet,
            has_data: false,
            row: 0,
            row_is_said: false,
            row_is_hidden: false,
            next: 0,
            cell: OpenCell::default(),
            hidden: BTreeSet::new(),
            filter: None,
            struck: BTreeSet::new(),
            merged: Vec::new(),
        }
    }

    fn take(&mut self, event: &Event<'_>) -> Result<(), Problem> {
        match (self.within, event) {
            (Within::Text, Event::End(element)) if local_name(element.name()) == "is" => {
                self.within = Within::Cell;
            }
            (Within::Text, _) => self.cell.text.take(event)?,
            (within, Event::Start(element)) => self.start(within, element)?,
            (within, Event::End(element)) => self.end(within, local_name(element.name()))?,
            (Within::Value, _) => push_text(event, &mut self.cell.value)?,
            _ => {}
        }
        Ok(())
    }

    fn start(&mut self, within: Within, element: &BytesStart<'_>) -> Result<(), Problem> {
        match (within, local_name(element.name())) {
            (Within::Sheet, "sheetData") => (self.within, self.has_data) = (Within::Rows, true),
            (Within::Sheet, "mergeCell") => {
                let span = attribute(element, "ref");
                self.merged.extend(span.and_then(|span| {
                    let (first, last) = rows_of(&span)?;
                    let digits = span.find(|c: char| c.is_ascii_digit())?;
                    Some((column_of_letters(span.get(..digits)?)?, first, last))
                }));
            }
            (Within::Sheet, "autoFilter") => {
                self.filter = attribute(element, "ref").and_then(|span| rows_of(&span));
            }
            (Within::Rows, "row") => self.start_row(element)?,
            (Within::Rows, "c") => self.start_cell(element)?,
            (Within::Cell, "v") => (self.within, self.cell.has_value) = (Within::Value, true),
            (Within::Cell, "f") => (self.within, self.cell.has_formula) = (Within::Formula, true),
            (Within::Cell, "is") => (self.within, self.cell.has_value) = (Within::Text, true),
            _ => {}
        }
        Ok(())
    }

    fn end(&mut self, within: Within, name: &str) -> Result<(), Problem> {
        match (within, name) {
            (Within::Rows, "sheetData") => self.within = Within::Sheet,
            (Within::Rows, "row") if self.row_is_hidden => {
                self.hidden.insert(self.row);
            }
            (Within::Cell, "c") => {
                self.within = Within::Rows;
                self.end_of_cell()?;
            }
            (Within::Value, "v") | (Within::Formula, "f") => self.within = Within::Cell,
            _ => {}
        }
        Ok(())
    }

    fn start_row(&mut self, element: &BytesStart<'_>) -> Result<(), Problem> {
        self.row = self.row.saturating_add(1);
        self.next = 0;
        (self.row_is_said, self.row_is_hidden) = (false, false);
        for attribute in element.attributes().with_checks(false) {
            let attribute = attribute.map_err(|error| unreadable(&error))?;
            let value = &*attribute.value;
            match attribute.key.as_ref() {
                "r" => {
                    let row = value.parse().ok().filter(|row| *row > 0);
                    self.row = row.ok_or_else(|| no_place(value))?;
                    self.row_is_said = true;
                }
                "hidden" => self.row_is_hidden |= matches!(value, "1" | "true" | "on"),
                "ht" => self.row_is_hidden |= value.parse::<f64>().is_ok_and(|it| it <= 0.0),
                _ => {}
            }
        }
        Ok(())
    }

    fn start_cell(&mut self, element: &BytesStart<'_>) -> Result<(), Problem> {
        let cell = &mut self.cell;
        cell.value.clear();
        cell.text.clear();
        (cell.has_formula, cell.has_value) = (false, false);
        // A cell without a place follows the one before it.
        (cell.column, cell.kind, cell.style) = (self.next, ValueKind::NotSaid, 0);
        for attribute in element.attributes().with_checks(false) {
            let attribute = attribute.map_err(|error| unreadable(&error))?;
            let value = &*attribute.value;
            match attribute.key.as_ref() {
                "r" => {
                    let digits = value.find(|c: char| c.is_ascii_digit());
                    let parts = digits.and_then(|at| value.split_at_checked(at));
                    let place = parts.and_then(|(letters, row)| {
                        Some((column_of_letters(letters)?, row.parse::<u32>().ok()?))
                    });
                    let (column, row) = place.ok_or_else(|| no_place(value))?;
                    // A row that does not say its number may leave that to its first cell.
                    if !self.row_is_said && self.next == 0 && row > self.row {
                        self.row = row;
                    }
                    if row != self.row {
                        return Err(broken(WorkbookDamage::CellInRow {
                            cell: Excerpt::of(value),
                            row: self.row,
                        }));
                    }
                    cell.column = column;
                }
                // What is no number is a style that is not there.
                "s" => cell.style = value.parse().unwrap_or(usize::MAX),
                "t" => {
                    let unknown = || broken(WorkbookDamage::NoKind(Excerpt::of(value)));
                    cell.kind = ValueKind::from_word(value).ok_or_else(unknown)?;
                }
                _ => {}
            }
        }
        self.next = cell.column.saturating_add(1);
        self.within = Within::Cell;
        Ok(())
    }

    fn end_of_cell(&mut self) -> Result<(), Problem> {
        let cell = &self.cell;
        let style = self.shared.styles.get(cell.style);
        let (value, is_struck) = self.value()?;
        if cell.has_value && (is_struck || style.is_struck) {
            self.struck.insert((self.row, cell.column));
        }
        let column = u32::try_from(cell.column.min(MAX_COLUMNS)).unwrap_or(u32::MAX);
        let row = self.row.saturating_sub(1);
        self.cells.add((row, column), value, cell.has_formula)
    }

    /// What the cell holds, and whether a part of its own text is struck through.
    fn value(&self) -> Result<(CellValue, bool), Problem> {
        let (cell, written) = (&self.cell, self.cell.value.as_str());
        let formula = cell.has_formula;
        // A text that is kept with its cell stands for itself; what is beside it is a copy.
        if cell.kind == ValueKind::Inline || (written.is_empty() && !cell.text.text().is_empty()) {
            return Ok((of_text(cell.text.text(), formula), cell.text.is_struck));
        }
        if written.is_empty() {
            return Ok((CellValue::Blank, false));
        }
        let value = match cell.kind {
            ValueKind::Shared => {
                let text = written.trim().parse().ok();
                let text = text.and_then(|number| self.shared.texts.get(number));
                let (text, is_struck) = text.ok_or_else(|| {
                    broken(WorkbookDamage::NoSharedText {
                        cell: self.place(),
                        found: Excerpt::of(written),
                    })
                })?;
                return Ok((of_text(text, formula), is_struck));
            }
            ValueKind::Text => of_text(&unescaped(written), formula),
            ValueKind::Failed => CellValue::Failed(clean(written).as_ref().into()),
            ValueKind::Moment => CellValue::Text(clean(written).as_ref().into()),
            ValueKind::Truth => match written.trim() {
                "0" | "false" => CellValue::Text("FALSE".into()),
                "1" | "true" => CellValue::Text("TRUE".into()),
                _ => return Err(self.no_value("truth")),
            },
            ValueKind::Number | ValueKind::NotSaid | ValueKind::Inline => self.number()?,
        };
        Ok((value, false))
    }

    /// A number, or the date or time that its style makes of it.
    fn number(&self) -> Result<CellValue, Problem> {
        let (cell, written) = (&self.cell, self.cell.value.as_str());
        let number = written.parse().ok().filter(|it: &f64| it.is_finite());
        Ok(match (number, self.shared.styles.get(cell.style).moment) {
            (Some(number), None) => of_number(written, number),
            (Some(number), Some(kind)) => {
                let moment = ExcelDateTime::new(number, kind, self.shared.from_1904);
                CellValue::Text(of_moment(&moment).into())
            }
            (None, _) if cell.kind == ValueKind::NotSaid => of_text(written, cell.has_formula),
            (None, _) => return Err(self.no_value("number")),
        })
    }

    /// The place of the cell, as `C7`.
    fn place(&self) -> String {
        address(self.row, self.cell.column.saturating_add(1))
    }

    fn no_value(&self, of: &'static str) -> Problem {
        broken(WorkbookDamage::NoValue {
            cell: self.place(),
            found: Excerpt::of(&self.cell.value),
            of,
        })
    }

    fn marks(self) -> SheetMarks {
        let filter = self.filter;
        let is_filtered = |row: u32| filter.is_some_and(|(first, last)| first < row && row <= last);
        let hidden = self.hidden.into_iter();
        let mut marks = SheetMarks {
            hidden: hidden.map(|row| (row, is_filtered(row))).collect(),
            struck: self.struck,
            ..SheetMarks::default()
        };
        for (column, first, last) in self.merged {
            marks.merge(column, first, last);
        }
        marks
    }
}

fn no_place(found: &str) -> Problem {
    broken(WorkbookDamage::NoPlace(Excerpt::of(found)))
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
