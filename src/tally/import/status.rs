//! Columns that say of each joint whether it was run.

use super::grid::Grid;
use super::rows::{RowKind, Rows};
use super::table::TallyTable;
use crate::finding::RowSign;

/// Columns headed run, status, used, accept, or in/out.
pub(super) struct StatusColumns(Vec<StatusColumn>);

struct StatusColumn {
    column: usize,
    /// Whether the other rows are filled otherwise, for each of the cells that may mean no.
    cross: bool,
    dash: bool,
    blank: bool,
}

/// A cell of such a column.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Says {
    No(&'static str),
    Cross,
    Dash,
    Blank,
    Other,
}

/// What says no in such a column.
const NO: [&str; 12] = [
    "no", "n", "rej", "out", "false", "fail", "failed", "bad", "deck", "on deck", "rack", "yard",
];

impl StatusColumns {
    pub(super) fn find(grid: &Grid, table: &TallyTable, rows: &Rows) -> Self {
        let columns = (0..table.width())
            .filter(|column| table.field(*column).is_none() && is_status(table.name(*column)));
        Self(
            columns
                .map(|column| StatusColumn::weigh(grid, rows, column))
                .collect(),
        )
    }

    /// Whether there are any.
    pub(super) const fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// What says that a row was not run.
    pub(super) fn sign(&self, grid: &Grid, row: usize) -> Option<RowSign> {
        self.0.iter().find_map(|status| {
            let says = match says(grid.cell(row, status.column)) {
                Says::No(word) => word,
                Says::Cross if status.cross => "x",
                Says::Dash if status.dash => "-",
                Says::Blank if status.blank => "",
                _ => return None,
            };
            Some(RowSign::Status {
                says,
                column: grid.column(row, status.column),
            })
        })
    }
}

impl StatusColumn {
    /// A cross, a dash or nothing is a sign only where most of the others are filled otherwise: a cross may
    /// also tick off what was run.
    fn weigh(grid: &Grid, rows: &Rows, column: usize) -> Self {
        let (mut cross, mut dash, mut blank, mut other) = (0_usize, 0_usize, 0_usize, 0_usize);
        let joints = rows
            .iter()
            .filter(|(_, kind)| matches!(kind, RowKind::Joint | RowKind::JointWithoutLength));
        for (row, _) in joints {
            match says(grid.cell(row, column)) {
                Says::Cross => cross += 1,
                Says::Dash => dash += 1,
                Says::Blank => blank += 1,
                Says::No(_) | Says::Other => other += 1,
            }
        }
        let filled = cross + dash + other;
        let others = (filled + blank).saturating_sub(1);
        let most = |count: usize| count * 2 > others;
        Self {
            column,
            cross: most(filled - cross),
            dash: most(filled - dash),
            blank: most(filled),
        }
    }
}

fn says(cell: &str) -> Says {
    let text = cell.trim_matches(['(', ')', '[', ']', '.', ' ']);
    match text {
        "" if cell.is_empty() => return Says::Blank,
        "x" | "X" | "✗" | "✘" => return Says::Cross,
        "-" | "–" | "—" => return Says::Dash,
        _ => {}
    }
    // `No - bent pin` says no; `No defects` and `n/a` do not.
    let first = text
        .split_once(|c: char| !c.is_alphanumeric() && !matches!(c, ' ' | '/'))
        .map_or(text, |(first, _)| first.trim_end());
    NO.iter()
        .find(|no| first.eq_ignore_ascii_case(no))
        .map_or(Says::Other, |no| Says::No(no))
}

/// Whether a heading asks whether a joint was run: `Run`, `Run (Y/N)`, `Used?`, `In / out`.
fn is_status(name: &str) -> bool {
    let mut words = name.split(' ');
    let first = words.next().unwrap_or_default();
    let mut rest = words.peekable();
    match first {
        "run" | "ran" | "rih" | "status" | "used" | "accept" | "accepted" | "acc" => {
            rest.all(|word| {
                matches!(
                    word,
                    "y" | "n" | "yes" | "no" | "or" | "not" | "reject" | "rejected" | "rej"
                )
            })
        }
        "a" => name == "a r",
        "in" => rest.peek().is_some() && rest.all(|word| matches!(word, "or" | "out")),
        "joint" => name == "joint status",
        _ => false,
    }
}
