//! A file of readings: `from,to,rise,sigma`, and what else is noted of them.

use csv::{ReaderBuilder, StringRecord};
use thiserror::Error;

use super::network::Sigma;
use super::repeated::{Written, repeated};
use crate::measure::{Excerpt, Length, LengthError, ParseOptions, Unit, read_length, visible};

/// The name of the file of readings in a job's folder.
pub const READINGS: &str = "readings.csv";

/// The columns that must be there.
const NEEDED: [&str; 4] = ["from", "to", "rise", "sigma"];
/// Those that may be.
const OPTIONAL: [&str; 4] = ["time", "how", "by", "remarks"];

/// Most problems of one file that are told.
const MOST_PROBLEMS: usize = 40;

/// How far apart two points may be, and the most that a reading may be uncertain: as for what is entered.
const MOST_RISE: Length = Length::from_mm(13_000_000);
const MOST_SIGMA: Length = Length::from_mm(5_000);
/// The most in a job: as for RT and the height references.
const MOST_SIGMA_OF_JOB: Length = Length::from_mm(500);

/// A row of the file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FileReading {
    /// Its line.
    pub line: u32,
    /// The point from which.
    pub from: String,
    /// The point to which.
    pub to: String,
    /// The elevation of `to` less that of `from`.
    pub rise: Length,
    /// Its standard deviation, above 0.
    pub stated: Length,
    /// How it was measured.
    pub how: Option<String>,
    /// The line of the row that this one repeats to the letter, where that is no chance.
    pub repeats: Option<u32>,
}

impl FileReading {
    /// How well it is known.
    pub fn sigma(&self) -> Sigma {
        let metres = self.stated.real_metres();
        Sigma::of_variance(Some(metres * metres))
    }
}

/// Why a file is no file of readings.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
#[error("line {line}, column {column}: {what}")]
pub struct ReadingsError {
    /// The line of the file.
    pub line: u64,
    /// The column, counted from 1.
    pub column: usize,
    /// What was found and what was expected.
    pub what: ReadingsProblem,
}

/// What can be wrong with a file of readings.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
pub enum ReadingsProblem {
    /// Nothing is in it.
    #[error("the file is empty; expected the header {}", NEEDED.join(","))]
    Empty,
    /// A heading that is none, or occurs again.
    #[error("`{0}` is no heading, or occurs twice; expected {needed} and any of {optional}", needed = NEEDED.join(", "), optional = OPTIONAL.join(", "))]
    Heading(Excerpt),
    /// A heading that is not there.
    #[error("the column {0} is missing; expected {needed}", needed = NEEDED.join(", "))]
    Missing(&'static str),
    /// A row that is no text in this encoding, or is not closed.
    #[error("the row cannot be read: {0}")]
    Row(String),
    /// More cells than headings.
    #[error("`{0}` is one cell too many; put remarks with commas in quotes")]
    CellTooMany(Excerpt),
    /// A point without a name.
    #[error("no point is named in {0}; expected its name")]
    NoPoint(&'static str),
    /// A reading from a point to itself.
    #[error("`{0}` is read from itself; expected two points")]
    Itself(Excerpt),
    /// What is no length.
    #[error("{heading}: {error}")]
    Length {
        /// The heading.
        heading: &'static str,
        /// What was found and what was expected.
        error: LengthError,
    },
    /// Cells that are not divided by commas; whether by tabs.
    #[error("`{0}` is one cell; expected commas between cells, not {sign}", sign = if *.1 { "tabs" } else { "semicolons" })]
    NotCommas(Excerpt, bool),
    /// A cell over several lines.
    #[error("a quote is opened here and not closed on its line; expected a closing quote, or none")]
    OpenQuote,
    /// A comma in a number.
    #[error(
        "{0}: `{1}` has a comma, which may stand for thousands or for the decimal point; expected a point, such as 1.453"
    )]
    Comma(&'static str, Excerpt),
    /// A rise that is further than any.
    #[error("rise: `{0}` is beyond 13000 m either way")]
    Rise(Excerpt),
    /// A standard deviation that cannot be.
    #[error("sigma: `{0}` is no standard deviation; expected more than 0 and at most 5 m")]
    Sigma(Excerpt),
    /// A standard deviation that no reading of a job has.
    #[error(
        "sigma: {0} m is beyond 0.5 m: a reading that may be off by more is no reading; write \"{0} mm\" if that is meant"
    )]
    LargeSigma(String),
    /// Problems that are not told.
    #[error("and {0} more problems")]
    More(usize),
}

