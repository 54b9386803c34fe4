//! The finished top as measured, and what that proves of its height.

use super::chain::SlotView;
use super::estimate::Estimate;
use super::terms::of_as_cut;
use super::verdict::{Verdict, judge, probability_within};
use crate::measure::{Elevation, Length, RationalLength};

/// The finished top as measured.
#[derive(Clone, Debug, PartialEq)]
pub struct AsCut {
    /// How many readings.
    pub readings: usize,
    /// Their exact mean as a height above the sea datum, and how well it is known.
    pub mean: Estimate<RationalLength>,
    /// The exact deviation of the mean from the target.
    pub deviation: RationalLength,
    /// Highest less lowest; `None` under three readings.
    pub out_of_level: Option<Length>,
    /// The verdict; `None` without a tolerance.
    pub verdict: Option<Verdict>,
    /// The probability of conformity; `None` without a tolerance or a stated uncertainty.
    pub probability: Option<f64>,
}

/// What the readings of a slot's finished top say; `None` of none.
pub(super) fn as_cut(view: SlotView<'_>, target: Elevation) -> Option<AsCut> {
    let heights: Vec<Length> = view
        .slot
        .as_cut
        .iter()
        .map(|elevation| elevation.height())
        .collect();
    let terms = of_as_cut(&view.job.uncertainty, view.index);
    let mean = Estimate::new(RationalLength::mean(&heights)?, terms);
    let deviation = mean.value.less(target.height());
    let (variance, tolerance) = (mean.variance(), view.job.cut.tolerance);
    let verdict = tolerance.map(|tolerance| judge(deviation, tolerance.into(), variance));
    let probability = tolerance.zip(variance).map(|(tolerance, variance)| {
        probability_within(
            deviation.real_nm(),
            tolerance.real_nm(),
            variance.standard_nm(),
        )
    });
    let out_of_level = heights
        .iter()
        .max()
        .zip(heights.iter().min())
        .filter(|_| heights.len() >= 3)
        .map(|(highest, lowest)| *highest - *lowest);
    Some(AsCut {
        readings: heights.len(),
        mean,
        deviation,
        out_of_level,
        verdict,
        probability,
    })
}
