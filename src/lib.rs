//! Conductor tallies, elevations and cut sheets for a small platform's conductors.
//!
//! The modules in the order in which the job flows. Each knows only those before it, and no two files
//! need each other; `tests/whole/architecture` checks both.
//!
//! - [`measure`]: exact lengths, elevations and depths, and how they are written and read.
//! - [`finding`]: what the program has to say about a figure or an input, as data.
//! - [`tally`]: joints in running order, the string that they make, and the reader of tally files.
//! - [`reconcile`]: two tallies of one string aligned and bridged, and what would explain a misclosure.
//! - [`job`]: what is fixed before the job.
//! - [`levels`]: readings of height differences as a network, and the elevations that agree best with all of them.
//! - [`deck`]: how a rigid deck seats on tops.
//! - [`journal`]: what was entered on the rig, and [`journal::Inputs`]: all that figures are derived from.
//! - [`figures`]: every figure that follows, computed once: the chain of elevations, cuts, verdicts, flags.
//! - [`signing`]: hold points, statements, and whether what was signed still holds.
//! - [`folder`]: the job's folder on disk: the only module that reads or writes files.
//! - [`report`]: figures as JSON for scripts and as text for people; every sentence is written here.
//! - [`screens`]: the terminal.
//! - [`cli`]: the command line.
//!
//! One flow: files, checked values, figures, outputs. If an output needs a sum, the sum belongs in
//! [`figures`].

pub mod measure;

pub mod finding;

pub mod tally;

pub mod reconcile;

pub mod job;

pub mod levels;

pub mod deck;

pub mod journal;

pub mod figures;

pub mod signing;

pub mod folder;

pub mod report;

pub mod screens;

pub mod cli;

#[cfg(test)]
#[path = "../tests/common/laws.rs"]
mod laws;
