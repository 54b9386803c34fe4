//! Floor: figures that can be read from three metres, for the person at the rotary.

mod coming;
mod count;
mod large;
mod said;
mod state;
mod update;
mod view;

pub use count::ask_again;
pub use state::ByHand;
pub use update::{copied, open, step};
pub use view::draw;
