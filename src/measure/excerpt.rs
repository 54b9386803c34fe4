//! What a message repeats of a file, so that no file makes a message without end.

use std::fmt::{self, Display, Write as _};

use super::visible::visible;

/// Most bytes of a list that a message repeats: with all else that it says it stays within 4 KiB.
const LISTED: usize = 1_500;

/// The beginning of a text, for a message: at most 80 characters of it, control characters as their
/// code.
///
/// ```
/// use kerfmark::measure::Excerpt;
/// assert_eq!(Excerpt::of("12.l92").as_str(), "12.l92");
/// assert_eq!(Excerpt::of(&"x".repeat(81)).as_str().chars().count(), 81);
/// assert!(Excerpt::of(&"x".repeat(81)).as_str().ends_with("x…"));
/// ```
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Excerpt(String);

impl Excerpt {
    /// Most characters that are repeated.
    pub const MOST: usize = 80;

    /// The beginning of a text.
    pub fn of(text: &str) -> Self {
        Self::at_most(text, Self::MOST)
    }

    /// The beginning of a text that is no cell, such as the reason that another program gives.
    pub fn at_most(text: &str, most: usize) -> Self {
        Self(match text.char_indices().nth(most) {
            Some((end, _)) => format!("{}…", visible(text.split_at(end).0)),
            None => visible(text).into_owned(),
        })
    }

    /// The excerpt.
    pub fn as_str(&self) -> &str {
        &self.0
    }

    /// Whether there is nothing to repeat.
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }
}

impl Display for Excerpt {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

/// Names in a row with commas between them, as many as a message may repeat, and how many more.
///
/// ```
/// use kerfmark::measure::listed;
/// assert_eq!(listed(["a", "b"]), "a, b");
/// assert!(listed(vec!["heading"; 5_000]).ends_with(" more"));
/// ```
pub fn listed<T: Display>(names: impl IntoIterator<Item = T>) -> String {
    listed_within(LISTED, ", ", names)
}

/// The same with another mark between the names and room for so many bytes.
pub fn listed_within<T: Display>(
    most: usize,
    between: &str,
    names: impl IntoIterator<Item = T>,
) -> String {
    let mut list = String::new();
    let mut names = names.into_iter();
    while list.len() < most {
        let Some(name) = names.next() else {
            return list;
        };
        let comma = if list.is_empty() { "" } else { between };
        // Writing into memory cannot fail.
        let _ = write!(list, "{comma}{name}");
    }
    match names.count() {
        0 => list,
        more => format!("{list} and {more} more"),
    }
}
