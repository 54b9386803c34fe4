//! The finished top, and what a measurement proves of it. Quantities are exact; an uncertainty U is
//! rounded to the nanometre, and `None` where it is not stated.

use serde::Serialize;

use crate::measure::{Elevation, Length};

/// What a tolerance is too tight for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub enum ProofOf {
    /// The mean of one finished top.
    Top,
    /// How level one finished top is, by four readings.
    Level,
    /// The spread of the cuts.
    Spread,
}

/// The finished top, and what a measurement proves of it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub enum TopFinding {
    /// The finished top was measured above the top of the string.
    AboveTop {
        /// The mean of the readings.
        mean: Elevation,
        /// The computed top.
        top: Elevation,
        /// U of that top.
        uncertainty: Option<Length>,
    },
    /// A finished top is measured of a string that no stick-up says was landed.
    BeforeRun {
        /// How many readings.
        readings: usize,
    },
    /// Tolerances that are tighter than the measurement can prove.
    ToleranceBelowUncertainty {
        /// Of what each, its U, and the tolerance.
        proofs: Vec<(ProofOf, Length, Length)>,
    },
    /// The finished top against its target.
    Deviation {
        /// The mean less the target, rounded to the nanometre.
        deviation: Length,
        /// The deviation of the reading that is furthest from the target.
        furthest: Length,
        /// U of the mean.
        uncertainty: Option<Length>,
        /// The tolerance.
        tolerance: Length,
        /// Whether the mean or a reading lies beyond; else it is not proven to lie within.
        beyond: bool,
        /// Whether that is proven.
        proven: bool,
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
        /// U of that.
        uncertainty: Option<Length>,
        /// How many readings.
        readings: usize,
        /// What is allowed.
        allowed: Length,
        /// Whether it lies beyond; else it is not proven to lie within.
        beyond: bool,
        /// Whether that is proven.
        proven: bool,
    },
    /// Nothing says how level a top must be.
    LevelUnstated,
}
