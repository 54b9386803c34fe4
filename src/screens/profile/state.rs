//! Which part of the profile is in sight.

use crate::measure::{Elevation, Length};

/// The part of the profile that is in sight.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct View {
    /// The elevation of its upper edge.
    pub top: Elevation,
    /// How much of it is in sight.
    pub span: Length,
    /// The elevation that the cursor reads.
    pub cursor: Elevation,
}
