//! The job as a whole. Quantities are exact; an uncertainty U is rounded to the
//! nanometre, and `None` where it is not stated.

use super::names::Named;
use crate::measure::Length;

/// One serial in two slots.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SharedSerial {
    /// The serial.
    pub serial: String,
    /// The slot that has it first.
    pub first: String,
    /// The slot that has it too.
    pub second: String,
    /// The line there.
    pub line: u32,
}

/// The job as a whole.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum JobFinding {
    /// The frame's base against its window.
    FrameBase {
        /// Its height above the mudline.
        height: Length,
        /// U of it.
        uncertainty: Option<Length>,
        /// Outside; else not proven to be within.
        outside: bool,
    },
    /// The spread of the cuts against its limit.
    Spread {
        /// Highest less lowest deviation.
        value: Length,
        /// U of it.
        uncertainty: Option<Length>,
        /// The limit.
        limit: Length,
        /// Outside; else not proven to be within.
        outside: bool,
    },
    /// Uncertainties that are not stated.
    UncertaintyMissing {
        /// Their keys in `[uncertainty]`.
        keys: Vec<&'static str>,
    },
    /// Serials that occur in two slots.
    SharedSerials {
        /// Which.
        serials: Named<SharedSerial>,
    },
}
