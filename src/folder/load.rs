//! Reading a job: the job file, the tallies of record, and what else lies in its folder.

use std::path::{Path, PathBuf};

use super::error::{JobFileError, OpenError, TallyError};
use super::files::read_bytes;
use super::inside::inside;
use super::store::{split_torn, torn_file};
use crate::job::{
    DecisionsUnreadable, Inputs, Job, ListSource, OtherList, SourceFile, TornLine, name_of, parse,
    sha256,
};
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

/// What reading a job came to.
pub(super) struct JobReading {
    /// Every file that it names, as far as its job file could be read, whether it is there or not.
    pub(super) files: Vec<PathBuf>,
    /// The job with its tallies, or why it cannot be opened.
    pub(super) inputs: Result<Inputs, OpenError>,
}

/// Opens a job, named by its folder or by its `job.toml`.
pub fn open(path: &Path) -> Result<Inputs, OpenError> {
    read_job(path).inputs
}

/// Reads a job, named by its folder or by its `job.toml`.
pub(super) fn read_job(path: &Path) -> JobReading {
    let (root, file) = locate(path);
    match read_job_file(&root, &file) {
        Ok((job, source)) => JobReading {
            files: named(&root, &file, &job),
            inputs: read_named(root, &file, job, source),
        },
        Err(error) => JobReading {
            files: vec![file],
            inputs: Err(error),
        },
    }
}

/// Every file that a job names, and those of its folder that have a fixed name.
fn named(root: &Path, file: &Path, job: &Job) -> Vec<PathBuf> {
    let mut files = vec![file.to_owned()];
    for slot in &job.slots {
        files.push(root.join(&slot.tally));
        for list in &slot.lists {
            files.push(root.join(&list.path));
            files.push(root.join(decisions_file(&slot.name, &list.name)));
        }
    }
    files.extend(NOT_USED.map(|(name, _)| root.join(name)));
    files
}

fn read_job_file(root: &Path, file: &Path) -> Result<(Job, SourceFile), OpenError> {
    let unreadable = |error| OpenError::Unreadable {
        file: file.to_owned(),
        error: Box::new(error),
    };
    if !root.exists() {
        return Err(unreadable(JobFileError::NotThere));
    }
    let bytes = read_bytes(file).map_err(|problem| unreadable(JobFileError::Bytes(problem)))?;
    let text = std::str::from_utf8(&bytes).map_err(|error| {
        let line = bytes
            .iter()
            .take(error.valid_up_to())
            .filter(|byte| **byte == b'\n')
            .count()
            + 1;
        unreadable(JobFileError::NotUtf8 { line })
    })?;
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let job = parse(text).map_err(|problems| OpenError::Job {
        file: file.to_owned(),
        problems,
    })?;
    Ok((job, SourceFile::of(JOB_FILE, &bytes)))
}

/// Reads what a job names.
fn read_named(
    root: PathBuf,
    file: &Path,
    job: Job,
    source: SourceFile,
) -> Result<Inputs, OpenError> {
    let mut sources = vec![source];
    let mut tallies = Vec::with_capacity(job.slots.len());
    let mut errors = Vec::new();
    for slot in &job.slots {
        let path = root.join(&slot.tally);
        match read_inside(&root, &path, &slot.read) {
            Ok((tally, bytes)) => {
                let name = name_of(&slot.tally);
                if !sources.iter().any(|source| source.name == name) {
                    sources.push(SourceFile::of(name, &bytes));
                }
                tallies.push(tally);
            }
            Err(problems) => errors.push(TallyError {
                slot: slot.name.clone(),
                job_file: file.to_owned(),
                at: slot.tally_at,
                error: ReadError::new(&path, problems),
            }),
        }
    }
    if !errors.is_empty() {
        return Err(OpenError::Tallies(errors));
    }
    let lists = read_lists(&root, &job, &mut sources);
    let not_used = NOT_USED
        .into_iter()
        .filter(|(name, _)| root.join(name).exists())
        .collect();
    Ok(Inputs {
        root,
        job,
        tallies,
        lists,
        sources,
        not_used,
    })
}

