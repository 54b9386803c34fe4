//! Whether what was signed still holds.

use std::collections::BTreeMap;

use super::figures::{OWN, SignedFigure, UNKNOWN, signed_figures};
use super::keys::{Bad, signed_by};
use super::statement::Statement;
use crate::figures::{Figures, of_inputs};
use crate::job::{Elevations, Hold, Role};
use crate::journal::{HoldSigned, Inputs, Said, SignedFile, sha256};

/// A figure that is another now than was signed for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Moved {
    /// Its key.
    pub figure: String,
    /// As it was signed; `None` where it was not there.
    pub signed: Option<String>,
    /// As it is; `None` where it is not there any more.
    pub now: Option<String>,
}

/// Why a signature counts for nothing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Invalid {
    /// The statement is not there.
    NoStatement,
    /// Its bytes are not those that the journal names.
    Altered,
    /// It is no statement, or not of what its entry says.
    NotOfEntry,
    /// The journal has no entry of it.
    NoEntry,
    /// The journal does not have the entry that was its head.
    HeadGone,
    /// There is no signature beside it.
    NoSignature,
    /// What is beside it is no signature.
    NotASignature,
    /// `signers` does not have the name.
    UnknownSigner,
    /// It is signed with another key than that of the name.
    OtherKey,
    /// The signature is not one of these bytes.
    NotOfThisText,
    /// The name does not hold the role.
    RoleNotHeld,
    /// Its slot is not in the job.
    NoSlot,
    /// The same person signed the hold point in another role before.
    TwoRoles,
}

/// Whether a signature stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SignatureState {
    /// Nothing changed.
    Stands,
    /// Files changed, and no figure moved.
    StandsTextChanged,
    /// Figures moved.
    Lapsed,
    /// It counts for nothing.
    Invalid(Invalid),
}

impl SignatureState {
    /// The word in JSON.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Stands => "stands",
            Self::StandsTextChanged => "stands-text-changed",
            Self::Lapsed => "lapsed",
            Self::Invalid(_) => "invalid",
        }
    }

    /// Whether it counts as standing.
    pub const fn stands(self) -> bool {
        matches!(self, Self::Stands | Self::StandsTextChanged)
    }
}

/// What became of one signature.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Verified {
    /// The statement's path in the job's folder.
    pub statement: String,
    /// The slot; blank where nothing says it.
    pub slot: String,
    /// The hold point.
    pub hold: Option<Hold>,
    /// The role.
    pub role: Option<Role>,
    /// Who signed.
    pub name: String,
    /// When it happened.
    pub at: String,
    /// The entry of the journal.
    pub seq: Option<u64>,
    /// Whether it is on paper, not proven by a key.
    pub on_paper: bool,
    /// The key's fingerprint, where the signature is one.
    pub fingerprint: Option<String>,
    /// Whether it stands.
    pub state: SignatureState,
    /// Files that changed.
    pub changed: Vec<String>,
    /// Figures that moved.
    pub moved: Vec<Moved>,
}

/// Every signature of the journal, then every statement that the journal does not name.
pub fn verify(inputs: &Inputs) -> Vec<Verified> {
    let mut then = Then::default();
    let mut all: Vec<Verified> = Vec::new();
    let mut signed: Vec<&Said<HoldSigned>> = inputs
        .record
        .slots
        .iter()
        .flat_map(|slot| &slot.signed)
        .collect();
    signed.sort_by_key(|said| said.seq);
    for said in signed {
        let mut verified = of_entry(inputs, said, &mut then);
        let is_other_role = |it: &Verified| {
            (it.slot.as_str(), it.hold, it.name.as_str())
                == (
                    verified.slot.as_str(),
                    verified.hold,
                    verified.name.as_str(),
                )
                && it.role != verified.role
                && it.state.stands()
        };
        if verified.state.stands() && all.iter().any(is_other_role) {
            verified.state = SignatureState::Invalid(Invalid::TwoRoles);
        }
        all.push(verified);
    }
    for entry in &inputs.journal.entries {
        // Of a slot that the job does not have any more.
        if let crate::journal::Event::HoldSigned(signed) = &entry.event
            && !all.iter().any(|it| it.seq == Some(entry.seq))
        {
            let state = SignatureState::Invalid(Invalid::NoSlot);
            all.push(Verified {
                seq: Some(entry.seq),
                at: entry.at.to_string(),
                ..blank(signed, state)
            });
        }
    }
    for file in &inputs.signed_files {
        if !all.iter().any(|it| it.statement == file.name) {
            all.push(without_entry(file));
        }
    }
    all
}

