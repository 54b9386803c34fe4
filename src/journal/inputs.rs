//! All that figures are derived from, as one value: the job, the tallies of record, the other lists of
//! each string with what was decided of them, and the digest of every file read.

use std::collections::{BTreeMap, BTreeSet};
use std::path::PathBuf;

use super::chain::Journal;
use super::digest::sha256;
use super::event::{Event, StickUp};
use super::in_force::{InForce, in_force};
use super::record::{Known, Record, Said, struck};
use crate::job::{DecisionsUnreadable, Job, TornLine, name_of};
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
    /// Files that are there and are not used: name and why.
    pub not_used: Vec<(&'static str, &'static str)>,
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
    /// Files that are there and are not used.
    pub not_used: Vec<(&'static str, &'static str)>,
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
            not_used,
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
            not_used,
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
        then.journal.entries.retain(|entry| entry.seq <= seq);
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
