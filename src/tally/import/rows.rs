//! What each row under the header is: a joint, a total, a repeated header, a note.

use super::super::Kind;
use super::columns::Table;
use super::grid::Grid;
use super::synonyms::{Field, normalise, recognise, split_heading};
use super::units::is_units_row;

/// What a row is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum RowKind {
    /// A joint with a length.
    Joint,
    /// A length beside a text that may be a joint's name or a remark: `Stick-up, 1.120`.
    PerhapsJoint,
    /// A joint without a length.
    JointWithoutLength,
    /// A length without a joint.
    LengthWithoutJoint,
    /// A subtotal or total.
    Total,
    /// A carry-forward.
    Forward,
    /// An average, a count or the like.
    Summary,
    /// The header again.
    Header,
    /// A header with other columns.
    OtherHeader,
    /// The row of units, or the second row, of the header.
    OwnUnits,
    /// A row of units again.
    Units,
    /// The head of a page.
    Page,
    /// A title from above the table again.
    Title,
    /// A note, or a line that has neither a joint nor a length.
    Note,
    /// Nothing.
    Blank,
}

/// The rows under the header, each with what it is: one byte a row, since lists may be long.
pub(super) struct Rows {
    /// The row of the grid to which the first of `kinds` belongs.
    first: usize,
    kinds: Vec<RowKind>,
}

impl Rows {
    /// Says of each row under the header what it is.
    pub(super) fn classify(grid: &Grid, table: &Table) -> Self {
        let first = table.header + 1;
        let mut kinds = Vec::with_capacity(grid.len().saturating_sub(first));
        let (mut joints, mut perhaps) = (0_usize, 0_usize);
        for row in first..grid.len() {
            let mut kind = if table.units == Some(row) || table.second == Some(row) {
                RowKind::OwnUnits
            } else {
                kind(grid, table, row)
            };
            match kind {
                RowKind::Joint => joints += 1,
                RowKind::PerhapsJoint => perhaps += 1,
                // The second line of a header of two lines.
                RowKind::OtherHeader if joints + perhaps == 0 => kind = RowKind::Note,
                _ => {}
            }
            kinds.push(kind);
        }
        // A list may name its joints in words. In a list of numbers, a word is in doubt.
        if perhaps > joints {
            for kind in &mut kinds {
                if *kind == RowKind::PerhapsJoint {
                    *kind = RowKind::Joint;
                }
            }
        }
        Self { first, kinds }
    }

    /// Each row's index in the grid with its kind.
    pub(super) fn iter(&self) -> impl Iterator<Item = (usize, RowKind)> {
        (self.first..).zip(self.kinds.iter().copied())
    }

    /// The rows of joints.
    pub(super) fn joints(&self) -> impl Iterator<Item = usize> {
        self.iter()
            .filter(|(_, kind)| *kind == RowKind::Joint)
            .map(|(row, _)| row)
    }
}

fn kind(grid: &Grid, table: &Table, row: usize) -> RowKind {
    let joint = grid.cell(row, table.joint());
    let length = length_cell(grid, table, row);
    let length_starts = starts_as_number(length);
    // The ordinary row first: it decides the speed.
    if length_starts && is_plain_number(joint) {
        return RowKind::Joint;
    }
    if grid.is_blank(row) {
        return RowKind::Blank;
    }
    if is_units_row(grid, row, |column| table.field(column)) {
        return RowKind::Units;
    }
    if is_header_again(grid, table, row) {
        return RowKind::Header;
    }
    if let Some(kind) = labelled(grid, table, row, joint) {
        return kind;
    }
    if let Some(first) = grid.cells(row).find(|cell| !cell.is_empty())
        && (heads_a_page(first) || (!length_starts && grid.cells(row).any(heads_a_page)))
    {
        // A figure beside it is a total of the page, or nobody knows what.
        return if length_starts {
            RowKind::LengthWithoutJoint
        } else {
            RowKind::Page
        };
    }
    if length_starts && !joint.is_empty() {
        return if is_joint_like(joint) || is_named(joint) || has_joint_cells(grid, table, row) {
            RowKind::Joint
        } else {
            RowKind::PerhapsJoint
        };
    }
    if is_title_again(grid, table, row) {
        return RowKind::Title;
    }
    if names_columns(grid, row) {
        return RowKind::OtherHeader;
    }
    let length_has_digit = length.bytes().any(|byte| byte.is_ascii_digit());
    match (joint.is_empty(), length.is_empty()) {
        (true, false) if length_has_digit && (length_starts || !is_prose(length)) => {
            RowKind::LengthWithoutJoint
        }
        (true, _) => RowKind::Note,
        (false, true) if is_joint_like(joint) || hides_a_row(joint) => RowKind::JointWithoutLength,
        _ if is_prose(joint) => RowKind::Note,
        (false, true) if has_joint_cells(grid, table, row) => RowKind::JointWithoutLength,
        (false, false)
            if is_joint_like(joint)
                || is_named(joint)
                || has_joint_cells(grid, table, row)
                || length_has_digit =>
        {
            RowKind::Joint
        }
        _ => RowKind::Note,
    }
}

