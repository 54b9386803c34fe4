//! Characters that act on a terminal, or change the direction of what is written beside them.

/// DEL, C1, marks of direction, separators of lines, and a byte-order mark.
pub const ACTING: &str =
    "\u{7f}\u{85}\u{9b}31m\u{61c}\u{200e}\u{200f}\u{202a}\u{202e}\u{2028}\u{2066}\u{2069}\u{feff}";

/// Whether a text has one of them, or a control character of C0 that is no end of a line and no tab.
pub fn has_acting(text: &str) -> bool {
    text.chars()
        .filter(|letter| !matches!(letter, '\n' | '\t'))
        .any(|letter| letter.is_control() || ACTING.contains(letter) && !letter.is_ascii())
}
