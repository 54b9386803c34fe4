//! Ranges: their expanded uncertainty against a reference library and printed tables, and how often a
//! verdict on a range is false.

use kerfmark::figures::{Variance, Verdict, judge, range_factor};
use kerfmark::measure::Length;

/// Quantiles by scipy (`studentized_range.py` beside this file writes them).
const SCIPY: &str = include_str!("studentized_range.csv");

fn scipy() -> impl Iterator<Item = (usize, f64, f64)> {
    let rows = SCIPY.lines().skip(2);
    rows.map(|row| {
        let cells: Vec<&str> = row.split(',').collect();
        let real = |at: usize| cells[at].parse().expect("a number");
        (cells[0].parse().expect("a count"), real(1), real(2))
    })
}

#[test]
fn the_factor_of_a_range_is_that_of_a_reference_library() {
    assert_eq!(scipy().count(), 11);
    for (values, covered, _) in scipy() {
        let off = range_factor(values) - covered;
        assert!(off.abs() < 2e-6, "{values}: {off}");
    }
}

/// Tables of the studentized range with infinite degrees of freedom at 95 %, as statistics handbooks
/// print them (from memory).
#[test]
fn the_reference_library_agrees_with_printed_tables() {
    let printed = [2.77, 3.31, 3.63, 3.86, 4.03, 4.17, 4.29];
    for ((values, _, quantile), printed) in scipy().zip(printed) {
        assert!((quantile - printed).abs() <= 0.005_1, "{values}");
    }
}

/// A small generator with a stated seed: splitmix64 (Steele, Lea and Flood 2014), normal values by Box
/// and Muller.
struct Normal(u64);

impl Normal {
    fn bits(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    /// Above 0 and at most 1.
    #[allow(clippy::cast_precision_loss, reason = "53 bits")]
    fn unit(&mut self) -> f64 {
        ((self.bits() >> 11) + 1) as f64 / (1_u64 << 53) as f64
    }

    fn next(&mut self) -> f64 {
        let (a, b) = (self.unit(), self.unit());
        (-2.0 * a.ln()).sqrt() * (2.0 * std::f64::consts::PI * b).cos()
    }
}

/// Where the true tops lie: one at the lower end, so many at the upper, the others in the middle; or half
/// and half.
fn truths(cuts: usize, at_top: usize, spread: f64) -> Vec<f64> {
    (0..cuts)
        .map(|cut| {
            if cut == 0 || (at_top > cuts / 2 && cut < cuts / 2) {
                0.0
            } else if cut <= at_top || at_top > cuts / 2 {
                spread
            } else {
                spread / 2.0
            }
        })
        .collect()
}

/// What the verdict on the spread is, of tops measured with a standard uncertainty of 1 mm.
#[allow(
    clippy::cast_possible_truncation,
    reason = "a few metres in nanometres"
)]
fn verdict(random: &mut Normal, truths: &[f64], limit: f64) -> Verdict {
    let measured: Vec<f64> = truths.iter().map(|it| it + random.next()).collect();
    let highest = measured.iter().copied().fold(f64::MIN, f64::max);
    let lowest = measured.iter().copied().fold(f64::MAX, f64::min);
    let length = |mm: f64| Length::from_nm((mm * 1e6).round() as i64);
    let variance = Variance::of_real(range_factor(truths.len()) / 2.0 * 1e6);
    judge(
        length(highest - lowest).into(),
        length(limit).into(),
        Some(variance),
    )
}

/// How often a spread beyond its limit would be called within, and one inside it outside: at most 2.5 % of
/// all, for 2 to 12 cuts and limits from one standard uncertainty up. The true spread lies on the limit,
/// where both are likeliest, and the tops lie in several ways.
#[test]
fn false_verdicts_on_a_spread_are_rare() {
    const TRIALS: u32 = 20_000;
    let mut random = Normal(20_261_126);
    let mut worst = [(0.0_f64, 0, 0.0), (0.0_f64, 0, 0.0)];
    for cuts in 2..=12 {
        for limit in [1.0, 3.0, 6.0, 12.0] {
            for at_top in [1, cuts / 2 + 1] {
                let truths = truths(cuts, at_top.min(cuts), limit);
                let mut counts = [0_u32; 2];
                for _ in 0..TRIALS {
                    match verdict(&mut random, &truths, limit) {
                        Verdict::Within => counts[0] += 1,
                        Verdict::Outside => counts[1] += 1,
                        Verdict::Unproven => {}
                    }
                }
                for (worst, count) in worst.iter_mut().zip(counts) {
                    let share = f64::from(count) / f64::from(TRIALS);
                    if share > worst.0 {
                        *worst = (share, cuts, limit);
                    }
                }
            }
        }
    }
    println!("false within {:?}, false outside {:?}", worst[0], worst[1]);
    assert!(worst.iter().all(|(share, ..)| *share <= 0.025), "{worst:?}");
    // The likeliest case, two cuts, is a difference of two: 2.28 % by the normal distribution.
    assert!(worst[1].0 > 0.02, "{worst:?}");
}
