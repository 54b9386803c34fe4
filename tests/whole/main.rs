//! Whole behaviour: files in, figures and messages out, by the library and by the real program.

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

mod acting_characters;
mod architecture;
mod asking;
mod bad_jobs;
mod bad_tallies;
mod blunders;
mod blunders_in_readings;
mod broken_workbooks;
mod changed_samples;
mod cli;
mod corrections;
mod deciding;
mod elevations;
mod exact_and_unstated;
mod guide;
mod inclination;
mod keys;
mod legs_and_landing;
mod levels;
mod levels_of_jobs;
mod many_readings;
mod measured_again;
mod messy;
mod mutated_tallies;
mod old_decisions;
mod ordinary;
mod plain_screens;
mod reconcile;
mod records;
mod run;
mod seat_of_jobs;
mod seating;
mod side_by_side;
mod slot_states;
mod suspects;
mod two_conductors;
mod workbooks;
