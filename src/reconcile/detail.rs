//! What there is to say of one difference between two lists: quantities and places, no sentence.

use super::mistakes::Mistake;
use crate::measure::Length;
use crate::tally::Kind;

/// One of the two lists.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Side {
    /// The first list.
    A,
    /// The second list.
    B,
}

/// Why the totals differ.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Cause {
    /// A joint of the first list alone.
    OnlyInA,
    /// A joint of the second list alone.
    OnlyInB,
    /// Its length differs.
    Length,
    /// Its make-up loss differs.
    MakeupLoss,
    /// It is in a different position: no effect on the total, but planes between move.
    Order,
    /// It is listed twice.
    ListedTwice,
    /// It is the open end in one list, where its loss is not deducted, and not in the other.
    OpenEnd,
    /// Lengths and losses that differ by no more than the last places of the lists.
    Rounding,
}

impl Cause {
    /// The name in JSON.
    pub const fn name(self) -> &'static str {
        match self {
            Self::OnlyInA => "only-in-a",
            Self::OnlyInB => "only-in-b",
            Self::Length => "length",
            Self::MakeupLoss => "makeup-loss",
            Self::Order => "order",
            Self::ListedTwice => "listed-twice",
            Self::OpenEnd => "open-end",
            Self::Rounding => "rounding",
        }
    }
}

/// The figures of a cause. Pairs are those of the first list and of the second.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum BridgeDetail {
    /// A joint of one list alone.
    Alone {
        /// That list.
        list: Side,
        /// Whether it is one of that list's other joints again.
        twice: bool,
        /// The line that lists it.
        line: u32,
        /// What it adds to its string.
        adds: Length,
    },
    /// A joint in a different position.
    Moved {
        /// Its places, counted from 1 at the shoe.
        places: [usize; 2],
        /// The lines that list it.
        lines: [u32; 2],
    },
    /// A length that differs.
    Length {
        /// The lengths.
        lengths: [Length; 2],
        /// The lines that list it.
        lines: [u32; 2],
        /// Its number in the second list, where that is another.
        called_in_b: Option<String>,
        /// What may be the reason.
        reason: LengthReason,
    },
    /// A make-up loss that differs.
    MakeupLoss {
        /// The losses.
        losses: [ListedLoss; 2],
        /// The lines that list it.
        lines: [u32; 2],
        /// A mistake in digits that makes one of the other.
        reason: Option<Mistake>,
    },
    /// What rounding makes, all together.
    Rounding {
        /// How many joints it is of.
        joints: usize,
    },
    /// A joint at the open end of one list alone.
    OpenEnd {
        /// That list.
        open_in: Side,
    },
}

/// A make-up loss as a list gives it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ListedLoss {
    /// Written.
    Written(Length),
    /// Blank: the pipe's nominal one counts.
    Nominal(Length),
    /// Blank, and none is deducted.
    None,
}

/// What may be the reason for a difference of two lengths.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum LengthReason {
    /// Mistakes that make one of the other, at least one.
    Mistakes(Vec<LengthMistake>),
    /// No known mistake, but as little as two straps of one joint may differ.
    Straps,
    /// No known mistake.
    Unknown,
}

/// A mistake in the length of one list.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LengthMistake {
    /// In writing it.
    Written(Mistake, Side),
    /// The effective length is written in place of the overall one.
    LossTakenOff(Side),
}

/// What differs besides lengths: it moves no total, but may matter all the same.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Note {
    /// The two lists give a joint another kind.
    Kinds {
        /// The joint's number.
        joint: String,
        /// The kinds.
        kinds: [Option<Kind>; 2],
        /// The lines that list it.
        lines: [u32; 2],
        /// Whether both lists name a running joint, and this is it in one of them.
        running: bool,
    },
    /// One number, but the serials are those of two joints.
    Serials {
        /// The joint's number.
        joint: String,
        /// The serials.
        serials: [Option<String>; 2],
        /// The lines that list it.
        lines: [u32; 2],
    },
}
