//! Levels: every reading of heights with what the others say of it, the points, and how they hang together.

mod opened;
mod rows;
mod state;
mod update;
mod view;
mod wires;

pub use opened::lines;
pub use state::{LevelsCursor, LevelsPage, OpenedLevel};
pub use update::{copied, entered, move_to, open, sideways, step};
pub use view::draw;
