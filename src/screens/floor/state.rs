//! Which joint a person said is next.

use std::hash::{DefaultHasher, Hash, Hasher};

use crate::measure::Length;
use crate::screens::identity::JointId;
use crate::tally::Tally;

/// Which joint a person said is next, where none is entered: by what it is, and what lies below it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ByHand {
    /// The joint; `None` where all are in.
    next: Option<JointId>,
    /// A digest of the joints that are in.
    below: u64,
}

/// A digest of the first joints of a tally.
fn digest(tally: &Tally, joints: usize) -> u64 {
    let mut hasher = DefaultHasher::new();
    for joint in tally.joints.iter().take(joints) {
        let length = joint.length.map(Length::nm);
        let loss = joint.makeup_loss.map(Length::nm);
        (joint.number.as_str(), length, loss).hash(&mut hasher);
    }
    hasher.finish()
}

impl ByHand {
    /// So many joints are in.
    pub(super) fn of(tally: &Tally, joints: usize) -> Self {
        Self {
            next: tally.joints.get(joints).map(JointId::of),
            below: digest(tally, joints),
        }
    }

    /// How many joints are in by it now; `None` where the joint is gone, or the list changed below it.
    pub(super) fn joints(&self, tally: &Tally) -> Option<usize> {
        let at = match &self.next {
            Some(joint) => joint.find(tally)?,
            None => tally.joints.len(),
        };
        (digest(tally, at) == self.below).then_some(at)
    }
}
