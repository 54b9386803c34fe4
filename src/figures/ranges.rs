//! The range of several readings: how large the highest less the lowest is by errors alone.
//!
//! The more values, the larger their range. For n independent normal values of standard uncertainty u the
//! range exceeds w(n) u with the same probability as one value exceeds 2 u, so U = w(n) u. w(n) is worked
//! out by quadrature of the distribution of the range (the studentized range with infinite degrees of
//! freedom): P(R <= w) = n ∫ φ(x) (Φ(x + w) - Φ(x))^(n-1) dx.

use std::sync::OnceLock;

/// The probability that lies within 2 u of a normal value: erf(√2).
const COVERED: f64 = 0.954_499_736_103_641_6;

/// The factors of up to so many values are kept once they are worked out.
const KEPT: usize = 64;

/// Steps of the trapezoid rule, which for a function that is smooth and falls off at both ends is exact to
/// rounding.
const STEPS: u32 = 128;

static FACTORS: [OnceLock<f64>; KEPT] = [const { OnceLock::new() }; KEPT];

/// w(n): the expanded uncertainty of the range of n values, in standard uncertainties of one; 0 under two.
pub fn range_factor(values: usize) -> f64 {
    match FACTORS.get(values) {
        Some(kept) => *kept.get_or_init(|| worked_out(values)),
        None => worked_out(values),
    }
}

#[allow(
    clippy::cast_precision_loss,
    reason = "a count of readings, far below 2^52"
)]
fn worked_out(values: usize) -> f64 {
    if values < 2 {
        return 0.0;
    }
    let off = |w: f64| range_below(w, values, STEPS) - COVERED;
    // The range grows without bound, but slowly: that of a million values is below 12. Up to 64 values it
    // lies within 0.4 of what its logarithm suggests.
    let near = 2.83 + 1.1 * (values as f64 / 2.0).ln().powf(0.9);
    let ends = |(low, high): (f64, f64)| ((low, off(low)), (high, off(high)));
    let ((mut low, mut off_low), (mut high, mut off_high)) = {
        let close = ends((near - 0.4, near + 0.4));
        let is_between = close.0.1 < 0.0 && close.1.1 > 0.0;
        if is_between { close } else { ends((0.0, 16.0)) }
    };
    // False position, halving the weight of an end that stays (the Illinois way), closes in within a few
    // steps.
    let mut at = high;
    for _ in 0..60 {
        let before = at;
        at = high - off_high * (high - low) / (off_high - off_low);
        let off_at = off(at);
        if off_at.abs() < 1e-15 || (at - before).abs() < 1e-10 {
            break;
        }
        if (off_at > 0.0) == (off_high > 0.0) {
            off_low *= 0.5;
        } else {
            (low, off_low) = (high, off_high);
        }
        (high, off_high) = (at, off_at);
    }
    at
}

/// The probability that the range of n standard normal values is at most w.
#[allow(
    clippy::cast_precision_loss,
    reason = "a count of readings, far below 2^52"
)]
fn range_below(w: f64, values: usize, steps: u32) -> f64 {
    let n = values as f64;
    // Beyond them the density is below 1e-16.
    let (from, to) = (-8.5, 8.5);
    let step = (to - from) / f64::from(steps);
    let at = |x: f64| density(x) * (normal_below(x + w) - normal_below(x)).powf(n - 1.0);
    let sum: f64 = (0..=steps).map(|i| at(from + step * f64::from(i))).sum();
    n * step * sum
}

fn density(x: f64) -> f64 {
    (-0.5 * x * x).exp() / (2.0 * std::f64::consts::PI).sqrt()
}

fn normal_below(x: f64) -> f64 {
    0.5 * libm::erfc(-x * std::f64::consts::FRAC_1_SQRT_2)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The factors in the contract, six decimals.
    #[test]
    fn the_factors_are_those_of_the_range_of_normal_values() {
        let root = 2.0 * std::f64::consts::SQRT_2;
        for (values, factor) in [
            (2, root),
            (3, 3.366_796),
            (4, 3.683_024),
            (5, 3.905_859),
            (6, 4.077_055),
        ] {
            assert!((range_factor(values) - factor).abs() < 5e-7, "{values}");
        }
        assert!(range_factor(1).abs() < f64::EPSILON);
        assert!(range_factor(100) > range_factor(64));
    }

    /// Of two values the range is a difference, whose distribution is known in closed form.
    #[test]
    fn the_range_of_two_values_is_a_difference() {
        for w in [0.1, 1.0, 2.5, 4.0, 7.0] {
            let closed = libm::erf(w / 2.0);
            assert!((range_below(w, 2, STEPS) - closed).abs() < 1e-14, "{w}");
        }
    }

    /// Printed tables of the studentized range with infinite degrees of freedom, 95 %, as in handbooks of
    /// statistics (from memory): 2.77, 3.31, 3.63, 3.86, 4.03, 4.17, 4.29 for 2 to 8.
    #[test]
    fn the_range_agrees_with_printed_tables() {
        let printed = [2.77, 3.31, 3.63, 3.86, 4.03, 4.17, 4.29];
        for (values, quantile) in (2..).zip(printed) {
            assert!(
                range_below(quantile - 0.005, values, STEPS) < 0.95,
                "{values}"
            );
            assert!(
                range_below(quantile + 0.005, values, STEPS) > 0.95,
                "{values}"
            );
        }
    }

    #[test]
    fn finer_steps_and_wider_ends_change_nothing() {
        for values in (2..70).chain([1_000]) {
            let covered = range_below(range_factor(values), values, 4_000);
            assert!((covered - COVERED).abs() < 1e-11, "{values}: {covered}");
        }
    }
}
