//! What is fixed before the job: datums, hull positions, pipe, slots, deck, tolerances.
//!
//! [`parse`] turns the text of a `job.toml` into a [`Job`] in which every reference leads somewhere
//! and every quantity has its unit, or into all its problems at once, each with its place.

mod bounds;
mod correction;
mod list_error;
mod list_names;
mod model;
mod paths;
mod people;
mod places;
mod problem;
mod quantity;
mod read;
mod schema;
mod section;
mod slot_set;
mod walk;

pub use correction::{CorrectedReadings, Correction, CorrectionTerm};
pub use list_error::{DecisionsUnreadable, TornLine};
pub use list_names::{AS_RUN, MEASURED, OPEN, RECORD};
pub use model::{
    Accessory, Agree, AirGap, Allowance, Bench, CutSpec, Deck, DeckDepth, Elevations, Frame, Hull,
    Job, Joining, KeepOut, ListSource, Pipe, Plan, Site, Slot, Uncertainty, Window,
};
pub use paths::{name_of, path_of};
pub use people::{Hold, People, Person, Role};
pub use problem::{Bound, JobProblem, What};
pub use read::parse;
pub use schema::{KeyRow, schema};
pub use slot_set::SlotSet;

#[cfg(test)]
mod tests;
