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

/// Most cells of all sheets that are read of a workbook, counting the blank ones between others, and a row as
/// [`ROW`] more: a million rows of five. Each takes some fifty bytes.
pub(super) const MAX_PLACES: usize = 8_000_000;

/// What a row takes beside its cells, in cells.
pub(super) const ROW: usize = 3;

/// What a cell takes that comes out of order, in cells in order: it is kept aside, and sorted in.
pub(super) const LATE: usize = 3;

/// Most cells of an open document or an old workbook: the crate that reads them makes a rectangle of the values and one of the formulas.
pub(super) const MAX_REPEATED: usize = 2_000_000;

/// Most texts that cells share: two for each of a million rows.
pub(super) const MAX_TEXTS: usize = 2_000_000;

/// Most bytes of text in one sheet.
pub(super) const MAX_TEXT: usize = 64 * 1024 * 1024;

/// The same of an open document, where a text is kept for each repeat of its cell, by that crate and here.
pub(super) const MAX_REPEATED_TEXT: usize = 32 * 1024 * 1024;

/// Most bytes of an element or a text of XML: a cell holds no more than 32,767 letters.
pub(super) const MAX_PIECE: usize = 1024 * 1024;

/// Most bytes that the parts of a workbook may unpack to: a million joints take a fifth of it.
pub(super) const MAX_UNPACKED: u64 = 512 * 1024 * 1024;

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

pub(super) const fn too_much_text(most: usize) -> Problem {
    broken(WorkbookDamage::TooMuchText(most))
}

pub(super) const fn too_scattered(most: usize) -> Problem {
    broken(WorkbookDamage::Scattered(most))
}
