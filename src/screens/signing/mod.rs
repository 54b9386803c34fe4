//! Signing a hold point: the statement first, page by page, then the key, or on paper.

mod state;
mod update;
mod view;

pub use state::{Secret, SignStage, Signing, ToSign};
pub use update::{accept, answered, back, on_paper, open, refresh, sign, step, typed_mut};
pub use view::draw;
