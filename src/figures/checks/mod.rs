//! The flags that figures raise: of one slot, of the lists of its string, and of the job as a whole.

mod job;
mod lists;
mod slot;

pub(super) use job::job;
pub(super) use lists::lists;
pub(super) use slot::{Checked, slot};
