//! The finished top as measured, and what that proves of its height and of how level it is.

use super::chain::SlotView;
use super::estimate::{Estimate, Variance};
use super::rim::{Rim, rim};
use super::terms::{of_as_cut, of_level};
use super::verdict::{Verdict, judge, probability_within, proven_beyond};
use crate::journal::AtRim;
use crate::measure::{Elevation, Length, RationalLength};

/// So many readings round a top show how it lies; with fewer it is never proven to be level.
pub(super) const ENOUGH_READINGS: usize = 4;

/// The finished top as measured.
#[derive(Clone, Debug, PartialEq)]
pub struct AsCut {
    /// How many readings.
    pub readings: usize,
    /// Their exact mean as a height above the sea datum, and how well it is known.
    pub mean: Estimate<RationalLength>,
    /// The exact deviation of the mean from the target.
    pub deviation: RationalLength,
    /// Of the single readings, the deviation that is furthest from the target.
    pub furthest: Length,
    /// Highest less lowest, and how well that is known; `None` under two readings.
    pub out_of_level: Option<Estimate<Length>>,
    /// How it lies, where readings have their directions.
    pub rim: Option<Rim>,
    /// The verdict on the height of the mean; `None` without a tolerance.
    pub height: Option<Verdict>,
    /// The verdict on how level it is; `None` without a limit or under two readings.
    pub level: Option<Verdict>,
    /// The verdict on the finished top as a whole; `None` without a tolerance.
    pub verdict: Option<Verdict>,
    /// The probability that the height conforms; `None` without a tolerance or a stated uncertainty.
    pub probability: Option<f64>,
}

/// What the readings of a slot's finished top say; `None` of none.
pub(super) fn as_cut(
    view: SlotView<'_>,
    target: Elevation,
    at_rim: &[AtRim<Elevation>],
) -> Option<AsCut> {
    let limits = &view.job.cut;
    let heights: Vec<Length> = view
        .slot
        .as_cut
        .iter()
        .map(|elevation| elevation.height())
        .collect();
    let terms = of_as_cut(&view.job.uncertainty, view.index);
    let mean = Estimate::new(RationalLength::mean(&heights)?, terms);
    let deviation = mean.value.less(target.height());
    let (variance, tolerance) = (mean.variance(), limits.tolerance);
    let height = tolerance.map(|tolerance| judge(deviation, tolerance.into(), variance));
    let probability = tolerance.zip(variance).map(|(tolerance, variance)| {
        probability_within(
            deviation.real_nm(),
            tolerance.real_nm(),
            variance.standard_nm(),
        )
    });
    let deviations = heights.iter().map(|it| *it - target.height());
    let furthest = deviations.max_by_key(|it| it.abs())?;
    let ends = heights.iter().max().zip(heights.iter().min());
    let out_of_level = ends
        .filter(|_| heights.len() >= 2)
        .map(|(highest, lowest)| {
            let terms = of_level(&view.job.uncertainty, view.index, heights.len());
            Estimate::new(*highest - *lowest, terms)
        });
    let level = out_of_level
        .as_ref()
        .zip(limits.level)
        .map(
            |(value, limit)| match judge(value.value.into(), limit.into(), value.variance()) {
                Verdict::Within if heights.len() < ENOUGH_READINGS => Verdict::Unproven,
                verdict => verdict,
            },
        );
    Some(AsCut {
        readings: heights.len(),
        verdict: tolerance.map(|tolerance| whole(height, level, (furthest, tolerance), variance)),
        mean,
        deviation,
        furthest,
        out_of_level,
        rim: rim(at_rim, view.slot.pipe.od),
        height,
        level,
        probability,
    })
}

/// The verdict on a finished top from those on its height and its level, and from the reading that is
/// furthest from the target.
fn whole(
    height: Option<Verdict>,
    level: Option<Verdict>,
    (furthest, tolerance): (Length, Length),
    variance: Option<Variance>,
) -> Verdict {
    let both = [height, level];
    if both.contains(&Some(Verdict::Outside))
        || proven_beyond(furthest.into(), tolerance.into(), variance)
    {
        Verdict::Outside
    } else if both == [Some(Verdict::Within); 2] && furthest.abs() <= tolerance {
        Verdict::Within
    } else {
        Verdict::Unproven
    }
}

impl AsCut {
    /// Whether any one reading is proven to lie beyond the tolerance.
    pub(super) fn a_reading_is_outside(&self, tolerance: Length) -> bool {
        proven_beyond(self.furthest.into(), tolerance.into(), self.mean.variance())
    }

    /// Whether the mean, or any one reading, lies beyond the tolerance, proven or not.
    pub fn is_beyond(&self, tolerance: Length) -> bool {
        self.deviation.abs() > tolerance.into() || self.furthest.abs() > tolerance
    }
}
