//! Flags of the cut and its marks.

use super::parts::Words;
use crate::finding::{CloseTo, CutFinding};
use crate::measure::{Excerpt, listed};

impl Words {
    /// Flags of the cut.
    pub(super) fn of_cut(&self, found: &CutFinding) -> String {
        match found {
            CutFinding::BelowMudline { target, below } => format!(
                "the cut at {} lies {} below the mudline",
                self.at(*target),
                self.length(*below)
            ),
            CutFinding::TooShort { top, target } => format!(
                "the string is too short by {}: its top is at {}, the cut at {}",
                self.length(*target - *top),
                self.at(*top),
                self.at(*target)
            ),
            CutFinding::BelowShoe { shoe, target } => format!(
                "the cut at {} lies below the shoe at {}",
                self.at(*target),
                self.at(*shoe)
            ),
            CutFinding::BelowSea { target, sea } => format!(
                "the cut at {} does not lie above the sea at {}: is the deck's elevation a depth, or its sign wrong?",
                self.at(*target),
                self.at(*sea)
            ),
            CutFinding::AboveRotary {
                target,
                rotary,
                hull,
            } => format!(
                "the cut at {} lies above RT at {} (hull position {}): is the deck's elevation right, and the hull position?",
                self.at(*target),
                self.at(*rotary),
                Excerpt::of(hull)
            ),
            CutFinding::FromEarlierHull { cut, read } => format!(
                "the cut is measured from hull position {}, but the string was landed later, at {}: is cut.hull right?",
                Excerpt::of(cut),
                Excerpt::of(read)
            ),
            CutFinding::BenchesMoved { benches, cut } => {
                let words = |(name, hull): &(String, String)| {
                    format!("{} (at {})", Excerpt::of(name), Excerpt::of(hull))
                };
                format!(
                    "bench marks of another hull position than the cut's, {}, moved with the hull and are left out: {}",
                    Excerpt::of(cut),
                    listed(benches.iter().map(words))
                )
            }
            CutFinding::InShoeJoint { joint } => {
                format!("the cut lies in {}, the bottom joint", Excerpt::of(joint))
            }
            CutFinding::Near {
                to,
                distance,
                required,
            } => {
                let what = match to {
                    CloseTo::Connection => "the nearest connection",
                    CloseTo::Shoulder => "the landing shoulder",
                };
                let how = if distance.is_zero() {
                    format!("the cut lies in or touches {what}")
                } else {
                    format!("the cut comes within {} of {what}", self.length(*distance))
                };
                format!("{how}; minimum {}", self.length(*required))
            }
            CutFinding::OffcutMassPartial { pairs } => format!(
                "the off-cut's mass leaves out its connectors, whose mass is not given: made-up pairs {pairs}"
            ),
            CutFinding::MarksTooLoose { tolerance } => format!(
                "no mark finds the cut within the tolerance of {}",
                self.small(*tolerance)
            ),
        }
    }
}
