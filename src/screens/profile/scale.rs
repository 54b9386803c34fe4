//! Where elevations lie among the rows of a picture, each of which is two squares high.

use super::View;
use crate::measure::Elevation;
use std::ops::Range;

/// A part of the height on so many rows.
#[derive(Clone, Copy, Debug)]
pub struct Scale {
    pub view: View,
    pub rows: u16,
}

impl Scale {
    /// The square of an elevation; negative above the picture.
    fn square(&self, elevation: Elevation) -> i64 {
        let below = i128::from((self.view.top - elevation).nm());
        let squares = 2 * i128::from(self.rows);
        let square = (below * squares).div_euclid(i128::from(self.view.span.nm().max(1)));
        i64::try_from(square).unwrap_or(i64::MAX)
    }

    /// The square where it is in the picture.
    pub fn seen(&self, elevation: Elevation) -> Option<u16> {
        let square = u16::try_from(self.square(elevation)).ok()?;
        (square < 2 * self.rows).then_some(square)
    }

    /// The row where it is in the picture.
    pub fn row(&self, elevation: Elevation) -> Option<u16> {
        self.seen(elevation).map(|square| square / 2)
    }

    /// The squares from one elevation down to another, both included, as far as they are in the picture.
    pub fn squares(&self, high: Elevation, low: Elevation) -> Range<u16> {
        self.clip(self.square(high))..self.clip(self.square(low).saturating_add(1))
    }

    /// The squares above an elevation, from another down: without that of the lower one.
    pub fn above(&self, high: Elevation, low: Elevation) -> Range<u16> {
        self.clip(self.square(high))..self.clip(self.square(low))
    }

    /// The rows from one elevation down to another, both included.
    pub fn rows(&self, high: Elevation, low: Elevation) -> Range<u16> {
        let squares = self.squares(high, low);
        squares.start / 2..squares.end.div_ceil(2)
    }

    fn clip(&self, square: i64) -> u16 {
        let most = 2 * i64::from(self.rows);
        u16::try_from(square.clamp(0, most)).unwrap_or(0)
    }
}
