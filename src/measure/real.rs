//! The only conversions between exact lengths and floating point, for physics and for drawing.

#![allow(
    clippy::float_arithmetic,
    clippy::as_conversions,
    clippy::cast_precision_loss,
    clippy::cast_possible_truncation,
    reason = "this file converts: each conversion has its rounding stated"
)]

use super::{Length, RationalLength};

/// The nearest whole number, half away from zero; where none is kept, the last one that is, and 0 for what is no number.
pub const fn nearest_whole(value: f64) -> i64 {
    value.round() as i64
}

impl Length {
    /// In nanometres as a real number; exact up to 9 007 km.
    pub const fn real_nm(self) -> f64 {
        self.nm() as f64
    }

    /// In metres as a real number, for masses and for drawing to scale; the nearest one.
    pub fn real_metres(self) -> f64 {
        self.real_nm() / 1e9
    }

    /// The nearest whole nanometre to a real number of metres, half away from zero; `None` for
    /// what is no number or lies beyond the largest length.
    pub fn nearest_to_metres(metres: f64) -> Option<Self> {
        let nanometres = (metres * 1e9).round();
        (nanometres.abs() <= super::MAX_LENGTH.real_nm()).then(|| Self::from_nm(nanometres as i64))
    }
}

impl RationalLength {
    /// In nanometres as a real number; the nearest one.
    pub fn real_nm(self) -> f64 {
        let (nanometres, parts) = self.terms();
        nanometres as f64 / parts as f64
    }
}
