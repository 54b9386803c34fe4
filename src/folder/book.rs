//! Adding to the journal: one entry at a time, on the disk before anyone is told.
//!
//! The lock is held for one entry alone: the tail that others wrote is read, the entry is checked against
//! all that is there, written and flushed to the disk. Every window and process may enter.

use std::fs::{File, OpenOptions};
use std::io::{self, Read as _, Seek as _, SeekFrom};
use std::path::{Path, PathBuf};

use thiserror::Error;

use super::error::OpenError;
use super::inside::inside;
use super::load::{JOURNAL, open, read_adopted, read_signed};
use super::parts::{finish_parts, not_there, write_part};
use super::store::{Disk, StoreError, lock, move_torn, sync_folder, write_back};
use crate::figures;
use crate::journal::{
    Break, Draft, Entry, Event, EventProblem, Inputs, Journal, MadeOf, Moment, Wrong, check,
    made_of,
};
use crate::measure::Excerpt;
use crate::reconcile::Topic;
use crate::signing::{SignedDraft, open_items};
use crate::tally::Tally;

/// Where a last line is kept that was cut off while it was written.
const TORN: &str = "journal.torn";

/// The file that is locked while an entry is added.
const LOCK: &str = "journal.lock";

/// Why nothing was entered.
#[derive(Debug, Error)]
pub enum EnterError {
    /// The event is none.
    #[error("{}", .0.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n"))]
    Event(Vec<EventProblem>),
    /// The event cannot be.
    #[error("{0}")]
    Refused(Wrong),
    /// Nothing is added to a journal that is not whole.
    #[error("journal.jsonl, {0}; nothing is added to it until that is cleared up")]
    Broken(Break),
    /// It could not be written.
    #[error("journal.jsonl: {0}")]
    Store(#[from] StoreError),
    /// The job could not be read again.
    #[error(transparent)]
    Open(#[from] OpenError),
}

impl From<io::Error> for EnterError {
    fn from(error: io::Error) -> Self {
        Self::Store(StoreError::Io(error))
    }
}

/// The lock held, and the journal's file open.
struct Begun {
    _lock: File,
    /// `None` where there is none yet.
    file: Option<File>,
}

/// A journal that is added to.
#[derive(Debug)]
pub struct Book {
    path: PathBuf,
    inputs: Inputs,
    /// How many bytes of the file were read: whole lines.
    read: u64,
    /// The last of those lines.
    last: Vec<u8>,
}

impl Book {
    /// The journal of a job, named by its folder or its `job.toml`.
    pub fn open(path: &Path) -> Result<Self, OpenError> {
        Ok(Self {
            path: path.to_owned(),
            inputs: open(path)?,
            // Nothing is known of the file's bytes yet: the first entry reads all of them.
            read: 0,
            last: Vec::new(),
        })
    }

    /// The job with its journal as far as it was read.
    pub const fn inputs(&self) -> &Inputs {
        &self.inputs
    }

    /// Reads an event and enters it; `by` is who enters where it does not say.
    pub fn enter_text(
        &mut self,
        text: &str,
        by: Option<&str>,
        clock: impl Fn() -> Moment,
    ) -> Result<Entry, EnterError> {
        let draft = Draft::read(text, by).map_err(EnterError::Event)?;
        self.enter(draft, clock).map_err(|error| match error {
            // Where the value stands that the job does not allow.
            EnterError::Refused(what) if what.key().is_some() => {
                let column = column_of(text, what.key().unwrap_or_default());
                EnterError::Event(vec![EventProblem { column, what }])
            }
            other => other,
        })
    }

    /// Reads an event and enters it, if under the lock the job with all entries so far is as it was expected to be;
    /// `None` where it is not.
    pub fn enter_if(
        &mut self,
        text: &str,
        clock: impl Fn() -> Moment,
        is_expected: impl FnOnce(&Inputs) -> bool,
    ) -> Result<Option<Entry>, EnterError> {
        let draft = Draft::read(text, None).map_err(EnterError::Event)?;
        let begun = self.begin()?;
        if !is_expected(&self.inputs) {
            return Ok(None);
        }
        self.add(begun, draft, &clock(), write_line).map(Some)
    }

    /// Enters an event. It is on the disk when this returns its entry; after an error the file holds what
    /// it held.
    pub fn enter(&mut self, draft: Draft, clock: impl Fn() -> Moment) -> Result<Entry, EnterError> {
        self.enter_with(draft, clock, write_line)
    }

    /// [`Self::enter`] with another way to write, for tests of what is left when writing fails.
    pub(super) fn enter_with(
        &mut self,
        draft: Draft,
        clock: impl Fn() -> Moment,
        disk: impl Disk,
    ) -> Result<Entry, EnterError> {
        let begun = self.begin()?;
        // Under the lock: entries are written in the order of their clocks.
        self.add(begun, draft, &clock(), disk)
    }

    /// Signs a statement: its files are written under names that do not count yet, then the entry, then
    /// they get their names. All under the lock; what a cut-off leaves is completed or removed by the next
    /// entry.
    pub fn sign<E>(
        &mut self,
        clock: impl Fn() -> Moment,
        make: impl Fn(&Inputs, u64, &Moment) -> Result<SignedDraft, E>,
    ) -> Result<Result<Entry, E>, EnterError> {
        let mut begun = self.begin()?;
        // What others signed meanwhile counts.
        self.inputs.signed_files = read_signed(&self.inputs.root);
        let now = clock();
        let mut signed = match make(&self.inputs, self.inputs.journal.next_seq(), &now) {
            Ok(signed) => signed,
            Err(error) => return Ok(Err(error)),
        };
        if !self.inputs.rows_to_take().is_empty() {
            self.take_over(&mut begun, &now)?;
            // The statement names the entry before it, which is another now.
            signed = match make(&self.inputs, self.inputs.journal.next_seq(), &now) {
                Ok(signed) => signed,
                Err(error) => return Ok(Err(error)),
            };
        }
        let root = self.inputs.root.clone();
        let mut files = vec![(signed.name.clone(), signed.text)];
        files.extend(
            signed
                .signature
                .map(|it| (format!("{}.sig", signed.name), it)),
        );
        for (name, _) in &files {
            not_there(&root, Path::new(name))?;
        }
        for (name, text) in &files {
            write_part(&root, Path::new(name), text.as_bytes())?;
        }
        let entry = self.add(begun, signed.draft, &now, write_line)?;
        finish_parts(&root, &self.inputs.journal)?;
        self.inputs.signed_files = read_signed(&root);
        Ok(Ok(entry))
    }

    /// Takes the lock, and reads what others wrote.
    fn begin(&mut self) -> Result<Begun, EnterError> {
        let root = self.inputs.root.clone();
        let path = inside(&root, Path::new(JOURNAL)).map_err(StoreError::from)?;
        let lock = lock(&root, Path::new(LOCK))?;
        // Made by the first entry that is written, not by one that is refused.
        let mut file = match OpenOptions::new().read(true).write(true).open(&path) {
            Err(error) if error.kind() == io::ErrorKind::NotFound => None,
            opened => Some(opened?),
        };
        match &mut file {
            Some(file) => self.follow(file)?,
            None if self.inputs.journal.is_there => {
                (self.read, self.last) = (0, Vec::new());
                self.adopt(Journal::default(), true)?;
            }
            None => {}
        }
        if let Some(broken) = &self.inputs.journal.broken {
            return Err(EnterError::Broken(broken.clone()));
        }
        finish_parts(&root, &self.inputs.journal)?;
        Ok(Begun { _lock: lock, file })
    }

    /// Checks an event and adds its line.
    fn add(
        &mut self,
        mut begun: Begun,
        mut draft: Draft,
        now: &Moment,
        disk: impl Disk,
    ) -> Result<Entry, EnterError> {
        self.vet(&mut draft, now)?;
        self.take_over(&mut begun, now)?;
        self.write(&mut begun, draft, now, disk)
    }

    /// Takes over rows of files of decisions that are from before the journal had them.
    fn take_over(&mut self, begun: &mut Begun, now: &Moment) -> Result<(), EnterError> {
        for row in self.inputs.rows_to_take() {
            // A row that the journal has no form for stays in its file, where it is read as it is.
            if let Ok(draft) = Draft::by_program(&row) {
                self.write(begun, draft, now, write_line)?;
            }
        }
        Ok(())
    }

    /// Adds the line of an event that was checked.
    fn write(
        &mut self,
        begun: &mut Begun,
        draft: Draft,
        now: &Moment,
        disk: impl Disk,
    ) -> Result<Entry, EnterError> {
        let root = self.inputs.root.clone();
        let is_made = begun.file.is_none();
        let file = if let Some(file) = &mut begun.file {
            file
        } else {
            let path = inside(&root, Path::new(JOURNAL)).map_err(StoreError::from)?;
            let mut options = OpenOptions::new();
            options.read(true).write(true).create(true).truncate(false);
            begun.file.insert(options.open(path)?)
        };
        if self.inputs.journal.torn.is_some() {
            move_torn(&root, Path::new(TORN), file)?;
        }
        let journal = &self.inputs.journal;
        let (entry, mut line) = draft.into_entry(journal.next_seq(), now, journal.head());
        line.push('\n');
        write_back(file, line.as_bytes(), disk)?;
        if is_made {
            sync_folder(&root)?;
        }
        self.read += u64::try_from(line.len()).unwrap_or_default();
        self.last = line.into_bytes();
        let mut journal = std::mem::take(&mut self.inputs.journal);
        journal.torn = None;
        journal.is_there = true;
        journal.entries.push(entry.clone());
        let is_tally = matches!(entry.event, Event::TallyOfRecord { .. });
        self.adopt(journal, is_tally)?;
        Ok(entry)
    }

    /// Reads what was added to the file since it was last read; all of it where what was read is no longer
    /// there.
    fn follow(&mut self, file: &mut File) -> Result<(), EnterError> {
        let is_known = !self.last.is_empty() && {
            let length = u64::try_from(self.last.len()).unwrap_or_default();
            let mut there = vec![0; self.last.len()];
            file.seek(SeekFrom::Start(self.read.saturating_sub(length)))?;
            file.read_exact(&mut there).is_ok() && there == self.last
        };
        let from = if is_known { self.read } else { 0 };
        let mut more = Vec::new();
        file.seek(SeekFrom::Start(from))?;
        file.read_to_end(&mut more)?;
        let whole = more
            .iter()
            .rposition(|byte| *byte == b'\n')
            .map_or(0, |at| at + 1);
        if is_known && more.is_empty() {
            return Ok(());
        }
        let mut journal = if is_known {
            std::mem::take(&mut self.inputs.journal)
        } else {
            Journal::default()
        };
        let known = journal.entries.len();
        journal.is_there = true;
        journal.extend(&more);
        let has_tally = journal.entries.iter().skip(known).any(|entry| {
            matches!(
                entry.event,
                Event::TallyOfRecord { .. } | Event::Strike { .. }
            )
        });
        self.read = from + u64::try_from(whole).unwrap_or_default();
        let lines = more.get(..whole).unwrap_or_default();
        if let Some(last) = lines.split_inclusive(|byte| *byte == b'\n').next_back() {
            self.last = last.to_vec();
        }
        self.adopt(journal, has_tally && is_known)
    }

    /// Works out the inputs anew; reads all files again where another tally may apply.
    fn adopt(&mut self, journal: Journal, is_other_tally: bool) -> Result<(), EnterError> {
        if is_other_tally {
            self.inputs = open(&self.path)?;
        } else {
            self.inputs.set_journal(journal);
        }
        Ok(())
    }

    /// Whether an event can be the next entry. A waiver gets the digest of what it accepts, a handover what is open.
    fn vet(&self, draft: &mut Draft, now: &Moment) -> Result<(), EnterError> {
        check(self.inputs.known(), &self.inputs.journal, draft, now)
            .map_err(EnterError::Refused)?;
        match &draft.event {
            Event::Waiver { slot, flag, .. } => {
                let digest = figures::may_waive(&self.inputs, slot, flag);
                draft.set_waived(&digest.map_err(EnterError::Refused)?);
            }
            Event::TallyOfRecord { slot, file, sha256 } => {
                let tally = read_adopted(&self.inputs, slot, file, sha256)
                    .map_err(|why| EnterError::Refused(Wrong::File(why.to_string())))?;
                self.vet_tallies(draft, now, Some((file.clone(), tally)))?;
            }
            Event::Decision {
                slot,
                of,
                joint,
                line,
                ..
            } => {
                let items = self.said_of(slot, (of, joint, *line));
                if items.is_empty() {
                    return Err(EnterError::Refused(Wrong::NoListHas(Excerpt::of(joint))));
                }
                draft.set_made_of(&items);
            }
            Event::Handover { .. } => {
                let figures = figures::of_inputs(&self.inputs);
                draft.set_open(&open_items(&self.inputs, &figures));
            }
            Event::Strike { .. } => self.vet_tallies(draft, now, None)?,
            _ => {}
        }
        Ok(())
    }
}

impl Book {
    /// What the lists of a slot's string say of something of a joint.
    fn said_of(&self, slot: &str, (of, joint, line): (&str, &str, Option<u64>)) -> Vec<MadeOf> {
        let inputs = &self.inputs;
        let mut slots = inputs.job.slots.iter();
        let index = slots.position(|it| it.name == *slot);
        let found = index.and_then(|index| {
            let topic = Topic::from_word(of)?;
            let (tally, others) = (inputs.tallies.get(index)?, inputs.lists.get(index)?);
            let pins = inputs.job.slots.get(index)?.pipe.pins;
            Some(made_of(tally, others, pins, (topic, joint, line)))
        });
        found.unwrap_or_default()
    }

    /// Whether all that was entered can be with the tallies of record that apply after an event.
    fn vet_tallies(
        &self,
        draft: &Draft,
        now: &Moment,
        tally: Option<(String, Tally)>,
    ) -> Result<(), EnterError> {
        let mut journal = self.inputs.journal.clone();
        let (entry, _) = draft
            .clone()
            .into_entry(journal.next_seq(), now, journal.head());
        journal.entries.push(entry);
        let mut then = self.inputs.clone();
        then.tally_files.extend(tally);
        then.set_journal(journal);
        let before = &self.inputs.record.impossible;
        let mut after = then.record.impossible.iter();
        let new = after.find(|(seq, _)| before.iter().all(|(known, _)| known != seq));
        match new {
            Some((seq, _)) => Err(EnterError::Refused(Wrong::NotWithTally(*seq))),
            None => Ok(()),
        }
    }
}

/// The column at which the value of a key begins; the first where there is none.
fn column_of(text: &str, key: &str) -> usize {
    let quoted = format!("\"{key}\"");
    let Some(at) = text.find(&quoted) else {
        return 1;
    };
    let after = at + quoted.len();
    let rest = text.get(after..).unwrap_or_default();
    let value = rest
        .find(|c: char| c != ':' && !c.is_whitespace())
        .unwrap_or(0);
    let before = text.get(..after + value).unwrap_or_default();
    before.chars().count() + 1
}

fn write_line(file: &mut File, bytes: &[u8]) -> io::Result<()> {
    use std::io::Write as _;
    file.write_all(bytes)
}

/// The clock, with the offset of the place.
pub fn now() -> Moment {
    let now = jiff::ZonedDateTime::now();
    let (seconds, offset) = (now.timestamp().as_second(), now.offset().seconds());
    Moment::at(seconds, offset).unwrap_or_else(Moment::epoch)
}

#[cfg(test)]
mod tests;