fn blank(signed: &HoldSigned, state: SignatureState) -> Verified {
    Verified {
        statement: signed.statement.clone(),
        slot: signed.slot.clone(),
        hold: Some(signed.hold),
        role: Some(signed.role),
        name: signed.name.clone(),
        at: String::new(),
        seq: None,
        on_paper: signed.on_paper,
        fingerprint: None,
        state,
        changed: Vec::new(),
        moved: Vec::new(),
    }
}

/// A statement that no entry names.
fn without_entry(file: &SignedFile) -> Verified {
    let read = std::str::from_utf8(&file.text).ok();
    let read = read.and_then(|text| Statement::read(text).ok());
    Verified {
        statement: file.name.clone(),
        slot: read.as_ref().map_or_else(String::new, |it| it.slot.clone()),
        hold: read.as_ref().map(|it| it.hold),
        role: read.as_ref().map(|it| it.role),
        name: read.as_ref().map_or_else(String::new, |it| it.name.clone()),
        at: read.as_ref().map_or_else(String::new, |it| it.at.clone()),
        seq: None,
        on_paper: read.is_some_and(|it| it.on_paper),
        fingerprint: None,
        state: SignatureState::Invalid(Invalid::NoEntry),
        changed: Vec::new(),
        moved: Vec::new(),
    }
}

/// The figures of other moments of the journal, each computed once.
#[derive(Default)]
struct Then {
    known: BTreeMap<u64, (Inputs, Figures)>,
}

impl Then {
    fn at(&mut self, inputs: &Inputs, seq: u64) -> &(Inputs, Figures) {
        self.known.entry(seq).or_insert_with(|| {
            let then = inputs.as_of(seq);
            let figures = of_inputs(&then);
            (then, figures)
        })
    }
}

/// A signature that the journal has.
fn of_entry(inputs: &Inputs, said: &Said<HoldSigned>, then: &mut Then) -> Verified {
    let mut verified = Verified {
        seq: Some(said.seq),
        at: said.at.to_string(),
        ..blank(&said.what, SignatureState::Stands)
    };
    match read(inputs, said) {
        Err(invalid) => verified.state = SignatureState::Invalid(invalid),
        Ok((statement, fingerprint)) => {
            verified.fingerprint = fingerprint;
            compare(inputs, &statement, then, &mut verified);
        }
    }
    verified
}

/// The statement of an entry, if it is whole and its signature is one; with the key's fingerprint.
fn read(inputs: &Inputs, said: &Said<HoldSigned>) -> Result<(Statement, Option<String>), Invalid> {
    let signed = &said.what;
    let mut files = inputs.signed_files.iter();
    let file = files
        .find(|file| file.name == signed.statement)
        .ok_or(Invalid::NoStatement)?;
    if sha256(&file.text) != signed.statement_sha256 {
        return Err(Invalid::Altered);
    }
    let text = std::str::from_utf8(&file.text).map_err(|_| Invalid::NotOfEntry)?;
    let statement = Statement::read(text).map_err(|_| Invalid::NotOfEntry)?;
    let is_of_entry = statement.slot == signed.slot
        && statement.hold == signed.hold
        && statement.role == signed.role
        && statement.name == signed.name
        && statement.on_paper == signed.on_paper
        && statement.entries < said.seq;
    if !is_of_entry {
        return Err(Invalid::NotOfEntry);
    }
    let mut entries = inputs.journal.entries.iter();
    let head = entries.find(|entry| entry.seq == statement.entries);
    let is_head = match head {
        Some(entry) => entry.hash == statement.head,
        None => statement.entries == 0,
    };
    if !is_head {
        return Err(Invalid::HeadGone);
    }
    if !inputs.job.people.holds_role(&signed.name, signed.role) {
        return Err(Invalid::RoleNotHeld);
    }
    if signed.on_paper {
        return Ok((statement, None));
    }
    let signature = file.signature.as_ref().ok_or(Invalid::NoSignature)?;
    let signers = inputs.signers.as_ref().map_or("", |(text, _)| text);
    let fingerprint = signed_by(signers, &signed.name, &file.text, signature);
    let fingerprint = fingerprint.map_err(|bad| match bad {
        Bad::NotASignature => Invalid::NotASignature,
        Bad::UnknownSigner => Invalid::UnknownSigner,
        Bad::OtherKey => Invalid::OtherKey,
        Bad::NotOfThisText => Invalid::NotOfThisText,
    })?;
    Ok((statement, Some(fingerprint)))
}

