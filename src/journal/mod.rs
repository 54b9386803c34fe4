//! The journal: what was entered, decided and signed on the rig, one entry a line, appended and never
//! changed.
//!
//! [`EVENTS`] is the table of events and their keys. [`Draft`] reads one, [`Journal`] the whole file, whose
//! lines name each other by their hashes. [`Record`] is what the entries come to, [`in_force`] puts it in
//! the place of what the job file states, and [`check`] says whether another event can be. No files here:
//! `folder` reads and appends.

mod chain;
mod check;
mod digest;
mod entry;
mod error;
mod event;
mod in_force;
mod inputs;
mod joints;
mod kept;
mod lists;
mod object;
mod record;
mod run;
mod schema;
mod time;
mod values;

pub use chain::{Journal, NO_HASH};
pub use check::check;
pub use digest::{DigestWriter, sha256};
pub use entry::{Draft, Entry, MAX_LINE};
pub use error::{Break, BrokenBy, EventProblem, Wrong};
pub use event::{
    AsCutReadings, AtRim, Event, HoldSigned, JointRun, MadeOf, Scribe, ScribeMark, StickUp,
    StringState,
};
pub use in_force::{InForce, in_force};
pub use inputs::{Inputs, Parts, SignedFile, SourceFile, adopted};
pub use joints::Source;
pub use kept::{Crop, Decided, Hanging, Instrument, Placed, Said, SlotRecord, Thing, Waiver};
pub use lists::{OtherList, made_of, taken_over};
pub use record::{Known, MARKS, Record, struck};
pub use schema::{EVENTS, EventSpec, KeySpec, Kind, event_named};
pub use time::{Day, Moment};

#[cfg(test)]
mod tests;
