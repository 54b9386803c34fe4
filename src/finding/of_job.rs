//! The job as a whole. Quantities are exact; an uncertainty U is rounded to the
//! nanometre, and `None` where it is not stated.

use serde::Serialize;

use super::names::Named;
use crate::measure::{Elevation, Length};

/// One serial in two slots.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct SharedSerial {
    /// The serial.
    pub serial: String,
    /// The slot that has it first.
    pub first: String,
    /// The slot that has it too.
    pub second: String,
    /// The line there.
    #[serde(skip)]
    pub line: u32,
}

/// The second way to an elevation.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub enum SecondWayBy {
    /// RT at the hull position before, and how far the hull was raised from there.
    Raised {
        /// The hull position before.
        before: String,
        /// How far.
        by: Length,
    },
    /// The air gap.
    AirGap,
    /// The deck's depth below RT at the hull position.
    BelowRotary(Length),
}

/// Two ways to one elevation.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct TwoWays {
    /// The hull position.
    pub hull: String,
    /// The second way.
    pub by: SecondWayBy,
    /// The elevation as the job states it.
    pub stated: Elevation,
    /// The elevation by the second way.
    pub second: Elevation,
    /// How far they may differ.
    pub allowed: Length,
}

/// The job as a whole.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub enum JobFinding {
    /// The frame's base against its window.
    FrameBase {
        /// Its height above the mudline.
        height: Length,
        /// U of it.
        uncertainty: Option<Length>,
        /// The window: lowest and highest.
        window: (Length, Length),
        /// Whether it lies beyond; else it is not proven to lie within.
        beyond: bool,
        /// Whether that is proven.
        proven: bool,
    },
    /// The spread of the cuts against its limit.
    Spread {
        /// Highest less lowest deviation.
        value: Length,
        /// U of it.
        uncertainty: Option<Length>,
        /// The limit.
        limit: Length,
        /// Whether it lies beyond; else it is not proven to lie within.
        beyond: bool,
        /// Whether that is proven.
        proven: bool,
    },
    /// Two ways to an elevation disagree.
    TwoWays {
        /// Which elevations, each by both ways.
        ways: Vec<TwoWays>,
    },
    /// Uncertainties that are stated as 0.
    UncertaintyZero {
        /// Their keys in `[uncertainty]`.
        keys: Vec<&'static str>,
    },
    /// Uncertainties that are not stated.
    UncertaintyMissing {
        /// Their keys in `[uncertainty]`.
        keys: Vec<&'static str>,
        /// Bench marks without one.
        benches: Vec<String>,
    },
    /// Slots with one tally, or with the same lengths in theirs.
    SharedTallies {
        /// Each slot with the first one that has the same.
        pairs: Vec<(String, String)>,
    },
    /// Serials that occur in two slots.
    SharedSerials {
        /// Which.
        serials: Named<SharedSerial>,
        /// Every slot that shares one.
        slots: Vec<String>,
    },
}
