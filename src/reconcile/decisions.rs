//! Decisions as a file: one row each, added to and never rewritten.
//!
//! `topic,joint,list,line,a,b,stands,note`: `list` is the list, a or b, whose number and line those are,
//! `a` and `b` are what the lists said when it was decided, `stands`
//! is `a`, `b`, or a length that was measured again. A later row on the same topic of the same joint outranks an earlier one.

use csv::{ReaderBuilder, StringRecord, WriterBuilder};
use thiserror::Error;

use super::decide::{Decision, Stands, Topic};
use crate::measure::{Length, MAX_JOINT, ParseOptions, Unit, read_length};

/// The header of the file.
const HEADER: [&str; 8] = [
    "matter", "joint", "list", "line", "a", "b", "stands", "note",
];

/// The column of what stands.
const STANDS: usize = 6;

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
    pub what: String,
}

/// Reads decisions; bare numbers are in `unit`. All problems are told at once.
pub fn read_decisions(text: &str, unit: Unit) -> Result<Vec<Decision>, Vec<DecisionsError>> {
    let mut reader = ReaderBuilder::new()
        .has_headers(false)
        .flexible(true)
        .trim(csv::Trim::All)
        .from_reader(text.trim_start_matches('\u{feff}').as_bytes());
    let mut decisions = Vec::new();
    let mut problems = Vec::new();
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
                    what: format!(
                        "the header is `{}`; expected `{}`",
                        record.iter().collect::<Vec<_>>().join(","),
                        HEADER.join(",")
                    ),
                });
                return Err(problems);
            }
            continue;
        }
        // A row whose topic is still open stands there to be filled in.
        if record.len() == HEADER.len() && record.get(STANDS) == Some("") {
            continue;
        }
        match decision(&record, unit) {
            Ok(decision) => decisions.push(decision),
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
        Err(problems)
    }
}

fn decision(record: &StringRecord, unit: Unit) -> Result<Decision, (usize, String)> {
    let cell = |column: usize| record.get(column).unwrap_or_default();
    if record.len() > HEADER.len() {
        let what = format!(
            "`{}` is one cell too many; put a note with commas in quotes",
            cell(HEADER.len())
        );
        return Err((HEADER.len(), what));
    }
    let topic = Topic::from_word(cell(0)).ok_or_else(|| {
        let names = Topic::ALL.map(Topic::name).join(", ");
        (
            0,
            format!("`{}` is no topic; expected one of {names}", cell(0)),
        )
    })?;
    let joint = cell(1).to_owned();
    if joint.is_empty() {
        return Err((1, "no joint is named; expected its number".to_owned()));
    }
    let in_b = match cell(2) {
        "a" | "A" => false,
        "b" | "B" => true,
        other => return Err((2, format!("`{other}` is no list; expected a or b"))),
    };
    let line = cell(3).parse().map_err(|_| {
        let what = format!(
            "`{}` is no line number; expected the line that lists the joint",
            cell(3)
        );
        (3, what)
    })?;
    let said = |column: usize| match cell(column) {
        "" => Ok(None),
        text => length(text, unit).map(Some).map_err(|what| (column, what)),
    };
    let said = [said(4)?, said(5)?];
    let stands = match cell(STANDS) {
        "a" | "A" => Stands::A,
        "b" | "B" => Stands::B,
        text => Stands::Measured(measured(text, topic, unit).map_err(|what| (STANDS, what))?),
    };
    let note = cell(STANDS + 1).to_owned();
    if matches!(stands, Stands::Measured(_)) && note.is_empty() {
        let what = "a measured value without a note; expected who measured it, and how".to_owned();
        return Err((STANDS + 1, what));
    }
    Ok(Decision {
        topic,
        joint,
        in_b,
        line,
        said,
        stands,
        note,
    })
}

fn length(text: &str, unit: Unit) -> Result<Length, String> {
    let rules = ParseOptions {
        bare: Some(unit),
        ..ParseOptions::default()
    };
    let reading = read_length(text, &rules).map_err(|error| error.to_string())?;
    Ok(reading.length)
}

fn measured(text: &str, topic: Topic, unit: Unit) -> Result<Length, String> {
    let length = length(text, unit)
        .map_err(|error| format!("{error}; expected a, b or a measured length"))?;
    let fits = match topic {
        Topic::Length => length > Length::ZERO && length <= MAX_JOINT,
        Topic::MakeupLoss => !length.is_negative() && length <= MAX_JOINT,
        Topic::Presence | Topic::Place => {
            return Err(format!(
                "`{text}` is a length, but the {} of a joint cannot be measured; expected a or b",
                topic.name()
            ));
        }
    };
    if fits {
        Ok(length)
    } else {
        Err(format!("`{text}` is no length that a joint can have"))
    }
}

/// A decision as a row, with its line end; the header before it where the file is new.
pub fn write_decision(decision: &Decision, is_new: bool) -> String {
    let mut writer = WriterBuilder::new().from_writer(Vec::new());
    let stands = match decision.stands {
        Stands::A => "a".to_owned(),
        Stands::B => "b".to_owned(),
        Stands::Measured(length) => format!("{} m", length.exact_metres()),
    };
    let line = decision.line.to_string();
    let metres = |length: Option<Length>| {
        length.map_or_else(String::new, |length| format!("{} m", length.exact_metres()))
    };
    let [a, b] = decision.said.map(metres);
    let row = [
        decision.topic.name(),
        &decision.joint,
        if decision.in_b { "b" } else { "a" },
        &line,
        &a,
        &b,
        &stands,
        &decision.note,
    ];
    // Writing into memory cannot fail.
    if is_new {
        let _ = writer.write_record(HEADER);
    }
    let _ = writer.write_record(row);
    let bytes = writer.into_inner().unwrap_or_default();
    String::from_utf8_lossy(&bytes).into_owned()
}
