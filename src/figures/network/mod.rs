//! The readings of a job: those that its chain rests on, and those that were written beside them.

mod doubted;
mod of_job;
mod outdated;
mod read;
mod string;

pub use read::{DATUM, ReadNetwork, ReadingOf, rotary_point, top_point};
pub(super) use string::StringPoints;
