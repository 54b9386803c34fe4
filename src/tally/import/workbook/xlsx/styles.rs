//! What the styles of cells say: that a number is a date or a time, and that a cell is struck through.

use std::collections::{BTreeMap, BTreeSet};

use calamine::ExcelDateTimeType;
use quick_xml::events::{BytesStart, Event};

use super::super::super::error::Problem;
use super::super::opened::PartReader;
use super::super::parts::{attribute, local_name, switches_on, text_of, whole_elements};

/// A style of cells.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct CellStyle {
    /// How a number is shown that is a date or a time.
    pub(super) moment: Option<ExcelDateTimeType>,
    pub(super) is_struck: bool,
}

/// The styles of cells, by their number.
#[derive(Debug, Default)]
pub(super) struct Styles(Vec<CellStyle>);

impl Styles {
    /// A style by its number; a plain one where there is none.
    pub(super) fn get(&self, number: usize) -> CellStyle {
        self.0.get(number).copied().unwrap_or_default()
    }

    /// Reads the styles.
    pub(super) fn read(part: &mut PartReader<'_>) -> Result<Self, Problem> {
        let mut list = StyleList::default();
        whole_elements(part, |event| {
            match event {
                Event::Start(element) => list.start(element),
                Event::End(element) if list.within == local_name(element.name()) => {
                    list.within.clear();
                }
                _ => {}
            }
            Ok(())
        })?;
        Ok(Self(list.styles))
    }
}

/// The styles as their part is gone through.
#[derive(Default)]
struct StyleList {
    /// The list that is being read: of number formats, fonts or styles of cells.
    within: String,
    formats: BTreeMap<String, String>,
    /// How many fonts began, and which of them are struck through, counted from 1.
    fonts: usize,
    struck: BTreeSet<usize>,
    styles: Vec<CellStyle>,
}

impl StyleList {
    fn start(&mut self, element: &BytesStart<'_>) {
        let name = local_name(element.name());
        match (self.within.as_str(), name) {
            ("", "numFmts" | "fonts" | "cellXfs") => name.clone_into(&mut self.within),
            ("numFmts", "numFmt") => {
                let id = text_of(element, "numFmtId");
                self.formats.extend(id.zip(text_of(element, "formatCode")));
            }
            ("fonts", "font") => self.fonts += 1,
            ("fonts", "strike") if switches_on(element) => {
                self.struck.insert(self.fonts);
            }
            ("cellXfs", "xf") => {
                let font = attribute(element, "fontId").and_then(|it| it.parse::<usize>().ok());
                let format = attribute(element, "numFmtId").unwrap_or_default();
                self.styles.push(CellStyle {
                    moment: match self.formats.get(&*format) {
                        Some(code) => moment(code),
                        None => built_in(&format),
                    },
                    is_struck: font.is_some_and(|font| self.struck.contains(&(font + 1))),
                });
            }
            _ => {}
        }
    }
}

/// Formats that every program knows by their number (ECMA-376 part 1, 18.8.30): those of dates and times.
fn built_in(number: &str) -> Option<ExcelDateTimeType> {
    match number.parse::<u8>().ok()? {
        14..=22 | 27..=36 | 45 | 47 | 50..=58 => Some(ExcelDateTimeType::DateTime),
        46 => Some(ExcelDateTimeType::TimeDelta),
        _ => None,
    }
}

/// Whether the code of a format (ECMA-376 part 1, 18.8.31) shows a date or a time: the letters of one outside
/// quotes and brackets, in the part for numbers above zero.
fn moment(code: &str) -> Option<ExcelDateTimeType> {
    let mut letters = code.chars();
    while let Some(letter) = letters.next() {
        match letter {
            ';' => break,
            // What comes next is shown as it is, or by its width.
            '\\' | '_' | '*' => {
                letters.next();
            }
            '"' => {
                letters.find(|it| *it == '"');
            }
            '[' => {
                // A colour, a condition, a place; or hours, minutes or seconds that go on beyond the day.
                let inner: String = letters.by_ref().take_while(|it| *it != ']').collect();
                let mut kinds = inner.chars().map(|it| it.to_ascii_lowercase());
                let first = kinds.next().filter(|it| matches!(it, 'h' | 'm' | 's'));
                if first.is_some_and(|first| kinds.all(|it| it == first)) {
                    return Some(ExcelDateTimeType::TimeDelta);
                }
            }
            'd' | 'm' | 'h' | 'y' | 's' | 'D' | 'M' | 'H' | 'Y' | 'S' => {
                return Some(ExcelDateTimeType::DateTime);
            }
            _ => {}
        }
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn formats_of_dates_and_times_are_told_from_those_of_numbers() {
        let date = Some(ExcelDateTimeType::DateTime);
        let elapsed = Some(ExcelDateTimeType::TimeDelta);
        for (code, kind) in [
            ("General", None),
            ("0.000", None),
            ("#,##0.00 \"m\"", None),
            ("0.00\\ \\m", None),
            ("0.00_m", None),
            ("[Red]0.00", None),
            ("[$-409]d/m/yyyy", date),
            ("yyyy-mm-dd", date),
            ("h:mm AM/PM", date),
            ("[h]:mm:ss", elapsed),
            ("[MM]:ss", elapsed),
            ("#,##0\\ [$\u{20bd}-46D]", None),
            ("0.00;dd", None),
        ] {
            assert_eq!(moment(code), kind, "{code}");
        }
        assert_eq!(built_in("14"), date);
        assert_eq!(built_in("46"), elapsed);
        assert_eq!(built_in("2"), None);
        assert_eq!(built_in(""), None);
    }
}
