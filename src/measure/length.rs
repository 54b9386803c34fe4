//! A difference of two elevations, exact to the nanometre.

use std::fmt;
use std::iter::Sum;
use std::num::NonZeroU64;
use std::ops::{Add, AddAssign, Neg, Sub, SubAssign};

use serde::{Serialize, Serializer};

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
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Length(
    /// The nanometres with the sign bit turned over: in the order of lengths, and never zero, so that a length
    /// that may be missing takes no more room than one that is there.
    NonZeroU64,
);

impl Length {
    /// No length at all.
    pub const ZERO: Self = Self::from_nm(0);

    /// A length of so many nanometres. The least number that there is counts as the one above it: no two points
    /// of any job are nine million kilometres apart.
    pub const fn from_nm(nanometres: i64) -> Self {
        match NonZeroU64::new(nanometres.cast_unsigned() ^ SIGN) {
            Some(turned) => Self(turned),
            None => Self(NonZeroU64::MIN),
        }
    }

    /// A length of so many whole millimetres.
    pub const fn from_mm(millimetres: i64) -> Self {
        Self::from_nm(millimetres * 1_000_000)
    }

    /// The length in nanometres.
    pub const fn nm(self) -> i64 {
        (self.0.get() ^ SIGN).cast_signed()
    }

    /// The length without its sign.
    #[must_use]
    pub const fn abs(self) -> Self {
        Self::from_nm(self.nm().abs())
    }

    /// Whether the length is below zero.
    pub const fn is_negative(self) -> bool {
        self.nm() < 0
    }

    /// Whether the length is exactly zero.
    pub const fn is_zero(self) -> bool {
        self.nm() == 0
    }

    /// The length so many times over.
    #[must_use]
    pub const fn times(self, count: i64) -> Self {
        Self::from_nm(self.nm() * count)
    }

    /// The value in metres with every digit that it has and no more: at most nine decimals, no
    /// exponent, no sign on zero. This is the form that JSON carries.
    pub fn exact_metres(self) -> String {
        let magnitude = self.nm().unsigned_abs();
        let whole = magnitude / 1_000_000_000;
        let rest = magnitude % 1_000_000_000;
        let sign = if self.nm() < 0 { "-" } else { "" };
        if rest == 0 {
            return format!("{sign}{whole}");
        }
        let decimals = format!("{rest:09}");
        format!("{sign}{whole}.{}", decimals.trim_end_matches('0'))
    }
}

/// The sign bit of a number of nanometres.
const SIGN: u64 = 1 << 63;

impl Default for Length {
    fn default() -> Self {
        Self::ZERO
    }
}

impl fmt::Debug for Length {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_tuple("Length").field(&self.nm()).finish()
    }
}

impl Serialize for Length {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        self.nm().serialize(serializer)
    }
}

impl Add for Length {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self::from_nm(self.nm() + other.nm())
    }
}

impl Sub for Length {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self::from_nm(self.nm() - other.nm())
    }
}

impl Neg for Length {
    type Output = Self;
    fn neg(self) -> Self {
        Self::from_nm(-self.nm())
    }
}

impl AddAssign for Length {
    fn add_assign(&mut self, other: Self) {
        *self = *self + other;
    }
}

impl SubAssign for Length {
    fn sub_assign(&mut self, other: Self) {
        *self = *self - other;
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
