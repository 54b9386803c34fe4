//! The answers to the questions that a file may leave open, and how much is read.

use std::str::FromStr;

use thiserror::Error;

use super::synonyms::Field;
use crate::measure::{DecimalMark, Excerpt, Length, Unit};
use crate::tally::model::Order;

/// Files above this size are refused before they are read: 256 MiB.
pub const MAX_FILE: u64 = 256 * MIB;

/// Bytes of a mebibyte.
pub const MIB: u64 = 1024 * 1024;

/// The answers to the questions that a file may leave open, and what it is read for.
#[derive(Clone, Debug, Default)]
pub struct Options {
    /// The unit of columns that state none.
    pub units: Option<Unit>,
    /// Columns in feet hold feet, a point, and inches of two digits: 39.06 is 39 ft 6 in.
    pub feet_point_inches: bool,
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
    /// What becomes of rows that may not be in the string.
    pub not_run: Option<NotRun>,
    /// The joints of the landing string, by number; none of them where the list is empty.
    pub landing: Option<Vec<String>>,
    /// Columns that are named by the person who reads, not by their headings.
    pub columns: Vec<ColumnChoice>,
    /// The lines of the file that are read; the header may lie outside.
    pub rows: Option<LineSpan>,
    /// What becomes of tables side by side.
    pub blocks: Option<Blocks>,
    /// The least make-up loss: 0, or below it for pipe that is welded with a root gap.
    pub least_loss: Length,
    /// Whether the pins are up, so that the open pin end is the top.
    pub pins_up: bool,
}

/// What the length column holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LengthColumn {
    /// Overall lengths, pin nose to box face.
    Overall,
    /// Effective lengths: make-up loss already taken off.
    Effective,
}

/// What becomes of rows that may not be in the string.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NotRun {
    /// They are listed as skipped.
    LeaveOut,
    /// They are counted, and flagged.
    Count,
}

/// What becomes of tables side by side.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Blocks {
    /// They are read one after the other, from left to right.
    Across,
    /// The first is read.
    First,
}

/// A column that is named.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ColumnChoice {
    /// What it holds.
    pub role: ColumnRole,
    /// Its heading, its number or its letters.
    pub place: String,
}

/// What a named column holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ColumnRole {
    /// Joint numbers.
    Joint,
    /// Serials.
    Serial,
    /// Kinds.
    Kind,
    /// Overall lengths.
    Length,
    /// Effective lengths.
    Effective,
    /// Make-up losses.
    Loss,
    /// Remarks.
    Remarks,
}

impl ColumnRole {
    /// Every role with its word in options.
    pub const ALL: [(&'static str, Self); 7] = [
        ("joint", Self::Joint),
        ("serial", Self::Serial),
        ("kind", Self::Kind),
        ("length", Self::Length),
        ("effective", Self::Effective),
        ("loss", Self::Loss),
        ("remarks", Self::Remarks),
    ];

    /// The word for it in options.
    pub fn word(self) -> &'static str {
        let known = Self::ALL.iter().find(|(_, role)| *role == self);
        known.map_or("", |(word, _)| word)
    }

    pub(super) const fn field(self) -> Field {
        match self {
            Self::Joint => Field::Joint,
            Self::Serial => Field::Serial,
            Self::Kind => Field::Kind,
            Self::Length => Field::Overall,
            Self::Effective => Field::Effective,
            Self::Loss => Field::Loss,
            Self::Remarks => Field::Remarks,
        }
    }
}

/// Lines of a file, both in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct LineSpan {
    /// The first, counted from 1.
    pub first: u32,
    /// The last.
    pub last: u32,
}

impl LineSpan {
    /// Whether a line is among them.
    pub const fn holds(&self, line: u32) -> bool {
        self.first <= line && line <= self.last
    }
}

/// Why a text is no answer.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
pub enum AnswerError {
    /// It names no lines.
    #[error("`{0}` names no lines; expected the first and the last, such as 5-28")]
    NoSpan(Excerpt),
    /// It names no column.
    #[error(
        "`{0}` names no column; expected ROLE=WHERE, such as length=E: the role is joint, serial, kind, length, effective, loss or remarks, the place a column's letter, its number or its heading"
    )]
    NoColumn(Excerpt),
}

impl FromStr for LineSpan {
    type Err = AnswerError;

    fn from_str(text: &str) -> Result<Self, AnswerError> {
        let none = || AnswerError::NoSpan(Excerpt::of(text));
        let (first, last) = text.split_once(['-', '\u{2013}']).ok_or_else(none)?;
        let line = |text: &str| text.trim().parse::<u32>().ok().filter(|line| *line > 0);
        match (line(first), line(last)) {
            (Some(first), Some(last)) if first <= last => Ok(Self { first, last }),
            _ => Err(none()),
        }
    }
}

impl FromStr for ColumnChoice {
    type Err = AnswerError;

    fn from_str(text: &str) -> Result<Self, AnswerError> {
        let none = || AnswerError::NoColumn(Excerpt::of(text));
        let (role, place) = text.split_once('=').ok_or_else(none)?;
        let role = role.trim().to_lowercase();
        let known = ColumnRole::ALL.iter().find(|(word, _)| *word == role);
        let (_, role) = known.ok_or_else(none)?;
        if place.trim().is_empty() {
            return Err(none());
        }
        Ok(Self {
            role: *role,
            place: place.trim().to_owned(),
        })
    }
}
