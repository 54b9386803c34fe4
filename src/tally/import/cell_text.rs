//! What the text of a cell looks like: a number, a joint number, a name, a sentence.

use super::synonyms::normalise;
use crate::measure::{DecimalMark, ParseOptions, Unit, is_gap, read_length};
use crate::tally::joint::Kind;

/// `Page 2 of 3`, `Sheet 2`.
pub(super) fn heads_a_page(text: &str) -> bool {
    let lower = text.to_lowercase();
    let rest = ["page", "sheet", "pg"]
        .iter()
        .find_map(|word| lower.strip_prefix(word));
    rest.is_some_and(|rest| !rest.starts_with(char::is_alphabetic))
}

/// Whether a cell is blank, or says that there is nothing to say: a dash, `n/a`, `nil`, `none`.
pub(super) fn says_nothing(cell: &str) -> bool {
    matches!(cell, "" | "-" | "–" | "—")
        || (cell.len() <= 4
            && ["n/a", "na", "nil", "none"]
                .iter()
                .any(|word| cell.eq_ignore_ascii_case(word)))
}

/// A joint number without the marks that a list writes around it: `3.`, `(3)`, `3:`.
pub(super) fn bare_number(number: &str) -> &str {
    let number = number.strip_prefix('(').unwrap_or(number);
    number.trim_end_matches(['.', ')', ':'])
}

/// Whether a text begins as a number does.
pub(super) fn starts_as_number(text: &str) -> bool {
    text.trim_start_matches(['-', '+', '\u{2212}', '.', ',', ' '])
        .starts_with(|c: char| c.is_ascii_digit())
}

/// Whether a text is a number and nothing more, or one with the unit of a length.
pub(super) fn is_figure(text: &str) -> bool {
    if !starts_as_number(text) {
        return false;
    }
    let rules = ParseOptions {
        bare: Some(Unit::Metre),
        decimal: DecimalMark::Point,
    };
    let marks = |c: char| {
        c.is_ascii_digit() || is_gap(c) || matches!(c, '.' | ',' | '-' | '+' | '\u{2212}')
    };
    text.chars().all(marks) || read_length(text, &rules).is_ok()
}

/// A joint number that can be nothing else: a digit, and at most one letter, so that no word hides
/// in it.
pub(super) fn is_plain_number(text: &str) -> bool {
    let (mut digits, mut letters) = (0, 0);
    for byte in text.bytes() {
        match byte {
            b'0'..=b'9' => digits += 1,
            b'A'..=b'Z' | b'a'..=b'z' => letters += 1,
            b'-' | b'_' | b'#' => {}
            _ => return false,
        }
    }
    digits > 0 && letters <= 1 && text.len() <= 24
}

/// Whether a text could be a joint number: it has a digit, is short, and is no date.
pub(super) fn is_joint_like(text: &str) -> bool {
    let digits = text.contains(|c: char| c.is_ascii_digit());
    let words = text.split_whitespace().count();
    let starts_like_one = || {
        let lower = text.to_lowercase();
        ["jt", "jnt", "joint", "pup", "no"]
            .iter()
            .any(|start| lower.starts_with(start))
    };
    digits
        && text.len() <= 24
        && !text.contains(':')
        && (words == 1 || (words <= 3 && starts_like_one()))
        && !is_date(text)
}

/// Whether one cell holds what looks like a whole row: a joint number and a figure with a separator
/// between them, as where a row was put in quotes or separated by other marks than the header.
pub(super) fn hides_a_row(text: &str) -> bool {
    let mut cells = text.split([',', ';', '\t', '|']).map(str::trim);
    cells.next().is_some_and(is_joint_like) && cells.any(starts_as_number)
}

fn is_date(text: &str) -> bool {
    ['-', '/', '.'].into_iter().any(|mark| {
        let mut parts = 0;
        let all_digits = text.split(mark).all(|part| {
            parts += 1;
            !part.is_empty() && part.bytes().all(|byte| byte.is_ascii_digit())
        });
        all_digits && parts == 3
    })
}

/// Whether a text is the name of a piece of pipe: a kind, a single letter, or a word of the trade.
pub(super) fn is_named(text: &str) -> bool {
    if Kind::from_word(text).is_some() || (text.len() == 1 && text != "-") {
        return true;
    }
    !text.contains(':')
        && text.split_whitespace().count() <= 3
        && normalise(text).split(' ').any(|word| {
            matches!(
                word,
                "shoe"
                    | "joint"
                    | "jt"
                    | "jnt"
                    | "pup"
                    | "top"
                    | "landing"
                    | "running"
                    | "tool"
                    | "bottom"
                    | "float"
                    | "collar"
                    | "hanger"
                    | "crossover"
                    | "xo"
                    | "sub"
                    | "spacer"
                    | "housing"
                    | "pipe"
                    | "casing"
                    | "conductor"
                    | "extension"
            )
        })
}

/// Whether a text reads as a sentence rather than as a number or a name.
pub(super) fn is_prose(text: &str) -> bool {
    let lower = text.to_lowercase();
    text.contains(':')
        || text.split_whitespace().count() >= 4
        || text.starts_with('*')
        || ["note", "remark", "comment", "nb"]
            .iter()
            .any(|start| lower.starts_with(start))
        || (text.split_whitespace().count() == 3 && !starts_as_number(text))
}
