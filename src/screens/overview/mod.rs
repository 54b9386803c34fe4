//! Overview: a row a slot, and below it the flags, the worst first, each leading to its place.

mod flags;
mod pane;
mod state;
mod update;
mod view;

pub use flags::{flag_of, row};
pub use state::OverviewCursor;
pub use update::{copied, move_to, open, step, turn_column};
pub use view::draw;
