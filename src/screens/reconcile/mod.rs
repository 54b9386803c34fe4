//! Reconcile: where another list of the string differs from the tally of record, and what is decided.

mod lookup;
mod state;
mod update;
mod view;

pub use lookup::{count, difference_at, find, in_front, list_at, lists, locate};
pub use state::ListCursor;
pub use update::{
    adopt, decide, entered, measure, move_to, move_to_list, open, step, turn_list, write,
};
pub use view::draw;
