//! What each row under the header is: a joint, a total, a repeated header, a note.

use super::cell_text::{
    heads_a_page, hides_a_row, is_joint_like, is_named, is_plain_number, is_prose, starts_as_number,
};
use super::grid::{Grid, GridRow};
use super::limits::MAX_OTHERS;
use super::options::LineSpan;
use super::synonyms::{Field, normalise, recognise, split_heading};
use super::table::TallyTable;
use super::units::is_units_row;
use crate::finding::RowSign;
use crate::tally::joint::Kind;

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
    /// A row that was not run, or about which that is asked.
    LeftOut,
    /// A row outside those that the option names.
    Outside,
}

/// The rows under the header, each with what it is: one byte a row, since lists may be long.
pub(super) struct Rows {
    /// The row of the grid to which the first of `kinds` belongs.
    first: usize,
    kinds: Vec<RowKind>,
    /// The rows that are left out, each with the sign that it was not run.
    left_out: Vec<(usize, RowSign)>,
    /// The row up to which there are too many that are neither joints nor blank.
    pub(super) beyond: Option<usize>,
}

impl Rows {
    /// Says of each row under the header what it is.
    pub(super) fn classify(grid: &Grid, table: &TallyTable) -> Self {
        let first = table.header + 1;
        let mut kinds = Vec::with_capacity(grid.len().saturating_sub(first));
        let (mut joints, mut perhaps, mut others) = (0_usize, 0_usize, 0_usize);
        let mut beyond = None;
        for row in first..grid.len() {
            let is_outside = |span: LineSpan| !span.holds(grid.line(row));
            let mut kind = if table.units == Some(row) || table.second == Some(row) {
                RowKind::OwnUnits
            } else if table.rows.is_some_and(is_outside) {
                RowKind::Outside
            } else {
                kind(grid, table, row)
            };
            match kind {
                RowKind::Joint => joints += 1,
                RowKind::PerhapsJoint => perhaps += 1,
                RowKind::Blank | RowKind::Outside => {}
                // The second line of a header of two lines.
                RowKind::OtherHeader if joints + perhaps == 0 => {
                    kind = RowKind::Note;
                    others += 1;
                }
                _ => others += 1,
            }
            kinds.push(kind);
            if others > MAX_OTHERS {
                beyond = Some(row);
                break;
            }
        }
        // A list may name its joints in words. In a list of numbers, a word is in doubt.
        if perhaps > joints {
            for kind in &mut kinds {
                if *kind == RowKind::PerhapsJoint {
                    *kind = RowKind::Joint;
                }
            }
        }
        Self {
            first,
            kinds,
            left_out: Vec::new(),
            beyond,
        }
    }

    /// Leaves rows out, which are in the order of the page.
    pub(super) fn leave_out(&mut self, signs: Vec<(usize, RowSign)>) {
        for (row, _) in &signs {
            self.set(*row, RowKind::LeftOut);
        }
        self.left_out = signs;
    }

    /// Takes rows for remarks.
    pub(super) fn remark(&mut self, rows: Vec<usize>) {
        for row in rows {
            self.set(row, RowKind::Note);
        }
    }

    /// The sign for which a row is left out.
    pub(super) fn left_out(&self, row: usize) -> Option<RowSign> {
        let at = self.left_out.binary_search_by_key(&row, |(row, _)| *row);
        at.ok()
            .and_then(|at| self.left_out.get(at))
            .map(|(_, sign)| *sign)
    }

    /// Counts rows that may be joints as such.
    pub(super) fn count(&mut self, rows: impl Iterator<Item = usize>) {
        for row in rows {
            if self.kind_of(row) == Some(RowKind::PerhapsJoint) {
                self.set(row, RowKind::Joint);
            }
        }
    }

    /// Whether a row is that of a joint.
    pub(super) fn is_joint(&self, row: usize) -> bool {
        self.kind_of(row) == Some(RowKind::Joint)
    }

    /// Whether a row holds a total.
    pub(super) fn is_total(&self, row: usize) -> bool {
        matches!(
            self.kind_of(row),
            Some(RowKind::Total | RowKind::Forward | RowKind::LengthWithoutJoint)
        )
    }

    fn kind_of(&self, row: usize) -> Option<RowKind> {
        self.kinds.get(row.checked_sub(self.first)?).copied()
    }

    fn set(&mut self, row: usize, kind: RowKind) {
        let at = row.checked_sub(self.first);
        if let Some(place) = at.and_then(|at| self.kinds.get_mut(at)) {
            *place = kind;
        }
    }

    /// Each row's index in the grid with its kind.
    pub(super) fn iter(&self) -> impl Iterator<Item = (usize, RowKind)> {
        (self.first..).zip(self.kinds.iter().copied())
    }

    /// The same in pieces of so many rows.
    pub(super) fn pieces(
        &self,
        length: usize,
    ) -> impl Iterator<Item = (std::ops::Range<usize>, &[RowKind])> {
        let firsts = (self.first..).step_by(length);
        firsts
            .zip(self.kinds.chunks(length))
            .map(|(first, kinds)| (first..first + kinds.len(), kinds))
    }

    /// The rows of joints.
    pub(super) fn joints(&self) -> impl Iterator<Item = usize> {
        self.iter()
            .filter(|(_, kind)| *kind == RowKind::Joint)
            .map(|(row, _)| row)
    }
}

fn kind(grid: &Grid, table: &TallyTable, row: usize) -> RowKind {
    let cells = &grid.row(row);
    let joint = cells.cell(table.joint());
    let length = length_cell(cells, table);
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

/// The text of the length, or of its inches where the feet are blank.
fn length_cell<'g>(cells: &GridRow<'g>, table: &TallyTable) -> &'g str {
    let length = cells.cell(table.length());
    if length.is_empty() && table.has_inches(table.length()) {
        return cells.cell(table.length() + 1);
    }
    length
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
    ) || [
        "string length",
        "length of string",
        "net length",
        "gross length",
        "less ",
    ]
    .iter()
    .any(|summary| words.starts_with(summary));
    summary.then_some(RowKind::Summary)
}

/// A total or summary says so in the cell of the joint number, or in any text where that cell is
/// blank.
fn labelled(grid: &Grid, table: &TallyTable, row: usize, joint: &str) -> Option<RowKind> {
    if !joint.is_empty() {
        return label(joint);
    }
    (0..grid.width(row))
        .filter(|column| !table.field(*column).is_some_and(Field::is_length))
        .find_map(|column| label(grid.cell(row, column)))
}

fn is_header_again(grid: &Grid, table: &TallyTable, row: usize) -> bool {
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
fn is_title_again(grid: &Grid, table: &TallyTable, row: usize) -> bool {
    (0..table.header).any(|title| {
        !grid.is_blank(title)
            && grid
                .cells(title)
                .filter(|cell| !cell.is_empty())
                .eq(grid.cells(row).filter(|cell| !cell.is_empty()))
    })
}

/// Whether a row has the other cells that only a joint has: a kind, a serial, a figure.
pub(super) fn has_joint_cells(grid: &Grid, table: &TallyTable, row: usize) -> bool {
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
