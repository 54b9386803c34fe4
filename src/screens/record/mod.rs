//! Record: every entry of the journal, and what struck it.

mod state;
mod update;
mod view;

pub use state::RecordCursor;
pub use update::{step, strike};
pub use view::draw;
