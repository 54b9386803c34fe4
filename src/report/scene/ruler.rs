//! Round elevations for a ruler, in the units in use.

use crate::measure::{Elevation, Length, LengthFormat, Unit};

/// One mark of a ruler.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Tick {
    /// Its elevation.
    pub at: Elevation,
    /// How it is written: signed, with no more decimals than its step needs.
    pub text: String,
}

/// The steps of a ruler in feet and inches: sixteenths of an inch, inches, feet.
const INCHES: [i64; 9] = [
    1_587_500,
    3_175_000,
    6_350_000,
    12_700_000,
    25_400_000,
    50_800_000,
    76_200_000,
    152_400_000,
    304_800_000,
];

/// The least step from 1, 2 and 5 times powers of ten of a thousandth of a unit that is not below a length, in nm.
fn decimal_step(thousandth: i64, least: i64) -> i64 {
    let mut power = thousandth;
    loop {
        for times in [1, 2, 5] {
            // Elevations are bounded: a step never comes near the largest number.
            if power.saturating_mul(times) >= least {
                return power.saturating_mul(times);
            }
        }
        power = power.saturating_mul(10);
        if power > i64::MAX / 10 {
            return power;
        }
    }
}

/// How many decimals a step in thousandths of a unit needs.
const fn decimals(step_in_thousandths: i64) -> usize {
    match step_in_thousandths {
        step if step % 1000 == 0 => 0,
        step if step % 100 == 0 => 1,
        step if step % 10 == 0 => 2,
        _ => 3,
    }
}

/// A number of thousandths, signed, with so many decimals; 0 has no sign.
fn written(thousandths: i64, decimals: usize) -> String {
    let sign = match thousandths.signum() {
        1 => "+",
        -1 => "-",
        _ => "",
    };
    let (whole, rest) = (thousandths.abs() / 1000, thousandths.abs() % 1000);
    let rest = format!("{rest:03}");
    let rest = rest.get(..decimals).unwrap_or_default();
    let point = if decimals == 0 { "" } else { "." };
    format!("{sign}{whole}{point}{rest}")
}

/// The marks of a ruler from one elevation down to another, no nearer to each other than `least`.
pub fn ruler(
    highest: Elevation,
    lowest: Elevation,
    least: Length,
    show: LengthFormat,
) -> Vec<Tick> {
    let least = least.nm().max(1);
    let (step, thousandth) = match show.unit() {
        Unit::FootInch => {
            let fits = INCHES.iter().find(|step| **step >= least);
            let feet = || decimal_step(304_800_000, least);
            (fits.copied().unwrap_or_else(feet), None)
        }
        Unit::Foot => (decimal_step(304_800, least), Some(304_800)),
        _ => (decimal_step(1_000_000, least), Some(1_000_000)),
    };
    let below = lowest.height().nm().div_euclid(step);
    let above = highest.height().nm().div_euclid(step);
    (below..=above)
        .rev()
        .map(|count| Length::from_nm(step.saturating_mul(count)))
        .filter(|at| *at >= lowest.height())
        .map(|at| Tick {
            at: Elevation::above_datum(at),
            text: match thousandth {
                Some(of) => written(at.nm() / of, decimals(step / of)),
                None if at.is_zero() => "0'".to_owned(),
                None => {
                    let text = show.signed(at);
                    text.strip_suffix(" 0\"")
                        .map_or(text.clone(), str::to_owned)
                }
            },
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn texts(from: i64, to: i64, least: i64, unit: Unit) -> Vec<String> {
        let at = |mm| Elevation::above_datum(Length::from_mm(mm));
        let ticks = ruler(
            at(from),
            at(to),
            Length::from_mm(least),
            LengthFormat::new(unit),
        );
        ticks.into_iter().map(|tick| tick.text).collect()
    }

    #[test]
    fn marks_are_round_in_the_units_in_use() {
        assert_eq!(
            texts(21_300, -9_900, 4_000, Unit::Metre),
            ["+20", "+15", "+10", "+5", "0", "-5"]
        );
        assert_eq!(
            texts(14_255, 14_249, 2, Unit::Metre),
            ["+14.254", "+14.252", "+14.250"]
        );
        assert_eq!(
            texts(3_000, -3_100, 1_500, Unit::Foot),
            ["+5", "0", "-5", "-10"]
        );
        assert_eq!(texts(3_000, -400, 700, Unit::FootInch), ["+5'", "0'"]);
        assert_eq!(
            texts(130, -10, 20, Unit::FootInch),
            ["+0' 5\"", "+0' 4\"", "+0' 3\"", "+0' 2\"", "+0' 1\"", "0'"]
        );
    }
}
