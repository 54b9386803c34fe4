//! What several groups of tests need.

pub mod acting;
pub mod copies;
pub mod decided;
pub mod digests;
pub mod forms;
pub mod laws;
pub mod lists;
pub mod on_screen;
