//! The tally: joints in running order with their lengths, and the string that they make.
//!
//! A [`Tally`] is what a file says, joint by joint, each with the line that it came from. A
//! [`PipeString`] is what follows from it for one direction of the pins: effective lengths, running
//! sums and make-up planes. [`read()`] turns the bytes of a file into a tally.

#![deny(clippy::float_arithmetic, clippy::as_conversions)]

mod claim;
mod claims;
mod glance;
pub mod import;
mod joint;
mod model;
mod remarks;
mod repeats;
mod review;
mod string;

pub use claim::{Claim, Claimed, Summed};
pub use import::{Options, ReadError, read};
pub use joint::{Joint, Kind, LengthKind, Written};
pub use model::{Column, Order, Tally};
pub use remarks::{
    BETWEEN_PARTS, DECIDED_BY, Doubted, FileNote, SheetReason, SkipReason, Skipped, UnknownKind,
    WithoutTable,
};
pub(crate) use repeats::MayRepeat;
pub use review::{LOSS_SCATTER, review};
pub use string::{LandingPiece, Piece, Pins, PipeString};

#[cfg(test)]
mod tests;
