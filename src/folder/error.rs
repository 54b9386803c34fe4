//! Why a job cannot be opened.

use std::fmt;
use std::path::PathBuf;

use thiserror::Error;

use super::readings::ReadingsFileError;
use crate::job::JobProblem;
use crate::levels::NetworkError;
use crate::measure::Excerpt;
use crate::tally::ReadError;
use crate::tally::import::Problem;

/// So many problems are told: one error early in a file may cause thousands.
const TOLD: usize = 50;

/// Why a job file could not be read.
#[derive(Clone, Debug, Error)]
pub enum JobFileError {
    /// Nothing is there.
    #[error("there is no such folder or file; expected a job folder or its job.toml")]
    NotThere,
    /// Its bytes cannot be read.
    #[error("{}", bytes(.0))]
    Bytes(Problem),
    /// The bytes of a file beside it cannot be read.
    #[error("{}", beside(.0))]
    Beside(Problem),
    /// It is not UTF-8.
    #[error("line {line} is not UTF-8; expected a TOML file in UTF-8")]
    NotUtf8 {
        /// The first line that is not.
        line: usize,
    },
}

fn beside(problem: &Problem) -> String {
    match problem {
        Problem::IsFolder => "is a folder; expected a file".to_owned(),
        Problem::NotAFile => "is no plain file; expected a file".to_owned(),
        Problem::Unreadable { reason } => format!("cannot be read: {reason}"),
        other => other.to_string(),
    }
}

fn bytes(problem: &Problem) -> String {
    match problem {
        Problem::Unreadable { reason } => {
            format!("cannot be read: {reason}; expected a job file (`kerfmark new DIR` makes one)")
        }
        other => other.to_string(),
    }
}

/// Why a file is not adopted as a tally of record.
#[derive(Clone, Debug, Error)]
pub(super) enum AdoptError {
    /// A path that leads elsewhere.
    #[error("{0} is not a path below the job's folder")]
    Path(Excerpt),
    /// It cannot be read as a tally.
    #[error(transparent)]
    Unreadable(#[from] ReadError),
    /// Other bytes than were meant.
    #[error("{file} has the SHA-256 {found}, not {said}: it is another file than was meant")]
    Other {
        /// The file.
        file: Excerpt,
        /// Its digest.
        found: String,
        /// The one that was given.
        said: String,
    },
}

/// Why a job could not be opened.
#[derive(Clone, Debug)]
pub enum OpenError {
    /// The job file itself could not be read.
    Unreadable {
        /// The file.
        file: PathBuf,
        /// Why.
        error: Box<JobFileError>,
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
    /// The file of readings has problems.
    Readings(ReadingsFileError),
    /// Its readings leave the job without elevations.
    Levels {
        /// The file.
        file: PathBuf,
        /// The lines of it that name points tied to nothing.
        lines: Vec<u32>,
        /// Why.
        why: Box<NetworkError>,
    },
}

impl From<ReadingsFileError> for OpenError {
    fn from(error: ReadingsFileError) -> Self {
        Self::Readings(error)
    }
}

/// A tally that could not be read, and the place in the job file that names it.
#[derive(Clone, Debug)]
pub struct TallyError {
    /// The slot whose tally it is; `None` for the list of the pipe on deck.
    pub of: Option<String>,
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
            Self::Unreadable { file, error } => write!(f, "{}: {error}", file.display()),
            Self::Job { file, problems } => told(f, problems, |f, problem| {
                write!(f, "{}: {problem}", file.display())
            }),
            Self::Tallies(errors) => told(f, errors, |f, tally| {
                let (line, column) = tally.at;
                let what = match &tally.of {
                    Some(slot) => format!("the tally of slot {slot}"),
                    None => "the pipe on deck".to_owned(),
                };
                write!(
                    f,
                    "{}\n  ({what}, named in {} line {line}, column {column})",
                    tally.error,
                    tally.job_file.display()
                )
            }),
            Self::Readings(error) => write!(f, "{error}"),
            Self::Levels { file, lines, why } => {
                write!(f, "{}: ", file.display())?;
                let lines: Vec<String> = lines.iter().map(ToString::to_string).collect();
                match lines.as_slice() {
                    [] => write!(f, "{why}"),
                    lines => write!(
                        f,
                        "line {}: {why}; expected names of points that the job has, or a reading that ties these to one",
                        lines.join(", ")
                    ),
                }
            }
        }
    }
}

/// The first problems, each from a line of its own on, and how many more there are.
fn told<T>(
    f: &mut fmt::Formatter<'_>,
    problems: &[T],
    one: impl Fn(&mut fmt::Formatter<'_>, &T) -> fmt::Result,
) -> fmt::Result {
    for (index, problem) in problems.iter().take(TOLD).enumerate() {
        if index > 0 {
            f.write_str("\n")?;
        }
        one(f, problem)?;
    }
    match problems.len().saturating_sub(TOLD) {
        0 => Ok(()),
        1 => write!(f, "\nand 1 more problem"),
        more => write!(f, "\nand {more} more problems"),
    }
}

impl std::error::Error for OpenError {}
