//! Record: every entry of the journal, and what struck it.

mod state;
mod update;
mod view;

pub use state::RecordCursor;
pub use update::{copied, move_to, step, strike};
pub use view::draw;
