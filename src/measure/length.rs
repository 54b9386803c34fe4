//! A difference of two elevations, exact to the nanometre.

use serde::Serialize;

use std::iter::Sum;
use std::ops::{Add, AddAssign, Neg, Sub, SubAssign};

/// A length: the difference of two elevations, in whole nanometres, of either sign.
///
/// ```
/// use kerfmark::measure::Length;
/// let joint = Length::from_mm(12_192);
/// let loss = Length::from_mm(152);
/// assert_eq!((joint - loss).exact_metres(), "12.04");
/// ```
///
/// There is no way to make one from a floating-point number by accident:
///
/// ```compile_fail
/// let length: kerfmark::measure::Length = 12.192_f64.into();
/// ```
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
pub struct Length(i64);

impl Length {
    /// No length at all.
    pub const ZERO: Self = Self(0);

    /// A length of so many nanometres.
    pub const fn from_nm(nanometres: i64) -> Self {
        Self(nanometres)
    }

    /// A length of so many whole millimetres.
    pub const fn from_mm(millimetres: i64) -> Self {
        Self(millimetres * 1_000_000)
    }

    /// The length in nanometres.
    pub const fn nm(self) -> i64 {
        self.0
    }

    /// The length without its sign.
    #[must_use]
    pub const fn abs(self) -> Self {
        Self(self.0.abs())
    }

    /// Whether the length is below zero.
    pub const fn is_negative(self) -> bool {
        self.0 < 0
    }

    /// Whether the length is exactly zero.
    pub const fn is_zero(self) -> bool {
        self.0 == 0
    }

    /// The length so many times over.
    #[must_use]
    pub const fn times(self, count: i64) -> Self {
        Self(self.0 * count)
    }

    /// The value in metres with every digit that it has and no more: at most nine decimals, no
    /// exponent, no sign on zero. This is the form that JSON carries.
    pub fn exact_metres(self) -> String {
        let magnitude = self.0.unsigned_abs();
        let whole = magnitude / 1_000_000_000;
        let rest = magnitude % 1_000_000_000;
        let sign = if self.0 < 0 { "-" } else { "" };
        if rest == 0 {
            return format!("{sign}{whole}");
        }
        let decimals = format!("{rest:09}");
        format!("{sign}{whole}.{}", decimals.trim_end_matches('0'))
    }
}

impl Add for Length {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }
}

impl Sub for Length {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(self.0 - other.0)
    }
}

impl Neg for Length {
    type Output = Self;
    fn neg(self) -> Self {
        Self(-self.0)
    }
}

impl AddAssign for Length {
    fn add_assign(&mut self, other: Self) {
        self.0 += other.0;
    }
}

impl SubAssign for Length {
    fn sub_assign(&mut self, other: Self) {
        self.0 -= other.0;
    }
}

impl Sum for Length {
    fn sum<I: Iterator<Item = Self>>(lengths: I) -> Self {
        lengths.fold(Self::ZERO, |total, length| total + length)
    }
}

impl<'a> Sum<&'a Length> for Length {
    fn sum<I: Iterator<Item = &'a Self>>(lengths: I) -> Self {
        lengths.copied().sum()
    }
}
