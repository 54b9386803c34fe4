//! Tally: one string joint by joint, with what lies in each row, and what the reader skipped.

mod state;
mod update;
mod view;

pub use state::TallyRow;
pub use update::{copied, find, move_to, open, row, step};
pub use view::draw;
