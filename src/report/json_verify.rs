//! The JSON of `verify`.

use serde::Serialize;

use super::json::{FORMAT, pretty};
use super::words;
use crate::job::{Hold, Role};
use crate::journal::Inputs;
use crate::signing::{SignatureState, Verified};

#[derive(Serialize)]
struct VerifyTree<'a> {
    format: u32,
    journal: JournalJson,
    signatures: Vec<SignatureJson<'a>>,
}

#[derive(Serialize)]
struct JournalJson {
    entries: usize,
    state: &'static str,
}

#[derive(Serialize)]
struct SignatureJson<'a> {
    statement: &'a str,
    slot: &'a str,
    hold: Option<&'static str>,
    role: Option<&'static str>,
    name: &'a str,
    state: &'static str,
    changed: &'a [String],
    moved: Vec<MovedJson<'a>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    why: Option<&'static str>,
    #[serde(skip_serializing_if = "Option::is_none")]
    paper: Option<bool>,
    entry: Option<u64>,
    key: Option<&'a str>,
}

#[derive(Serialize)]
struct MovedJson<'a> {
    figure: &'a str,
    signed: Option<&'a str>,
    now: Option<&'a str>,
}

/// The state of the journal in a word.
pub fn journal_state(inputs: &Inputs) -> &'static str {
    if inputs.journal.broken.is_some() {
        "broken"
    } else if inputs.journal.torn.is_some() {
        "torn"
    } else {
        "intact"
    }
}

/// The whole tree as text.
pub fn verify(inputs: &Inputs, verified: &[Verified]) -> Result<String, serde_json::Error> {
    pretty(&VerifyTree {
        format: FORMAT,
        journal: JournalJson {
            entries: inputs.journal.entries.len(),
            state: journal_state(inputs),
        },
        signatures: verified.iter().map(signature).collect(),
    })
}

fn signature(of: &Verified) -> SignatureJson<'_> {
    SignatureJson {
        statement: &of.statement,
        slot: &of.slot,
        hold: of.hold.map(Hold::name),
        role: of.role.map(Role::name),
        name: &of.name,
        state: of.state.word(),
        changed: &of.changed,
        moved: of
            .moved
            .iter()
            .map(|moved| MovedJson {
                figure: &moved.figure,
                signed: moved.signed.as_deref(),
                now: moved.now.as_deref(),
            })
            .collect(),
        why: match of.state {
            SignatureState::Invalid(why) => Some(words::invalid(why)),
            _ => None,
        },
        paper: of.on_paper.then_some(true),
        entry: of.seq,
        key: of.fingerprint.as_deref(),
    }
}
