//! The kinds of files of a tally of record, and why none is made: data, no sentence.

use crate::tally::import::Problem;

/// What kind of file a tally of record is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RecordFile {
    /// Text.
    Csv,
    /// A workbook whose sums are live, with the bridge and all decisions.
    Workbook,
}

impl RecordFile {
    /// The ending of its name.
    pub const fn ending(self) -> &'static str {
        match self {
            Self::Csv => "csv",
            Self::Workbook => "xlsx",
        }
    }

    /// The kind of a name's ending.
    pub fn of_ending(ending: &str) -> Option<Self> {
        let all = [Self::Csv, Self::Workbook];
        all.into_iter()
            .find(|it| it.ending().eq_ignore_ascii_case(ending))
    }
}

/// Why no tally of record is made.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum NoRecord {
    /// A reader would refuse it.
    Unreadable(Vec<Problem>),
    /// It reads to other figures than it was made of.
    ReadsOtherwise,
    /// A workbook cannot hold it, in the words of the error.
    Workbook(String),
}
