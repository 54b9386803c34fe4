//! The kinds of workbook, how much of one is read, and what is said of one that goes beyond.

use super::super::damage::WorkbookDamage;
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

pub(super) const fn broken(why: WorkbookDamage) -> Problem {
    Problem::BrokenWorkbook { why }
}

/// What a crate said of a workbook that it cannot read.
pub(super) fn told(error: &dyn std::fmt::Display) -> Excerpt {
    Excerpt::at_most(&error.to_string(), MAX_REASON)
}

/// A workbook that a crate cannot read.
pub(super) fn unreadable(error: &dyn std::fmt::Display) -> Problem {
    broken(WorkbookDamage::Said(told(error)))
}

pub(super) const fn too_scattered() -> Problem {
    broken(WorkbookDamage::Scattered(MAX_PLACES))
}
