//! What a cursor, an overlay or an effect speaks of, by names and figures that a reload of the files
//! does not move; never by a place in a list.

use std::collections::HashMap;

use crate::measure::Length;
use crate::reconcile::{Difference, Topic};

/// A difference among those of one list.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DifferenceKey {
    /// The topic.
    pub topic: Topic,
    /// The joint's number.
    pub joint: String,
    /// Whether the joint is in the second list alone.
    pub in_b: bool,
    /// The line that lists it.
    pub line: u32,
    /// Whether no other difference was about this topic of a joint of this number.
    alone: bool,
}

impl DifferenceKey {
    pub(super) fn of(difference: &Difference) -> Self {
        Self {
            topic: difference.topic,
            joint: difference.joint.clone(),
            in_b: difference.in_b(),
            line: difference.line,
            alone: difference.alone,
        }
    }

    /// Where it is among the differences now. Lines move when rows are added above them: what was
    /// alone under its number, and is so still, is the same on another line.
    pub(super) fn find(&self, differences: &[Difference]) -> Option<usize> {
        let same = |it: &Difference| {
            (it.topic, it.joint.as_str(), it.in_b()) == (self.topic, &self.joint, self.in_b)
        };
        let on_its_line = |it: &Difference| same(it) && it.line == self.line;
        let found = differences.iter().position(on_its_line);
        found.or_else(|| {
            let alone = |it: &Difference| same(it) && it.alone && self.alone;
            differences.iter().position(alone)
        })
    }
}

/// A difference of one list of one slot's string, and what it said when a person saw it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DifferenceId {
    /// The slot's name.
    pub slot: String,
    /// The list's name.
    pub list: String,
    /// Which of its differences.
    pub key: DifferenceKey,
    /// What the two lists said.
    pub said: [Option<Length>; 2],
}

impl DifferenceId {
    /// `slot D, list yard, joint D-04, length`.
    pub(super) fn words(&self) -> String {
        format!(
            "slot {}, list {}, joint {}, {}",
            self.slot,
            self.list,
            self.key.joint,
            self.key.topic.name()
        )
    }
}

/// Names that may occur more than once, each made unique: `guide`, `guide (2)`.
pub(super) fn numbered<'a>(names: impl IntoIterator<Item = &'a str>) -> Vec<String> {
    let mut counts: HashMap<&str, usize> = HashMap::new();
    let mut number = |name: &'a str| {
        let count = counts.entry(name).or_default();
        *count += 1;
        match *count {
            1 => name.to_owned(),
            count => format!("{name} ({count})"),
        }
    };
    names.into_iter().map(&mut number).collect()
}
