//! What can be wrong with the decisions on another list of a string.

use std::path::PathBuf;

use thiserror::Error;

use crate::reconcile::DecisionsError;

/// Why the decisions on a list cannot be read. Files are named relative to the job's folder.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum DecisionsUnreadable {
    /// The file cannot be read, for what the reason says.
    #[error("{}: {reason}", file.display())]
    File {
        /// The file.
        file: PathBuf,
        /// Why, in the words of the system or of the rule that it breaks.
        reason: String,
    },
    /// Its bytes are no text.
    #[error("{}: it is not UTF-8; expected a file of decisions", .0.display())]
    NotUtf8(PathBuf),
    /// Rows of it are no decisions.
    #[error("{}: {}", file.display(), problems.iter().map(ToString::to_string).collect::<Vec<_>>().join("; "))]
    Rows {
        /// The file.
        file: PathBuf,
        /// What is wrong with each.
        problems: Vec<DecisionsError>,
    },
}

/// A last line of decisions that was cut off and is not read.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
#[error(
    "{}: line {line} has no line end and is not read: it was cut off; the next decision moves it to {}",
    file.display(),
    moves_to.display()
)]
pub struct TornLine {
    /// The file, relative to the job's folder.
    pub file: PathBuf,
    /// Which line.
    pub line: usize,
    /// The file to which the next decision moves it.
    pub moves_to: PathBuf,
}
