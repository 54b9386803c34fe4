//! Why a command could not be carried out.

use std::io;
use std::path::PathBuf;

use thiserror::Error;

use crate::figures::SeatError;
use crate::folder::{CreateError, EnterError, OpenError, ReadingsFileError, StoreError};
use crate::levels::NetworkError;
use crate::measure::{Excerpt, Length, LengthError, LengthFormat};
use crate::reconcile::{Decision, DecisionsError, Refusal};
use crate::report::pages::PdfError;
use crate::report::words;
use crate::signing::KeyError;
use crate::tally::ReadError;
use crate::tally::import::Problem;

/// Why a command could not be carried out. Several problems are told line by line.
#[derive(Debug, Error)]
pub(super) enum CliError {
    #[error("no job is named; expected a job folder or a command (see `kerfmark --help`)")]
    NoJob,
    #[error(transparent)]
    Open(#[from] OpenError),
    #[error(transparent)]
    Create(#[from] CreateError),
    #[error("{}", lines(.0.iter().map(ToString::to_string)))]
    Tallies(Vec<ReadError>),
    #[error(transparent)]
    Io(#[from] io::Error),
    #[error(transparent)]
    Json(#[from] serde_json::Error),
    #[error("standard output cannot be written: {0}")]
    Output(io::Error),
    #[error("{}: {error}", file.display())]
    Workbook {
        file: PathBuf,
        error: Box<dyn std::error::Error>,
    },
    #[error("{}: {error}", file.display())]
    NotWritten { file: PathBuf, error: StoreError },
    #[error("{}: {problem}", file.display())]
    EventsFile {
        file: PathBuf,
        problem: Box<Problem>,
    },
    #[error("--out: {} ends in none of .pdf, .html, .txt, .csv and .svg", .0.display())]
    ReportEnding(PathBuf),
    #[error("--card: {} ends in none of .pdf, .html and .txt", .0.display())]
    CardEnding(PathBuf),
    #[error(transparent)]
    Pdf(#[from] PdfError),
    #[error("the rows could not be written: {0}")]
    Rows(String),
    #[error("{}: {error}", file.display())]
    Key { file: PathBuf, error: KeyError },
    #[error("the key {0}")]
    Signing(KeyError),
    #[error("--paper needs --by INITIALS: who signs")]
    PaperBy,
    #[error("--hold is missing; expected the hold point to sign, or --all-ready")]
    HoldMissing,
    #[error(transparent)]
    Enter(#[from] EnterError),
    #[error("{}", refused(file, *line, error))]
    Refused {
        file: String,
        line: usize,
        error: Box<EnterError>,
    },
    #[error("{0}")]
    NoRecord(String),
    #[error("--fix is for a file of readings alone; in a job the datum is fixed, and nothing else")]
    FixOfJob,
    #[error("{}", fix(text, why.as_ref()))]
    Fix {
        text: String,
        why: Option<LengthError>,
    },
    #[error(transparent)]
    Readings(#[from] ReadingsFileError),
    #[error(transparent)]
    Network(#[from] NetworkError),
    #[error(transparent)]
    Seat(#[from] SeatError),
    #[error("--out: {} ends in neither .csv nor .xlsx", .0.display())]
    OutEnding(PathBuf),
    #[error("{}: {problem}", file.display())]
    DecisionsFile {
        file: PathBuf,
        problem: Box<Problem>,
    },
    #[error("{}: it is not UTF-8; expected a file of decisions", .0.display())]
    DecisionsNotUtf8(PathBuf),
    #[error("{}", lines(problems.iter().map(|it| format!("{}: {it}", file.display()))))]
    Decisions {
        file: PathBuf,
        problems: Vec<DecisionsError>,
    },
    #[error("{}", lines(decisions.iter().map(|it| format!("{}: {}", file.display(), no_difference(it)))))]
    NoDifference {
        file: PathBuf,
        decisions: Vec<Decision>,
    },
    #[error(
        "{}: the measured {} of joint {} (line {}): {}",
        file.display(),
        decision.topic.name(),
        Excerpt::of(&decision.joint),
        decision.line,
        words::refusal(*refusal, *show)
    )]
    DecisionRefused {
        file: PathBuf,
        decision: Box<Decision>,
        refusal: Refusal,
        show: LengthFormat,
    },
    #[error(
        "in a job its own answers hold: expected read = {{ ... }} under the slot in job.toml, and pin under its pipe"
    )]
    AnswersOfAJob,
    #[error("a job has several tallies; expected --slot NAME with a job, or a tally file")]
    SlotMissing,
    #[error(
        "--slot names a slot of a job, but {} is no job; expected a job folder or its job.toml",
        .0.display()
    )]
    SlotOfNoJob(PathBuf),
    #[error("--slot: `{slot}` is no slot of this job; expected one of {}", slots.join(", "))]
    NoSlot { slot: String, slots: Vec<String> },
    #[error("{option}: {error}")]
    NoLength {
        option: &'static str,
        error: LengthError,
    },
    #[error(
        "--within: `{}` is below 0; expected by how much a measurement may be off, 0 or more",
        .0.exact_metres()
    )]
    WithinNegative(Length),
    #[error(
        "slot {0}: nothing fixes its elevations; expected a stick-up or a plan in job.toml, or --measured or --off"
    )]
    NothingComputed(String),
}

impl From<ReadError> for CliError {
    fn from(error: ReadError) -> Self {
        Self::Tallies(vec![error])
    }
}

fn lines(problems: impl Iterator<Item = String>) -> String {
    problems.collect::<Vec<_>>().join("\n")
}

fn no_difference(decision: &Decision) -> String {
    format!(
        "the {} of joint {} (line {}) is no difference of these lists; expected one that --to-decide lists",
        decision.topic.name(),
        Excerpt::of(&decision.joint),
        decision.line
    )
}

/// Why `--fix` is none.
fn fix(text: &str, why: Option<&LengthError>) -> String {
    let text = Excerpt::of(text);
    match why {
        Some(why) => format!("--fix `{text}`: {why}"),
        None => format!("--fix `{text}`; expected NAME=ELEVATION, such as BM1=12.345"),
    }
}

/// Why a line was not entered: each of its problems on a line of its own.
fn refused(file: &str, line: usize, error: &EnterError) -> String {
    match error {
        EnterError::Event(problems) => lines(
            problems
                .iter()
                .map(|it| format!("{file}: line {line}, {it}")),
        ),
        EnterError::Refused(why) => format!("{file}: line {line}: {why}"),
        other => other.to_string(),
    }
}
