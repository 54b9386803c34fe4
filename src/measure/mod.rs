//! Exact quantities of length and where they are measured from.
//!
//! Everything that the trade reads off a tape is an integer number of nanometres here, so a sum has
//! the same value in any order and in either system of units. Four types keep apart what is easily
//! mixed up: a [`Length`] is a difference, an [`Elevation`] is a point above the sea datum, a
//! [`Depth`] is measured downward from a named reference, and a [`Unit`] is only a way to write.

#![deny(clippy::float_arithmetic, clippy::as_conversions)]

mod bounds;
mod excerpt;
mod format;
mod length;
mod length_error;
mod position;
mod rational;
mod read;
mod real;
mod unit;
mod visible;

pub use bounds::{MAX_JOINT, MAX_LENGTH, MIN_JOINT};
pub use excerpt::{Excerpt, listed, listed_within};
pub use format::LengthFormat;
pub use length::Length;
pub use length_error::LengthError;
pub use position::{Depth, Elevation};
pub use rational::RationalLength;
pub(crate) use read::read_plain;
pub use read::{DecimalMark, ParseOptions, ParsedLength, is_gap, read_length};
pub use real::nearest_whole;
pub use unit::{Unit, UnitError};
pub use visible::{is_control, visible, visible_lines};

#[cfg(test)]
mod tests;
