//! Flags of the job as a whole.

use super::parts::{Words, more};
use crate::finding::{JobFinding, SecondWayBy, SharedSerial, TwoWays};
use crate::measure::{Excerpt, Length};

impl Words {
    /// Flags of the job as a whole.
    pub(super) fn of_job(&self, found: &JobFinding) -> String {
        match found {
            JobFinding::FrameBase {
                height,
                uncertainty,
                window: (lowest, highest),
                beyond,
                proven,
            } => {
                let how = match (beyond, proven) {
                    (true, true) => "outside its window, proven",
                    (true, false) => "outside its window, not proven",
                    (false, _) => "inside its window, not proven",
                };
                format!(
                    "the frame's base is {} above the mudline (U {}), {how}: {} to {}",
                    self.length(*height),
                    self.known(*uncertainty),
                    self.length(*lowest),
                    self.length(*highest)
                )
            }
            JobFinding::Spread {
                value,
                uncertainty,
                limit,
                beyond,
                proven,
            } => format!(
                "the cuts differ by {} (U {}), {}",
                self.small(*value),
                self.known(*uncertainty),
                self.proof((*value, *uncertainty, *limit), (*beyond, *proven))
            ),
            JobFinding::UncertaintyMissing { keys, benches } => {
                let mut missing = Vec::new();
                if !keys.is_empty() {
                    missing.push(format!("in [uncertainty]: {}", keys.join(", ")));
                }
                missing.extend(
                    benches
                        .iter()
                        .map(|bench| format!("uncertainty of bench mark {}", Excerpt::of(bench))),
                );
                format!(
                    "not stated {}. What needs them is unproven, not exact",
                    missing.join("; ")
                )
            }
            JobFinding::UncertaintyZero { keys } => format!(
                "stated as 0 in [uncertainty]: {}. What is proven with them is proven by that 0",
                keys.join(", ")
            ),
            JobFinding::TwoWays { ways } => {
                let ways: Vec<String> = ways.iter().map(|way| self.two_ways(way)).collect();
                ways.join("; ")
            }
            JobFinding::SharedTallies { pairs } => {
                let words = |(one, other): &(String, String)| {
                    format!("{} and {}", Excerpt::of(one), Excerpt::of(other))
                };
                let pairs: Vec<String> = pairs.iter().map(words).collect();
                format!(
                    "the same joints are listed for two slots, {}: was a slot copied and its tally not changed?",
                    pairs.join("; ")
                )
            }
            JobFinding::SharedSerials { serials, .. } => {
                let words = |it: &SharedSerial| {
                    format!(
                        "{} in {} and {} (line {})",
                        Excerpt::of(&it.serial),
                        Excerpt::of(&it.first),
                        Excerpt::of(&it.second),
                        it.line
                    )
                };
                let first: Vec<String> = serials.first.iter().map(words).collect();
                format!(
                    "one pipe cannot be in two strings: {}{}",
                    first.join(", "),
                    more(serials.more)
                )
            }
        }
    }

    fn two_ways(&self, way: &TwoWays) -> String {
        let hull = Excerpt::of(&way.hull);
        let what = match &way.by {
            SecondWayBy::BelowRotary(_) => "the deck".to_owned(),
            SecondWayBy::Raised { .. } | SecondWayBy::AirGap => {
                format!("RT at hull position {hull}")
            }
        };
        let by = match &way.by {
            SecondWayBy::Raised { before, by } => format!(
                "by RT at {} and the hull raised by {}",
                Excerpt::of(before),
                self.length(*by)
            ),
            SecondWayBy::AirGap => "by the air gap".to_owned(),
            SecondWayBy::BelowRotary(depth) => format!(
                "by its depth of {} below RT at hull position {hull}",
                self.length(*depth)
            ),
        };
        let off = (way.stated - way.second).abs();
        let (off, allowed) = if off < Length::from_mm(1000) {
            let mut written = self.0.small_apart(&[off, way.allowed]).into_iter();
            (
                written.next().unwrap_or_default(),
                written.next().unwrap_or_default(),
            )
        } else {
            (self.by(off), self.by(way.allowed))
        };
        format!(
            "{what} is stated at {}, {by} it is at {}: they differ by {off}, up to {allowed} passes",
            self.at(way.stated),
            self.at(way.second)
        )
    }
}
