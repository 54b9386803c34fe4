//! The parts that all JSON of this program shares.

use std::fmt::Write as _;

use serde::Serialize;

use crate::finding::Flag;
use crate::measure::{LengthFormat, is_control};

/// The version of the JSON form.
pub(super) const FORMAT: u32 = 1;

/// A flag.
#[derive(Debug, Serialize)]
pub(super) struct FlagJson {
    code: &'static str,
    severity: &'static str,
    text: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    waived: Option<u64>,
}

pub(super) fn flags(flags: &[Flag], format: LengthFormat) -> Vec<FlagJson> {
    flags
        .iter()
        .map(|flag| FlagJson {
            code: flag.code.name(),
            severity: flag.severity.word(),
            text: super::words::flag(flag, format),
            waived: flag.waived,
        })
        .collect()
}

/// Writes a tree with two spaces an indent, so that people can read it too. Control characters that JSON
/// would carry as they are (DEL, C1, bidirectional marks) are written as escapes: a script reads the same
/// text, a terminal obeys none of it.
pub(super) fn pretty(tree: &impl Serialize) -> Result<String, serde_json::Error> {
    serde_json::to_string_pretty(tree).map(escaped)
}

/// All of a JSON text outside its strings is ASCII, and C0 within them is escaped already.
fn escaped(json: String) -> String {
    let is_raw = |letter: char| is_control(letter) && letter != '\n';
    if !json.contains(is_raw) {
        return json;
    }
    let mut safe = String::with_capacity(json.len() + 8);
    for letter in json.chars() {
        if is_raw(letter) {
            // Writing into memory cannot fail. All of these characters have four digits.
            let _ = write!(safe, "\\u{:04x}", u32::from(letter));
        } else {
            safe.push(letter);
        }
    }
    safe
}
