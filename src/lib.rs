//! Conductor tallies, elevations and cut sheets for a small platform's conductors.
//!
//! The modules in the order in which the job flows; each knows only those before it, which
//! `tests/architecture.rs` holds:
//!
//! - [`flag`]: what the program has to say about a figure or an input, in one list for every face.
//! - [`measure`]: exact lengths, elevations and depths, and how they are written and read.
//! - [`tally`]: joints in running order, the string that they make, and the reader of tally files.
//! - [`reconcile`]: two tallies of one string aligned and bridged, and what would explain a misclosure.
//! - [`job`]: what is fixed before the job: datums, hull positions, pipe, slots, deck, tolerances.
//! - [`figures`]: every figure that follows, computed once: elevations, cuts, verdicts, flags.
//! - [`report`]: figures as JSON for scripts and as text for people.
//! - [`cli`]: the command line.
//! - [`screens`]: the terminal.
//!
//! One flow: files, checked values, figures, faces. If a face needs a sum, the sum belongs in
//! [`figures`].

pub mod flag;
pub mod measure;

pub mod tally;

pub mod reconcile;

pub mod job;

pub mod figures;

pub mod folder;

pub mod report;

pub mod cli;

pub mod screens;

#[cfg(test)]
#[path = "../tests/common/laws.rs"]
mod laws;
