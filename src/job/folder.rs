//! The door to a job's folder: the job file, the tallies of record, and what else lies there.

use std::fmt::{self, Write as _};
use std::path::{Path, PathBuf};

use sha2::{Digest, Sha256};

use super::model::Job;
use super::problem::JobProblem;
use super::read::parse;
use crate::measure::Unit;
use crate::reconcile::{Decision, read_decisions};
use crate::tally::{self, ReadError, Tally};

/// The name of the job file in its folder.
const JOB_FILE: &str = "job.toml";

/// Files of the folder that a later program may use and this one does not.
const NOT_USED: [(&str, &str); 2] = [
    ("readings.csv", "readings are not used by this version"),
    ("journal.jsonl", "the journal is not used by this version"),
];

/// A file that figures are derived from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Source {
    /// Its path relative to the folder.
    pub name: String,
    /// The SHA-256 of its bytes, in hexadecimal.
    pub sha256: String,
}

/// Another list of a slot's string, to be reconciled with the tally of record.
#[derive(Clone, Debug)]
pub struct OtherList {
    /// What the job calls it.
    pub name: String,
    /// The file, relative to the folder.
    pub path: PathBuf,
    /// What it says, or why it cannot be read: nothing but the comparison hangs on it.
    pub tally: Result<Tally, String>,
    /// The SHA-256 of its bytes; blank where they could not be read.
    pub sha256: String,
    /// What was decided so far; nothing where that cannot be read.
    pub decisions: Vec<Decision>,
    /// Why the decisions cannot be read, where they cannot.
    pub decisions_problem: Option<String>,
}

/// A job with its tallies, read from disk.
#[derive(Clone, Debug)]
pub struct Folder {
    /// The folder.
    pub root: PathBuf,
    /// The job.
    pub job: Job,
    /// The tally of record of each slot.
    pub tallies: Vec<Tally>,
    /// The other lists of each slot's string, in the order of the job file.
    pub lists: Vec<Vec<OtherList>>,
    /// The files read, the job file first.
    pub sources: Vec<Source>,
    /// Files that are there and are not used: name and why.
    pub not_used: Vec<(&'static str, &'static str)>,
}

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

impl Folder {
    /// Opens a job, named by its folder or by its `job.toml`.
    pub fn open(path: &Path) -> Result<Self, OpenError> {
        let (root, file) = Self::locate(path);
        let unreadable = |reason: String| OpenError::Unreadable {
            file: file.clone(),
            reason,
        };
        if !root.exists() {
            return Err(unreadable(
                "there is no such folder or file; expected a job folder or its job.toml".to_owned(),
            ));
        }
        let bytes = tally::read::load(&file).map_err(|problem| match problem {
            tally::read::Problem::Unreadable { reason } => unreadable(format!(
                "cannot be read: {reason}; expected a job file (`kerfmark new DIR` makes one)"
            )),
            other => unreadable(other.to_string()),
        })?;
        let text = std::str::from_utf8(&bytes).map_err(|error| {
            let line = bytes
                .iter()
                .take(error.valid_up_to())
                .filter(|byte| **byte == b'\n')
                .count()
                + 1;
            unreadable(format!(
                "line {line} is not UTF-8; expected a TOML file in UTF-8"
            ))
        })?;
        let text = text.strip_prefix('\u{feff}').unwrap_or(text);
        let job = parse(text).map_err(|problems| OpenError::Job {
            file: file.clone(),
            problems,
        })?;
        let mut sources = vec![source(JOB_FILE, &bytes)];
        let mut tallies = Vec::with_capacity(job.slots.len());
        let mut errors = Vec::new();
        for slot in &job.slots {
            let path = root.join(&slot.tally);
            match read_inside(&root, &path, &slot.read) {
                Ok((tally, bytes)) => {
                    let name = slot.tally.to_string_lossy().into_owned();
                    if !sources.iter().any(|source| source.name == name) {
                        sources.push(source(&name, &bytes));
                    }
                    tallies.push(tally);
                }
                Err(problems) => errors.push(TallyError {
                    slot: slot.name.clone(),
                    job_file: file.clone(),
                    at: slot.tally_at,
                    error: ReadError::new(&path, problems),
                }),
            }
        }
        if !errors.is_empty() {
            return Err(OpenError::Tallies(errors));
        }
        let lists = Self::read_lists(&root, &job, &mut sources);
        let not_used = NOT_USED
            .into_iter()
            .filter(|(name, _)| root.join(name).exists())
            .collect();
        Ok(Self {
            root,
            job,
            tallies,
            lists,
            sources,
            not_used,
        })
    }

