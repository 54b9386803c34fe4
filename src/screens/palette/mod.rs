//! The palette: every command that works here, by its name, typed in part.

mod named;
mod update;
mod view;

pub use update::{count, open, run};
pub use view::draw;
