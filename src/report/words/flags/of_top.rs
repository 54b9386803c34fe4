//! Flags of the finished top.

use super::parts::Words;
use crate::finding::{ProofOf, TopFinding};
use crate::measure::Length;
use crate::report::words::standing::counted;

impl Words {
    /// Flags of the finished top.
    pub(super) fn of_top(&self, found: &TopFinding) -> String {
        match found {
            TopFinding::AboveTop {
                mean,
                top,
                uncertainty,
            } => format!(
                "the finished top was measured at {}, above the top of the string at {} (U {}): one of the two is wrong",
                self.at(*mean),
                self.at(*top),
                self.known(*uncertainty)
            ),
            TopFinding::BeforeRun { readings } => format!(
                "a finished top is given ({}), but no stick-up says that the string was landed",
                counted(*readings, "reading")
            ),
            TopFinding::ToleranceBelowUncertainty { proofs } => {
                let words = |(of, uncertainty, limit): &(ProofOf, Length, Length)| {
                    let (what, limit_name) = match of {
                        ProofOf::Top => ("a finished top is", "the tolerance is"),
                        ProofOf::Level => {
                            ("how level a top is, by four readings, is", "its limit is")
                        }
                        ProofOf::Spread => ("the spread of the cuts is", "its limit is"),
                    };
                    let written = self.0.small_apart(&[*uncertainty, *limit]);
                    format!(
                        "{what} known to U {}",
                        written.join(&format!(", {limit_name} "))
                    )
                };
                let proofs: Vec<String> = proofs.iter().map(words).collect();
                format!("{}: nothing can be proven within it", proofs.join("; "))
            }
            TopFinding::Deviation {
                deviation,
                furthest,
                uncertainty,
                tolerance,
                beyond,
                proven,
            } => {
                // Where the mean is inside, it is a single reading that lies beyond.
                let (what, value) = if *beyond && deviation.abs() <= *tolerance {
                    ("a reading of the finished top is", *furthest)
                } else {
                    ("the finished top is", *deviation)
                };
                format!(
                    "{what} {} from its target (U {}), {}",
                    self.0.small_signed(value),
                    self.known(*uncertainty),
                    self.proof((value, *uncertainty, *tolerance), (*beyond, *proven))
                )
            }
            TopFinding::RimReadingsFew { readings } => {
                format!("readings round the finished top: {readings}; four show how it lies")
            }
            TopFinding::OutOfLevel {
                value,
                uncertainty,
                readings,
                allowed,
                beyond,
                proven,
            } => {
                let few = if !*beyond && *readings < 4 {
                    " (by so few readings it is never proven)"
                } else {
                    ""
                };
                format!(
                    "the finished top is {} out of level by {} (U {}), {}{few}",
                    self.small(*value),
                    counted(*readings, "reading"),
                    self.known(*uncertainty),
                    self.proof((*value, *uncertainty, *allowed), (*beyond, *proven))
                )
            }
            TopFinding::LevelUnstated => {
                "nothing says how level the finished top must be: state cut.level".to_owned()
            }
        }
    }
}
