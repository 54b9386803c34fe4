//! Uncertainties, verdicts and probabilities.

use crate::figures::{AsCut, Estimate, Variance};
use crate::measure::{Length, LengthFormat};

/// An expanded uncertainty, or that it is not stated.
pub fn stated(show: LengthFormat, variance: Option<Variance>) -> String {
    variance.map_or_else(
        || "not stated".to_owned(),
        |variance| show.small(variance.expanded()),
    )
}

/// U of a value, or that it is not stated.
pub fn known<T>(show: LengthFormat, estimate: &Estimate<T>) -> String {
    stated(show, estimate.variance())
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

/// How the finished top lies in height: the verdict, which is of the height alone.
pub fn height_verdict(as_cut: &AsCut, tolerance: Option<Length>, show: LengthFormat) -> String {
    let limit = tolerance.map_or_else(
        || "no tolerance given".to_owned(),
        |limit| format!("tolerance +/- {}", show.small(limit)),
    );
    let chance = as_cut.probability.map_or_else(String::new, |chance| {
        format!(", probability of conformity {}", probability_words(chance))
    });
    format!(
        "{} from target, U {}, {limit}{chance}",
        show.small_signed(as_cut.deviation.rounded()),
        known(show, &as_cut.mean)
    )
}

/// How level the finished top is. U is not considered: nothing is proven.
pub fn level_words(as_cut: &AsCut, allowed: Option<Length>, show: LengthFormat) -> String {
    let Some(level) = as_cut.out_of_level else {
        return "out of level: not known (under 3 readings)".to_owned();
    };
    match allowed {
        None => format!("out of level {}, no limit given", show.small(level)),
        Some(allowed) => format!(
            "out of level {}, {} {} allowed (U not considered)",
            show.small(level),
            if level > allowed {
                "MORE THAN the"
            } else {
                "not above the"
            },
            show.small(allowed)
        ),
    }
}
