//! The cut, its marks and the finished top. Quantities are exact; an uncertainty U is rounded to the
//! nanometre, and `None` where it is not stated.

use crate::measure::{Elevation, Length};

/// What a cut comes too close to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CloseTo {
    /// A connection.
    Connection,
    /// The landing shoulder.
    Shoulder,
}

/// What a tolerance is too tight for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ProofOf {
    /// The mean of one finished top.
    Top,
    /// The spread of the cuts.
    Spread,
}

/// The cut, its marks and the finished top.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum CutFinding {
    /// The cut lies below the mudline.
    BelowMudline {
        /// The target.
        target: Elevation,
        /// By how much.
        below: Length,
    },
    /// The string is too short.
    TooShort {
        /// The top.
        top: Elevation,
        /// The target.
        target: Elevation,
        /// Whether there are readings of a finished top, which are not judged.
        unjudged: bool,
    },
    /// The cut lies below the shoe.
    BelowShoe {
        /// The shoe.
        shoe: Elevation,
        /// The target.
        target: Elevation,
        /// Whether there are readings of a finished top, which are not judged.
        unjudged: bool,
    },
    /// A tolerance is tighter than the measurement can prove.
    ToleranceBelowUncertainty {
        /// Of what.
        of: ProofOf,
        /// U of it.
        uncertainty: Length,
        /// The tolerance.
        limit: Length,
    },
    /// The cut lies in the bottom joint.
    InShoeJoint {
        /// The joint's number.
        joint: String,
    },
    /// The cut comes too close to something.
    Near {
        /// To what.
        to: CloseTo,
        /// How close; zero where it touches.
        distance: Length,
        /// The required clearance.
        required: Length,
    },
    /// The off-cut's mass leaves out its connectors.
    OffcutMassPartial {
        /// How many made-up pairs it has.
        pairs: usize,
    },
    /// No mark finds the cut within the tolerance.
    MarksTooLoose {
        /// The tolerance.
        tolerance: Length,
    },
    /// The finished top against its target.
    Deviation {
        /// The mean less the target, rounded to the nanometre.
        deviation: Length,
        /// U of the mean.
        uncertainty: Option<Length>,
        /// The tolerance.
        tolerance: Length,
        /// Outside; else not proven to be within.
        outside: bool,
    },
    /// Few readings round the finished top.
    RimReadingsFew {
        /// How many.
        readings: usize,
    },
    /// The finished top is out of level.
    OutOfLevel {
        /// Highest less lowest reading.
        value: Length,
        /// What is allowed.
        allowed: Length,
    },
}
