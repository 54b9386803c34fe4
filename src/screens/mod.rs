//! The terminal: a state, pure changes of it, and drawings of it. Nothing is computed here that
//! [`crate::figures`] could compute.
//!
//! - [`State`] is what is shown and where the person is; [`update`] changes it and says what the
//!   driver must do; [`draw`] shows it. None of them knows a terminal, a disk or a clock.
//! - [`COMMANDS`] is the one table of keys that the keyboard, the bottom line and the help read.
//! - [`Theme`] gives roles their look.
//! - [`run`] is the thin driver: terminal, events, files; `vigil` ends it where the terminal is gone.

mod changes;
mod chrome;
mod commands;
mod cut;
mod digits;
mod driver;
mod floor;
mod help;
mod how;
mod identity;
mod lane;
mod overview;
mod pen;
mod profile;
mod reconcile;
mod state;
mod table;
mod tally;
mod theme;
mod update;
mod vigil;

use ratatui::Frame;

pub use chrome::LEAST;
pub use commands::{COMMANDS, Command, action};
pub use driver::{Ended, run, run_with};
pub use identity::{DifferenceId, DifferenceKey};
pub use state::{Overlay, Place, Screen, State, View};
pub use theme::{Glyphs, Role, Theme};
pub use update::{Action, Effect, update};

/// Draws the state.
pub fn draw(state: &State, theme: &Theme, frame: &mut Frame<'_>) {
    let area = frame.area();
    let mut pen = pen::Pen::new(frame.buffer_mut(), area, theme);
    chrome::draw(state, &mut pen);
}
