//! The parts that all JSON of this program shares.

use serde::Serialize;

use crate::finding::Flag;
use crate::measure::LengthFormat;

/// The version of the JSON form.
pub(super) const FORMAT: u32 = 1;

/// A flag.
#[derive(Debug, Serialize)]
pub(super) struct FlagJson {
    code: &'static str,
    severity: &'static str,
    text: String,
}

pub(super) fn flags(flags: &[Flag], format: LengthFormat) -> Vec<FlagJson> {
    flags
        .iter()
        .map(|flag| FlagJson {
            code: flag.code.name(),
            severity: flag.severity.word(),
            text: super::words::flag(flag, format),
        })
        .collect()
}

/// Writes a tree with two spaces an indent, so that people can read it too.
pub(super) fn pretty(tree: &impl Serialize) -> Result<String, serde_json::Error> {
    serde_json::to_string_pretty(tree)
}
