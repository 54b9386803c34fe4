//! The elevations of one slot by all readings of its job, and how well they find a mark.

use super::estimate::Variance;
use crate::levels::AdjustedPoint;
use crate::measure::{Elevation, Length};

/// Nanometres of a metre.
pub(super) const NANOMETRES: f64 = 1e9;

/// The elevations of one slot by all readings.
#[derive(Clone, Debug, PartialEq)]
pub struct ByReadings {
    pub(super) top: AdjustedPoint,
    /// Lower make-up planes, from the shoe up.
    pub(super) planes: Vec<AdjustedPoint>,
    pub(super) shoulder: Option<AdjustedPoint>,
    pub(super) rotary: AdjustedPoint,
    pub(super) cut_rotary: AdjustedPoint,
    pub(super) benches: Vec<AdjustedPoint>,
    /// The variance of the tape's scale.
    pub(super) tape: Option<f64>,
}

/// A point of a slot's marks.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum MarkPoint {
    CutRotary,
    Top,
    Shoulder,
    /// The lower make-up plane of a piece.
    Plane(usize),
    Bench(usize),
}

impl ByReadings {
    /// The lower make-up plane of a piece.
    pub(super) fn plane(&self, piece: usize) -> Option<Elevation> {
        self.planes.get(piece).map(|it| it.elevation)
    }

    /// The piece that has an elevation: on a plane the upper one, at the top the top one; `None` off the string.
    pub(super) fn piece_at(&self, at: Elevation) -> Option<usize> {
        if at > self.top.elevation {
            return None;
        }
        let below = self.planes.partition_point(|plane| plane.elevation <= at);
        below.checked_sub(1)
    }

    fn point(&self, of: MarkPoint) -> Option<&AdjustedPoint> {
        match of {
            MarkPoint::CutRotary => Some(&self.cut_rotary),
            MarkPoint::Top => Some(&self.top),
            MarkPoint::Shoulder => self.shoulder.as_ref(),
            MarkPoint::Plane(piece) => self.planes.get(piece),
            MarkPoint::Bench(index) => self.benches.get(index),
        }
    }

    /// How well a point is known; `None` where that is not stated.
    pub(super) fn known(&self, of: MarkPoint) -> Option<Variance> {
        let variance = self.point(of)?.variance?;
        Some(Variance::of_real(variance.max(0.0).sqrt() * NANOMETRES))
    }

    /// How well it is known what one measures from a point by the tape: so far up, below zero down. `None` where a key of
    /// that is not stated.
    pub(super) fn measured_from(&self, of: MarkPoint, up: Length) -> Option<Variance> {
        let (point, up, tape) = (self.point(of)?, up.real_metres(), self.tape?);
        let variance = point.variance? + up * up * tape + 2.0 * up * point.with_tape;
        Some(Variance::of_real(variance.max(0.0).sqrt() * NANOMETRES))
    }
}
