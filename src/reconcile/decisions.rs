//! Decisions as a file, one row each: as `reconcile` takes them for two lists, and as they were kept in a job's
//! folder before its journal had them.
//!
//! `topic,joint,list,line,a,b,stands,note`: `list` is the list, a or b, whose number and line those are,
//! `a` and `b` are what the lists said when it was decided, `stands`
//! is `a`, `b`, or a length that was measured again. A later row on the same topic of the same joint outranks an earlier one.

use csv::{ReaderBuilder, StringRecord};
use thiserror::Error;

use super::decide::{Decision, Stands, Topic};
use super::quotes::long_fields;
use crate::measure::{
    Excerpt, Length, LengthError, MAX_JOINT, ParseOptions, Unit, read_length, visible,
};

/// The header of the file.
const HEADER: [&str; 8] = [
    "matter", "joint", "list", "line", "a", "b", "stands", "note",
];

/// The column of what stands.
const STANDS: usize = 6;

/// Most problems of one file that are told.
const MOST_PROBLEMS: usize = 40;

/// Why a row is no decision.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
#[error("line {line}, column {column} ({heading}): {what}")]
pub struct DecisionsError {
    /// The line of the file.
    pub line: u64,
    /// The column, counted from 1.
    pub column: usize,
    /// Its heading.
    pub heading: &'static str,
    /// What was found and what was expected.
    pub what: DecisionProblem,
}

/// What can be wrong with a cell of a decision.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
pub enum DecisionProblem {
    /// Other headings.
    #[error("the header is `{found}`; expected `{}`", HEADER.join(","))]
    Header {
        /// Those that were found.
        found: String,
    },
    /// A quote that is never closed, or takes in the next rows.
    #[error(
        "the quote that opens here takes in all up to the end of line {to}; close it where its field ends"
    )]
    OpenQuote {
        /// The last line that it takes in.
        to: u64,
    },
    /// More cells than headings.
    #[error("`{0}` is one cell too many; put a note with commas in quotes")]
    CellTooMany(Excerpt),
    /// An unknown topic.
    #[error("`{0}` is no topic; expected one of {names}", names = Topic::OF_BRIDGE.map(Topic::name).join(", "))]
    NoTopic(Excerpt),
    /// A joint without a number.
    #[error("no joint is named; expected its number")]
    NoJoint,
    /// A list that is neither.
    #[error("`{0}` is no list; expected a or b")]
    NoList(Excerpt),
    /// No line number.
    #[error("`{0}` is no line number; expected the line that lists the joint")]
    NoLine(Excerpt),
    /// What a list said is no length.
    #[error(transparent)]
    Said(LengthError),
    /// What stands is neither list nor a length.
    #[error("{0}; expected a, b or a measured length")]
    Stands(LengthError),
    /// A length for something that has none.
    #[error("`{text}` is a length, but the {} of a joint cannot be measured; expected a or b", topic.name())]
    CannotBeMeasured {
        /// The length.
        text: Excerpt,
        /// What was to be measured.
        topic: Topic,
    },
    /// A length that no joint has.
    #[error("`{0}` is not a possible joint length")]
    NotPossible(Excerpt),
    /// The rest of a long list of problems.
    #[error("and {0} more rows that are no decisions")]
    More(usize),
    /// A measured value that nobody answers for.
    #[error("a measured value without a note; expected who measured it, and how")]
    NoNote,
}

/// Reads decisions; bare numbers are in `unit`. All problems are told at once.
pub fn read_decisions(text: &str, unit: Unit) -> Result<Vec<Decision>, Vec<DecisionsError>> {
    let text = text.trim_start_matches('\u{feff}');
    let mut problems = open_quotes(text);
    if !problems.is_empty() {
        return Err(first_of(problems));
    }
    let mut reader = ReaderBuilder::new()
        .has_headers(false)
        .flexible(true)
        .trim(csv::Trim::All)
        .from_reader(text.as_bytes());
    let mut decisions = Vec::new();
    let mut record = StringRecord::new();
    let mut first = true;
    // Text in memory is read without I/O, and rows may have any number of cells.
    while reader.read_record(&mut record).unwrap_or(false) {
        let line = record.position().map_or(0, csv::Position::line);
        if std::mem::take(&mut first) {
            if !record.iter().eq(HEADER) {
                problems.push(DecisionsError {
                    line,
                    column: 1,
                    heading: HEADER[0],
                    what: DecisionProblem::Header {
                        found: record
                            .iter()
                            .map(|cell| Excerpt::of(cell).to_string())
                            .take(HEADER.len() + 1)
                            .collect::<Vec<_>>()
                            .join(","),
                    },
                });
                return Err(problems);
            }
            continue;
        }
        // A row whose topic is still open is there to be filled in.
        if record.len() == HEADER.len() && record.get(STANDS) == Some("") {
            continue;
        }
        match decision(&record, unit) {
            Ok(decision) => decisions.push(Decision {
                row: line,
                ..decision
            }),
            Err((column, what)) => problems.push(DecisionsError {
                line,
                column: column + 1,
                heading: HEADER.get(column).copied().unwrap_or_default(),
                what,
            }),
        }
    }
    if problems.is_empty() {
        Ok(decisions)
    } else {
        Err(first_of(problems))
    }
}

