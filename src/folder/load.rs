//! Reading a job: the job file, the tallies of record, and what else lies in its folder.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

use super::error::{AdoptError, JobFileError, OpenError, TallyError};
use super::files::{BY_HAND, ROWS, read_bytes, read_within};
use super::inside::inside;
use super::readings::read_beside;
use super::seen::Seen;
use super::store::{split_torn, torn_file};
use crate::figures::ReadNetwork;
use crate::job::{DecisionsUnreadable, Job, ListSource, Slot, TornLine, name_of, parse, path_of};
use crate::journal::{
    Event, Inputs, Journal, OtherList, Parts, SignedFile, SourceFile, adopted, sha256, struck,
};
use crate::levels::{FileReading, NetworkError, READINGS, adjust};
use crate::measure::{Excerpt, Unit};
use crate::reconcile::{Decision, read_decisions};
use crate::tally::import::MAX_FILE;
use crate::tally::{self, ReadError, Tally};

/// The name of the job file in its folder.
const JOB_FILE: &str = "job.toml";

/// The name of the journal in its folder.
pub(super) const JOURNAL: &str = "journal.jsonl";

/// The name of the file of those whose signatures count.
const SIGNERS: &str = "signers";

/// So many lines of a file are told of one thing.
const LINES_TOLD: usize = 10;

/// What reading a job came to.
pub(super) struct JobReading {
    /// Every file that it names, as far as its job file could be read, whether it is there or not.
    pub(super) seen: Seen,
    /// The job with its tallies, or why it cannot be opened.
    pub(super) inputs: Result<Inputs, OpenError>,
}

/// Opens a job, named by its folder or by its `job.toml`.
pub fn open(path: &Path) -> Result<Inputs, OpenError> {
    open_telling(path, &|_| {})
}

/// [`open`], told of each tally before it is read.
pub fn open_telling(path: &Path, told: &dyn Fn(&Path)) -> Result<Inputs, OpenError> {
    read_telling(path, told).inputs
}

/// [`open_telling`], with what is needed to [watch](super::Watch) the files from then on.
pub fn open_seen(path: &Path, told: &dyn Fn(&Path)) -> Result<(Inputs, Seen), OpenError> {
    let JobReading { seen, inputs } = read_telling(path, told);
    inputs.map(|inputs| (inputs, seen))
}

/// Reads a job, named by its folder or by its `job.toml`.
pub(super) fn read_job(path: &Path) -> JobReading {
    read_telling(path, &|_| {})
}

fn read_telling(path: &Path, told: &dyn Fn(&Path)) -> JobReading {
    let (root, file) = locate(path);
    let mut seen = Seen::default();
    seen.note(file.clone());
    let inputs = read_job_file(&root, &file).and_then(|(job, source)| {
        for named in named(&root, &job) {
            seen.note(named);
        }
        read_named(root, &file, (job, source), (told, &mut seen))
    });
    JobReading { seen, inputs }
}

