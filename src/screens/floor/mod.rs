//! Floor: figures that can be read from three metres, for the person at the rotary.

mod digits;
mod state;
mod update;
mod view;

pub use state::{count, start};
pub use update::{copied, open, step};
pub use view::draw;
