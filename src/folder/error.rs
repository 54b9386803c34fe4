//! Why a job cannot be opened.

use std::fmt;
use std::path::PathBuf;

use crate::job::JobProblem;
use crate::tally::ReadError;

/// Why a job could not be opened.
#[derive(Clone, Debug)]
pub enum OpenError {
    /// The job file itself could not be read.
    Unreadable {
        /// The file.
        file: PathBuf,
        /// Why.
        reason: String,
    },
    /// The job file has problems.
    Job {
        /// The file.
        file: PathBuf,
        /// All of them.
        problems: Vec<JobProblem>,
    },
    /// Tallies have problems.
    Tallies(Vec<TallyError>),
}

/// A tally that could not be read, and the place in the job file that names it.
#[derive(Clone, Debug)]
pub struct TallyError {
    /// The slot.
    pub slot: String,
    /// The job file.
    pub job_file: PathBuf,
    /// Line and column of the key.
    pub at: (usize, usize),
    /// What is wrong.
    pub error: ReadError,
}

impl fmt::Display for OpenError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Unreadable { file, reason } => write!(f, "{}: {reason}", file.display()),
            Self::Job { file, problems } => {
                for (index, problem) in problems.iter().enumerate() {
                    let end = if index == 0 { "" } else { "\n" };
                    write!(f, "{end}{}: {problem}", file.display())?;
                }
                Ok(())
            }
            Self::Tallies(errors) => {
                for (index, tally) in errors.iter().enumerate() {
                    let end = if index == 0 { "" } else { "\n" };
                    let (line, column) = tally.at;
                    write!(
                        f,
                        "{end}{}\n  (the tally of slot {}, named in {} line {line}, column {column})",
                        tally.error,
                        tally.slot,
                        tally.job_file.display()
                    )?;
                }
                Ok(())
            }
        }
    }
}

impl std::error::Error for OpenError {}
