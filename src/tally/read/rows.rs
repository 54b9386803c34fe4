//! What each row under the header is: a joint, a total, a repeated header, a note.

use super::columns::{Table, is_units_row};
use super::grid::Grid;
use super::synonyms::{Field, normalise, split_heading};

/// What a row is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum RowKind {
    /// A joint with a length.
    Joint,
    /// A joint without a length.
    JointWithoutLength,
    /// A length without a joint.
    LengthWithoutJoint,
    /// A subtotal or total.
    Total,
    /// A carry-forward.
    Forward,
    /// The header again.
    Header,
    /// A row of units.
    Units,
    /// The head of a page.
    Page,
    /// A note, or a line that has neither a joint nor a length.
    Note,
    /// Nothing.
    Blank,
}

/// The rows under the header, each with what it is; rows are indices of the grid.
pub(super) fn classify(grid: &Grid, table: &Table) -> Vec<(usize, RowKind)> {
    let start = table.units.unwrap_or(table.header) + 1;
    (start..grid.len())
        .map(|row| (row, kind(grid, table, row)))
        .collect()
}

fn kind(grid: &Grid, table: &Table, row: usize) -> RowKind {
    let joint = grid.cell(row, table.joint());
    let length = length_cell(grid, table, row);
    // The ordinary row first: it decides the speed.
    if !joint.is_empty() && starts_as_number(length) && !has_total_word(joint) {
        return RowKind::Joint;
    }
    if grid.is_blank(row) {
        return RowKind::Blank;
    }
    if is_units_row(grid, row) {
        return RowKind::Units;
    }
    if is_header_again(grid, table, row) {
        return RowKind::Header;
    }
    if let Some(kind) = labelled_total(grid, table, row, joint) {
        return kind;
    }
    let first = grid
        .cells(row)
        .find(|cell| !cell.is_empty())
        .unwrap_or_default();
    if first.to_lowercase().starts_with("page") || first.to_lowercase().starts_with("sheet") {
        return RowKind::Page;
    }
    match (joint.is_empty(), length.is_empty()) {
        (false, true) if is_joint_like(joint) || has_joint_cells(grid, table, row) => {
            RowKind::JointWithoutLength
        }
        (false, false) if is_joint_like(joint) || length.contains(|c: char| c.is_ascii_digit()) => {
            RowKind::Joint
        }
        (true, false) if length.contains(|c: char| c.is_ascii_digit()) => {
            RowKind::LengthWithoutJoint
        }
        _ => RowKind::Note,
    }
}

/// The text of the length, or of its inches where the feet are blank.
fn length_cell<'a>(grid: &'a Grid, table: &Table, row: usize) -> &'a str {
    let length = grid.cell(row, table.length());
    if length.is_empty() && table.has_inches(table.length()) {
        return grid.cell(row, table.length() + 1);
    }
    length
}

fn starts_as_number(text: &str) -> bool {
    text.trim_start_matches(['-', '+', '\u{2212}', '.', ',', ' '])
        .starts_with(|c: char| c.is_ascii_digit())
}

/// Words that make a row a total wherever they stand in its label.
fn has_total_word(text: &str) -> bool {
    // Joint numbers are short and mostly digits: look closer only at what has letters enough.
    if text.len() < 3 || text.bytes().filter(u8::is_ascii_alphabetic).count() < 2 {
        return false;
    }
    let words = normalise(text);
    is_forward(&words)
        || words
            .split(' ')
            .any(|word| matches!(word, "total" | "totals" | "subtotal" | "subtotals"))
        || words == "sum"
        || words.starts_with("sum of ")
}

fn is_forward(words: &str) -> bool {
    words
        .split(' ')
        .any(|word| matches!(word, "forward" | "fwd" | "brought" | "carried" | "carry"))
        || matches!(words, "c f" | "b f" | "c fwd" | "b fwd")
}

/// A total says so in the cell of the joint number, or in any text where that cell is blank.
fn labelled_total(grid: &Grid, table: &Table, row: usize, joint: &str) -> Option<RowKind> {
    let label = if joint.is_empty() {
        (0..grid.width(row))
            .filter(|column| !table.field(*column).is_some_and(Field::is_length))
            .map(|column| grid.cell(row, column))
            .find(|cell| has_total_word(cell))?
    } else {
        Some(joint).filter(|joint| has_total_word(joint))?
    };
    Some(if is_forward(&normalise(label)) {
        RowKind::Forward
    } else {
        RowKind::Total
    })
}

fn is_header_again(grid: &Grid, table: &Table, row: usize) -> bool {
    let mut same = 0;
    for column in 0..table.width() {
        let cell = grid.cell(row, column);
        if cell.is_empty() {
            continue;
        }
        if split_heading(cell).0 != table.name(column) {
            return false;
        }
        same += 1;
    }
    same >= 2
}

/// Whether a text could be a joint number: it has a digit, is short, and is no date.
fn is_joint_like(text: &str) -> bool {
    let digits = text.contains(|c: char| c.is_ascii_digit());
    let words = text.split_whitespace().count();
    let starts_like_one = || {
        let lower = text.to_lowercase();
        ["jt", "joint", "pup", "no"]
            .iter()
            .any(|start| lower.starts_with(start))
    };
    let is_date = |mark: char| {
        let parts: Vec<&str> = text.split(mark).collect();
        parts.len() == 3
            && parts
                .iter()
                .all(|part| !part.is_empty() && part.bytes().all(|b| b.is_ascii_digit()))
    };
    digits
        && text.len() <= 24
        && !text.contains(':')
        && (words == 1 || (words == 2 && starts_like_one()))
        && !['-', '/', '.'].into_iter().any(is_date)
}

/// Whether a row has the other cells that only a joint has.
fn has_joint_cells(grid: &Grid, table: &Table, row: usize) -> bool {
    [
        Field::Serial,
        Field::Kind,
        Field::Loss,
        Field::Effective,
        Field::Running,
    ]
    .into_iter()
    .filter_map(|field| table.optional(field))
    .any(|column| column != table.length() && !grid.cell(row, column).is_empty())
}
