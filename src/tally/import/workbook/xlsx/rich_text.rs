//! A text of a workbook, which may be made of runs that look different.

use quick_xml::escape::resolve_predefined_entity;
use quick_xml::events::{BytesStart, Event};

use super::super::super::damage::WorkbookDamage;
use super::super::super::error::Problem;
use super::super::limits::{MAX_TEXT, broken, too_much_text, unreadable};
use super::super::parts::{attribute, local_name, switches_on};
use crate::measure::Excerpt;

/// A text as its elements come.
#[derive(Debug, Default)]
pub(super) struct RichText {
    text: String,
    /// Where the run begins in it that is being read, and whether its spaces are kept.
    run: Option<(usize, bool)>,
    /// Whether this is how a text is spoken: it stands above the text itself.
    is_spoken: bool,
    /// Whether a part of it is struck through.
    pub(super) is_struck: bool,
}

impl RichText {
    /// Forgets the text before.
    pub(super) fn clear(&mut self) {
        self.text.clear();
        *self = Self {
            text: std::mem::take(&mut self.text),
            ..Self::default()
        };
    }

    /// The text so far.
    pub(super) fn text(&self) -> &str {
        &self.text
    }

    /// Takes what comes within it.
    pub(super) fn take(&mut self, event: &Event<'_>) -> Result<(), Problem> {
        match event {
            Event::Start(element) => self.start(element),
            Event::End(element) => match local_name(element.name()) {
                "t" => self.end_of_run(),
                "rPh" => self.is_spoken = false,
                _ => {}
            },
            _ if self.run.is_some() => push_text(event, &mut self.text)?,
            _ => {}
        }
        Ok(())
    }

    fn start(&mut self, element: &BytesStart<'_>) {
        match local_name(element.name()) {
            "t" if !self.is_spoken => {
                let keeps = attribute(element, "xml:space").is_some_and(|it| it == "preserve");
                self.run = Some((self.text.len(), keeps));
            }
            "rPh" => self.is_spoken = true,
            "strike" if switches_on(element) => self.is_struck = true,
            _ => {}
        }
    }

    fn end_of_run(&mut self) {
        let Some((from, keeps)) = self.run.take() else {
            return;
        };
        let Some(run) = self.text.get(from..) else {
            return;
        };
        let is_space = |letter: char| matches!(letter, ' ' | '\t' | '\r' | '\n');
        let inner = if keeps {
            run
        } else {
            run.trim_matches(is_space)
        };
        if inner.len() < run.len() || inner.contains("_x") {
            let inner = unescaped(inner);
            self.text.truncate(from);
            self.text.push_str(&inner);
        }
    }
}

/// Adds what an event holds of a text.
pub(super) fn push_text(event: &Event<'_>, text: &mut String) -> Result<(), Problem> {
    match event {
        Event::Text(piece) => text.push_str(&piece.xml10_content()),
        Event::CData(piece) => text.push_str(&piece.xml10_content()),
        Event::GeneralRef(name) => {
            if let Some(meant) = resolve_predefined_entity(name.as_ref()) {
                text.push_str(meant);
            } else {
                let letter = name
                    .resolve_char_ref()
                    .map_err(|error| unreadable(&error))?;
                let unknown = || broken(WorkbookDamage::NoLetter(Excerpt::of(name.as_ref())));
                text.push(letter.ok_or_else(unknown)?);
            }
        }
        _ => {}
    }
    if text.len() > MAX_TEXT {
        return Err(too_much_text(MAX_TEXT));
    }
    Ok(())
}

/// Letters that XML does not have are written by their UTF-16 code, as `_x000D_` (ECMA-376 part 1, 22.9.2.19).
pub(super) fn unescaped(text: &str) -> String {
    let mut units: Vec<u16> = Vec::new();
    let mut made = String::with_capacity(text.len());
    let mut rest = text;
    while let Some(letter) = rest.chars().next() {
        if let Some((unit, after)) = escape(rest) {
            units.push(unit);
            rest = after;
            continue;
        }
        flush(&mut units, &mut made);
        made.push(letter);
        rest = rest.get(letter.len_utf8()..).unwrap_or_default();
    }
    flush(&mut units, &mut made);
    made
}

/// The code that a text begins with, and what comes after it.
fn escape(text: &str) -> Option<(u16, &str)> {
    let rest = text.strip_prefix("_x")?;
    let (digits, rest) = rest.split_at_checked(4)?;
    let are_digits = digits.bytes().all(|byte| byte.is_ascii_hexdigit());
    let unit = u16::from_str_radix(digits, 16)
        .ok()
        .filter(|_| are_digits)?;
    Some((unit, rest.strip_prefix('_')?))
}

/// Adds the letters that codes stand for: two of them may be one letter.
fn flush(units: &mut Vec<u16>, made: &mut String) {
    let letters = char::decode_utf16(units.drain(..));
    made.extend(letters.map(|letter| letter.unwrap_or(char::REPLACEMENT_CHARACTER)));
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn letters_by_their_code_become_letters() {
        for (written, meant) in [
            ("a_x000D_b", "a\rb"),
            ("_x005F_x000D_", "_x000D_"),
            ("_xD83D__xDE00_", "\u{1F600}"),
            ("_xD83D_", "\u{FFFD}"),
            ("_x00e9_", "é"),
            ("box_x1_", "box_x1_"),
            ("_x+00A_", "_x+00A_"),
            ("_xé", "_xé"),
        ] {
            assert_eq!(unescaped(written), meant, "{written}");
        }
    }
}
