//! Every figure once: what it is, its key in JSON, its value, and what opens how it came about.
//!
//! JSON, the plain text, what a reload changed, and how a figure came about all walk this list, so that
//! none of them can leave a figure out or give it another value. Names and units are put to it where it
//! is shown.

mod entry;
mod job;
mod slot;
mod subject;

pub use entry::{Entry, FigureId, Value};
pub use job::of_job;
pub use slot::of_slot;
pub use subject::{Subject, subjects};
