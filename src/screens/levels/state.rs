//! Where the person is among readings and points, by their names.

use crate::finding::ReadingRef;

/// What the keys move over.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum LevelsPage {
    /// The readings.
    #[default]
    Readings,
    /// The points.
    Points,
}

/// Where the person is.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct LevelsCursor {
    /// Readings or points.
    pub page: LevelsPage,
    /// The reading; `None` for the first.
    pub reading: Option<ReadingRef>,
    /// The point, by its name; `None` for the highest.
    pub point: Option<String>,
}

/// A reading or a point that is looked at.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum OpenedLevel {
    /// A reading.
    Reading(ReadingRef),
    /// A point.
    Point(String),
}
