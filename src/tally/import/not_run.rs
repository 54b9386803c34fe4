//! Rows that may not be in the string: joints that were rejected, laid out or left on deck. Any sign of it
//! is a question, because one joint too many puts every elevation off by its length.

use super::cell_text::starts_as_number;
use super::grid::Grid;
use super::named_joints::NamedJoints;
use super::options::NotRun;
use super::problems::Problems;
use super::question::{DoubtedRow, Question};
use super::rows::{RowKind, Rows};
use super::sign_words::{in_joint_cell, is_section_heading, may_hold_words, sign_word};
use super::status::StatusColumns;
use super::synonyms::{Field, recognise};
use super::table::TallyTable;
use crate::finding::RowSign;
use crate::tally::remarks::{DECIDED_BY, without_reasons};

/// Most rows of a question that are kept; those beyond are counted.
const KEPT: usize = 200;

/// How many rows are looked at as one text first.
const PIECE: usize = 256;

/// How the cells of a column are looked through.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Look {
    /// Serials may be anything.
    Not,
    /// A number, as a rule.
    Number,
    /// The number of a joint, and what follows it.
    Joint,
    /// Any text.
    Text,
}

/// Finds the rows that may not be in the string, and asks about them or does what is stated. What is left
/// out, and what is asked about, is no joint for the steps that follow. Gives the signs of rows that
/// count all the same.
pub(super) fn settle(
    grid: &Grid,
    table: &TallyTable,
    rows: &mut Rows,
    stated: Option<NotRun>,
    problems: &mut Problems,
) -> Vec<(usize, RowSign)> {
    let (signs, remarks) = find(grid, table, rows);
    rows.remark(remarks);
    if signs.is_empty() {
        return signs;
    }
    match stated {
        Some(NotRun::Count) => {
            rows.count(signs.iter().map(|(row, _)| *row));
            signs
        }
        Some(NotRun::LeaveOut) => {
            rows.leave_out(signs);
            Vec::new()
        }
        None => {
            let kept = signs.iter().take(KEPT).map(|(row, sign)| DoubtedRow {
                line: grid.line(*row),
                joint: grid.excerpt(*row, table.joint()),
                sign: *sign,
            });
            problems.push(Question::RowsDoubted {
                rows: kept.collect(),
                more: signs.len().saturating_sub(KEPT),
            });
            rows.leave_out(signs);
            Vec::new()
        }
    }
}

/// Every row with a sign, in the order of the page, and rows that are remarks on joints after all.
fn find(grid: &Grid, table: &TallyTable, rows: &Rows) -> (Vec<(usize, RowSign)>, Vec<usize>) {
    let looks: Vec<Look> = (0..table.width())
        .map(|column| look(table, column))
        .collect();
    let status = StatusColumns::find(grid, table, rows);
    let mut section: Option<u32> = None;
    let mut signs = Vec::new();
    let mut named = NamedJoints::default();
    let mut cells = SeenCells::new(looks);
    let shown_as_text = status.is_empty() && !grid.has_marks();
    for (piece, kinds) in rows.pieces(PIECE) {
        // Most rows hold no such word, which a look at many of them at once tells soonest.
        if shown_as_text
            && section.is_none()
            && let Some(text) = grid.text_of(piece.clone())
            && !may_hold_words(text)
        {
            continue;
        }
        for (row, kind) in piece.zip(kinds.iter().copied()) {
            let sign = match kind {
                RowKind::Joint
                | RowKind::PerhapsJoint
                | RowKind::JointWithoutLength
                | RowKind::LengthWithoutJoint => shown_otherwise(grid, table, row)
                    .or_else(|| cells.sign(grid, row))
                    .or_else(|| cells.merged_sign(grid, row))
                    .or_else(|| status.sign(grid, row))
                    .or(section.map(RowSign::Under)),
                // What a section says of itself is not checked against the joints that were run.
                RowKind::Total | RowKind::Forward => section.map(RowSign::Under),
                RowKind::Note | RowKind::Title => {
                    if let Some((word, joint)) = goes_on(grid, table, rows, row) {
                        let line = grid.line(row);
                        signs.push((joint, RowSign::Named { word, line }));
                    } else if let Some(begins) = heads_section(grid, row) {
                        section = begins.then(|| grid.line(row));
                    } else {
                        named.take(grid, row, None);
                    }
                    None
                }
                _ => None,
            };
            let Some(sign) = sign else { continue };
            let is_named = kind == RowKind::JointWithoutLength
                && matches!(sign, RowSign::Word { .. })
                && named.take(grid, row, Some(sign));
            if !is_named {
                signs.push((row, sign));
            }
        }
    }
    let (of_named, remarks) = named.signs(grid, table, rows);
    signs.extend(of_named);
    // What a joint's own row says of it comes first.
    signs.sort_by_key(|(row, _)| *row);
    signs.dedup_by_key(|(row, _)| *row);
    // Totals alone are no rows of joints.
    if signs.iter().all(|(row, _)| rows.is_total(*row)) {
        signs.clear();
    }
    (signs, remarks)
}

