//! Two tallies of one string: which joint is which, and every millimetre between their totals.
//!
//! [`align`] says which joint of one list is which of the other; [`bridge`] walks from one total to
//! the other, one line a cause, with nothing left over; [`suspects`] lists the mistakes that would
//! explain one tally's disagreement with a measurement. Pure: no file, clock or terminal.

#![deny(clippy::as_conversions)]

mod align;
mod bridge;
mod decide;
mod decisions;
mod lengths;
mod mistakes;
mod order;
mod pairs;
mod quotes;
mod record;
mod suspects;

pub use align::{Alignment, Step, align};
pub use bridge::{Bridge, Cause, Line, Note, PlaneMoved, bridge, bridge_in};
pub use decide::{
    Decision, Difference, Stands, Topic, differences, open_together, unmatched_decisions,
};
pub use decisions::{DecisionProblem, DecisionsError, read_decisions, write_decision};
pub use mistakes::{Mistake, corrections, loss_corrections};
pub use pairs::{MOST_PAIRS, Pair};
pub use record::{Record, RecordRow, record};
pub use suspects::{Measured, Suspect, Suspects, suspects};

#[cfg(test)]
mod tests;
