//! Cut: the sheet by which the cutter works. Whether it is cut already is said first.

mod as_cut;
mod layout;
mod marks;
mod rest;
mod sheet;
mod sketch;
mod state;
mod update;
mod view;
mod writer;

pub use state::LineId;
pub use update::{copied, line, move_to, open, step};
pub use view::draw;
