//! What can be wrong with a job file: each problem with its place, what was found, and what was
//! expected.

use std::fmt;
use std::sync::Arc;

use thiserror::Error;

use crate::measure::LengthError;

/// The longest name that is compared with the keys that are known, in bytes.
const LONGEST: usize = 40;

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
    #[error("`{key}` is no key of a job file; expected {}", meant(name, known))]
    UnknownKey {
        /// The full key.
        key: String,
        /// Its name in its own table.
        name: String,
        /// The keys that are known there.
        known: Arc<[&'static str]>,
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
    /// A quantity beyond its bound.
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

/// The key that was likely meant by a name, or all that are known. It is looked for when the message is
/// written: of thousands few are.
fn meant(name: &str, known: &[&str]) -> String {
    // No key is so long that a longer name would be near it.
    let nearest = known
        .iter()
        .filter(|_| name.len() <= LONGEST)
        .map(|candidate| (strsim::damerau_levenshtein(name, candidate), *candidate))
        .min()
        .filter(|(distance, candidate)| {
            *distance <= (name.len() / 4).max(2) && *distance < candidate.len()
        })
        .map(|(_, candidate)| candidate);
    // `loss` for `makeup_loss`.
    let part_of = || {
        let mut longer = known.iter().filter(|candidate| candidate.contains(name));
        longer.next().filter(|_| longer.next().is_none()).copied()
    };
    match nearest.or_else(part_of) {
        Some(candidate) => format!("`{candidate}`"),
        None => format!("one of {}", known.join(", ")),
    }
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
