//! How the tallies of a slot are read: the answers to the reader's questions.

use super::super::problem::What;
use super::super::section::Section;
use super::super::walk::Walk;
use crate::measure::{DecimalMark, Unit};
use crate::tally::import::{Blocks, ColumnChoice, ColumnRole, LengthColumn, LineSpan, NotRun};
use crate::tally::{Options, Order};

/// The word that stands for no landing joint at all.
const NONE: &str = "none";

/// The `read` table of a slot.
pub(super) fn read_options<'t>(section: Section<'t>, walk: &mut Walk<'t>) -> Options {
    let units = [
        ("m", (Unit::Metre, false)),
        ("mm", (Unit::Millimetre, false)),
        ("ft", (Unit::Foot, false)),
        ("in", (Unit::Inch, false)),
        ("ft-in", (Unit::FootInch, false)),
        ("feet-point-inches", (Unit::FootInch, true)),
    ];
    let units = section.word(walk, "units", &units);
    let options = Options {
        units: units.and_then(|(unit, with_point)| (!with_point).then_some(unit)),
        feet_point_inches: units.is_some_and(|(_, with_point)| with_point),
        order: section.word(
            walk,
            "order",
            &[
                ("shoe-first", Order::ShoeFirst),
                ("top-first", Order::TopFirst),
            ],
        ),
        decimal: section.word(
            walk,
            "decimal",
            &[("point", DecimalMark::Point), ("comma", DecimalMark::Comma)],
        ),
        length: section.word(
            walk,
            "length",
            &[
                ("overall", LengthColumn::Overall),
                ("effective", LengthColumn::Effective),
            ],
        ),
        sheet: section.text(walk, "sheet"),
        not_run: section.word(
            walk,
            "not_run",
            &[("leave-out", NotRun::LeaveOut), ("count", NotRun::Count)],
        ),
        landing: landing(&section, walk),
        columns: columns(&section, walk),
        rows: rows(&section, walk),
        blocks: section.word(
            walk,
            "blocks",
            &[("across", Blocks::Across), ("first", Blocks::First)],
        ),
        ..Options::default()
    };
    section.finish(walk);
    options
}

/// `["L1", "L2"]`, or `["none"]`.
fn landing<'t>(section: &Section<'t>, walk: &mut Walk<'t>) -> Option<Vec<String>> {
    let texts = section.texts(walk, "landing")?;
    let joints: Vec<String> = texts
        .into_iter()
        .map(|(text, _)| text.trim().to_owned())
        .filter(|text| text != NONE)
        .collect();
    Some(joints)
}

/// `{ length = "E", joint = 2 }`.
fn columns<'t>(section: &Section<'t>, walk: &mut Walk<'t>) -> Vec<ColumnChoice> {
    let Some(table) = section.table(walk, "columns") else {
        return Vec::new();
    };
    let mut columns = Vec::new();
    for (word, role) in ColumnRole::ALL {
        let Some(value) = table.get(word) else {
            continue;
        };
        let text = value.get_ref().as_str().map(str::trim);
        let number = value.get_ref().as_integer().map(ToString::to_string);
        match text.map(str::to_owned).or(number) {
            Some(place) if !place.is_empty() => columns.push(ColumnChoice { role, place }),
            _ => walk.wrong(
                value,
                table.key(word),
                "a column's letter, its number or its heading, such as \"E\"",
            ),
        }
    }
    table.finish(walk);
    columns
}

/// `"5-28"`.
fn rows<'t>(section: &Section<'t>, walk: &mut Walk<'t>) -> Option<LineSpan> {
    let text = section.text(walk, "rows")?;
    let span = text.parse().ok();
    if span.is_none() {
        let what = What::Wrong {
            key: section.key("rows"),
            found: format!("the text {text:?}"),
            expected: "the first and the last line that are read, such as \"5-28\"".to_owned(),
        };
        walk.report(&section.span_of("rows"), what);
    }
    span
}