/// The first problems of many, and how many more there are.
fn first_of(mut problems: Vec<DecisionsError>) -> Vec<DecisionsError> {
    let more = problems.len().saturating_sub(MOST_PROBLEMS);
    problems.truncate(MOST_PROBLEMS);
    if more > 0
        && let Some(last) = problems.last().cloned()
    {
        problems.push(DecisionsError {
            what: DecisionProblem::More(more),
            ..last
        });
    }
    problems
}

/// Quotes that are not closed before the next row, which would be lost in the field.
fn open_quotes(text: &str) -> Vec<DecisionsError> {
    let is_row = |line: &str| {
        line.matches(',').nth(1).is_some()
            || Topic::OF_BRIDGE
                .iter()
                .any(|topic| line.split(',').next() == Some(topic.name()))
    };
    long_fields(text)
        .into_iter()
        .filter(|field| !field.closed || field.text.lines().skip(1).any(is_row))
        .map(|field| DecisionsError {
            line: field.line,
            column: field.column + 1,
            heading: HEADER.get(field.column).copied().unwrap_or_default(),
            what: DecisionProblem::OpenQuote { to: field.to },
        })
        .collect()
}

fn decision(record: &StringRecord, unit: Unit) -> Result<Decision, (usize, DecisionProblem)> {
    let cell = |column: usize| record.get(column).unwrap_or_default();
    let excerpt = |column: usize| Excerpt::of(cell(column));
    if record.len() > HEADER.len() {
        let last = HEADER.len();
        return Err((last, DecisionProblem::CellTooMany(excerpt(last))));
    }
    let topic = Topic::from_word(cell(0))
        .filter(|topic| Topic::OF_BRIDGE.contains(topic))
        .ok_or_else(|| (0, DecisionProblem::NoTopic(excerpt(0))))?;
    // As the reader of tallies shows it: the two are compared.
    let joint = visible(cell(1)).into_owned();
    if joint.is_empty() {
        return Err((1, DecisionProblem::NoJoint));
    }
    let in_b = match cell(2) {
        "a" | "A" => false,
        "b" | "B" => true,
        _ => return Err((2, DecisionProblem::NoList(excerpt(2)))),
    };
    let line = cell(3)
        .parse()
        .map_err(|_| (3, DecisionProblem::NoLine(excerpt(3))))?;
    let said = |column: usize| match cell(column) {
        "" => Ok(None),
        text => length(text, unit)
            .map(Some)
            .map_err(|error| (column, DecisionProblem::Said(error))),
    };
    let said = [said(4)?, said(5)?];
    let stands = match cell(STANDS) {
        "a" | "A" => Stands::A,
        "b" | "B" => Stands::B,
        text => Stands::Measured(measured(text, topic, unit).map_err(|what| (STANDS, what))?),
    };
    let note = visible(cell(STANDS + 1)).into_owned();
    if matches!(stands, Stands::Measured(_)) && note.is_empty() {
        return Err((STANDS + 1, DecisionProblem::NoNote));
    }
    Ok(Decision {
        topic,
        joint,
        in_b,
        line,
        said,
        stands,
        note,
        row: 0,
    })
}

fn length(text: &str, unit: Unit) -> Result<Length, LengthError> {
    let rules = ParseOptions {
        bare: Some(unit),
        ..ParseOptions::default()
    };
    read_length(text, &rules).map(|reading| reading.length)
}

fn measured(text: &str, topic: Topic, unit: Unit) -> Result<Length, DecisionProblem> {
    let length = length(text, unit).map_err(DecisionProblem::Stands)?;
    let fits = match topic {
        Topic::Length => length > Length::ZERO && length <= MAX_JOINT,
        Topic::MakeupLoss => !length.is_negative() && length <= MAX_JOINT,
        Topic::Presence | Topic::Place | Topic::Number => {
            return Err(DecisionProblem::CannotBeMeasured {
                text: Excerpt::of(text),
                topic,
            });
        }
    };
    if fits {
        Ok(length)
    } else {
        Err(DecisionProblem::NotPossible(Excerpt::of(text)))
    }
}
