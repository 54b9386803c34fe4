//! Reconcile: all lists of a string side by side, and what is decided where they do not agree.

mod deciding;
mod details;
mod lookup;
mod plan;
mod state;
mod table;
mod thing;
mod update;
mod view;

pub use deciding::{answered, confirm, count, measured, refresh};
pub use details::{draw_deciding, full};
pub use lookup::{all, find, list_at, locate, position};
pub use plan::Deciding;
pub use state::ListCursor;
pub use thing::{ThingId, ThingKey};
pub use update::{
    act, copied, filter, lead_to, move_to, move_to_list, open, sideways, step, written,
};
pub use view::draw;
