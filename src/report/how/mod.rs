//! How a figure came about: the formula with its numbers, and the lines of the files.

mod chain;
mod cut;
mod derivation;
mod open;
mod run;

pub use derivation::{DerivationStep, How};
pub use open::{PartOfHow, figure, how, part};
