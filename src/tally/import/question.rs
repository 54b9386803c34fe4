//! What a file leaves open, with the options that settle it: data, with the sentence written once.

use std::fmt;

use thiserror::Error;

use super::order_signs::OrderSign;
use super::place::CellRef;
use crate::finding::RowSign;
use crate::measure::Excerpt;

/// Most bytes of a list of rows: with all else that it says a message stays within 4 KiB.
const ROWS_LISTED: usize = 3_200;

/// A row that may not be in the string.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DoubtedRow {
    /// Its line.
    pub line: u32,
    /// Its joint number, as written.
    pub joint: Excerpt,
    /// What says that it may not be.
    pub sign: RowSign,
}

impl fmt::Display for DoubtedRow {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.joint.is_empty() {
            write!(f, "line {}: {}", self.line, self.sign)
        } else {
            write!(f, "line {} joint {}: {}", self.line, self.joint, self.sign)
        }
    }
}

/// One thing that a file leaves open, and that an option or another layout settles.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
pub enum Question {
    /// Rows that may not be in the string.
    #[error(
        "were these run? {}. Leave them out with --not-run leave-out, or count them with --not-run count (in a job: read = {{ not_run = \"...\" }})",
        rows_listed(rows, *more)
    )]
    RowsDoubted {
        /// The first of them.
        rows: Vec<DoubtedRow>,
        /// How many are not among those.
        more: usize,
    },
    /// Joints that may be of a landing string.
    #[error(
        "are these part of a landing string, which comes off again? {}. Name those that are with --landing {}, or say --landing none (in a job: read = {{ landing = [\"...\"] }}), or give the list a column of kinds",
        rows_listed(rows, *more),
landing_named(rows)
    )]
    LandingQuestion {
        /// The first of them.
        rows: Vec<DoubtedRow>,
        /// How many are not among those.
        more: usize,
    },
    /// One sign alone tells the order, and it is not the usual one.
    #[error(
        "which end is the shoe? {sign}, and nothing else tells; state it with --order shoe-first or --order top-first (in a job: read = {{ order = \"...\" }})"
    )]
    OrderUntold {
        /// What the sign says.
        sign: OrderSign,
    },
    /// Feet, a point and two digits that are inches throughout, or hundredths of a foot.
    #[error(
        "{at}: is `{text}` in feet and hundredths, or in feet and inches with a point between them? No two digits after a point are above 11. State it with --units ft or --units feet-point-inches (in a job: read = {{ units = \"...\" }})"
    )]
    FeetPointInches {
        /// The first cell with inches above 0.
        at: CellRef,
        /// Its text.
        text: Excerpt,
    },
    /// Tables side by side that do not go on from one to the next.
    #[error(
        "line {line}: how are these {tables} tables side by side to be read? Neither joint numbers nor running totals go on from each to the next. Read them one after the other with --blocks across, or the first alone with --blocks first (in a job: read = {{ blocks = \"...\" }})"
    )]
    BlocksQuestion {
        /// The line of the header.
        line: u32,
        /// How many tables there are.
        tables: usize,
    },
    /// A title such as `Spare joints` above one of the tables side by side.
    #[error(
        "line {line}: are the joints under `{title}` in the string? It stands above one of {tables} tables side by side. Read all of them with --blocks across, or the first alone with --blocks first (in a job: read = {{ blocks = \"...\" }})"
    )]
    BlocksTitled {
        /// The line of the title.
        line: u32,
        /// The title.
        title: Excerpt,
        /// How many tables there are.
        tables: usize,
    },
    /// Numbers beside joints in a column without a heading.
    #[error(
        "{at}: what is `{text}`? Numbers stand beside joints in a column that no heading names. If they are not part of the tally confirm the column of lengths with --column length={length}; if they are, name that column, such as --column loss={column} (in a job: read = {{ columns = {{ length = \"{length}\" }} }}); of lists side by side --blocks first reads the first alone"
    )]
    UnnamedNumbers {
        /// The first of the cells.
        at: CellRef,
        /// Its text.
        text: Excerpt,
        /// The letters of the column of lengths.
        length: String,
        /// The letters of this one.
        column: String,
    },
    /// Numbers in cells beyond the last column.
    #[error(
        "{at}: `{text}` is beyond the last column of the header; expected at most {columns} cells (is a comma both separator and decimal mark?); if it belongs to a remark say so with --column remarks={remarks} (in a job: read = {{ columns = {{ remarks = \"{remarks}\" }} }})"
    )]
    TooManyCells {
        /// The first such cell.
        at: CellRef,
        /// Its text.
        text: Excerpt,
        /// How many columns the header has.
        columns: usize,
        /// The letters of the column of remarks.
        remarks: String,
    },
    /// Columns that spaces line up, but not in this row.
    #[error(
        "line {line}: `{text}` is not under one heading; expected columns that line up under their headings with two or more spaces between them, or a comma, semicolon or tab"
    )]
    NotAligned {
        /// The line.
        line: u32,
        /// The text that is under several or none.
        text: Excerpt,
    },
    /// Columns with nothing but single spaces between them.
    #[error(
        "line {line}: the columns are set apart by single spaces, so that nobody can tell where a cell ends; expected two or more spaces, or a comma, semicolon or tab between them"
    )]
    SingleSpaces {
        /// The line of the header.
        line: u32,
    },
}

/// The first of some joints as an option names them; a long name is told once, with its row.
fn landing_named(rows: &[DoubtedRow]) -> String {
    let names: Vec<&str> = rows
        .iter()
        .map(|row| row.joint.as_str())
        .filter(|name| name.len() <= 24 && !name.is_empty())
        .take(3)
        .collect();
    if names.is_empty() {
        "JOINT,...".to_owned()
    } else {
        names.join(",")
    }
}

/// Rows, as many as a message has room for, and how many more there are.
fn rows_listed<T: fmt::Display>(rows: &[T], more: usize) -> String {
    let (mut list, mut shown) = (String::new(), 0);
    for row in rows {
        let text = row.to_string();
        if list.len() + text.len() > ROWS_LISTED {
            break;
        }
        let between = if shown == 0 { "" } else { "; " };
        list.push_str(between);
        list.push_str(&text);
        shown += 1;
    }
    match rows.len() - shown + more {
        0 => list,
        rest => format!("{list}; and {rest} more"),
    }
}
