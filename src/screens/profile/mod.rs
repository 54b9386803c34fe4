//! Profile: all conductors side by side to scale, against the sea, the seabed, the deck and the
//! rotary table at each hull position.

mod labels;
mod lane;
mod picture;
mod scale;
mod state;
mod stops;
mod update;
mod view;

pub use state::View;
pub use update::{copied, jump, open, step, zoom};
pub use view::{draw, small};
