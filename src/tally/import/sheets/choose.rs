//! Which sheet of a workbook is the tally: the one that is named, else the only one that could be.

use super::super::cell::SheetRow;
use super::super::error::Problem;
use super::super::grid::Grid;
use super::super::layout;
use super::super::options::Options;
use super::super::workbook::{Book, SheetCells, clean, holds_cells, is_hidden};
use crate::measure::{Excerpt, listed};
use crate::tally::remarks::{FileNote, SheetReason, WithoutTable};

/// A sheet that was chosen.
pub(super) struct SheetChoice {
    pub(super) name: String,
    pub(super) cells: SheetCells,
    /// The other sheets, each with the reason why it is none.
    pub(super) notes: Vec<FileNote>,
}

/// Chooses the sheet.
pub(super) fn choose_sheet(
    book: &mut Book<'_>,
    options: &Options,
) -> Result<SheetChoice, Vec<Problem>> {
    match &options.sheet {
        Some(name) => named(book, name).map_err(|problem| vec![problem]),
        None => only_one(book, options),
    }
}

fn named(book: &mut Book<'_>, wanted: &str) -> Result<SheetChoice, Problem> {
    let sheets = book.sheets();
    let Some(sheet) = sheets.iter().find(|sheet| sheet.name == wanted) else {
        let called = |sheet: &calamine::Sheet| {
            let hidden = if is_hidden(sheet) { " (hidden)" } else { "" };
            format!("`{}`{hidden}", Excerpt::of(&clean(&sheet.name)))
        };
        return Err(Problem::NoSuchSheet {
            sheet: Excerpt::of(wanted),
            sheets: listed(sheets.iter().map(called)),
        });
    };
    if !holds_cells(sheet) {
        return Err(Problem::SheetWithoutCells {
            sheet: Excerpt::of(wanted),
            what: "is a chart or a macro",
        });
    }
    let cells = book.sheet(wanted)?;
    if cells.rows.is_empty() {
        return Err(Problem::SheetWithoutCells {
            sheet: Excerpt::of(wanted),
            what: "is empty",
        });
    }
    let notes = sheets
        .iter()
        .filter(|other| other.name != wanted)
        .map(|other| left_out(&other.name, SheetReason::AnotherNamed))
        .collect();
    Ok(SheetChoice {
        name: wanted.to_owned(),
        cells,
        notes,
    })
}

/// A sheet that could be the tally.
struct SheetCandidate {
    name: String,
    cells: SheetCells,
    /// Why it holds no table, if it holds none.
    without: Option<WithoutTable>,
}

fn only_one(book: &mut Book<'_>, options: &Options) -> Result<SheetChoice, Vec<Problem>> {
    let mut candidates = Vec::new();
    let mut notes = Vec::new();
    let mut hidden = Vec::new();
    for sheet in book.sheets() {
        if !holds_cells(&sheet) {
            notes.push(left_out(&sheet.name, SheetReason::NoCells));
        } else if is_hidden(&sheet) {
            notes.push(left_out(&sheet.name, SheetReason::Hidden));
            hidden.push(format!("`{}`", Excerpt::of(&clean(&sheet.name))));
        } else {
            let cells = book.sheet(&sheet.name).map_err(|problem| vec![problem])?;
            if cells.rows.is_empty() {
                notes.push(left_out(&sheet.name, SheetReason::Empty));
            } else {
                candidates.push(SheetCandidate {
                    name: sheet.name,
                    cells,
                    without: None,
                });
            }
        }
    }
    if candidates.is_empty() {
        return Err(vec![Problem::EmptyWorkbook {
            hidden: listed(hidden),
        }]);
    }
    if candidates.len() > 1 {
        for candidate in &mut candidates {
            candidate.without = without_table(&candidate.cells.rows, options);
        }
    }
    let (mut tables, others): (Vec<_>, Vec<_>) = candidates
        .into_iter()
        .partition(|candidate| candidate.without.is_none());
    let list = |sheets: &[SheetCandidate]| {
        listed(sheets.iter().map(|sheet| {
            let name = Excerpt::of(&clean(&sheet.name));
            match &sheet.without {
                Some(why) => format!("`{name}` {why}"),
                None => format!("`{name}`"),
            }
        }))
    };
    if tables.len() > 1 {
        return Err(vec![Problem::WhichSheet {
            sheets: list(&tables),
        }]);
    }
    let Some(chosen) = tables.pop() else {
        return Err(vec![Problem::NoSheetWithTable {
            sheets: list(&others),
        }]);
    };
    notes.extend(
        others
            .iter()
            .filter_map(|other| Some(left_out(&other.name, SheetReason::NoTable(other.without?)))),
    );
    Ok(SheetChoice {
        name: chosen.name,
        cells: chosen.cells,
        notes,
    })
}

fn left_out(sheet: &str, why: SheetReason) -> FileNote {
    FileNote::SheetNotUsed {
        sheet: Excerpt::of(&clean(sheet)),
        why,
    }
}

/// Why rows hold no table; a table whose columns are in question is one.
fn without_table(rows: &[SheetRow], options: &Options) -> Option<WithoutTable> {
    let problems = layout::find(Grid::of_rows(rows), options).err()?;
    problems.iter().find_map(|problem| match problem {
        Problem::NoHeader => Some(WithoutTable::NoHeader),
        Problem::NoLengthColumn { line, .. } => Some(WithoutTable::NoLengthColumn(*line)),
        Problem::NoJointColumn { line, .. } => Some(WithoutTable::NoJointColumn(*line)),
        _ => None,
    })
}
