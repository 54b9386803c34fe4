//! All that figures are derived from, as one value: the job, the tallies of record, the other lists of
//! each string with what was decided of them, and the digest of every file read.

use std::collections::{BTreeMap, BTreeSet};
use std::path::PathBuf;

use super::chain::Journal;
use super::digest::sha256;
use super::event::{Event, StickUp};
use super::in_force::{InForce, in_force};
use super::kept::Said;
use super::lists::{OLD_FILE, OtherList, list_decisions, row_decision, taken_over};
use super::record::{Known, Record, struck};
use crate::job::{AS_RUN, Job, name_of};
use crate::levels::FileReading;
use crate::reconcile::Decision;
use crate::reconcile::many::ListDecision;
use crate::tally::Tally;

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

/// A signed statement, with the signature beside it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SignedFile {
    /// Its path relative to the folder, with `/` between its parts.
    pub name: String,
    /// Its bytes.
    pub text: Vec<u8>,
    /// The signature beside it.
    pub signature: Option<String>,
}

/// A job with its tallies as they were read, in one moment, from its folder.
#[derive(Clone, Debug)]
pub struct Inputs {
    /// The job's folder.
    pub root: PathBuf,
    /// The job in force: as its file states it, with what the journal says in its place.
    pub job: Job,
    /// The job as its file states it.
    pub stated: Job,
    /// The journal.
    pub journal: Journal,
    /// What its entries come to.
    pub record: Record,
    /// For each slot the stick-up that applies, where it is of the journal.
    pub stick_ups: Vec<Option<Said<StickUp>>>,
    /// Who may sign, as the folder's `signers` has it: its text and digest.
    pub signers: Option<(String, String)>,
    /// The signed statements of the folder.
    pub signed_files: Vec<SignedFile>,
    /// For each slot the tally of record that the journal adopted, where its file is another by now.
    pub changed_tallies: Vec<Option<Said<String>>>,
    /// The pipe on deck.
    pub pool: Option<Tally>,
    /// The tally of record of each slot, in the order of the job's slots.
    pub tallies: Vec<Tally>,
    /// Every file that is or was a tally of record, by its name, where the journal adopted one.
    pub tally_files: BTreeMap<String, Tally>,
    /// The other lists of each slot's string, in the order of the job file.
    pub lists: Vec<Vec<OtherList>>,
    /// The files read, the job file first.
    pub sources: Vec<SourceFile>,
    /// The rows of the job's file of readings.
    pub readings: Vec<FileReading>,
}

/// What a folder holds, as it was read.
#[derive(Clone, Debug)]
pub struct Parts {
    /// The job's folder.
    pub root: PathBuf,
    /// The job as its file states it.
    pub stated: Job,
    /// The journal.
    pub journal: Journal,
    /// The text of `signers`.
    pub signers: Option<String>,
    /// The signed statements.
    pub signed_files: Vec<SignedFile>,
    /// The pipe on deck.
    pub pool: Option<Tally>,
    /// The tally of record of each slot.
    pub tallies: Vec<Tally>,
    /// Every file that is or was one, by its name, where the journal adopted one.
    pub tally_files: BTreeMap<String, Tally>,
    /// The other lists of each slot's string.
    pub lists: Vec<Vec<OtherList>>,
    /// The files read.
    pub sources: Vec<SourceFile>,
    /// The rows of its file of readings.
    pub readings: Vec<FileReading>,
}

impl From<Parts> for Inputs {
    fn from(parts: Parts) -> Self {
        let Parts {
            root,
            stated,
            journal,
            signers,
            signed_files,
            pool,
            tallies,
            tally_files,
            lists,
            sources,
            readings,
        } = parts;
        let mut inputs = Self {
            root,
            job: stated.clone(),
            stated,
            record: Record::default(),
            stick_ups: Vec::new(),
            signers: signers.map(|text| {
                let digest = sha256(text.as_bytes());
                (text, digest)
            }),
            signed_files,
            changed_tallies: Vec::new(),
            journal,
            pool,
            tallies,
            tally_files,
            lists,
            sources,
            readings,
        };
        let gone = struck(&inputs.journal.entries);
        inputs.fold(&gone);
        inputs
    }
}

