//! Two tallies of one string: which joint is which, and every millimetre between their totals.
//!
//! [`align`] says which joint of one list is which of the other; [`bridge`] walks from one total to
//! the other, one line a cause, with nothing left over; [`suspects`] lists the mistakes that would
//! explain one tally's disagreement with a measurement. Pure: no file, clock or terminal.

#![deny(clippy::as_conversions)]

mod align;
mod bridge;
mod candidates;
mod decide;
mod decisions;
mod detail;
mod edits;
mod index;
mod lengths;
pub mod many;
mod mistakes;
mod pairs;
mod partners;
mod quotes;
mod reasons;
mod record;
mod rounding;
mod suspect;
mod suspects;

pub use align::{Aligned, Alignment, align};
pub use bridge::{Bridge, BridgeLine, PlaneMoved, bridge};
pub use decide::{
    Decision, Difference, Refusal, Stands, Topic, differences, open_together, unmatched_decisions,
};
pub use decisions::{DecisionProblem, DecisionsError, read_decisions};
pub use detail::{BridgeDetail, Cause, LengthMistake, LengthReason, ListedLoss, Note, Side};
pub use mistakes::{Mistake, corrections, loss_corrections};
pub use pairs::{MOST_PAIRS, Pair};
pub use reasons::ReadingMistake;
pub use record::{Record, RecordRow, RecordSource, record};
pub use suspect::{MeasuredSide, Suspect, SuspectDetail};
pub use suspects::{Measured, Suspects, suspects};

#[cfg(test)]
mod tests;
