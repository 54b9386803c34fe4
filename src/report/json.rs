//! The parts that all JSON of this program shares.

use serde::Serialize;

use crate::flag::Flag;

/// The version of the JSON form.
pub(super) const FORMAT: u32 = 1;

/// A flag.
#[derive(Debug, Serialize)]
pub(super) struct FlagJson<'a> {
    code: &'static str,
    severity: &'static str,
    text: &'a str,
}

pub(super) fn flags(flags: &[Flag]) -> Vec<FlagJson<'_>> {
    flags
        .iter()
        .map(|flag| FlagJson {
            code: flag.code.name(),
            severity: flag.severity.word(),
            text: &flag.text,
        })
        .collect()
}

/// Writes a tree with two spaces an indent, so that people can read it too.
pub(super) fn pretty(tree: &impl Serialize) -> Result<String, serde_json::Error> {
    serde_json::to_string_pretty(tree)
}
