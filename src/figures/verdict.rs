//! What a measurement proves about a tolerance.
//!
//! The decision is that of ISO 14253-1, the probability that of JCGM 106 for a normal distribution.

use super::estimate::Variance;
use crate::measure::RationalLength;

/// What a measurement proves about a tolerance.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Verdict {
    /// Conformity is proven.
    Within,
    /// Neither conformity nor non-conformity is proven.
    Unproven,
    /// Non-conformity is proven.
    Outside,
}

impl Verdict {
    /// The word in every output and in JSON.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Within => "within",
            Self::Unproven => "unproven",
            Self::Outside => "outside",
        }
    }
}

/// Decides by ISO 14253-1: with deviation d, tolerance ±T and U = 2 u, `|d| + U <= T` is within,
/// `|d| - U > T` is outside, all else is unproven. Without a stated uncertainty nothing is proven, in
/// either direction.
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
    let covered = |variance: Variance| variance.expanded_square() <= margin * margin;
    match (inside, variance) {
        (true, Some(variance)) if covered(variance) => Verdict::Within,
        (false, _) if proven_beyond(deviation, tolerance, variance) => Verdict::Outside,
        _ => Verdict::Unproven,
    }
}

/// Whether `|d| - U > T`: a deviation is proven to lie beyond a tolerance. Nothing is where no
/// uncertainty is stated.
pub(super) fn proven_beyond(
    deviation: RationalLength,
    tolerance: RationalLength,
    variance: Option<Variance>,
) -> bool {
    let size = deviation.abs();
    let beyond = size.minus(tolerance).real_nm();
    size > tolerance
        && variance.is_some_and(|variance| beyond * beyond > variance.expanded_square())
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
