//! One joint as a tally lists it.

use std::fmt;
use std::num::NonZeroU8;

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
    /// Whether lengths and losses of this kind are ordinary enough to be judged beside each other.
    pub(super) const fn is_ordinary(kind: Option<Self>) -> bool {
        matches!(kind, None | Some(Self::Joint))
    }

    /// Whether a text speaks of a joint that is short by design, in one of its words.
    pub fn names_a_pup(text: &str) -> bool {
        let mut words = text.split(|c: char| !c.is_alphabetic() && !matches!(c, '-' | '/'));
        let mut before = "";
        words.any(|word| {
            let word = word.trim_end_matches(['s', 'S']);
            let is = |names: &[&str]| names.iter().any(|name| word.eq_ignore_ascii_case(name));
            let short = before.eq_ignore_ascii_case("short");
            if !word.is_empty() {
                before = word;
            }
            is(&["pup", "crossover", "cross-over", "x-over", "xover", "x/o"])
                || (short && is(&["joint", "jt"]))
        })
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

    /// The kind that a word names, in any case: the contract's own words and those of the trade. What is
    /// short by design is a pup, since nothing but the judgement of lengths depends on that.
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
                "joint" | "jt" | "jnt" | "pipe" | "standard" | "std" | "standard joint"
                | "std joint" | "std jt" | "full joint" | "plain joint" | "ordinary joint"
                | "conductor" | "conductor joint" => Self::Joint,
                "shoe" | "shoe joint" | "shoe jt" | "float shoe" | "float shoe joint"
                | "float shoe jt" | "guide shoe" | "guide shoe joint" | "drive shoe"
                | "drive shoe joint" => Self::Shoe,
                "running" | "running joint" | "running jt" | "rj" | "r/j" | "r.j." => Self::Running,
                "pup" | "pup joint" | "pup jt" | "pj" | "short" | "short joint" | "short jt"
                | "crossover" | "cross-over" | "cross over" | "crossover joint"
                | "crossover sub" | "x-over" | "xover" | "x/o" | "xo" => Self::Pup,
                "top" | "top joint" | "top jt" => Self::Top,
                "landing" | "landing joint" | "landing jt" | "landing string" | "running tool"
                | "handling joint" | "handling jt" => Self::Landing,
                _ => return None,
            },
        })
    }
}

/// How a length was written: mistakes are made in digits, not in lengths.
///
/// One byte, since a list may have a million joints.
#[derive(Clone, Copy, PartialEq, Eq)]
pub struct Written(NonZeroU8);

/// Units in the order of their codes.
const UNITS: [Unit; 6] = [
    Unit::Metre,
    Unit::Centimetre,
    Unit::Millimetre,
    Unit::Foot,
    Unit::FootInch,
    Unit::Inch,
];

/// Decimals that one byte has room for beside the unit; no length has as many.
const MOST_DECIMALS: u8 = 31;

impl Written {
    /// In this unit, with so many digits after the decimal mark: 0 for whole numbers and fractions.
    pub const fn new(unit: Unit, decimals: u8) -> Self {
        let unit = match unit {
            Unit::Metre => 0,
            Unit::Centimetre => 1,
            Unit::Millimetre => 2,
            Unit::Foot => 3,
            Unit::FootInch => 4,
            Unit::Inch => 5,
        };
        let decimals = if decimals > MOST_DECIMALS {
            MOST_DECIMALS
        } else {
            decimals
        };
        let code = unit * (MOST_DECIMALS + 1) + decimals;
        Self(NonZeroU8::MIN.saturating_add(code))
    }

    /// The unit.
    pub fn unit(self) -> Unit {
        let place = usize::from((self.0.get() - 1) / (MOST_DECIMALS + 1));
        UNITS.get(place).copied().unwrap_or(Unit::Metre)
    }

    /// Digits after the decimal mark; 0 for whole numbers and fractions.
    pub const fn decimals(self) -> u8 {
        (self.0.get() - 1) % (MOST_DECIMALS + 1)
    }
}

impl fmt::Debug for Written {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} with {} decimals", self.unit(), self.decimals())
    }
}

/// What the length of a joint in a list is.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum LengthKind {
    /// From the nose of the pin to the face of the box.
    #[default]
    Overall,
    /// What the joint adds to the string, where a file gives that alone.
    Effective,
}

/// One joint as a tally lists it: what was written, nothing worked out. Lists may have a million of them, so
/// that it is kept small.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Joint {
    /// The line of the file that lists it.
    pub line: u32,
    /// The kind, where one is written.
    pub kind: Option<Kind>,
    /// How its length was written.
    pub written: Written,
    /// How its make-up loss was written; `None` where it is blank, or follows from other figures.
    pub loss_written: Option<Written>,
    /// What its length is.
    pub length_kind: LengthKind,
    /// Its length in the list; above 0 as it is read. `None` where lists that were put together give none.
    pub length: Option<Length>,
    /// Make-up loss of the joint's own pin; `None` where it is blank. Below 0 only where joints are welded
    /// with a root gap.
    pub makeup_loss: Option<Length>,
    /// The joint number as written.
    pub number: CompactString,
    /// The serial, where one is written.
    pub serial: Option<CompactString>,
    /// Remarks, where any are written: few joints have any.
    pub remarks: Option<Box<CompactString>>,
}

impl Joint {
    /// A joint of which nothing is written yet.
    pub(super) const BLANK: Self = Self {
        line: 0,
        kind: None,
        written: Written::new(Unit::Metre, 0),
        loss_written: None,
        length_kind: LengthKind::Overall,
        length: None,
        makeup_loss: None,
        number: CompactString::const_new(""),
        serial: None,
        remarks: None,
    };

    /// Overall length, pin nose to box face. `None` where the file gives effective lengths alone.
    pub fn overall(&self) -> Option<Length> {
        self.length
            .filter(|_| self.length_kind == LengthKind::Overall)
    }

    /// Effective length, where the file gives effective lengths alone.
    pub fn effective(&self) -> Option<Length> {
        self.length
            .filter(|_| self.length_kind == LengthKind::Effective)
    }

    /// Its remarks, where any are written.
    pub fn remarks(&self) -> Option<&str> {
        self.remarks.as_ref().map(|remarks| remarks.as_str())
    }
}

/// A joint number taken apart: what is before its last digits, and those.
#[expect(
    clippy::inline_always,
    reason = "every joint goes through it, and a call costs as much as the work"
)]
#[inline(always)]
pub(super) fn split_number(number: &str) -> Option<(&str, u64)> {
    let digits = number.bytes().rev().take_while(u8::is_ascii_digit).count();
    let (prefix, digits) = number.split_at_checked(number.len() - digits)?;
    Some((prefix, digits.parse().ok()?))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn how_a_length_was_written_is_kept_in_a_byte_and_a_joint_in_80() {
        for unit in UNITS {
            for decimals in 0..=MOST_DECIMALS {
                let written = Written::new(unit, decimals);
                assert_eq!((written.unit(), written.decimals()), (unit, decimals));
            }
        }
        assert_eq!(Written::new(Unit::Inch, 200).decimals(), MOST_DECIMALS);
        assert_eq!(size_of::<Option<Written>>(), 1);
        assert!(size_of::<Joint>() <= 80, "{}", size_of::<Joint>());
    }
}
