//! The journal, hold points and signatures, by the real program: invented jobs and persons, throw-away keys.

#![allow(
    clippy::expect_used,
    clippy::unwrap_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::string_slice,
    reason = "a test may stop"
)]

#[path = "../common/mod.rs"]
#[allow(dead_code, reason = "each group of tests uses its part of it")]
mod common;

mod attacks;
#[cfg(unix)]
mod by_keys;
mod bytes;
mod causes;
#[cfg(unix)]
mod copies;
#[cfg(unix)]
mod deciding;
mod documents;
mod entering;
mod flags;
mod kills;
mod lapsing;
mod nights;
mod place;
mod reporting;
#[cfg(unix)]
#[path = "../screens/session.rs"]
#[allow(dead_code, reason = "each group of tests uses its part of it")]
mod session;
mod signed_readings;
mod signing;
mod verdicts;
mod waiving;
#[cfg(unix)]
mod windows;
mod writers;
