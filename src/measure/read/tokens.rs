//! The pieces of a written length.

use super::super::length_error::LengthError;
use super::super::{Excerpt, Unit};

/// One piece of a written length.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Token<'a> {
    /// Digits, with decimal mark and marks for thousands as they stand.
    Number(&'a str),
    /// A fraction: numerator, denominator.
    Fraction(u32, u32),
    /// `ft`, `'` or the like.
    Foot,
    /// `in`, `"` or the like.
    Inch,
    /// `m`, `cm` or `mm`.
    Metric(Unit),
    /// A hyphen or dash between feet and inches.
    Hyphen,
    /// Any other word or sign.
    Word(&'a str),
}

/// Splits `body` into pieces; `text` is the whole text, for messages.
pub(super) fn tokenise<'a>(text: &str, body: &'a str) -> Result<Vec<Token<'a>>, LengthError> {
    let mut tokens = Vec::with_capacity(6);
    let mut rest = body.trim_start();
    while let Some(first) = rest.chars().next() {
        let length = match first {
            '0'..='9' | '.' | ',' => number_length(rest),
            c if c.is_alphabetic() => word_length(rest),
            c => c.len_utf8(),
        };
        let (piece, after) = rest.split_at(length);
        rest = after.trim_start();
        match first {
            '0'..='9' | '.' | ',' => {
                if let Some(bottom) = rest.strip_prefix(['/', '\u{2044}']) {
                    let bottom = bottom.trim_start();
                    let digits = bottom.len()
                        - bottom
                            .trim_start_matches(|c: char| c.is_ascii_digit())
                            .len();
                    let (denominator, after) = bottom.split_at(digits);
                    tokens.push(fraction(text, piece, denominator)?);
                    rest = after.trim_start();
                } else {
                    tokens.push(Token::Number(piece));
                }
            }
            '\'' | '\u{2032}' | '\u{2019}' | '\u{2018}' => {
                // Two of them side by side are the mark of inches, as typed where there is no other.
                if let Some(after) = after.strip_prefix(first) {
                    tokens.push(Token::Inch);
                    rest = after.trim_start();
                } else {
                    tokens.push(Token::Foot);
                }
            }
            '"' | '\u{2033}' | '\u{201d}' | '\u{201c}' => tokens.push(Token::Inch),
            '-' | '\u{2010}' | '\u{2011}' | '\u{2013}' => tokens.push(Token::Hyphen),
            '½' => tokens.push(Token::Fraction(1, 2)),
            '¼' => tokens.push(Token::Fraction(1, 4)),
            '¾' => tokens.push(Token::Fraction(3, 4)),
            '⅛' => tokens.push(Token::Fraction(1, 8)),
            '⅜' => tokens.push(Token::Fraction(3, 8)),
            '⅝' => tokens.push(Token::Fraction(5, 8)),
            '⅞' => tokens.push(Token::Fraction(7, 8)),
            c if c.is_alphabetic() => tokens.push(word(piece)),
            _ => tokens.push(Token::Word(piece)),
        }
    }
    Ok(tokens)
}

/// Length in bytes of the number at the start: digits, marks, and what else groups thousands.
fn number_length(text: &str) -> usize {
    let mut end = 0;
    for (at, c) in text.char_indices() {
        match c {
            '0'..='9' | '.' | ',' => end = at + 1,
            c if is_gap(c) && groups_thousands(text, at, c) => {}
            _ => break,
        }
    }
    end
}

/// Whether a character other than point and comma may set thousands apart: a space, also one at which no
/// line breaks, narrow or thin, or an apostrophe.
pub const fn is_gap(c: char) -> bool {
    is_space(c) || is_apostrophe(c)
}

const fn is_space(c: char) -> bool {
    matches!(c, ' ' | '\u{a0}' | '\u{202f}' | '\u{2009}')
}

const fn is_apostrophe(c: char) -> bool {
    matches!(c, '\'' | '\u{2019}')
}

/// Whether the gap at `at` stands between one to three leading digits (or an earlier group) and
/// exactly three digits, as in `12 192`; the `4 1/2` of inches is none. An apostrophe is the mark of
/// feet unless three digits follow it and no mark of inches follows those.
fn groups_thousands(text: &str, at: usize, gap: char) -> bool {
    let (before, after) = text.split_at(at);
    let after = if is_space(gap) {
        after.trim_start_matches(is_space)
    } else {
        after.trim_start_matches(gap)
    };
    let run = after.len() - after.trim_start_matches(|c: char| c.is_ascii_digit()).len();
    let next = after.chars().nth(run);
    let head = before.split(is_gap).next().unwrap_or_default();
    let head_fits =
        (1..=3).contains(&head.len()) && before.chars().all(|c| c.is_ascii_digit() || is_gap(c));
    let tail = after.split_at(run).1.trim_start();
    let is_inches = is_apostrophe(gap)
        && (tail.starts_with(['"', '\u{2033}', '\u{201d}'])
            || tail.starts_with("''")
            || tail.to_lowercase().starts_with("in"));
    head_fits && run == 3 && !matches!(next, Some('/' | '\u{2044}')) && !is_inches
}

fn word_length(text: &str) -> usize {
    let word = text.trim_start_matches(char::is_alphabetic);
    let letters = text.len() - word.len();
    // `ft.` and `in.` end in a point that belongs to the word.
    if word.starts_with('.')
        && !word
            .trim_start_matches('.')
            .starts_with(|c: char| c.is_ascii_digit())
    {
        letters + 1
    } else {
        letters
    }
}

fn word(piece: &str) -> Token<'_> {
    match Unit::from_word(piece) {
        Some(Unit::Foot) => Token::Foot,
        Some(Unit::Inch) => Token::Inch,
        Some(unit @ (Unit::Metre | Unit::Centimetre | Unit::Millimetre)) => Token::Metric(unit),
        Some(Unit::FootInch) | None => Token::Word(piece),
    }
}

fn fraction(text: &str, top: &str, bottom: &str) -> Result<Token<'static>, LengthError> {
    match (top.parse(), bottom.parse()) {
        (Ok(top), Ok(bottom)) => Ok(Token::Fraction(top, bottom)),
        _ => Err(LengthError::NotALength(Excerpt::of(text))),
    }
}