/// Where a standard deviation of a reading is too large to be one in a job.
pub fn unlikely_sigmas(readings: &[FileReading]) -> Vec<ReadingsError> {
    let large = readings.iter().filter(|it| it.stated > MOST_SIGMA_OF_JOB);
    let large = large.map(|it| {
        let exact = it.stated.exact_metres();
        at(it.line.into(), 1, ReadingsProblem::LargeSigma(exact))
    });
    large.collect()
}

/// Reads a file of readings; bare numbers are in `unit`. All problems are told together.
pub fn read_readings(text: &str, unit: Unit) -> Result<Vec<FileReading>, Vec<ReadingsError>> {
    // Line ends as other systems write them, so that lines are counted as a person counts them.
    let text = text.trim_start_matches('\u{feff}').replace("\r\n", "\n");
    let text = text.replace('\r', "\n");
    let mut reader = ReaderBuilder::new()
        .has_headers(false)
        .flexible(true)
        .trim(csv::Trim::All)
        .from_reader(text.as_bytes());
    let mut rows = reader.records();
    let header = match rows.next() {
        None => return Err(vec![at(1, 1, ReadingsProblem::Empty)]),
        Some(header) => header.map_err(|error| vec![row_error(&error)])?,
    };
    if let ([only], Some(sign)) = (
        header.iter().collect::<Vec<_>>().as_slice(),
        header
            .iter()
            .find_map(|it| it.find([';', '\t']).and_then(|at| it.get(at..=at))),
    ) {
        let what = ReadingsProblem::NotCommas(Excerpt::of(only), sign == "\t");
        return Err(vec![at(1, 1, what)]);
    }
    let columns = Columns::of(&header)?;
    let (mut readings, mut problems) = (Vec::new(), Vec::new());
    let mut written = Vec::new();
    for row in rows {
        match row {
            Ok(row) if row.iter().all(str::is_empty) => {}
            Ok(row) => match columns.reading(&row, unit) {
                Ok(reading) => {
                    readings.push(reading);
                    written.push(columns.written(&row));
                }
                Err(found) => problems.extend(found),
            },
            Err(error) => problems.push(row_error(&error)),
        }
    }
    if problems.is_empty() {
        let first = repeated(&written);
        let lines: Vec<u32> = readings.iter().map(|it| it.line).collect();
        for (reading, first) in readings.iter_mut().zip(first) {
            reading.repeats = first.and_then(|it| lines.get(it).copied());
        }
        return Ok(readings);
    }
    let more = problems.len().saturating_sub(MOST_PROBLEMS);
    problems.truncate(MOST_PROBLEMS);
    if let (true, Some(last)) = (more > 0, problems.last().cloned()) {
        problems.push(ReadingsError {
            what: ReadingsProblem::More(more),
            ..last
        });
    }
    Err(problems)
}

const fn at(line: u64, column: usize, what: ReadingsProblem) -> ReadingsError {
    ReadingsError { line, column, what }
}

fn row_error(error: &csv::Error) -> ReadingsError {
    let line = error.position().map_or(1, csv::Position::line);
    at(line, 1, ReadingsProblem::Row(error.to_string()))
}

/// Where each heading is.
struct Columns {
    needed: [usize; 4],
    how: Option<usize>,
    time: Option<usize>,
    count: usize,
}

