//! Conductor tallies, elevations and cut sheets.

pub mod flag;
pub mod job;
pub mod measure;
pub mod tally;
