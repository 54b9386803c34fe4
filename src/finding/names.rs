//! How findings name things: joints by number and line, the first of many. Quantities are exact; an uncertainty U is rounded to the
//! nanometre, and `None` where it is not stated.

use serde::Serialize;

/// A joint and the line that lists it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct JointRef {
    /// Its number.
    pub number: String,
    /// The line of its tally file.
    #[serde(skip)]
    pub line: u32,
}

/// Some things by name, and how many more there are.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Named<T> {
    /// The first of them.
    pub first: Vec<T>,
    /// How many are not among those.
    pub more: usize,
}

impl<T> Named<T> {
    /// The first `most` of some things.
    pub fn of(all: impl Iterator<Item = T>, most: usize) -> Self {
        let mut first: Vec<T> = all.collect();
        let more = first.len().saturating_sub(most);
        first.truncate(most);
        Self { first, more }
    }
}
