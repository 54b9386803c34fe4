//! Conductor tallies, elevations and cut sheets.

pub mod measure;