/// Every file that a job names, and those of its folder that have a fixed name.
fn named(root: &Path, job: &Job) -> Vec<PathBuf> {
    let mut files = Vec::new();
    for slot in &job.slots {
        files.push(root.join(&slot.tally));
        for list in &slot.lists {
            files.push(root.join(&list.path));
            files.push(root.join(decisions_file(&slot.name, &list.name)));
        }
    }
    files.extend(job.pool.iter().map(|(path, _)| root.join(path)));
    files.extend([JOURNAL, SIGNERS, SIGNED, READINGS].map(|name| root.join(name)));
    files.extend(signed_paths(root).into_iter().flat_map(|name| {
        let signature = root.join(format!("{name}.sig"));
        [root.join(name), signature]
    }));
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
    let bytes =
        read_within(file, BY_HAND).map_err(|problem| unreadable(JobFileError::Bytes(problem)))?;
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

/// Reads what a job names, and its journal.
fn read_named(
    root: PathBuf,
    file: &Path,
    (job, source): (Job, SourceFile),
    (told, seen): (&dyn Fn(&Path), &mut Seen),
) -> Result<Inputs, OpenError> {
    let journal = read_journal(&root)?;
    for (_, path) in adopted_once(&journal) {
        seen.note(root.join(path));
    }
    let gone = struck(&journal.entries);
    let adopted = adopted(&journal, &gone);
    let mut sources = vec![source];
    let mut tallies = Vec::with_capacity(job.slots.len());
    let mut errors = Vec::new();
    for slot in &job.slots {
        told(&slot.tally);
        let adopted = adopted.get(slot.name.as_str());
        let read = match adopted.and_then(|name| path_of(name)) {
            Some(path) => {
                let full = root.join(&path);
                // A record says all of itself; the slot's answers are for the file of job.toml.
                let own = own_options(slot);
                read_inside(&root, &full, &own)
                    .or_else(|problems| read_inside(&root, &full, &slot.read).map_err(|_| problems))
                    .map_err(|problems| (path.clone(), problems))
                    .map(|read| (path, read))
            }
            None => read_inside(&root, &root.join(&slot.tally), &slot.read)
                .map_err(|problems| (slot.tally.clone(), problems))
                .map(|read| (slot.tally.clone(), read)),
        };
        match read {
            Ok((path, (tally, bytes))) => {
                let name = name_of(&path);
                if !sources.iter().any(|source| source.name == name) {
                    sources.push(SourceFile::of(name, &bytes));
                }
                tallies.push(tally);
            }
            Err((path, problems)) => errors.push(TallyError {
                of: Some(slot.name.clone()),
                job_file: file.to_owned(),
                at: slot.tally_at,
                error: ReadError::new(&root.join(path), problems),
            }),
        }
    }
    let pool = read_pool(&root, &job, &mut sources).unwrap_or_else(|(at, error)| {
        errors.push(TallyError {
            of: None,
            job_file: file.to_owned(),
            at,
            error,
        });
        None
    });
    if !errors.is_empty() {
        return Err(OpenError::Tallies(errors));
    }
    let readings = read_beside(&root, job.units, &mut sources)?;
    let tally_files = read_adopted_once(&root, &job, &journal, &mut sources);
    let lists = read_lists(&root, &job, &mut sources);
    let signers = read_optional(&root, SIGNERS)?;
    let signers = signers.map(|bytes| String::from_utf8_lossy(&bytes).into_owned());
    let signed_files = read_signed(&root);
    let inputs = Inputs::from(Parts {
        root,
        stated: job,
        journal,
        signers,
        signed_files,
        pool,
        tallies,
        tally_files,
        lists,
        sources,
        readings,
    });
    can_be_adjusted(&inputs)?;
    Ok(inputs)
}

/// Whether the readings beside a job, and what it states itself, give elevations at all. What was entered on top of
/// them is no error of a file: it is flagged.
fn can_be_adjusted(inputs: &Inputs) -> Result<(), OpenError> {
    if inputs.readings.is_empty() {
        return Ok(());
    }
    let of = |inputs: &Inputs| adjust(&ReadNetwork::of_job(inputs).network);
    let fails = of(inputs).is_err() && !inputs.journal.entries.is_empty();
    let checked = if fails {
        of(&inputs.as_of(0))
    } else {
        of(inputs)
    };
    checked.map(|_| ()).map_err(|why| OpenError::Levels {
        file: inputs.root.join(READINGS),
        lines: lines_of(&inputs.readings, &why),
        why: Box::new(why),
    })
}

/// The lines that name points tied to nothing.
fn lines_of(readings: &[FileReading], why: &NetworkError) -> Vec<u32> {
    let NetworkError::Untied(points) = why else {
        return Vec::new();
    };
    let of = readings
        .iter()
        .filter(|it| points.contains(&it.from) || points.contains(&it.to));
    of.map(|it| it.line).take(LINES_TOLD).collect()
}

/// The folder of signed statements.
pub(super) const SIGNED: &str = "signed";

/// The signed statements of a folder. One that cannot be read is as one that is not there: the journal
/// names it, and its signature counts for nothing.
pub(super) fn read_signed(root: &Path) -> Vec<SignedFile> {
    let mut files: Vec<SignedFile> = signed_paths(root)
        .into_iter()
        .filter_map(|name| {
            let path = inside(root, Path::new(&name)).ok()?;
            let text = read_within(&path, BY_HAND).ok()?;
            let signature = inside(root, Path::new(&format!("{name}.sig"))).ok()?;
            let signature = read_within(&signature, BY_HAND).ok();
            Some(SignedFile {
                name,
                text,
                signature: signature.and_then(|bytes| String::from_utf8(bytes).ok()),
            })
        })
        .collect();
    files.sort_by(|a, b| a.name.cmp(&b.name));
    files
}

/// The statements in the folder of signed statements, relative to the job's folder.
fn signed_paths(root: &Path) -> Vec<String> {
    let entries = fs::read_dir(root.join(SIGNED)).into_iter().flatten();
    entries
        .filter_map(|entry| entry.ok()?.file_name().into_string().ok())
        .filter(|name| Path::new(name).extension().is_some_and(|it| it == "txt"))
        .filter(|name| !name.starts_with('.'))
        .map(|name| format!("{SIGNED}/{name}"))
        .collect()
}

/// The journal of a folder; an empty one where there is none.
pub(super) fn read_journal(root: &Path) -> Result<Journal, OpenError> {
    let bytes = read_optional(root, JOURNAL)?;
    Ok(bytes.map_or_else(Journal::default, |bytes| Journal::read(&bytes)))
}

/// The bytes of a file of the folder that need not be there.
fn read_optional(root: &Path, name: &str) -> Result<Option<Vec<u8>>, OpenError> {
    let unreadable = |problem| OpenError::Unreadable {
        file: root.join(name),
        error: Box::new(JobFileError::Beside(problem)),
    };
    let file = inside(root, Path::new(name)).map_err(|error| {
        unreadable(tally::import::Problem::Unreadable {
            reason: error.to_string(),
        })
    })?;
    if !file.exists() {
        return Ok(None);
    }
    // What was entered must be there to be read, however much it is.
    let most = if name == JOURNAL { MAX_FILE } else { BY_HAND };
    read_within(&file, most).map(Some).map_err(unreadable)
}

/// The slot and the file of every tally of record that a journal adopted.
fn adopted_once(journal: &Journal) -> impl Iterator<Item = (&str, PathBuf)> {
    let entries = journal.entries.iter();
    entries.filter_map(|entry| match &entry.event {
        Event::TallyOfRecord { slot, file, .. } => path_of(file).map(|path| (slot.as_str(), path)),
        _ => None,
    })
}

/// Every file that is or was a tally of record, where the journal adopted one: what was signed before rests on
/// the tally of its time. One that cannot be read any more is left out.
fn read_adopted_once(
    root: &Path,
    job: &Job,
    journal: &Journal,
    sources: &mut Vec<SourceFile>,
) -> BTreeMap<String, Tally> {
    let mut names: Vec<(&str, PathBuf)> = adopted_once(journal).collect();
    if names.is_empty() {
        return BTreeMap::new();
    }
    let stated = job.slots.iter();
    names.extend(stated.map(|slot| (slot.name.as_str(), slot.tally.clone())));
    let mut files = BTreeMap::new();
    for (slot, path) in names {
        let Some(slot) = job.slots.iter().find(|it| it.name == slot) else {
            continue;
        };
        let full = root.join(&path);
        let own = own_options(slot);
        let read = if path == slot.tally {
            read_inside(root, &full, &slot.read)
        } else {
            read_inside(root, &full, &own).or_else(|_| read_inside(root, &full, &slot.read))
        };
        if let Ok((tally, bytes)) = read {
            let source = SourceFile::of(name_of(&path), &bytes);
            if !sources.contains(&source) {
                sources.push(source);
            }
            files.insert(name_of(&path), tally);
        }
    }
    files
}

/// The tally that a file of the folder is, if it may be adopted for a slot and has this digest; else why not.
pub(super) fn read_adopted(
    inputs: &Inputs,
    slot: &str,
    name: &str,
    digest: &str,
) -> Result<Tally, AdoptError> {
    let path = path_of(name).ok_or_else(|| AdoptError::Path(Excerpt::of(name)))?;
    let full = inputs.root.join(&path);
    let mut slots = inputs.stated.slots.iter();
    let options = slots.find(|it| it.name == slot).map(own_options);
    let read = read_inside(&inputs.root, &full, &options.unwrap_or_default());
    let (tally, bytes) = read.map_err(|problems| ReadError::new(&path, problems))?;
    let found = sha256(&bytes);
    if found == digest {
        return Ok(tally);
    }
    Err(AdoptError::Other {
        file: Excerpt::of(name),
        found,
        said: digest.to_owned(),
    })
}

/// Reads the list of the pipe on deck, where the job names one.
fn read_pool(
    root: &Path,
    job: &Job,
    sources: &mut Vec<SourceFile>,
) -> Result<Option<Tally>, ((usize, usize), ReadError)> {
    let Some((path, at)) = &job.pool else {
        return Ok(None);
    };
    let options = tally::Options {
        job_units: Some(job.units),
        ..tally::Options::default()
    };
    let file = root.join(path);
    let read = read_inside(root, &file, &options);
    let (tally, bytes) = read.map_err(|problems| (*at, ReadError::new(&file, problems)))?;
    let source = SourceFile::of(name_of(path), &bytes);
    if !sources.contains(&source) {
        sources.push(source);
    }
    Ok(Some(tally))
}

/// What is known of any list of a slot's string, without the answers to questions of one file.
fn own_options(slot: &Slot) -> tally::Options {
    tally::Options {
        job_units: slot.read.job_units,
        least_loss: slot.read.least_loss,
        pins_up: slot.read.pins_up,
        ..tally::Options::default()
    }
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
            let own = own_options(slot);
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
            let (in_file, decisions_problem) = match read {
                Ok(decisions) => (decisions, None),
                Err(error) => (Vec::new(), Some(error)),
            };
            lists.push(OtherList {
                name: name.clone(),
                path: path.clone(),
                tally,
                sha256,
                decisions: Vec::new(),
                in_file,
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
    let bytes = read_within(&file, ROWS).map_err(|problem| unreadable(problem.to_string()))?;
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
