//! Columns that say of each joint whether it was run.

use super::grid::Grid;
use super::rows::{RowKind, Rows};
use super::table::TallyTable;
use crate::finding::RowSign;

/// Columns headed run, status, used, accept, or in/out.
pub(super) struct StatusColumns(Vec<StatusColumn>);

#[derive(Default)]
struct StatusColumn {
    column: usize,
    /// How many cells there are, how many of them are filled, and with what may mean no.
    cells: usize,
    filled: usize,
    cross: usize,
    dash: usize,
    aside: usize,
}

/// A cell of such a column.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Says {
    No(&'static str),
    /// Where the joint lies, which before a string is run is said of all.
    Aside(&'static str),
    Cross,
    Dash,
    Blank,
    Other,
}

/// What says no in such a column.
const NO: [&str; 8] = ["no", "n", "rej", "out", "false", "fail", "failed", "bad"];

/// What says that a joint lies elsewhere.
const ASIDE: [&str; 6] = ["deck", "on deck", "rack", "on rack", "yard", "in yard"];

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
                Says::Aside(word) if status.is_unusual(status.aside) => word,
                Says::Cross if status.is_unusual(status.cross) => "x",
                Says::Dash if status.is_unusual(status.dash) => "-",
                Says::Blank if status.is_unusual(0) => "",
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
    fn weigh(grid: &Grid, rows: &Rows, column: usize) -> Self {
        let mut of = Self {
            column,
            ..Self::default()
        };
        let joints = rows
            .iter()
            .filter(|(_, kind)| matches!(kind, RowKind::Joint | RowKind::JointWithoutLength));
        for (row, _) in joints {
            let says = says(grid.cell(row, column));
            of.cells += 1;
            of.filled += usize::from(says != Says::Blank);
            of.cross += usize::from(says == Says::Cross);
            of.dash += usize::from(says == Says::Dash);
            of.aside += usize::from(matches!(says, Says::Aside(_)));
        }
        of
    }

    /// Whether most of the others are filled otherwise than so many are. A cross, a dash or nothing is a sign
    /// only then: a cross may also tick off what was run.
    const fn is_unusual(&self, count: usize) -> bool {
        (self.filled - count) * 2 > self.cells.saturating_sub(1)
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
    let among = |words: &[&'static str]| {
        let mut words = words.iter();
        words.find(|word| first.eq_ignore_ascii_case(word)).copied()
    };
    match (among(&NO), among(&ASIDE)) {
        (Some(no), _) => Says::No(no),
        (None, Some(aside)) => Says::Aside(aside),
        (None, None) => Says::Other,
    }
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
