//! How well a figure is known, and what that proves.
//!
//! Independent terms add in quadrature, a term that is common to several readings adds linearly
//! within itself first (GUM, JCGM 100). Expanded uncertainty is U = 2 u. The decision is that of
//! ISO 14253-1, the probability that of JCGM 106 for a normal distribution.

use crate::measure::{Length, RationalLength};

/// The square of a standard uncertainty, in square nanometres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Variance(f64);

impl Variance {
    /// Known exactly.
    pub const ZERO: Self = Self(0.0);

    /// Of a standard uncertainty given as a length.
    pub fn of(uncertainty: Length) -> Self {
        Self::of_real(uncertainty.real_nm())
    }

    /// Of a standard uncertainty in nanometres.
    pub fn of_real(nanometres: f64) -> Self {
        Self(nanometres * nanometres)
    }

    /// Two independent terms together.
    #[must_use]
    pub fn and(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }

    /// So many independent terms of this size.
    #[must_use]
    #[allow(
        clippy::cast_precision_loss,
        reason = "a count of joints, far below 2^52"
    )]
    pub fn times(self, count: usize) -> Self {
        Self(self.0 * count as f64)
    }

    /// Standard uncertainty u in nanometres.
    pub fn standard_nm(self) -> f64 {
        self.0.sqrt()
    }

    /// Expanded uncertainty U = 2 u in metres.
    pub fn expanded_metres(self) -> f64 {
        2.0 * self.standard_nm() / 1e9
    }

    /// Expanded uncertainty as a length, rounded to the nanometre, for showing it.
    pub fn expanded(self) -> Length {
        Length::nearest_to_metres(self.expanded_metres()).unwrap_or_default()
    }

    /// Whether U = 2 u is at most a length.
    pub fn expanded_is_within(self, limit: Length) -> bool {
        4.0 * self.0 <= limit.real_nm() * limit.real_nm()
    }
}

/// One independent term of an uncertainty.
#[derive(Clone, Debug, PartialEq)]
pub struct Term {
    /// The key of `[uncertainty]` that it comes from.
    pub key: &'static str,
    /// What it acts on, for people.
    pub what: String,
    /// Its variance; `None` where the key is left out and has no default.
    pub variance: Option<Variance>,
}

impl Term {
    /// A term of a key.
    pub(super) fn new(
        key: &'static str,
        what: impl Into<String>,
        variance: Option<Variance>,
    ) -> Self {
        Self {
            key,
            what: what.into(),
            variance,
        }
    }
}

/// Independent terms together; `None` where one of them is not stated, for nothing is known then.
pub fn total(terms: &[Term]) -> Option<Variance> {
    terms
        .iter()
        .try_fold(Variance::ZERO, |sum, term| Some(sum.and(term.variance?)))
}

/// What a measurement proves about a tolerance.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Verdict {
    /// Conformity is proven.
    Within,
    /// Neither conformity nor non-conformity is proven.
    Unproven,
    /// Non-conformity is proven, or, where no uncertainty is stated, the value lies beyond.
    Outside,
}

impl Verdict {
    /// The word on every face and in JSON.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Within => "within",
            Self::Unproven => "unproven",
            Self::Outside => "outside",
        }
    }
}

/// Decides by ISO 14253-1: with deviation d, tolerance ±T and U = 2 u, `|d| + U <= T` is within,
/// `|d| - U > T` is outside, all else is unproven. Without a stated uncertainty nothing is proven:
/// a value inside is unproven, one beyond is outside.
pub fn judge(
    deviation: RationalLength,
    tolerance: RationalLength,
    variance: Option<Variance>,
) -> Verdict {
    let size = deviation.abs();
    let inside = size <= tolerance;
    // The margin is exact before it is rounded once to a real number, so that a sum exactly on the
    // limit is within.
    let margin = tolerance.minus(size).real_nm();
    match (inside, variance) {
        (true, Some(Variance(square))) if 4.0 * square <= margin * margin => Verdict::Within,
        (false, Some(Variance(square))) if margin * margin > 4.0 * square => Verdict::Outside,
        (false, None) => Verdict::Outside,
        _ => Verdict::Unproven,
    }
}

/// The probability that the true value lies within ±T, for a normal distribution about the
/// deviation d with standard uncertainty u, all in the same unit. With u = 0 it is 1 inside and 0
/// beyond.
pub fn probability_within(deviation: f64, tolerance: f64, standard: f64) -> f64 {
    if standard <= 0.0 {
        return if deviation.abs() <= tolerance {
            1.0
        } else {
            0.0
        };
    }
    let below =
        |limit: f64| 0.5 * libm::erfc(-(limit - deviation) / (standard * std::f64::consts::SQRT_2));
    (below(tolerance) - below(-tolerance)).clamp(0.0, 1.0)
}

/// A probability in words that never claim certainty.
pub fn probability_words(value: f64) -> String {
    if value > 0.9999 {
        "above 0.9999".to_owned()
    } else if value < 0.0001 {
        "below 0.0001".to_owned()
    } else {
        format!("{value:.4}")
    }
}
