//! Points: elevations above the sea datum, and depths below a reference.

use serde::Serialize;

use std::ops::{Add, Sub};

use super::Length;

/// A height above the sea datum, positive upward.
///
/// Two elevations differ by a length, and an elevation moves by a length:
///
/// ```
/// use kerfmark::measure::{Elevation, Length};
/// let rotary = Elevation::above_datum(Length::from_mm(32_400));
/// let top = rotary + Length::from_mm(1_120);
/// assert_eq!(top - rotary, Length::from_mm(1_120));
/// ```
///
/// Two elevations cannot be added, and a depth is not an elevation:
///
/// ```compile_fail
/// use kerfmark::measure::{Elevation, Length};
/// let a = Elevation::above_datum(Length::from_mm(1));
/// let wrong = a + a;
/// ```
///
/// ```compile_fail
/// use kerfmark::measure::{Elevation, Length};
/// let rotary = Elevation::above_datum(Length::from_mm(32_400));
/// let shoe = Elevation::above_datum(Length::from_mm(-110_000));
/// let wrong: Elevation = rotary.depth_of(shoe);
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
pub struct Elevation(Length);

impl Elevation {
    /// The point at this height above the sea datum; negative below it.
    pub const fn above_datum(height: Length) -> Self {
        Self(height)
    }

    /// The height above the sea datum.
    pub const fn height(self) -> Length {
        self.0
    }

    /// How far `point` lies below this elevation, positive downward: from a rotary table, the depth
    /// below RT.
    pub fn depth_of(self, point: Self) -> Depth {
        Depth(self.0 - point.0)
    }

    /// The point that lies at `depth` below this elevation.
    #[must_use]
    pub fn at_depth(self, depth: Depth) -> Self {
        Self(self.0 - depth.0)
    }
}

impl Sub for Elevation {
    type Output = Length;
    fn sub(self, other: Self) -> Length {
        self.0 - other.0
    }
}

impl Add<Length> for Elevation {
    type Output = Self;
    fn add(self, rise: Length) -> Self {
        Self(self.0 + rise)
    }
}

impl Sub<Length> for Elevation {
    type Output = Self;
    fn sub(self, fall: Length) -> Self {
        Self(self.0 - fall)
    }
}

/// A distance downward from a reference elevation, positive below it.
///
/// It is made by [`Elevation::depth_of`] alone, so that it always has a reference, and it cannot be
/// added to an elevation, which is the sign error that people make:
///
/// ```compile_fail
/// use kerfmark::measure::{Elevation, Length};
/// let rotary = Elevation::above_datum(Length::from_mm(32_400));
/// let depth = rotary.depth_of(Elevation::above_datum(Length::from_mm(14_250)));
/// let wrong = rotary + depth;
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
pub struct Depth(Length);

impl Depth {
    /// The distance downward, as a plain length; negative above the reference.
    pub const fn downward(self) -> Length {
        self.0
    }
}