/// `Page 2 of 3`, `Sheet 2`.
fn heads_a_page(text: &str) -> bool {
    let lower = text.to_lowercase();
    let rest = ["page", "sheet", "pg"]
        .iter()
        .find_map(|word| lower.strip_prefix(word));
    rest.is_some_and(|rest| !rest.starts_with(char::is_alphabetic))
}

/// The text of the length, or of its inches where the feet are blank.
fn length_cell<'a>(grid: &'a Grid, table: &Table, row: usize) -> &'a str {
    let length = grid.cell(row, table.length());
    if length.is_empty() && table.has_inches(table.length()) {
        return grid.cell(row, table.length() + 1);
    }
    length
}

/// Whether a text begins as a number does.
pub(super) fn starts_as_number(text: &str) -> bool {
    text.trim_start_matches(['-', '+', '\u{2212}', '.', ',', ' '])
        .starts_with(|c: char| c.is_ascii_digit())
}

/// A joint number that can be nothing else: a digit, and at most one letter, so that no word hides
/// in it.
fn is_plain_number(text: &str) -> bool {
    let (mut digits, mut letters) = (0, 0);
    for byte in text.bytes() {
        match byte {
            b'0'..=b'9' => digits += 1,
            b'A'..=b'Z' | b'a'..=b'z' => letters += 1,
            b'-' | b'_' | b'#' => {}
            _ => return false,
        }
    }
    digits > 0 && letters <= 1 && text.len() <= 24
}

/// What the words of a label make of its row, if they are those of a total or a summary.
fn label(text: &str) -> Option<RowKind> {
    if text.bytes().filter(u8::is_ascii_alphabetic).count() < 2 && !text.contains('Σ') {
        return None;
    }
    let words = normalise(text);
    let any = |known: &[&str]| words.split(' ').any(|word| known.contains(&word));
    let short_forward = ["c f", "b f", "c fwd", "b fwd", "cf", "bf"]
        .iter()
        .any(|short| {
            words
                .strip_prefix(short)
                .is_some_and(|rest| rest.is_empty() || rest.starts_with(' '))
        });
    if short_forward
        || any(&["forward", "fwd", "brought", "carried", "carry"])
        || words.contains("previous page")
    {
        return Some(RowKind::Forward);
    }
    if any(&["total", "totals", "subtotal", "subtotals", "sum", "ttl"]) || text.contains('Σ') {
        return Some(RowKind::Total);
    }
    let summary = any(&[
        "average", "avg", "mean", "median", "minimum", "maximum", "count", "min", "max",
    ]) || matches!(
        words.as_str(),
        "joints" | "no of joints" | "number of joints" | "pieces" | "no of pieces"
    );
    summary.then_some(RowKind::Summary)
}