impl Columns {
    fn of(header: &StringRecord) -> Result<Self, Vec<ReadingsError>> {
        let names: Vec<String> = header.iter().map(str::to_lowercase).collect();
        let mut problems = Vec::new();
        for (column, name) in names.iter().enumerate() {
            let is_known = NEEDED.iter().chain(&OPTIONAL).any(|it| it == name);
            let is_again = names.iter().take(column).any(|it| it == name);
            if !is_known || is_again {
                let what = ReadingsProblem::Heading(Excerpt::of(name));
                problems.push(at(1, column + 1, what));
            }
        }
        let place = |wanted: &str| names.iter().position(|it| it == wanted);
        let mut needed = [0; 4];
        for (place_of, name) in needed.iter_mut().zip(NEEDED) {
            match place(name) {
                Some(column) => *place_of = column,
                None => problems.push(at(1, names.len() + 1, ReadingsProblem::Missing(name))),
            }
        }
        if problems.is_empty() {
            Ok(Self {
                needed,
                how: place("how"),
                time: place("time"),
                count: names.len(),
            })
        } else {
            Err(problems)
        }
    }

    /// A row as it is written, for finding it again.
    fn written(&self, row: &StringRecord) -> Written {
        let time = self.time.and_then(|it| row.get(it)).unwrap_or_default();
        Written {
            has_hour: time.contains(':'),
            cells: row.iter().collect::<Vec<_>>().join("\n"),
        }
    }

    fn reading(&self, row: &StringRecord, unit: Unit) -> Result<FileReading, Vec<ReadingsError>> {
        let line = row.position().map_or(0, csv::Position::line);
        let [from, to, rise, sigma] = self.needed;
        let cell = |column: usize| row.get(column).unwrap_or_default();
        let mut problems = Vec::new();
        // A quote that is opened and not closed takes the lines below it into its cell.
        if let Some(column) = row.iter().position(|it| it.contains('\n')) {
            return Err(vec![at(line, column + 1, ReadingsProblem::OpenQuote)]);
        }
        if row.len() > self.count {
            let what = ReadingsProblem::CellTooMany(Excerpt::of(cell(self.count)));
            problems.push(at(line, self.count + 1, what));
        }
        for (column, heading) in [(from, "from"), (to, "to")] {
            if cell(column).is_empty() {
                problems.push(at(line, column + 1, ReadingsProblem::NoPoint(heading)));
            }
        }
        if cell(from) == cell(to) && !cell(from).is_empty() {
            let what = ReadingsProblem::Itself(Excerpt::of(cell(from)));
            problems.push(at(line, to + 1, what));
        }
        let rules = ParseOptions {
            bare: Some(unit),
            ..ParseOptions::default()
        };
        let mut length = |column: usize, heading: &'static str| {
            if cell(column).contains(',') {
                let what = ReadingsProblem::Comma(heading, Excerpt::of(cell(column)));
                problems.push(at(line, column + 1, what));
                return None;
            }
            let read = read_length(cell(column), &rules);
            read.map(|it| it.length)
                .map_err(|error| {
                    let what = ReadingsProblem::Length { heading, error };
                    problems.push(at(line, column + 1, what));
                })
                .ok()
        };
        let (read_rise, read_sigma) = (length(rise, "rise"), length(sigma, "sigma"));
        if read_rise.is_some_and(|it| it.abs() > MOST_RISE) {
            let what = ReadingsProblem::Rise(Excerpt::of(cell(rise)));
            problems.push(at(line, rise + 1, what));
        }
        if read_sigma.is_some_and(|it| it <= Length::ZERO || it > MOST_SIGMA) {
            let what = ReadingsProblem::Sigma(Excerpt::of(cell(sigma)));
            problems.push(at(line, sigma + 1, what));
        }
        match (read_rise, read_sigma) {
            (Some(rise), Some(stated)) if problems.is_empty() => Ok(FileReading {
                line: u32::try_from(line).unwrap_or(u32::MAX),
                from: visible(cell(from)).into_owned(),
                to: visible(cell(to)).into_owned(),
                rise,
                stated,
                how: self
                    .how
                    .map(cell)
                    .filter(|it| !it.is_empty())
                    .map(str::to_owned),
                repeats: None,
            }),
            _ => Err(problems),
        }
    }
}