/// Reads the other lists of every string, and what was decided on them. What cannot be read of
/// either is no error of the job, whose figures do not depend on it; it is flagged.
fn read_lists(root: &Path, job: &Job, sources: &mut Vec<SourceFile>) -> Vec<Vec<OtherList>> {
    let mut all = Vec::with_capacity(job.slots.len());
    for slot in &job.slots {
        let mut lists = Vec::with_capacity(slot.lists.len());
        for ListSource { name, path, .. } in &slot.lists {
            let file = root.join(path);
            // What the file itself says first; then the slot's own answers to the reader's questions.
            let own = tally::Options {
                job_units: slot.read.job_units,
                least_loss: slot.read.least_loss,
                pins_up: slot.read.pins_up,
                ..tally::Options::default()
            };
            let read = read_inside(root, &file, &own)
                .or_else(|problems| read_inside(root, &file, &slot.read).map_err(|_| problems));
            let mut sha256 = String::new();
            let tally = match read {
                Ok((tally, bytes)) => {
                    let source = SourceFile::of(name_of(path), &bytes);
                    sha256.clone_from(&source.sha256);
                    if !sources.contains(&source) {
                        sources.push(source);
                    }
                    Ok(tally)
                }
                Err(problems) => Err(ReadError::new(path, problems)),
            };
            let mut decisions_torn = None;
            let read = read_decided(root, &slot.name, name, sources, &mut decisions_torn);
            let (decisions, decisions_problem) = match read {
                Ok(decisions) => (decisions, None),
                Err(error) => (Vec::new(), Some(error)),
            };
            lists.push(OtherList {
                name: name.clone(),
                path: path.clone(),
                tally,
                sha256,
                decisions,
                decisions_problem,
                decisions_torn,
            });
        }
        all.push(lists);
    }
    all
}

fn read_decided(
    root: &Path,
    slot: &str,
    list: &str,
    sources: &mut Vec<SourceFile>,
    torn: &mut Option<TornLine>,
) -> Result<Vec<Decision>, DecisionsUnreadable> {
    let name = decisions_file(slot, list);
    let unreadable = |reason: String| DecisionsUnreadable::File {
        file: name.clone(),
        reason,
    };
    let file = inside(root, &name).map_err(|error| unreadable(error.to_string()))?;
    if !file.exists() {
        return Ok(Vec::new());
    }
    let bytes = read_bytes(&file).map_err(|problem| unreadable(problem.to_string()))?;
    let (whole, piece) = split_torn(&bytes);
    if !piece.is_empty() {
        *torn = Some(TornLine {
            file: name.clone(),
            line: whole.split(|byte| *byte == b'\n').count(),
            moves_to: torn_file(&name),
        });
    }
    let text =
        std::str::from_utf8(whole).map_err(|_| DecisionsUnreadable::NotUtf8(name.clone()))?;
    let decisions = read_decisions(text, Unit::Metre).map_err(|problems| {
        let file = name.clone();
        DecisionsUnreadable::Rows { file, problems }
    })?;
    sources.push(SourceFile::of(name_of(&name), &bytes));
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

/// Reads a tally whose path, links followed, stays in the folder.
fn read_inside(
    root: &Path,
    path: &Path,
    options: &tally::Options,
) -> Result<(Tally, Vec<u8>), Vec<tally::import::Problem>> {
    let leaves = match (root.canonicalize(), path.canonicalize()) {
        (Ok(root), Ok(path)) => !path.starts_with(root),
        // What cannot be resolved cannot be read either, and that error says more.
        _ => false,
    };
    if leaves {
        return Err(vec![tally::import::Problem::LinkOut]);
    }
    let bytes = read_bytes(path).map_err(|problem| vec![problem])?;
    let tally = tally::import::read(&bytes, options)?;
    Ok((tally, bytes))
}
