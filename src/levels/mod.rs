//! Readings of height differences as a network, and the elevations that agree best with all of them.
//!
//! Each reading says `elevation(to) - elevation(from) = rise + k * tape`, give or take its standard deviation; `k` is
//! the scale error that one tape has in common. Exact sums give approximate elevations, so that floating point only
//! ever works on what readings disagree by: without redundancy the answer is the chain, to the nanometre.

mod adjust;
mod correction;
mod eliminate;
mod ground;
mod network;
mod parts;
mod readings;
mod repeated;
mod suspects;

pub use adjust::{Adjusted, AdjustedPoint, AdjustedReading, ChiSquare, LIMIT, Tape, adjust};
pub use correction::{GRAVITY, HungString, YOUNG, pulled, sagged, standardised, warmed};
pub use ground::NetworkError;
pub use network::{Network, Point, Reading, Sigma};
pub use parts::Parts;
pub use readings::{
    FileReading, READINGS, ReadingsError, ReadingsProblem, read_readings, unlikely_sigmas,
};
pub use suspects::{Suspect, SuspectReading, suspects};
