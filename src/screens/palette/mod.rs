//! The palette: every command that works here, by its name, typed in part.

mod state;
mod update;
mod view;

pub use state::Palette;
pub use update::{count, open, run};
pub use view::draw;
