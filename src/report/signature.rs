//! Signing: the statement as it is shown, and the same signed.

use crate::figures::{Figures, of_inputs};
use crate::journal::{Inputs, Moment};
use crate::signing::{Asked, NotSigned, Signatory, SignedDraft, Statement, lacks};

/// A statement as it was shown to the person who signs it, with the time that it carries.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Shown {
    /// Its text.
    pub text: String,
    /// When it was shown.
    pub at: Moment,
}

/// The statement that a person would sign now.
pub fn shown(
    inputs: &Inputs,
    figures: &Figures,
    asked: Asked,
    who: (&str, bool),
    now: &Moment,
) -> Shown {
    let statement = Statement::new(inputs, figures, asked, who, now);
    Shown {
        text: super::statement(inputs, figures, asked.slot, &statement),
        at: now.clone(),
    }
}

/// Signs a hold point for the entry that comes next, if nothing is missing and, where it was shown before, the
/// statement is the one that was shown.
pub fn sign(
    inputs: &Inputs,
    seq: u64,
    asked: Asked,
    (signatory, before): (&Signatory, Option<&Shown>),
    now: &Moment,
) -> Result<SignedDraft, NotSigned> {
    let figures = of_inputs(inputs);
    let person = signatory.name.as_str();
    let lacks = lacks(inputs, &figures, asked, person);
    if !lacks.is_empty() {
        return Err(NotSigned::Missing(lacks));
    }
    let who = (person, signatory.key.is_none());
    if before.is_some_and(|it| shown(inputs, &figures, asked, who, &it.at) != *it) {
        return Err(NotSigned::Changed);
    }
    let statement = Statement::new(inputs, &figures, asked, who, now);
    let text = super::statement(inputs, &figures, asked.slot, &statement);
    statement.sign(text, signatory, &figures, (asked.slot, seq))
}
