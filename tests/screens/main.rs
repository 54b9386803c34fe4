//! The screens: keys and states, drawings, and the real program in a terminal.

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

mod contrast;
mod entry;
mod heights;
mod identity;
mod keys;
mod keys_in_docs;
mod looks;
#[path = "../../examples/screens_to_svg/picture.rs"]
mod picture;
mod pictures_in_docs;
#[cfg(unix)]
#[allow(dead_code, reason = "each group of tests uses its part of it")]
mod session;
mod slow_line;
mod small;
#[cfg(unix)]
mod terminal;
