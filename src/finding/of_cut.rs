//! The cut and its marks. Quantities are exact.

use serde::Serialize;

use crate::measure::{Elevation, Length};

/// What a cut comes too close to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub enum CloseTo {
    /// A connection.
    Connection,
    /// The landing shoulder.
    Shoulder,
}

/// The cut and its marks.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
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
    },
    /// The cut lies below the shoe.
    BelowShoe {
        /// The shoe.
        shoe: Elevation,
        /// The target.
        target: Elevation,
    },
    /// The cut lies at or below the sea.
    BelowSea {
        /// The target.
        target: Elevation,
        /// The sea datum, or the water level where it is higher.
        sea: Elevation,
    },
    /// The cut lies above RT at the cut's hull position.
    AboveRotary {
        /// The target.
        target: Elevation,
        /// RT there.
        rotary: Elevation,
        /// The hull position.
        hull: String,
    },
    /// The cut is measured from a hull position before that of the stick-up.
    FromEarlierHull {
        /// The cut's.
        cut: String,
        /// The stick-up's.
        read: String,
    },
    /// Bench marks that belong to another hull position than the cut's.
    BenchesMoved {
        /// Each with its hull position.
        benches: Vec<(String, String)>,
        /// The cut's hull position.
        cut: String,
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
}
