//! What of two joints is compared: their lengths and losses, as far as both lists give them.

use super::rounding::{LastPlaces, allowed};
use crate::measure::Length;
use crate::tally::{Joint, Tally};

/// How far two straps of one joint may lie apart and still speak of the same joint: a tape read by
/// two people. Joints themselves differ by decimetres.
pub(super) const STRAPS_APART: Length = Length::from_mm(10);

/// No make-up loss is longer: twice what the longest pins are swallowed.
pub(super) const LONGEST_LOSS: Length = Length::from_mm(600);

/// How the lengths of two lists are compared.
#[derive(Clone, Copy, Debug)]
pub(super) struct Compare {
    /// Whether both give overall lengths; otherwise effective ones are compared.
    pub(super) overall: bool,
    /// Up to where lengths agree: zero, but where the lists are written to different last places.
    pub(super) rounded: Length,
    /// The same of make-up losses.
    pub(super) loss_rounded: Length,
}

impl Compare {
    pub(super) fn of(a: &Tally, b: &Tally) -> Self {
        let (one, other) = (LastPlaces::of(a), LastPlaces::of(b));
        Self {
            overall: !a.effective_only && !b.effective_only,
            rounded: allowed(one.length, other.length),
            loss_rounded: allowed(one.loss, other.loss),
        }
    }

    /// What is compared of a joint.
    pub(super) fn length(self, joint: &Joint) -> Length {
        let overall = joint.overall().unwrap_or_default();
        match joint.effective() {
            Some(effective) => effective,
            None if self.overall => overall,
            None => overall - joint.makeup_loss.unwrap_or_default(),
        }
    }

    pub(super) fn apart(self, a: &Joint, b: &Joint) -> Length {
        (self.length(a) - self.length(b)).abs()
    }

    pub(super) fn equal(self, a: &Joint, b: &Joint) -> bool {
        self.apart(a, b) <= self.rounded
    }
}
