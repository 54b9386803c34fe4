//! Second ways to the elevations on which a cut hangs: what else a job says of them, and whether both
//! agree.

use std::sync::Arc;

use crate::job::{Hull, Job};
use crate::measure::{Elevation, Length};

/// By what a second way comes to an elevation.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum WayBy {
    /// The RT of the hull position before, and how far the hull was raised.
    Raised {
        /// The hull position before.
        before: Arc<Hull>,
        /// How far it was raised.
        by: Length,
    },
    /// The air gap.
    AirGap,
    /// The deck's depth below RT.
    BelowRotary(Length),
}

/// A second way to an elevation.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SecondWay {
    /// The hull position that it belongs to.
    pub hull: Arc<Hull>,
    /// By what.
    pub by: WayBy,
    /// The elevation as the job states it.
    pub stated: Elevation,
    /// The elevation that the second way comes to.
    pub second: Elevation,
    /// How far they may differ.
    pub allowed: Length,
}

impl SecondWay {
    /// The stated elevation less the other.
    pub fn difference(&self) -> Length {
        self.stated - self.second
    }

    /// Whether both agree; a difference on the limit does.
    pub fn agrees(&self) -> bool {
        self.difference().abs() <= self.allowed
    }

    /// Whether it is a way to the RT of its hull position.
    pub const fn is_to_rotary(&self) -> bool {
        !matches!(self.by, WayBy::BelowRotary(_))
    }

    /// Whether it says something of the RT at a hull position: its own, and that before it where the hull
    /// was raised from there.
    pub fn concerns(&self, hull: &Hull) -> bool {
        let before = match &self.by {
            WayBy::Raised { before, .. } => before.name == hull.name,
            WayBy::AirGap | WayBy::BelowRotary(_) => false,
        };
        self.hull.name == hull.name || before
    }
}

/// All second ways of a job: to each RT in the order of the hull positions, then to the deck.
pub(super) fn second_ways(job: &Job) -> Vec<SecondWay> {
    let mut ways = Vec::new();
    for hull in &job.hulls {
        let way = |by, second, allowed| SecondWay {
            hull: Arc::clone(hull),
            by,
            stated: hull.rotary,
            second,
            allowed,
        };
        if let Some((by, before)) = hull.raised.zip(job.hull_before(hull)) {
            let raised = WayBy::Raised {
                before: Arc::clone(before),
                by,
            };
            ways.push(way(raised, before.rotary + by, job.agree.raise));
        }
        ways.extend(
            hull.air_gap
                .map(|gap| way(WayBy::AirGap, gap.rotary(), job.agree.air_gap)),
        );
    }
    ways.extend(job.deck.below_rotary.as_ref().map(|depth| SecondWay {
        hull: Arc::clone(&depth.hull),
        by: WayBy::BelowRotary(depth.depth),
        stated: job.deck.elevation,
        second: depth.elevation(),
        allowed: job.agree.deck,
    }));
    ways
}
