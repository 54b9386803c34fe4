//! Files of readings, read from the disk.

use std::fmt;
use std::path::{Path, PathBuf};

use super::files::{ROWS, read_within};
use super::inside::inside;
use crate::journal::SourceFile;
use crate::levels::{FileReading, READINGS, ReadingsError, read_readings, unlikely_sigmas};
use crate::measure::Unit;
use crate::tally::import::Problem;

/// Why a file of readings cannot be used.
#[derive(Clone, Debug)]
pub struct ReadingsFileError {
    /// The file.
    pub file: PathBuf,
    /// Why.
    pub why: WhyNotRead,
}

/// Why a file of readings is not read.
#[derive(Clone, Debug)]
pub enum WhyNotRead {
    /// Its bytes cannot be read.
    Bytes(Box<Problem>),
    /// It lies outside the job's folder, in the words of the error.
    Outside(String),
    /// It is not UTF-8: the first line that is not.
    NotUtf8(usize),
    /// What is wrong with it.
    Rows(Vec<ReadingsError>),
}

impl fmt::Display for ReadingsFileError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let file = self.file.display();
        match &self.why {
            WhyNotRead::Bytes(problem) => match &**problem {
                Problem::IsFolder | Problem::NotAFile => {
                    write!(f, "{file}: is no plain file; expected a file of readings")
                }
                other => write!(f, "{file}: {other}"),
            },
            WhyNotRead::Outside(reason) => write!(f, "{file}: {reason}"),
            WhyNotRead::NotUtf8(line) => {
                write!(
                    f,
                    "{file}: line {line} is not UTF-8; expected text in UTF-8"
                )
            }
            WhyNotRead::Rows(problems) => {
                for (at, problem) in problems.iter().enumerate() {
                    let before = if at == 0 { "" } else { "\n" };
                    write!(f, "{before}{file}: {problem}")?;
                }
                Ok(())
            }
        }
    }
}

impl std::error::Error for ReadingsFileError {}

/// Reads a file of readings; bare numbers are in `unit`.
pub fn read_readings_file(path: &Path, unit: Unit) -> Result<Vec<FileReading>, ReadingsFileError> {
    read_file(path, unit).map(|(readings, _)| readings)
}

/// Reads a file of readings, with its bytes.
fn read_file(path: &Path, unit: Unit) -> Result<(Vec<FileReading>, Vec<u8>), ReadingsFileError> {
    let fail = |why| ReadingsFileError {
        file: path.to_owned(),
        why,
    };
    let bytes =
        read_within(path, ROWS).map_err(|problem| fail(WhyNotRead::Bytes(Box::new(problem))))?;
    let text = std::str::from_utf8(&bytes).map_err(|error| {
        let before = bytes.iter().take(error.valid_up_to());
        let line = before.filter(|byte| **byte == b'\n').count() + 1;
        fail(WhyNotRead::NotUtf8(line))
    })?;
    let readings = read_readings(text, unit);
    let readings = readings.map_err(|problems| fail(WhyNotRead::Rows(problems)))?;
    Ok((readings, bytes))
}

/// The readings beside a job, whose bare numbers are in its units; none where it has no such file.
pub(super) fn read_beside(
    root: &Path,
    unit: Unit,
    sources: &mut Vec<SourceFile>,
) -> Result<Vec<FileReading>, ReadingsFileError> {
    let path = inside(root, Path::new(READINGS)).map_err(|error| ReadingsFileError {
        file: root.join(READINGS),
        why: WhyNotRead::Outside(error.to_string()),
    })?;
    if !path.exists() {
        return Ok(Vec::new());
    }
    let (readings, bytes) = read_file(&path, unit)?;
    let large = unlikely_sigmas(&readings);
    if !large.is_empty() {
        return Err(ReadingsFileError {
            file: path,
            why: WhyNotRead::Rows(large),
        });
    }
    sources.push(SourceFile::of(READINGS, &bytes));
    Ok(readings)
}
