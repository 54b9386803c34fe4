//! Text from files, shown so that it cannot act on a terminal or hide what it says.

use std::borrow::Cow;
use std::fmt::Write as _;

/// Whether a character is shown as its code: control characters (C0, DEL, C1), marks that change the
/// direction of writing, line and paragraph separators, and a byte-order mark within a text.
pub const fn is_control(letter: char) -> bool {
    letter.is_ascii_control()
        || matches!(
            letter,
            '\u{80}'..='\u{9f}'
                | '\u{61c}'
                | '\u{200e}'
                | '\u{200f}'
                | '\u{2028}'..='\u{202e}'
                | '\u{2066}'..='\u{2069}'
                | '\u{feff}'
        )
}

/// Whether a byte may begin a character that is shown as its code. Looked at first: nearly every text
/// has none.
const fn may_begin_control(byte: u8) -> bool {
    byte.is_ascii_control() || matches!(byte, 0xC2 | 0xD8 | 0xE2 | 0xEF)
}

/// A text with its control characters as their codes, line ends and tabs too: `\u{9b}`.
///
/// ```
/// use kerfmark::measure::visible;
/// assert_eq!(visible("A-07"), "A-07");
/// assert_eq!(visible("A\u{9b}31m\u{202e}7"), r"A\u{9b}31m\u{202e}7");
/// ```
pub fn visible(text: &str) -> Cow<'_, str> {
    shown(text, is_control)
}

/// The same for a text of several lines, which keeps its line ends and tabs.
pub fn visible_lines(text: &str) -> Cow<'_, str> {
    shown(text, |letter| {
        is_control(letter) && !matches!(letter, '\n' | '\t')
    })
}

fn shown(text: &str, is_hidden: impl Fn(char) -> bool) -> Cow<'_, str> {
    // To the end, however soon one is found: so it goes many bytes at a time.
    let begins = text
        .bytes()
        .fold(false, |any, byte| any | may_begin_control(byte));
    if !begins || !text.chars().any(&is_hidden) {
        return Cow::Borrowed(text);
    }
    let mut safe = String::with_capacity(text.len() + 8);
    for letter in text.chars() {
        if is_hidden(letter) {
            // Writing into memory cannot fail.
            let _ = write!(safe, "{}", letter.escape_unicode());
        } else {
            safe.push(letter);
        }
    }
    Cow::Owned(safe)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// From the Unicode Character Database: general category Cc, the property `Bidi_Control`, and
    /// the separators Zl and Zp (from memory).
    const CODES: &[(u32, u32)] = &[
        (0x00, 0x1f),
        (0x7f, 0x9f),
        (0x61c, 0x61c),
        (0x200e, 0x200f),
        (0x2028, 0x202e),
        (0x2066, 0x2069),
        (0xfeff, 0xfeff),
    ];

    #[test]
    fn control_characters_are_shown_as_their_code_and_nothing_else_is_changed() {
        for code in (0..=u32::from(char::MAX)).filter_map(char::from_u32) {
            let hidden = CODES
                .iter()
                .any(|(from, to)| (*from..=*to).contains(&u32::from(code)));
            let text = format!("A{code}7");
            let expected = if hidden {
                format!("A\\u{{{:x}}}7", u32::from(code))
            } else {
                text.clone()
            };
            assert_eq!(visible(&text), expected);
            let keeps = matches!(code, '\n' | '\t');
            let expected = if keeps { &text } else { &expected };
            assert_eq!(&visible_lines(&text), expected);
        }
    }

    #[test]
    fn what_is_harmless_is_not_copied() {
        assert!(matches!(visible("39′ 4½″ Ø30"), Cow::Borrowed(_)));
        assert_eq!(visible(&visible("\u{1b}[31m")), r"\u{1b}[31m");
    }
}