/// A total or summary says so in the cell of the joint number, or in any text where that cell is
/// blank.
fn labelled(grid: &Grid, table: &Table, row: usize, joint: &str) -> Option<RowKind> {
    if !joint.is_empty() {
        return label(joint);
    }
    (0..grid.width(row))
        .filter(|column| !table.field(*column).is_some_and(Field::is_length))
        .find_map(|column| label(grid.cell(row, column)))
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

/// Whether a row would be a header: it names a joint column and a length column.
fn names_columns(grid: &Grid, row: usize) -> bool {
    let (mut joint, mut length) = (false, false);
    for cell in grid.cells(row) {
        match recognise(&split_heading(cell).0) {
            Some((Field::Joint, _)) => joint = true,
            Some((Field::Overall | Field::EitherLength | Field::Effective, _)) => length = true,
            _ => {}
        }
    }
    joint && length
}

/// Whether a row repeats one from above the table.
fn is_title_again(grid: &Grid, table: &Table, row: usize) -> bool {
    (0..table.header).any(|title| {
        !grid.is_blank(title)
            && grid
                .cells(title)
                .filter(|cell| !cell.is_empty())
                .eq(grid.cells(row).filter(|cell| !cell.is_empty()))
    })
}

/// Whether a text could be a joint number: it has a digit, is short, and is no date.
pub(super) fn is_joint_like(text: &str) -> bool {
    let digits = text.contains(|c: char| c.is_ascii_digit());
    let words = text.split_whitespace().count();
    let starts_like_one = || {
        let lower = text.to_lowercase();
        ["jt", "jnt", "joint", "pup", "no"]
            .iter()
            .any(|start| lower.starts_with(start))
    };
    digits
        && text.len() <= 24
        && !text.contains(':')
        && (words == 1 || (words <= 3 && starts_like_one()))
        && !is_date(text)
}

/// Whether one cell holds what looks like a whole row: a joint number and a figure with a separator
/// between them, as where a row was put in quotes or separated by other marks than the header.
fn hides_a_row(text: &str) -> bool {
    let mut cells = text.split([',', ';', '\t', '|']).map(str::trim);
    cells.next().is_some_and(is_joint_like) && cells.any(starts_as_number)
}

fn is_date(text: &str) -> bool {
    ['-', '/', '.'].into_iter().any(|mark| {
        let mut parts = 0;
        let all_digits = text.split(mark).all(|part| {
            parts += 1;
            !part.is_empty() && part.bytes().all(|byte| byte.is_ascii_digit())
        });
        all_digits && parts == 3
    })
}

/// Whether a text is the name of a piece of pipe: a kind, a single letter, or a word of the trade.
fn is_named(text: &str) -> bool {
    if Kind::from_word(text).is_some() || (text.len() == 1 && text != "-") {
        return true;
    }
    !text.contains(':')
        && text.split_whitespace().count() <= 3
        && normalise(text).split(' ').any(|word| {
            matches!(
                word,
                "shoe"
                    | "joint"
                    | "jt"
                    | "jnt"
                    | "pup"
                    | "top"
                    | "landing"
                    | "running"
                    | "tool"
                    | "bottom"
                    | "float"
                    | "collar"
                    | "hanger"
                    | "crossover"
                    | "xo"
                    | "sub"
                    | "spacer"
                    | "housing"
                    | "pipe"
                    | "casing"
                    | "conductor"
                    | "extension"
            )
        })
}

/// Whether a text reads as a sentence rather than as a number or a name.
fn is_prose(text: &str) -> bool {
    let lower = text.to_lowercase();
    text.contains(':')
        || text.split_whitespace().count() >= 4
        || text.starts_with('*')
        || ["note", "remark", "comment", "nb"]
            .iter()
            .any(|start| lower.starts_with(start))
        || (text.split_whitespace().count() == 3 && !starts_as_number(text))
}

/// Whether a row has the other cells that only a joint has: a kind, a serial, a figure.
pub(super) fn has_joint_cells(grid: &Grid, table: &Table, row: usize) -> bool {
    let cell = |field| {
        table
            .optional(field)
            .filter(|column| *column != table.length())
            .map(|column| grid.cell(row, column))
            .filter(|cell| !cell.is_empty())
    };
    let figure = [Field::Loss, Field::Effective, Field::Running]
        .into_iter()
        .filter_map(cell)
        .any(starts_as_number);
    figure
        || cell(Field::Kind).is_some_and(|kind| Kind::from_word(kind).is_some())
        || cell(Field::Serial).is_some_and(is_joint_like)
}
