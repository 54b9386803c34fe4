//! A rigid deck on the tops of its conductors: on which it rests, how it tilts, what gaps stay, and what would have to be
//! trimmed.
//!
//! In plan the tops and the centre of gravity are exact, and so are the tests of what lies on which side: contacts are
//! found exactly, without a tolerance.

mod arranged;
mod chance;
mod fit;
mod flat;
mod outline;
mod seat;

pub use chance::{Chance, Draws, TopDrawn, chance};
pub use fit::{BestFit, best_fit};
pub use flat::{MOST_TOPS, flatness, trims};
pub use outline::{Side, outline};
pub use seat::{Rest, Seat, SeatState, leverage, seat};

use crate::measure::Length;

/// A top with its place in plan.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct DeckTop {
    /// Its place in plan.
    pub x: Length,
    /// Its place in plan.
    pub y: Length,
    /// Its height, the length of the deck's leg there taken off.
    pub z: Length,
}