    /// Reads the other lists of every string, and what was decided on them. What cannot be read of
    /// either is no error of the job, whose figures do not hang on it; it is flagged.
    fn read_lists(root: &Path, job: &Job, sources: &mut Vec<Source>) -> Vec<Vec<OtherList>> {
        let mut all = Vec::with_capacity(job.slots.len());
        for slot in &job.slots {
            let mut lists = Vec::with_capacity(slot.lists.len());
            for (name, path) in &slot.lists {
                let file = root.join(path);
                // What the file itself says first; then the slot's own answers to the reader's questions.
                let own = tally::Options {
                    job_units: slot.read.job_units,
                    ..tally::Options::default()
                };
                let read = read_inside(root, &file, &own)
                    .or_else(|problems| read_inside(root, &file, &slot.read).map_err(|_| problems));
                let mut sha256 = String::new();
                let tally = match read {
                    Ok((tally, bytes)) => {
                        let source = source(&path.to_string_lossy(), &bytes);
                        sha256.clone_from(&source.sha256);
                        if !sources.contains(&source) {
                            sources.push(source);
                        }
                        Ok(tally)
                    }
                    Err(problems) => Err(ReadError::new(path, problems).to_string()),
                };
                let read = Self::read_decisions(root, &slot.name, name, sources);
                let (decisions, decisions_problem) = match read {
                    Ok(decisions) => (decisions, None),
                    Err(reason) => (Vec::new(), Some(reason)),
                };
                lists.push(OtherList {
                    name: name.clone(),
                    path: path.clone(),
                    tally,
                    sha256,
                    decisions,
                    decisions_problem,
                });
            }
            all.push(lists);
        }
        all
    }

    fn read_decisions(
        root: &Path,
        slot: &str,
        list: &str,
        sources: &mut Vec<Source>,
    ) -> Result<Vec<Decision>, String> {
        let name = Self::decisions_file(slot, list);
        let file = root.join(&name);
        if !file.exists() {
            return Ok(Vec::new());
        }
        let place = |reason: String| format!("{}: {reason}", name.display());
        let bytes = tally::read::load(&file).map_err(|problem| place(problem.to_string()))?;
        let text = std::str::from_utf8(&bytes)
            .map_err(|_| place("it is not UTF-8; expected a file of decisions".to_owned()))?;
        let decisions = read_decisions(text, Unit::Metre).map_err(|problems| {
            let lines: Vec<String> = problems.iter().map(ToString::to_string).collect();
            place(lines.join("; "))
        })?;
        sources.push(source(&name.to_string_lossy(), &bytes));
        Ok(decisions)
    }

    /// Where the decisions between a slot's tally of record and another list are kept, relative to the
    /// folder.
    pub fn decisions_file(slot: &str, list: &str) -> PathBuf {
        // Names may hold anything; a file's name may not.
        let plain = |name: &str| -> String {
            let plain: String = name
                .chars()
                .map(|c| if c.is_alphanumeric() { c } else { '_' })
                .collect();
            if plain == name {
                plain
            } else {
                // Two names must not come to one file.
                let digest: String = sha256(name.as_bytes()).chars().take(8).collect();
                format!("{plain}_{digest}")
            }
        };
        Path::new("decisions").join(format!("{}-{}.csv", plain(slot), plain(list)))
    }

    /// The folder and the job file that a JOB argument names.
    pub fn locate(path: &Path) -> (PathBuf, PathBuf) {
        if path.is_dir() {
            return (path.to_owned(), path.join(JOB_FILE));
        }
        let root = path
            .parent()
            .filter(|parent| !parent.as_os_str().is_empty())
            .unwrap_or(Path::new("."));
        (root.to_owned(), path.to_owned())
    }

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

    /// The files whose change makes the figures old.
    pub fn watched(&self) -> Vec<PathBuf> {
        self.sources
            .iter()
            .map(|source| self.root.join(&source.name))
            .collect()
    }
}

fn source(name: &str, bytes: &[u8]) -> Source {
    Source {
        name: name.to_owned(),
        sha256: sha256(bytes),
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

/// Reads a tally whose path, links followed, stays in the folder.
fn read_inside(
    root: &Path,
    path: &Path,
    options: &tally::Options,
) -> Result<(Tally, Vec<u8>), Vec<tally::read::Problem>> {
    let leaves = match (root.canonicalize(), path.canonicalize()) {
        (Ok(root), Ok(path)) => !path.starts_with(root),
        // What cannot be resolved cannot be read either, and that error says more.
        _ => false,
    };
    if leaves {
        let reason = "it is a link that leaves the job's folder".to_owned();
        return Err(vec![tally::read::Problem::Unreadable { reason }]);
    }
    let bytes = tally::read::load(path).map_err(|problem| vec![problem])?;
    let tally = tally::read::read(&bytes, options)?;
    Ok((tally, bytes))
}
