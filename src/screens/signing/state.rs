//! What is signed, and how far the person is with it.

use std::fmt;

use crate::job::{Hold, Role};
use crate::report::Shown;

/// A text that is never shown, in no output for programmers either.
#[derive(Clone, Default, PartialEq, Eq)]
pub struct Secret(String);

impl Secret {
    /// The text.
    pub fn text(&self) -> &str {
        &self.0
    }
}

impl fmt::Debug for Secret {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("Secret")
    }
}

impl AsMut<String> for Secret {
    fn as_mut(&mut self) -> &mut String {
        &mut self.0
    }
}

/// How far the person is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum SignStage {
    /// The statement is read, from a line on.
    Reading(usize),
    /// The file of the private key is typed; the other one is taken where nothing is.
    KeyFile(String, String),
    /// The passphrase of that file is typed.
    Passphrase(String, Secret),
    /// The job changed since it was shown: it cannot be signed any more.
    Changed,
}

/// A statement on its way to a signature.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Signing {
    /// The name of the slot.
    pub slot: String,
    /// The hold point.
    pub hold: Hold,
    /// The role.
    pub role: Role,
    /// Who signs, by initials.
    pub person: String,
    /// Whether it is signed on paper, without a key.
    pub on_paper: bool,
    /// The statement as it is shown.
    pub shown: Shown,
    /// How far the person is.
    pub stage: SignStage,
}

/// What the driver signs.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ToSign {
    /// The name of the slot.
    pub slot: String,
    /// The hold point.
    pub hold: Hold,
    /// The role.
    pub role: Role,
    /// Who signs, by initials.
    pub person: String,
    /// The statement as it was shown.
    pub shown: Shown,
    /// The file of the private key and its passphrase; `None` on paper.
    pub key: Option<(String, Secret)>,
}