impl Inputs {
    /// Works out what the journal comes to, less what is struck.
    fn fold(&mut self, gone: &BTreeSet<u64>) {
        self.choose_tallies(gone);
        let known = Known {
            job: &self.stated,
            tallies: &self.tallies,
            pool: self.pool.as_ref(),
        };
        self.record = Record::of(known, &self.journal.entries, gone);
        let InForce { job, stick_ups } = in_force(&self.stated, &self.tallies, &self.record);
        self.job = job;
        self.stick_ups = stick_ups;
        self.fold_lists();
        self.changed_tallies = self
            .record
            .slots
            .iter()
            .map(|slot| {
                let said = slot.tally.as_ref()?;
                let (file, sha256) = &said.what;
                let mut sources = self.sources.iter();
                let found = sources.find(|source| source.name == *file);
                let is_it = found.is_some_and(|source| source.sha256 == *sha256);
                (!is_it).then(|| Said {
                    seq: said.seq,
                    at: said.at.clone(),
                    by: said.by.clone(),
                    what: file.clone(),
                })
            })
            .collect();
    }

    /// Works out what is decided on each list, and the list of what was run.
    fn fold_lists(&mut self) {
        let taken = taken_rows(&self.journal);
        let slots = self.stated.slots.iter().zip(&self.record.slots);
        let slots = slots.zip(&self.tallies);
        for (((slot, said), tally), lists) in slots.zip(&mut self.lists) {
            lists.retain(|list| list.name != AS_RUN);
            lists.extend(said.as_run(tally.effective_only, self.journal.head()));
            for list in lists {
                let is_left = |row: &&Decision| {
                    !taken.contains(&row_name(&slot.name, &list.name, row.row).as_str())
                };
                let in_file = list.in_file.iter().filter(is_left);
                list.decisions = in_file.cloned().chain(said.decisions(&list.name)).collect();
            }
        }
    }

    /// What is decided of the joints of a slot, by the journal and by old files that it has not taken over.
    pub fn list_decisions(&self, slot: usize) -> Vec<ListDecision> {
        let said = self.record.slots.get(slot);
        let mut all = said.map_or_else(Vec::new, list_decisions);
        let lists = self.lists.get(slot).into_iter().flatten();
        for list in lists {
            // Those of the journal are of no row of a file.
            let rows = list.decisions.iter().filter(|it| it.row > 0);
            let known: Vec<ListDecision> = rows.map(|row| row_decision(&list.name, row)).collect();
            for decision in known {
                let same =
                    |it: &ListDecision| (it.topic, &it.joint) == (decision.topic, &decision.joint);
                // Of two rows the later one applies; what a person entered since goes before any.
                if let Some(other) = all.iter_mut().find(|it| same(it)) {
                    if other.choices.iter().all(|it| it.by == OLD_FILE) {
                        *other = decision;
                    }
                } else {
                    all.push(decision);
                }
            }
        }
        all
    }

    /// The rows of files of decisions that the journal has not taken over: each as the event that does so.
    pub fn rows_to_take(&self) -> Vec<String> {
        let taken = taken_rows(&self.journal);
        let mut events = Vec::new();
        let slots = self.stated.slots.iter().zip(&self.tallies);
        for ((slot, tally), lists) in slots.zip(&self.lists) {
            for list in lists {
                let other = list.tally.as_ref().ok();
                for row in &list.in_file {
                    let name = row_name(&slot.name, &list.name, row.row);
                    if taken.contains(&name.as_str()) {
                        continue;
                    }
                    let own = if row.in_b { other } else { Some(tally) };
                    let joints = own.into_iter().flat_map(|own| &own.joints);
                    let same = joints.filter(|it| it.number == row.joint).count();
                    let names = (slot.name.as_str(), list.name.as_str());
                    events.push(taken_over(names, row, &name, same > 1));
                }
            }
        }
        events
    }

