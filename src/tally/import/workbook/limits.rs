//! The kinds of workbook, how much of one is read, and what is said of one that goes beyond.

use super::super::error::Problem;
use crate::measure::Excerpt;

/// The kinds of workbook, told by their bytes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum BookKind {
    /// An archive of XML: `.xlsx`.
    Xlsx,
    /// An open document: `.ods`.
    Ods,
    /// A file of sectors: `.xls`.
    Xls,
}

/// Most cells of a workbook, counting the blank ones between others: a million rows of twenty.
pub(super) const MAX_PLACES: usize = 20_000_000;

/// The edge of a sheet.
pub(super) const MAX_COLUMNS: usize = 16_384;
pub(super) const MAX_ROWS: usize = 1_048_576;

/// Most characters of the reason that a crate gives: it may repeat what it found.
const MAX_REASON: usize = 300;

pub(super) fn broken(why: impl AsRef<str>) -> Problem {
    Problem::BrokenWorkbook {
        why: Excerpt::at_most(why.as_ref(), MAX_REASON),
    }
}

pub(super) fn too_scattered() -> Problem {
    broken(format!(
        "its cells lie too far apart: more than {MAX_PLACES} places to look at"
    ))
}
