//! All that figures are derived from, as one value: the job, the tallies of record, the other lists of
//! each string with what was decided of them, and the digest of every file read.

use std::fmt::Write as _;
use std::path::PathBuf;

use sha2::{Digest, Sha256};

use super::list_error::{DecisionsUnreadable, TornLine};
use super::model::Job;
use crate::reconcile::Decision;
use crate::tally::{ReadError, Tally};

/// A file that figures are derived from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SourceFile {
    /// Its path relative to the folder, with `/` between its parts.
    pub name: String,
    /// The SHA-256 of its bytes, in hexadecimal.
    pub sha256: String,
}

impl SourceFile {
    /// A file with these bytes.
    pub fn of(name: impl Into<String>, bytes: &[u8]) -> Self {
        Self {
            name: name.into(),
            sha256: sha256(bytes),
        }
    }
}

/// Another list of a slot's string, to be reconciled with the tally of record.
#[derive(Clone, Debug)]
pub struct OtherList {
    /// What the job calls it.
    pub name: String,
    /// The file, relative to the folder.
    pub path: PathBuf,
    /// What it says, or why it cannot be read: only the comparison depends on it.
    pub tally: Result<Tally, ReadError>,
    /// The SHA-256 of its bytes; blank where they could not be read.
    pub sha256: String,
    /// What was decided so far; nothing where that cannot be read.
    pub decisions: Vec<Decision>,
    /// Why the decisions cannot be read, where they cannot.
    pub decisions_problem: Option<DecisionsUnreadable>,
    /// The last line of the decisions, where it was cut off.
    pub decisions_torn: Option<TornLine>,
}

/// A job with its tallies as they were read, in one moment, from its folder.
#[derive(Clone, Debug)]
pub struct Inputs {
    /// The job's folder.
    pub root: PathBuf,
    /// The job.
    pub job: Job,
    /// The tally of record of each slot, in the order of the job's slots.
    pub tallies: Vec<Tally>,
    /// The other lists of each slot's string, in the order of the job file.
    pub lists: Vec<Vec<OtherList>>,
    /// The files read, the job file first.
    pub sources: Vec<SourceFile>,
    /// Files that are there and are not used: name and why.
    pub not_used: Vec<(&'static str, &'static str)>,
}

impl Inputs {
    /// A digest of all inputs: twelve hexadecimal digits that differ when any file does.
    pub fn digest(&self) -> String {
        let mut all = Sha256::new();
        for source in &self.sources {
            all.update(source.name.as_bytes());
            all.update([0]);
            all.update(source.sha256.as_bytes());
            all.update([b'\n']);
        }
        hexadecimal(&all.finalize()).chars().take(12).collect()
    }
}

/// The SHA-256 of some bytes, in hexadecimal: what `sha256sum` prints.
pub fn sha256(bytes: &[u8]) -> String {
    hexadecimal(&Sha256::digest(bytes))
}

fn hexadecimal(bytes: &[u8]) -> String {
    bytes
        .iter()
        .fold(String::with_capacity(bytes.len() * 2), |mut text, byte| {
            let _ = write!(text, "{byte:02x}");
            text
        })
}
