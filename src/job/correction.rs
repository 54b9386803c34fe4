//! Corrections of measured lengths, as a job asks for them.

use super::slot_set::SlotSet;
use crate::measure::Length;

/// Thermal expansion of steel, a degree Celsius, where none is given: the value of surveying texts.
pub const ALPHA: f64 = 11.6e-6;

/// Which readings a correction is for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum CorrectedReadings {
    /// The tallies of these slots.
    Tally(SlotSet),
    /// Readings that were made so.
    How(String),
}

/// A correction.
#[derive(Clone, Debug, PartialEq)]
pub struct Correction {
    /// Of which readings.
    pub on: CorrectedReadings,
    /// What is corrected.
    pub term: CorrectionTerm,
}

/// What is corrected. Temperatures are in degrees Celsius, forces in newtons.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum CorrectionTerm {
    /// The tape's length against its standard.
    Standard {
        /// What it should be.
        nominal: Length,
        /// What it is.
        actual: Length,
    },
    /// Its temperature, or the string's.
    Temperature {
        /// While it was read, or is in use.
        at: f64,
        /// At which it is right, or was strapped.
        standard: f64,
        /// Thermal expansion, a degree.
        alpha: f64,
    },
    /// The pull on it.
    Pull {
        /// While it was read.
        at: f64,
        /// At which it is right.
        standard: f64,
        /// Its cross-section, in square metres.
        area: f64,
    },
    /// Its sag.
    Sag {
        /// Its mass, in kg a metre.
        mass_per_metre: f64,
        /// The pull.
        pull: f64,
        /// How far its supports are apart.
        span: Length,
    },
    /// The stretch of the hung string.
    Stretch {
        /// The density of the fluid, in kg/m3.
        fluid_density: f64,
    },
}

impl CorrectionTerm {
    /// The word of its kind in files and in JSON.
    pub const fn word(&self) -> &'static str {
        match self {
            Self::Standard { .. } => "standard",
            Self::Temperature { .. } => "temperature",
            Self::Pull { .. } => "pull",
            Self::Sag { .. } => "sag",
            Self::Stretch { .. } => "stretch",
        }
    }
}
