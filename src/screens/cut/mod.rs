//! Cut: the sheet by which the cutter works. Whether it is cut already is said first.

mod sheet;
mod state;
mod update;
mod view;

pub use state::LineId;
pub use update::{copied, line, move_to, open, step};
pub use view::draw;
