//! How much of a tally in text is read at most: none takes more than 500 MiB or five seconds to be read or refused.

use std::fmt;

/// Most joints of a tally. No string has a thousandth of it.
pub const MAX_JOINTS: usize = 4_000_000;

/// Most rows: joints, and totals, notes and headings between them.
pub(super) const MAX_ROWS: usize = 5_000_000;

/// Most rows that are neither joints nor blank.
pub(super) const MAX_OTHERS: usize = 1_000_000;

/// Most bytes of a row, line ends within quotes among them.
pub(super) const MAX_ROW: usize = 1024 * 1024;

/// Most bytes of a text and of the places of its cells together.
pub(super) const MAX_GRID: usize = 400 * 1024 * 1024;

/// Most bytes of a text, the places of its cells and what is read of it together.
pub(super) const MAX_READING: usize = 464 * 1024 * 1024;

/// Most bytes of a file in an encoding that grows as it is decoded.
pub(super) const MAX_DECODED: usize = 32 * 1024 * 1024;

/// A limit that a file goes beyond.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Limit {
    /// Too many joints.
    Joints,
    /// Too many rows.
    Rows,
    /// Too many rows that are no joints.
    Others,
    /// Too long a row.
    Row,
    /// Too much to be held at once.
    Memory,
    /// Too long a text that is not UTF-8.
    Decoded,
}

impl fmt::Display for Limit {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let mib = |bytes: usize| bytes / (1024 * 1024);
        match self {
            Self::Joints => write!(f, "more than {MAX_JOINTS} joints; a tally lists one string"),
            Self::Rows => write!(f, "more than {MAX_ROWS} rows; a tally lists one string"),
            Self::Others => write!(
                f,
                "more than {MAX_OTHERS} rows above it are neither joints nor blank; this is no tally"
            ),
            Self::Row => write!(
                f,
                "the row that starts here is longer than {} MiB; this is no tally",
                mib(MAX_ROW)
            ),
            Self::Memory => write!(
                f,
                "up to here the file takes more memory than a tally is given; a tally lists one string"
            ),
            Self::Decoded => write!(
                f,
                "a text of more than {} MiB that is not in UTF-8 is not read",
                mib(MAX_DECODED)
            ),
        }
    }
}
