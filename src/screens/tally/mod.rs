//! Tally: one string joint by joint, with what lies in each row, and what the reader skipped.

mod drawing;
mod names;
mod state;
mod update;
mod view;

pub use names::JointNames;
pub use state::{FilledColumns, TallyOrder, TallyRow};
pub use update::{copied, find, move_to, open, row, step, turn};
pub use view::draw;
