//! Readings of height differences against each other. Quantities are rounded to the nanometre; counts of millionths are
//! rounded to one.

use serde::Serialize;

use super::names::Named;
use crate::measure::{Elevation, Length};

/// A reading by its name.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct ReadingRef {
    /// What it is of, as files name it.
    pub of: &'static str,
    /// The point from which; blank for the tape's scale.
    pub from: String,
    /// The point to which.
    pub to: String,
    /// The line of the file of readings.
    #[serde(skip)]
    pub line: Option<u32>,
    /// The number of the journal's entry.
    #[serde(skip)]
    pub entry: Option<u64>,
}

/// Which elevation is compared.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub enum AdjustedPoint {
    /// The top of the conductor.
    Top,
    /// RT at a hull position.
    Rotary(String),
    /// The finished top as it was measured.
    FinishedTop,
}

/// An elevation by all readings, beside that of the chain.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct AdjustedPointRef {
    /// Which it is.
    pub of: AdjustedPoint,
    /// By all readings.
    pub adjusted: Elevation,
    /// By the chain.
    pub chain: Elevation,
    /// By how much both may differ.
    pub limit: Length,
}

/// Readings that disagree with the others.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct SuspectRef {
    /// The reading; several where nothing tells them apart.
    pub readings: Vec<ReadingRef>,
    /// What it has too much by what the others say.
    pub blunder: Option<Length>,
}

/// Readings of height differences against each other.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub enum LevelFinding {
    /// Readings that disagree with the others by more than chance allows, each once those before it are left out.
    Suspects {
        /// Those.
        suspects: Vec<SuspectRef>,
    },
    /// All together disagree by more than they should, or by less.
    Variance {
        /// Chi-square, in millionths; the last count where it is beyond that.
        value: i64,
        /// Between which it lies in 95 of 100 cases, in millionths.
        bounds: [i64; 2],
    },
    /// Adjusted elevations that are not those of a slot's chain.
    AdjustedDisagrees {
        /// The top, RT or both.
        points: Vec<AdjustedPointRef>,
        /// The reading to look at first; several where nothing tells them apart.
        look_at: Vec<ReadingRef>,
    },
    /// Adjusted elevations that are far from those of a slot's chain, where nothing says by how much they may differ: `limit` is what
    /// two ways to one figure may.
    AdjustedFar {
        /// The top, RT or both.
        points: Vec<AdjustedPointRef>,
    },
    /// Names of points that were probably meant otherwise, each with the one that was probably meant.
    DoubtedPoints {
        /// Those.
        names: Named<(String, Option<String>)>,
    },
    /// Entered readings of strings that have moved since, each with its point.
    Outdated {
        /// Those.
        entries: Named<(u64, String)>,
    },
    /// Rows of the file of readings that stand twice, each with the line that it repeats.
    Repeated {
        /// Those.
        lines: Named<(u32, u32)>,
    },
    /// Corrections that are for no reading.
    IdleCorrections {
        /// What they are on.
        on: Vec<String>,
    },
    /// A cut by adjusted readings that do not hold together.
    Unsound {
        /// The reading that is suspected first; several where nothing tells them apart.
        suspect: Vec<ReadingRef>,
        /// Whether all together disagree by more than they should.
        is_outside: bool,
    },
    /// Readings that are not adjusted at all.
    NotAdjusted {
        /// Why, in the words of the error.
        why: String,
    },
    /// Readings that nothing checks.
    Unchecked {
        /// Those.
        readings: Named<ReadingRef>,
    },
}

/// A slot with a length.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct SlotLength {
    /// The slot.
    pub slot: String,
    /// The length.
    pub length: Length,
}

/// A gap that was found when the deck was landed, and is not what the seat says.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct LandedOtherwise {
    /// The slot.
    pub slot: String,
    /// What was found.
    pub found: Length,
    /// What the seat says.
    pub seat: Length,
    /// By how much both may differ.
    pub limit: Length,
}

/// A deck on its tops.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub enum SeatFinding {
    /// Gaps that are larger than a top may lie from the deck's plane.
    Gaps {
        /// Each slot with its gap.
        gaps: Vec<SlotLength>,
        /// The most that is allowed.
        within: Length,
    },
    /// Gaps that were found otherwise than the seat says.
    Landed {
        /// Those.
        otherwise: Vec<LandedOtherwise>,
    },
    /// Trims that would take tops below their targets by more than the tolerance.
    Trims {
        /// Each slot with how far below its target the top would be.
        below: Vec<SlotLength>,
        /// The tolerance.
        tolerance: Length,
    },
}
