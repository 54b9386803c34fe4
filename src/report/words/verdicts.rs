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

/// How the finished top lies in height.
pub fn height_verdict(as_cut: &AsCut, tolerance: Option<Length>, show: LengthFormat) -> String {
    let deviation = as_cut.deviation.rounded();
    let u = as_cut.mean.expanded();
    let chance = as_cut.probability.map_or_else(String::new, |chance| {
        format!(", probability of conformity {}", probability_words(chance))
    });
    let Some(limit) = tolerance else {
        return format!(
            "{} from target, U {}, no tolerance given",
            show.small_signed(deviation),
            known(show, &as_cut.mean)
        );
    };
    let sign = if deviation.is_negative() { "-" } else { "+" };
    let [size, written_u, limit] = compared(deviation.abs(), u, limit, show);
    format!("{sign}{size} from target, U {written_u}, tolerance ±{limit}{chance}")
}

/// How level the finished top is.
pub fn level_words(as_cut: &AsCut, allowed: Option<Length>, show: LengthFormat) -> String {
    let Some(level) = &as_cut.out_of_level else {
        return "not known by under 2 readings".to_owned();
    };
    let u = level.expanded();
    match allowed {
        None => format!(
            "out of level {}, U {}, no limit given",
            show.small(level.value),
            known(show, level)
        ),
        Some(allowed) => {
            let [value, written_u, allowed] = compared(level.value, u, allowed, show);
            let few = if as_cut.readings < 4 {
                " (never proven by under 4 readings)"
            } else {
                ""
            };
            format!("out of level {value}, U {written_u}, limit {allowed}{few}")
        }
    }
}

/// How the rim of a finished top lies, where its readings have their directions.
pub fn rim_words(as_cut: &AsCut, show: LengthFormat) -> Option<String> {
    let rim = as_cut.rim?;
    let side = rim.low_side.map_or_else(
        || "level by its best plane".to_owned(),
        |low| {
            let across = show.small(rim.across);
            format!("{across} across by its best plane, low towards {low:.0} deg")
        },
    );
    let off = show.small(rim.off_plane);
    Some(format!("{side}; readings within {off} of it"))
}

/// A value, its U and its limit with as many decimals as show on which side of the limit the value lies,
/// with and without U.
fn compared(value: Length, u: Option<Length>, limit: Length, show: LengthFormat) -> [String; 3] {
    let u_or_zero = u.unwrap_or_default();
    // What is compared with the limit decides how many decimals are needed.
    let written = show.small_apart(&[value, value + u_or_zero, limit, value - u_or_zero]);
    let of = |at: usize| written.get(at).cloned().unwrap_or_default();
    let written_u = match u {
        None => "not stated".to_owned(),
        Some(u) => {
            let decimals = |text: &str| text.split_once('.').map_or(0, |(_, rest)| rest.len());
            let fine = decimals(&of(2)) > decimals(&show.small(limit));
            let near = show.small_apart(&[u, u + Length::from_nm(10_000)]);
            near.into_iter()
                .next()
                .filter(|_| fine)
                .unwrap_or_else(|| show.small(u))
        }
    };
    [of(0), written_u, of(2)]
}
