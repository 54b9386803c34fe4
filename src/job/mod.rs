//! What is fixed before the job: datums, hull positions, pipe, slots, deck, tolerances.
//!
//! [`parse`] turns the text of a `job.toml` into a [`Job`] in which every reference leads somewhere
//! and every quantity has its unit, or into all its problems at once, each with its place.
//! [`Folder::open`] is the door to the disk: the job file and the tallies it names.

mod folder;
mod model;
mod problem;
mod read;
pub mod store;
mod template;
mod walk;

pub use folder::{Folder, OpenError, OtherList, Source, sha256};
pub use model::{
    Accessory, Allowance, Basis, Bench, Cut, Deck, Frame, Hull, Job, KeepOut, Pipe, Site, Slot,
    SlotSet, Uncertainty, Window,
};
pub use problem::{JobProblem, What};
pub use read::parse;
pub use template::{CreateError, create};

#[cfg(test)]
mod tests;
