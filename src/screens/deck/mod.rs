//! Deck: how the rigid deck sits on its tops.

mod plan;
mod state;
mod update;
mod view;

pub use state::DeckCursor;
pub use update::{copied, sideways, step, work};
pub use view::draw;
