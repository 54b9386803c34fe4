//! What is about to be decided: data.

use std::path::PathBuf;

use super::thing::ThingId;
use crate::job::{MEASURED, OPEN};
use crate::measure::Length;
use crate::reconcile::many::Choice;
use crate::report::said::ThingName;

/// What is chosen of a thing.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Chosen {
    /// What a list says.
    List(String),
    /// What was measured again.
    Measured(Length),
    /// It is open again.
    Open,
}

impl Chosen {
    /// As a choice of what stands; `None` where it is open again.
    pub fn choice(&self) -> Option<Choice> {
        match self {
            Self::List(name) => Some(Choice::List(name.clone())),
            Self::Measured(length) => Some(Choice::Measured(*length)),
            Self::Open => None,
        }
    }

    pub(super) fn word(&self) -> &str {
        match self {
            Self::List(name) => name,
            Self::Measured(_) => MEASURED,
            Self::Open => OPEN,
        }
    }
}

/// A choice about to be made.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Planned {
    /// Of what.
    pub thing: ThingId,
    /// What.
    pub chosen: Chosen,
}

/// What is about to be done.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Plan {
    /// Choices are made.
    Choose(Vec<Planned>),
    /// A tally of record that was written is adopted.
    Adopt {
        /// The file, relative to the job's folder.
        file: PathBuf,
        /// How many things are not decided in it.
        open: usize,
    },
    /// A decision is taken back.
    TakeBack {
        /// The number of its entry.
        seq: u64,
        /// Of what it was.
        thing: ThingName,
        /// What was chosen.
        choice: String,
    },
}

/// What is about to be decided, with the reason as far as it is typed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Deciding {
    /// What.
    pub plan: Plan,
    /// Why.
    pub note: String,
}

impl Deciding {
    pub(super) const fn new(plan: Plan) -> Self {
        Self {
            plan,
            note: String::new(),
        }
    }

    /// The choices about to be made.
    pub fn planned(&self) -> &[Planned] {
        match &self.plan {
            Plan::Choose(planned) => planned,
            Plan::Adopt { .. } | Plan::TakeBack { .. } => &[],
        }
    }
}