fn look(table: &TallyTable, column: usize) -> Look {
    let is_serial = matches!(recognise(table.name(column)), Some((Field::Serial, _)));
    match table.field(column) {
        Some(Field::Serial) => Look::Not,
        Some(Field::Joint) => Look::Joint,
        Some(field) if field.is_length() => Look::Number,
        None if is_serial => Look::Not,
        _ => Look::Text,
    }
}

/// A row that is hidden or filtered, or whose length or number is struck through.
fn shown_otherwise(grid: &Grid, table: &TallyTable, row: usize) -> Option<RowSign> {
    if !grid.has_marks() {
        return None;
    }
    let length = table.length();
    let inches = table.has_inches(length).then_some(length + 1);
    let struck = [Some(length), inches, Some(table.joint())]
        .into_iter()
        .flatten()
        .any(|column| grid.is_struck(row, column));
    grid.hidden(row).or(struck.then_some(RowSign::Struck))
}

/// Looks through the cells of rows for words, and skips a cell that is the one above it again.
struct SeenCells {
    looks: Vec<Look>,
    above: Vec<String>,
}

impl SeenCells {
    fn new(looks: Vec<Look>) -> Self {
        let above = vec![String::new(); looks.len()];
        Self { looks, above }
    }

    fn sign(&mut self, grid: &Grid, row: usize) -> Option<RowSign> {
        for column in 0..grid.width(row) {
            let look = self.looks.get(column).copied().unwrap_or(Look::Text);
            if look == Look::Not {
                continue;
            }
            let text = grid.cell(row, column);
            let word = match look {
                Look::Number if starts_and_ends_as_number(text) => None,
                Look::Joint => in_joint_cell(text),
                _ if text.len() < 3 => None,
                _ => match self.above.get_mut(column) {
                    Some(above) if above == text => None,
                    _ if text.contains(DECIDED_BY) => sign_word(&without_reasons(text)),
                    Some(above) if text.len() <= 24 => {
                        let found = sign_word(text);
                        if found.is_none() {
                            above.clear();
                            above.push_str(text);
                        }
                        found
                    }
                    _ => sign_word(text),
                },
            };
            if let Some(word) = word {
                return Some(RowSign::Word {
                    word,
                    column: grid.column(row, column),
                });
            }
        }
        None
    }

    /// A word in a cell above that is merged over this row too.
    fn merged_sign(&self, grid: &Grid, row: usize) -> Option<RowSign> {
        let texts = self.looks.iter().enumerate();
        let mut texts = texts.filter(|(_, look)| grid.has_marks() && **look == Look::Text);
        texts.find_map(|(column, _)| {
            let word = sign_word(grid.merged_over(row, column)?)?;
            let column = grid.column(row, column);
            Some(RowSign::Word { word, column })
        })
    }
}

fn starts_and_ends_as_number(text: &str) -> bool {
    text.is_empty()
        || (starts_as_number(text)
            && text
                .bytes()
                .next_back()
                .is_some_and(|it| it.is_ascii_digit()))
}

/// A word in the column of remarks alone goes on with the remark on the joint above, whose row this is.
fn goes_on(
    grid: &Grid,
    table: &TallyTable,
    rows: &Rows,
    row: usize,
) -> Option<(&'static str, usize)> {
    let remarks = table.optional(Field::Remarks)?;
    let mut filled = (0..grid.width(row)).filter(|column| !grid.cell(row, *column).is_empty());
    if filled.next() != Some(remarks) || filled.next().is_some() {
        return None;
    }
    let word = sign_word(grid.cell(row, remarks))?;
    let above = row.checked_sub(1)?;
    rows.is_joint(above).then_some((word, above))
}

/// Whether a line with nothing but a text begins a section of joints that were not run, or ends one.
fn heads_section(grid: &Grid, row: usize) -> Option<bool> {
    let mut texts = grid.cells(row).filter(|cell| !cell.is_empty());
    match (texts.next(), texts.next()) {
        (Some(text), None) => is_section_heading(text),
        _ => None,
    }
}
