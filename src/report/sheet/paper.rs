//! Lines of a page that is 78 characters wide.

use std::fmt::Write as _;

use crate::journal::Inputs;
use crate::measure::{Length, LengthFormat};
use crate::report::words;

/// The width of the paper, in characters.
pub(super) const WIDTH: usize = 78;

/// A sentence broken at spaces.
pub(super) fn wrapped(text: &mut String, sentence: &str) {
    indented(text, "", sentence);
}

/// A sentence broken at spaces, its later lines under the text of the first.
pub(in crate::report) fn indented(text: &mut String, lead: &str, sentence: &str) {
    let indent = " ".repeat(lead.chars().count());
    let mut line = lead.to_owned();
    let mut has_word = false;
    for word in kept_together(sentence) {
        if has_word && line.chars().count() + 1 + word.chars().count() > WIDTH {
            let _ = writeln!(text, "{line}");
            line.clone_from(&indent);
            has_word = false;
        }
        if has_word {
            line.push(' ');
        }
        line.push_str(&word);
        has_word = true;
    }
    let _ = writeln!(text, "{line}");
}

/// The words of a sentence, a figure and its unit as one: `8.2` alone at the end of a line is read
/// as something else.
fn kept_together(sentence: &str) -> Vec<String> {
    let mut words: Vec<String> = Vec::new();
    for word in sentence.split_whitespace() {
        let unit = word.trim_end_matches([',', ';', ':', ')', '.']);
        let after_figure = words
            .last()
            .is_some_and(|before| before.ends_with(|c: char| c.is_ascii_digit()));
        match words.last_mut() {
            Some(before) if after_figure && ["m", "mm", "in", "ft", "kg"].contains(&unit) => {
                before.push(' ');
                before.push_str(word);
            }
            _ => words.push(word.to_owned()),
        }
    }
    words
}

/// `label: value`, the value in a column of its own.
pub(super) fn labelled(text: &mut String, label: &str, value: &str) {
    indented(text, &format!("{label:<20}"), value);
}

/// A length in the job's unit and in the other system.
pub(super) fn both(inputs: &Inputs, length: Length) -> String {
    let [own, other] = words::both(LengthFormat::new(inputs.job.units), length);
    format!("{own} ({other})")
}

/// A label with a line to write on.
pub(super) fn blank(label: &str, columns: usize) -> String {
    let line = columns.saturating_sub(label.chars().count() + 2);
    format!("{label} {} ", "_".repeat(line))
}