    /// Takes the tally that is of record by the journal as it is; that of the job file where none is adopted.
    fn choose_tallies(&mut self, gone: &BTreeSet<u64>) {
        if self.tally_files.is_empty() {
            return;
        }
        let adopted = adopted(&self.journal, gone);
        for (slot, tally) in self.stated.slots.iter().zip(&mut self.tallies) {
            let stated = name_of(&slot.tally);
            let name = adopted.get(slot.name.as_str()).copied().unwrap_or(&stated);
            if let Some(found) = self.tally_files.get(name) {
                tally.clone_from(found);
            }
        }
    }

    /// The same inputs with the journal as it was when its last entry was this one, less what was struck
    /// since. Files are as they are now.
    #[must_use]
    pub fn as_of(&self, seq: u64) -> Self {
        let gone = struck(&self.journal.entries);
        let mut then = self.clone();
        let is_of_then = |seq_of: u64| seq_of <= seq && !gone.contains(&seq_of);
        then.journal.entries.retain(|entry| is_of_then(entry.seq));
        // What lies in the folder now says nothing of then.
        then.signed_files.clear();
        then.journal.torn = None;
        then.journal.broken = None;
        then.fold(&gone);
        // Who may sign was then as it was: what was changed since is told of the journal as it is.
        for slot in &mut then.record.slots {
            for signed in &mut slot.signed {
                signed.what.signers_sha256 = None;
            }
        }
        then
    }

    /// Puts another journal in the place of this one.
    pub fn set_journal(&mut self, journal: Journal) {
        self.journal = journal;
        let gone = struck(&self.journal.entries);
        self.fold(&gone);
    }

    /// A digest of who may sign: the text of `signers`, and the roles of the job.
    pub fn signing_digest(&self) -> String {
        let mut text = self
            .signers
            .as_ref()
            .map_or("", |(text, _)| text)
            .to_owned();
        for (role, who) in &self.job.people.roles {
            text.push('\0');
            text.push_str(role.name());
            for name in who {
                text.push('\u{1}');
                text.push_str(name);
            }
        }
        sha256(text.as_bytes())
    }

    /// The lists that entries speak of.
    pub fn known(&self) -> Known<'_> {
        Known {
            job: &self.stated,
            tallies: &self.tallies,
            pool: self.pool.as_ref(),
        }
    }

    /// A digest of all inputs: twelve hexadecimal digits that differ when any file does.
    pub fn digest(&self) -> String {
        let mut all = Vec::new();
        for source in &self.sources {
            all.extend_from_slice(source.name.as_bytes());
            all.push(0);
            all.extend_from_slice(source.sha256.as_bytes());
            all.push(b'\n');
        }
        sha256(&all).chars().take(12).collect()
    }
}

/// What names a row of a file of decisions in the journal.
fn row_name(slot: &str, list: &str, row: u64) -> String {
    format!("{slot}/{list}/{row}")
}

/// The rows that the journal has taken over, also those that were struck since.
fn taken_rows(journal: &Journal) -> BTreeSet<&str> {
    let entries = journal.entries.iter();
    entries
        .filter_map(|entry| match &entry.event {
            Event::Decision { taken_from, .. } => taken_from.as_deref(),
            _ => None,
        })
        .collect()
}

/// The file that the journal adopted last as the tally of record of each slot.
pub fn adopted<'j>(journal: &'j Journal, gone: &BTreeSet<u64>) -> BTreeMap<&'j str, &'j str> {
    let live = journal
        .entries
        .iter()
        .filter(|entry| !gone.contains(&entry.seq));
    let mut adopted: Vec<_> = live
        .filter_map(|entry| match &entry.event {
            Event::TallyOfRecord { slot, file, .. } => {
                Some((entry.at.seconds(), entry.seq, slot.as_str(), file.as_str()))
            }
            _ => None,
        })
        .collect();
    adopted.sort_unstable();
    adopted
        .into_iter()
        .map(|(_, _, slot, file)| (slot, file))
        .collect()
}
