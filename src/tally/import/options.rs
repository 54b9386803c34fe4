//! The answers to the questions that a file may leave open, and how much is read.

use crate::measure::{DecimalMark, Unit};
use crate::tally::model::Order;

/// Files above this size are refused before they are read: 256 MiB.
pub const MAX_FILE: u64 = 256 * 1024 * 1024;

/// Most joints in one tally. A file of the largest size could list sixteen times as many in rows of
/// four bytes; no conductor has a thousand, and the bound keeps memory within a few gigabytes.
pub const MAX_JOINTS: usize = 4_000_000;

/// The answers to the questions that a file may leave open, and what it is read for.
#[derive(Clone, Debug, Default)]
pub struct Options {
    /// The unit of columns that state none.
    pub units: Option<Unit>,
    /// The job's unit, for columns that state none where `units` is not given either.
    pub job_units: Option<Unit>,
    /// Which end of the page the shoe is at.
    pub order: Option<Order>,
    /// The decimal mark.
    pub decimal: Option<DecimalMark>,
    /// What a column that is only called length holds.
    pub length: Option<LengthColumn>,
    /// The sheet of a workbook.
    pub sheet: Option<String>,
}

/// What the length column holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LengthColumn {
    /// Overall lengths, pin nose to box face.
    Overall,
    /// Effective lengths: make-up loss already taken off.
    Effective,
}
