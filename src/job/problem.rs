//! What can be wrong with a job file: each problem with its place, what was found, and what was
//! expected.

use std::fmt;

use thiserror::Error;

use crate::measure::LengthError;

/// One problem of a job file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct JobProblem {
    /// Line, counted from 1.
    pub line: usize,
    /// Column in characters, counted from 1.
    pub column: usize,
    /// What is wrong.
    pub what: What,
}

impl fmt::Display for JobProblem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(
            f,
            "line {}, column {}: {}",
            self.line, self.column, self.what
        )
    }
}

/// What is wrong with a job file.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
pub enum What {
    /// Not TOML.
    #[error("{0}")]
    Syntax(String),
    /// A key that means nothing here.
    #[error("`{key}` is no key of a job file; expected {expected}")]
    UnknownKey {
        /// The full key.
        key: String,
        /// The keys that are known here, or the one that was likely meant.
        expected: String,
    },
    /// A key that must be there.
    #[error("`{key}` is missing; expected {expected}")]
    Missing {
        /// The full key.
        key: String,
        /// What it would hold.
        expected: String,
    },
    /// A value of the wrong kind.
    #[error("`{key}` is {found}; expected {expected}")]
    Wrong {
        /// The full key.
        key: String,
        /// The value.
        found: String,
        /// What it should be.
        expected: String,
    },
    /// A text that is no length.
    #[error("`{key}`: {error}")]
    Length {
        /// The full key.
        key: String,
        /// What is wrong.
        error: LengthError,
    },
    /// A quantity that can only be a slip.
    #[error("`{key}`: {bound}")]
    OutOfBounds {
        /// The full key.
        key: String,
        /// What was found, and the bound that it is beyond.
        bound: Bound,
    },
    /// Keys that do not go together.
    #[error("`{key}` {conflict}")]
    Conflict {
        /// The full key.
        key: String,
        /// What it conflicts with and what is expected.
        conflict: String,
    },
}

/// A quantity beyond its bound.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Bound {
    /// The quantity with its unit.
    pub found: String,
    /// Whether it is too small, and not too far from 0.
    pub is_low: bool,
    /// The bound.
    pub limit: String,
    /// The same number in a unit in which it would fit.
    pub other: Option<String>,
    /// Why nothing beyond the bound can be meant.
    pub why: &'static str,
}

impl fmt::Display for Bound {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let side = if self.is_low { "below" } else { "beyond" };
        write!(f, "{} is {side} {}; ", self.found, self.limit)?;
        match &self.other {
            Some(other) => write!(f, "write \"{other}\" if that is meant"),
            None => f.write_str(self.why),
        }
    }
}
