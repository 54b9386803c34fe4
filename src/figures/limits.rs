//! How far readings of the journal may differ before they are flagged.

use super::estimate::Variance;
use crate::job::Uncertainty;
use crate::measure::Length;

/// The quantile of the normal distribution at 0.1 %, two-sided.
pub(super) const AT_A_THOUSANDTH: f64 = 3.29;

/// The least by which stick-ups before and after a joint may be off.
pub(super) const LEAST_OFF: Length = Length::from_mm(10);

/// A multiple of the root of a variance, as a length.
pub(super) fn limit(factor: f64, variance: Variance) -> Length {
    Length::nearest_to_metres(factor * variance.standard_nm() / 1e9).unwrap_or_default()
}

/// How far the stick-up after a joint may be from that before it and the joint's effective length; `None`
/// where an uncertainty is not stated.
pub(super) fn after_joint(stated: &Uncertainty) -> Option<Length> {
    let read = Variance::of(stated.stick_up?).times(2);
    let joint = Variance::of(stated.strap?).and(Variance::of(stated.connection?));
    Some(limit(AT_A_THOUSANDTH, read.and(joint)).max(LEAST_OFF))
}
