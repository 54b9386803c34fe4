//! What the reader has to say of a file beside its joints, as data: lines that are not joints, sheets that
//! are not used, cells that were moved.

use std::borrow::Cow;
use std::fmt;

use crate::finding::RowSign;
use crate::measure::Excerpt;

/// What stands before who decided something, in the remarks of a tally of record: `length: decided by NK at ...`.
pub const DECIDED_BY: &str = "decided by ";

/// What stands between the parts of such remarks; no part holds it.
pub const BETWEEN_PARTS: &str = "; ";

/// Remarks without the reasons of decisions that a tally of record keeps there: those say why a figure stands, not
/// that a joint was not run or is the shoe.
pub(super) fn without_reasons(remarks: &str) -> Cow<'_, str> {
    let is_reason = |part: &&str| {
        let (of, by) = part.split_once(": ").unwrap_or((part, ""));
        by.starts_with(DECIDED_BY) && !of.contains(' ')
    };
    if !remarks.contains(DECIDED_BY) {
        return Cow::Borrowed(remarks);
    }
    let parts = remarks.split(BETWEEN_PARTS);
    let kept: Vec<&str> = parts.filter(|part| !is_reason(part)).collect();
    Cow::Owned(kept.join(BETWEEN_PARTS))
}

/// A line of the file that is not read as a joint, and why.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Skipped {
    /// The line, counted from 1.
    pub line: u32,
    /// Why it was not used as a joint.
    pub why: SkipReason,
    /// The text of the line.
    pub text: String,
}

/// Why a line is not used as a joint.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SkipReason {
    /// It is above the table.
    AboveTable,
    /// An average, a count or the like.
    Summary,
    /// The header again.
    HeaderAgain,
    /// The row of units again.
    UnitsAgain,
    /// The title again.
    TitleAgain,
    /// The head of a page.
    PageHead,
    /// Neither a joint nor a length.
    Note,
    /// A row with nothing in it.
    BlankRow,
    /// So many lines with nothing on them, from this one on.
    BlankLines(u32),
    /// A total; whether it holds a figure that is checked.
    Total(bool),
    /// A total carried forward; whether it holds a figure that is checked.
    CarryForward(bool),
    /// A figure without a label that equals the sum above it.
    UnlabelledTotal,
    /// It was not run, as this sign says and the option confirms.
    NotRun(RowSign),
    /// It is outside the rows that the option names.
    OutsideRows,
}

/// A row that counts although a sign says that it may not have been run.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Doubted {
    /// Its line.
    pub line: u32,
    /// The sign.
    pub sign: RowSign,
}

/// A word in the column of kinds that is no kind.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct UnknownKind {
    /// Its line.
    pub line: u32,
    /// The word.
    pub word: Excerpt,
}

/// A part of the question that lists rows, and of what is said of each.
impl fmt::Display for RowSign {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Word { word, column } => write!(f, "`{word}` in column {column}"),
            Self::Status { says: "", column } => write!(f, "column {column} is blank"),
            Self::Status { says, column } => write!(f, "column {column} says `{says}`"),
            Self::Hidden => f.write_str("the row is hidden"),
            Self::Filtered => f.write_str("the row is filtered out"),
            Self::Struck => f.write_str("struck through"),
            Self::Under(line) => write!(f, "under the heading on line {line}"),
            Self::Named { word, line } => write!(f, "line {line} says `{word}` of it"),
        }
    }
}

/// A remark on a file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum FileNote {
    /// A sheet of a workbook is not used.
    SheetNotUsed {
        /// The sheet.
        sheet: Excerpt,
        /// Why.
        why: SheetReason,
    },
    /// A number of a workbook was moved to the grid of tapes.
    CellMoved {
        /// The cell, such as `D2`.
        cell: String,
        /// The number in the file.
        found: String,
        /// What it was read as.
        read_as: String,
    },
    /// So many more were.
    MoreCellsMoved(usize),
    /// The order is as stated, although the kinds say another.
    OrderAgainstKinds {
        /// What they say.
        said: String,
    },
    /// Tables side by side are read one after the other: how many.
    TablesInTurn {
        /// How many tables there are.
        tables: usize,
    },
    /// They are read row by row.
    TablesByRow {
        /// How many tables there are.
        tables: usize,
    },
    /// Tables to the right of the first are not read.
    TablesNotRead {
        /// How many.
        tables: usize,
    },
    /// What is hidden or struck through is not known in this kind of workbook.
    MarksNotRead,
}

/// Why a sheet is not used.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SheetReason {
    /// Another one was named.
    AnotherNamed,
    /// It is a chart or a macro.
    NoCells,
    /// It is hidden.
    Hidden,
    /// It is empty.
    Empty,
    /// It holds no table of joints.
    NoTable(WithoutTable),
}

/// Why a sheet holds no table of joints.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum WithoutTable {
    /// There is no header row.
    NoHeader,
    /// The header on this line has no length column.
    NoLengthColumn(u32),
    /// The header on this line has no joint column.
    NoJointColumn(u32),
}

/// A part of the errors that list sheets.
impl fmt::Display for WithoutTable {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NoHeader => f.write_str("has no header row"),
            Self::NoLengthColumn(line) => {
                write!(f, "has no length column in the header on line {line}")
            }
            Self::NoJointColumn(line) => {
                write!(f, "has no joint column in the header on line {line}")
            }
        }
    }
}
