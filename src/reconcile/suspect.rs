//! A mistake that could have been made: what it is and what correcting it adds, no sentence.

use super::mistakes::Mistake;
use crate::measure::Length;

/// A mistake that fits.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Suspect {
    /// The mistake.
    pub mistake: Mistake,
    /// The joints concerned; none where it is all of them, or no joint at all.
    pub joints: Vec<String>,
    /// What correcting it adds; `None` for a joint left out that nobody can name.
    pub effect: Option<Length>,
    /// What is left then.
    pub left: Option<Length>,
    /// Its figures.
    pub detail: SuspectDetail,
}

/// The figures of a mistake.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum SuspectDetail {
    /// A joint of the pipe on deck is in the string.
    FromPool {
        /// Whether it gives no make-up loss, so that all of its length counts.
        in_full: bool,
    },
    /// A joint of the pipe on deck was run in the place of the one entered.
    OtherJoint,
    /// A joint was run that is not in the list, and nothing names it.
    Unnamed,
    /// A joint is listed twice.
    Twice,
    /// A joint without a make-up loss.
    LossMissing {
        /// The loss of the others.
        usual: Length,
    },
    /// Several joints without one.
    LossesMissing {
        /// How many.
        joints: i64,
    },
    /// The make-up loss of a joint is deducted twice.
    LossTwice,
    /// Every make-up loss is.
    AllLossesTwice,
    /// A make-up loss far from the others.
    LossOutlier {
        /// The loss.
        written: Length,
        /// The median of the others.
        usual: Length,
    },
    /// A make-up loss written for another.
    LossWritten {
        /// What is written.
        written: Length,
        /// What was meant.
        meant: Length,
    },
    /// A length written for another.
    LengthWritten {
        /// What is written.
        written: Length,
        /// What was meant.
        meant: Length,
    },
    /// Every length is read from a burnt tape end.
    TapeEnd {
        /// What that adds to each.
        end: Length,
    },
    /// The same mistake in every length.
    EveryLength,
    /// A page's written total, carried forward not at all or twice.
    PageTotal {
        /// The total.
        total: Length,
        /// The line that writes it.
        line: u32,
        /// Added twice, and not missed.
        twice: bool,
    },
    /// A mistake on the measured side.
    Measured(MeasuredSide),
}

/// What may be wrong with a stick-up rather than with the tally.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum MeasuredSide {
    /// Its sign.
    StickUpSign,
    /// It was measured from RT, not from the spider.
    StickUpSurface,
    /// It was read at another hull position.
    WrongHull {
        /// The name of that position.
        hull: String,
    },
}

impl MeasuredSide {
    /// The mistake that it is.
    pub const fn mistake(&self) -> Mistake {
        match self {
            Self::StickUpSign => Mistake::StickUpSign,
            Self::StickUpSurface => Mistake::StickUpSurface,
            Self::WrongHull { .. } => Mistake::WrongHull,
        }
    }
}

/// A mistake that could have been made, whether it fits or not.
#[derive(Clone, Debug)]
pub(super) struct Candidate {
    pub(super) mistake: Mistake,
    /// The joint, as an index of the tally, or after all of those an index of the pool; `None` for all
    /// joints at once, or for none.
    pub(super) place: Option<usize>,
    pub(super) effect: Length,
    pub(super) detail: SuspectDetail,
}