/// Compares what was signed for with what it comes to from the files of now.
fn compare(inputs: &Inputs, statement: &Statement, then: &mut Then, verified: &mut Verified) {
    let mut slots = inputs.stated.slots.iter();
    let Some(slot) = slots.position(|slot| slot.name == statement.slot) else {
        verified.state = SignatureState::Invalid(Invalid::NoSlot);
        return;
    };
    let (inputs_then, figures) = then.at(inputs, statement.entries);
    let now = signed_figures(inputs_then, figures, slot);
    verified.moved = moved(&statement.figures, &now);
    verified.changed = statement
        .inputs
        .iter()
        .filter(|(name, digest)| {
            let mut sources = inputs.sources.iter();
            let found = sources.find(|source| source.name == *name);
            found.is_none_or(|source| source.sha256 != *digest)
        })
        .map(|(name, _)| name.clone())
        .collect();
    verified.state = if !verified.moved.is_empty() {
        SignatureState::Lapsed
    } else if !verified.changed.is_empty() {
        SignatureState::StandsTextChanged
    } else {
        SignatureState::Stands
    };
}

/// The key of which elevations a slot is cut by, and how those of all readings begin.
const ELEVATIONS: &str = "elevations";
const ADJUSTED: &str = "adjusted";
/// How the keys of the plane of a rim begin.
const RIM: &str = "cut.as_cut.rim_";

fn moved(signed: &[SignedFigure], now: &[SignedFigure]) -> Vec<Moved> {
    let find = |all: &[SignedFigure], key: &str| -> Option<String> {
        let found = all.iter().find(|it| it.key == key);
        found.map(|it| it.text.clone())
    };
    let mut moved: Vec<Moved> = signed
        .iter()
        .filter_map(|figure| {
            let now = find(now, &figure.key);
            let same = now.as_ref().is_some_and(|now| figure.is_same_as(now));
            (!same).then(|| Moved {
                figure: figure.key.clone(),
                signed: Some(figure.text.clone()),
                now,
            })
        })
        .collect();
    // A statement from before something was signed too says nothing of it.
    let knows_readings = find(signed, ELEVATIONS).is_some();
    let knows_rims = signed.iter().any(|it| it.key.starts_with(RIM));
    let says_nothing = |it: &SignedFigure| {
        let is_of_readings = it.key.starts_with(ADJUSTED)
            || (it.key == ELEVATIONS && it.text == Elevations::Chain.word());
        let is_of_rim = it.key.starts_with(RIM);
        it.key.starts_with(OWN)
            || it.text == UNKNOWN
            || (is_of_readings && !knows_readings)
            || (is_of_rim && !knows_rims)
    };
    moved.extend(
        now.iter()
            .filter(|it| !says_nothing(it) && find(signed, &it.key).is_none())
            .map(|it| Moved {
                figure: it.key.clone(),
                signed: None,
                now: Some(it.text.clone()),
            }),
    );
    moved
}
