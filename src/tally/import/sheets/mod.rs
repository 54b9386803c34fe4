//! Which sheet of a workbook is the tally, and its numbers as the decimals that were meant.

mod choose;
mod numbers;
mod prepare;
mod settle;

pub(super) use prepare::read;
