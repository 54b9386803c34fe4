//! What is wrong with one file: problems as they are found, and all of them together.

use std::fmt;
use std::path::{Path, PathBuf};

use super::error::Problem;
use crate::measure::visible;

/// Most problems of one file that are reported; a file that is wrong throughout says so once.
const MOST: usize = 40;

/// All that keeps one file from being read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ReadError {
    /// The file.
    pub file: PathBuf,
    /// What is wrong, in the order of the file.
    pub problems: Vec<Problem>,
}

impl ReadError {
    /// Problems of a file.
    pub fn new(file: &Path, problems: Vec<Problem>) -> Self {
        Self {
            file: file.to_owned(),
            problems,
        }
    }
}

impl fmt::Display for ReadError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (index, problem) in self.problems.iter().enumerate() {
            let end = if index == 0 { "" } else { "\n" };
            let file = self.file.to_string_lossy();
            write!(f, "{end}{}: {problem}", visible(&file))?;
        }
        Ok(())
    }
}

impl std::error::Error for ReadError {}

/// After how many problems a file is not read on.
const TOO_MANY: usize = 100_000;

/// Problems as they are found, with a bound on how many are kept.
#[derive(Debug, Default)]
pub(super) struct Problems {
    kept: Vec<Problem>,
    more: usize,
}

impl Problems {
    pub(super) fn push(&mut self, problem: impl Into<Problem>) {
        if self.kept.len() < MOST {
            self.kept.push(problem.into());
        } else {
            self.more += 1;
        }
    }

    /// Whether there are so many that it is no use to look for more.
    pub(super) const fn are_too_many(&self) -> bool {
        self.more >= TOO_MANY
    }

    pub(super) fn is_empty(&self) -> bool {
        self.kept.is_empty()
    }

    /// Nothing, or all that was found so far.
    pub(super) fn or_stop(&mut self) -> Result<(), Vec<Problem>> {
        std::mem::take(self).into_result()
    }

    pub(super) fn into_result(mut self) -> Result<(), Vec<Problem>> {
        if self.more > 0 {
            self.kept.push(if self.are_too_many() {
                Problem::AtLeast(self.more)
            } else {
                Problem::More(self.more)
            });
        }
        if self.kept.is_empty() {
            Ok(())
        } else {
            Err(self.kept)
        }
    }
}
