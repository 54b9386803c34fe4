//! One joint as a tally lists it.

use compact_str::CompactString;

use crate::measure::{Length, Unit};

/// What a joint is in its string.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Kind {
    /// The bottom joint, whose lower end is the shoe.
    Shoe,
    /// An ordinary joint.
    Joint,
    /// The joint that carries the landing shoulder.
    Running,
    /// A short joint used to adjust length.
    Pup,
    /// The top joint of the conductor.
    Top,
    /// Part of the landing string or a running tool: recovered, never part of the conductor.
    Landing,
}

impl Kind {
    /// The words that a file may use, as messages name them.
    pub const WORDS: &'static str = "shoe, joint, running, pup, top or landing";

    /// Whether lengths and losses of this kind are ordinary enough to be judged beside each other.
    pub(super) const fn is_ordinary(kind: Option<Self>) -> bool {
        matches!(kind, None | Some(Self::Joint))
    }

    /// The name in files.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Shoe => "shoe",
            Self::Joint => "joint",
            Self::Running => "running",
            Self::Pup => "pup",
            Self::Top => "top",
            Self::Landing => "landing",
        }
    }

    /// The kind that a word names, in any case, with or without `joint` after it.
    pub fn from_word(word: &str) -> Option<Self> {
        // The contract's own words first, without the cost of changing case.
        Some(match word {
            "joint" => Self::Joint,
            "shoe" => Self::Shoe,
            "running" => Self::Running,
            "pup" => Self::Pup,
            "top" => Self::Top,
            "landing" => Self::Landing,
            _ => match word.trim().to_lowercase().as_str() {
                "joint" | "jt" | "pipe" => Self::Joint,
                "shoe" | "shoe joint" | "shoe jt" => Self::Shoe,
                "running" | "running joint" | "running jt" => Self::Running,
                "pup" | "pup joint" | "pup jt" => Self::Pup,
                "top" | "top joint" | "top jt" => Self::Top,
                "landing" | "landing joint" | "landing jt" | "landing string" | "running tool" => {
                    Self::Landing
                }
                _ => return None,
            },
        })
    }
}

/// How a length was written: mistakes are made in digits, not in lengths.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Written {
    /// The unit.
    pub unit: Unit,
    /// Digits after the decimal mark; 0 for whole numbers and fractions.
    pub decimals: u8,
}

/// One joint as a tally lists it: what was written, nothing worked out.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Joint {
    /// The line of the file that lists it.
    pub line: u32,
    /// The joint number as written.
    pub number: CompactString,
    /// The serial, where one is written.
    pub serial: Option<CompactString>,
    /// The kind, where one is written.
    pub kind: Option<Kind>,
    /// How its length was written.
    pub written: Written,
    /// Overall length, pin nose to box face; above 0. `None` where the file gives effective lengths
    /// alone.
    pub overall: Option<Length>,
    /// Make-up loss of the joint's own pin; not below 0. `None` where it is blank.
    pub makeup_loss: Option<Length>,
    /// Effective length, where the file gives effective lengths alone.
    pub effective: Option<Length>,
    /// Remarks, where any are written.
    pub remarks: Option<CompactString>,
}

/// A joint number taken apart: what stands before its last digits, and those.
pub(super) fn split_number(number: &str) -> Option<(&str, u64)> {
    let prefix = number.trim_end_matches(|c: char| c.is_ascii_digit());
    let digits = number.get(prefix.len()..)?;
    Some((prefix, digits.parse().ok()?))
}
