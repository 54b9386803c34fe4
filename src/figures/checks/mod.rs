//! The flags that figures raise: of one slot, of the lists of its string, and of the job as a whole.

mod job;
mod journal;
mod lists;
mod scribe;
mod slot;
mod top;

pub(super) use job::{Together, job};
pub(super) use journal::{of_journal, of_slot};
pub(super) use lists::lists;
pub(super) use slot::{Checked, slot};
