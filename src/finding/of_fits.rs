//! Connections and accessories on a string. Quantities are exact.

use serde::Serialize;

use crate::measure::Elevation;

/// A connection that lies where none may.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct KeepOutRef {
    /// The joint below it.
    pub below: String,
    /// The joint above it.
    pub above: String,
    /// Its make-up plane.
    pub plane: Elevation,
    /// Why none may lie there.
    pub why: String,
}

/// Connections and accessories on a string.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub enum FitFinding {
    /// Connections where none may lie.
    ConnectionsInKeepOut {
        /// Which.
        connections: Vec<KeepOutRef>,
    },
    /// Accessories in a wrong place; the code says which.
    Accessories {
        /// Each with the elevation of its lower edge.
        accessories: Vec<(String, Elevation)>,
    },
}
