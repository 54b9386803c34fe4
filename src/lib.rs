//! Conductor tallies, elevations and cut sheets.

pub mod flag;
pub mod measure;
pub mod tally;
