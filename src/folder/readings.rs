//! Files of readings, read from the disk.

use std::fmt;
use std::path::{Path, PathBuf};

use super::files::read_bytes;
use super::inside::inside;
use crate::journal::Inputs;
use crate::levels::{FileReading, ReadingsError, read_readings};
use crate::measure::Unit;
use crate::tally::import::Problem;

/// The name of the file of readings in a job's folder.
pub const READINGS: &str = "readings.csv";

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
            WhyNotRead::Bytes(problem) => write!(f, "{file}: {problem}"),
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
    let fail = |why| ReadingsFileError {
        file: path.to_owned(),
        why,
    };
    let bytes = read_bytes(path).map_err(|problem| fail(WhyNotRead::Bytes(Box::new(problem))))?;
    let text = std::str::from_utf8(&bytes).map_err(|error| {
        let before = bytes.iter().take(error.valid_up_to());
        let line = before.filter(|byte| **byte == b'\n').count() + 1;
        fail(WhyNotRead::NotUtf8(line))
    })?;
    read_readings(text, unit).map_err(|problems| fail(WhyNotRead::Rows(problems)))
}

/// The readings beside a job; none where it has no such file.
pub fn job_readings(inputs: &Inputs) -> Result<Vec<FileReading>, ReadingsFileError> {
    let path = inside(&inputs.root, Path::new(READINGS)).map_err(|error| ReadingsFileError {
        file: inputs.root.join(READINGS),
        why: WhyNotRead::Outside(error.to_string()),
    })?;
    if path.exists() {
        read_readings_file(&path, inputs.job.units)
    } else {
        Ok(Vec::new())
    }
}
