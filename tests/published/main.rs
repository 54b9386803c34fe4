//! Checks against published standards, handbook tables and worked examples. The source stands beside
//! each number; `from memory` is said of those that were recalled and not seen in a source.

#![allow(
    clippy::expect_used,
    clippy::unwrap_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::string_slice,
    reason = "a test may stop"
)]

mod beside;
mod corrections;
mod hook_load;
mod levels;
mod outliers;
mod ranges;
mod steel;
mod tally;
mod uncertainty;
