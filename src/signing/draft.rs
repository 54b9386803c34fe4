//! A statement that is ready to be kept: its text, its signature, and the entry that names it.

use super::keys::{KeyError, SecretKey};
use super::readiness::{Missing, missing};
use super::statement::Statement;
use super::verify::verify;
use crate::figures::Figures;
use crate::job::{Hold, Role, name_of};
use crate::journal::{Draft, EventProblem, Inputs, Moment, sha256};
use crate::levels::READINGS;
use crate::signing::signed_figures;

/// Who signs: by a key, or on paper.
#[derive(Clone, Debug)]
pub struct Signatory {
    /// The name that statements carry.
    pub name: String,
    /// The key; `None` on paper.
    pub key: Option<SecretKey>,
}

/// What is signed: a hold point of a slot, by its index, in a role.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Asked {
    /// The slot.
    pub slot: usize,
    /// The hold point.
    pub hold: Hold,
    /// The role.
    pub role: Role,
}

/// A statement that is ready to be kept.
#[derive(Debug)]
pub struct SignedDraft {
    /// The entry.
    pub draft: Draft,
    /// The statement's path in the job's folder.
    pub name: String,
    /// Its text.
    pub text: String,
    /// The signature of it; `None` where it is signed on paper.
    pub signature: Option<String>,
}

/// Why nothing is signed.
#[derive(Debug)]
pub enum NotSigned {
    /// Something is missing.
    Missing(Vec<Missing>),
    /// The key could not sign.
    Key(KeyError),
    /// The entry could not be.
    Entry(Vec<EventProblem>),
    /// The statement is not the one that was shown.
    Changed,
}

/// What this person cannot sign yet for want of.
pub fn lacks(inputs: &Inputs, figures: &Figures, asked: Asked, person: &str) -> Vec<Missing> {
    let verified = verify(inputs);
    let who = (Some(asked.role), Some(person));
    let mut lacks = missing(inputs, figures, &verified, (asked.slot, asked.hold), who);
    if !inputs.job.people.holds_role(person, asked.role) {
        lacks.push(Missing::RoleNotHeld(person.to_owned(), asked.role));
    }
    lacks
}

impl Statement {
    /// The statement of a hold point by this person at a time, of a job as it is now.
    pub fn new(
        inputs: &Inputs,
        figures: &Figures,
        asked: Asked,
        (person, on_paper): (&str, bool),
        now: &Moment,
    ) -> Self {
        let of_slot = inputs.job.slots.get(asked.slot);
        let said = inputs.record.slots.get(asked.slot);
        let adopted = said.and_then(|it| it.tally.as_ref());
        let mut files = vec!["job.toml".to_owned()];
        files.push(match adopted {
            Some(said) => said.what.0.clone(),
            None => of_slot.map_or_else(String::new, |slot| name_of(&slot.tally)),
        });
        let lists = inputs.lists.get(asked.slot).into_iter().flatten();
        files.extend(lists.map(|list| name_of(&list.path)));
        files.dedup();
        // All readings are compared with the chain of each slot, or in its place.
        files.push(READINGS.to_owned());
        let digest = |name: &String| {
            let mut sources = inputs.sources.iter();
            let found = sources.find(|source| source.name == *name)?;
            Some((name.clone(), found.sha256.clone()))
        };
        Self {
            slot: of_slot.map_or_else(String::new, |slot| slot.name.clone()),
            hold: asked.hold,
            role: asked.role,
            name: person.to_owned(),
            at: now.to_string(),
            entries: inputs.journal.next_seq() - 1,
            head: inputs.journal.head().to_owned(),
            on_paper,
            signers_sha256: inputs.signing_digest(),
            figures: signed_figures(inputs, figures, asked.slot),
            inputs: files.iter().filter_map(digest).collect(),
        }
    }

    /// The statement in its words, signed, with the entry that names it under the number that it will have.
    pub fn sign(
        &self,
        text: String,
        signatory: &Signatory,
        figures: &Figures,
        (slot, seq): (usize, u64),
    ) -> Result<SignedDraft, NotSigned> {
        let signature = match &signatory.key {
            Some(key) => Some(key.sign(&text).map_err(NotSigned::Key)?),
            None => None,
        };
        let name = Self::file_name(&self.slot, self.hold, self.role, seq);
        let target = figures.slots.get(slot).map(|it| it.cut.target.height());
        let mut event = serde_json::json!({
            "event": "hold-signed",
            "by": signatory.name,
            "at": self.at,
            "slot": self.slot,
            "hold": self.hold.name(),
            "role": self.role.name(),
            "name": signatory.name,
            "statement": name,
            "statement_sha256": sha256(text.as_bytes()),
            "target": format!("{} m", target.unwrap_or_default().exact_metres()),
            "signers_sha256": self.signers_sha256,
        });
        if signatory.key.is_none()
            && let Some(keys) = event.as_object_mut()
        {
            keys.insert("paper".to_owned(), true.into());
        }
        let draft = Draft::by_program(&event.to_string()).map_err(NotSigned::Entry)?;
        Ok(SignedDraft {
            draft,
            name,
            text,
            signature,
        })
    }
}
