//! The exact mean of a few lengths, which need not be a whole number of nanometres.

use std::cmp::Ordering;

use super::Length;

/// A length as a fraction of nanometres: what a mean of readings is before it is rounded.
#[derive(Clone, Copy, Debug)]
pub struct RationalLength {
    /// Nanometres, times `parts`.
    nanometres: i128,
    /// Always above zero.
    parts: i128,
}

impl RationalLength {
    /// The mean of some lengths; `None` of none.
    pub fn mean(lengths: &[Length]) -> Option<Self> {
        let parts = i128::try_from(lengths.len()).ok().filter(|n| *n > 0)?;
        let nanometres = lengths.iter().map(|l| i128::from(l.nm())).sum();
        Some(Self { nanometres, parts })
    }

    /// Half of a length.
    pub fn half(length: Length) -> Self {
        Self {
            nanometres: i128::from(length.nm()),
            parts: 2,
        }
    }

    /// This less a whole length.
    #[must_use]
    pub fn less(self, length: Length) -> Self {
        self.minus(Self::from(length))
    }

    /// This less another fraction.
    #[must_use]
    pub fn minus(self, other: Self) -> Self {
        Self {
            nanometres: self.nanometres * other.parts - other.nanometres * self.parts,
            parts: self.parts * other.parts,
        }
    }

    /// Without its sign.
    #[must_use]
    pub fn abs(self) -> Self {
        Self {
            nanometres: self.nanometres.abs(),
            parts: self.parts,
        }
    }

    /// Rounded to the nanometre, half away from zero.
    pub fn rounded(self) -> Length {
        let twice = 2 * self.nanometres.abs() + self.parts;
        let magnitude = twice / (2 * self.parts);
        let signed = if self.nanometres < 0 {
            -magnitude
        } else {
            magnitude
        };
        // A mean or difference of lengths that each fit an i64 within MAX_LENGTH fits one too; the
        // saturation is never reached.
        Length::from_nm(i64::try_from(signed).unwrap_or(i64::MAX))
    }

    /// Numerator in nanometres and denominator, for the conversions to real numbers.
    pub(super) const fn terms(self) -> (i128, i128) {
        (self.nanometres, self.parts)
    }
}

impl From<Length> for RationalLength {
    fn from(length: Length) -> Self {
        Self {
            nanometres: i128::from(length.nm()),
            parts: 1,
        }
    }
}

impl PartialEq for RationalLength {
    fn eq(&self, other: &Self) -> bool {
        self.cmp(other) == Ordering::Equal
    }
}

impl Eq for RationalLength {}

impl PartialOrd for RationalLength {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for RationalLength {
    fn cmp(&self, other: &Self) -> Ordering {
        (self.nanometres * other.parts).cmp(&(other.nanometres * self.parts))
    }
}
