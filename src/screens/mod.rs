//! The terminal: a state, pure changes of it, and drawings of it. Nothing is computed here that
//! [`crate::figures`] could compute.
//!
//! - [`State`] is what is shown and where the person is; [`update`] changes it and says what the
//!   driver must do; [`draw`] shows it. None of them knows a terminal, a disk or a clock.
//! - [`commands`] is the one table of keys that the keyboard, the bottom line and the help read.
//! - [`Theme`] gives roles their look.
//! - [`run`] is the driver: terminal, events, files, signals.

mod action;
mod available;
mod commands;
mod copying;
mod cursor;
mod cut;
mod deck;
mod driver;
mod entry;
mod floor;
mod holds;
mod identity;
mod levels;
mod loaded;
mod movement;
mod overlay;
mod overview;
mod palette;
mod parts;
mod profile;
mod reconcile;
mod record;
mod reload;
mod screen;
mod signing;
mod state;
mod tally;
mod targets;
mod theme;
mod update;

use ratatui::Frame;

pub use action::{Action, Effect};
pub use commands::{KeyCommand, action, commands};
pub use cursor::SlotCursor;
pub use deck::DeckCursor;
pub use driver::{Asked, Ended, run, run_with};
pub use entry::{Field, Form, Stage};
pub use floor::ByHand;
pub use identity::{FigureKey, FlagId, JointId, PlaceId};
pub use levels::{LevelsCursor, LevelsPage, OpenedLevel};
pub use loaded::Loaded;
pub use overlay::{HoldLine, Leads, Overlay, Palette};
pub use profile::View;
pub use record::RecordCursor;
pub use screen::Screen;
pub use signing::{Secret, SignStage, Signing, ToSign};
pub use state::{LEAST, State};
pub use targets::Targets;
pub use theme::{Glyphs, Role, Theme};
pub use update::update;
pub use {
    cut::LineId,
    overview::OverviewCursor,
    reconcile::{Deciding, ListCursor, ThingId, ThingKey},
    tally::{FilledColumns, JointNames, TallyOrder, TallyRow},
};

/// Draws the state.
pub fn draw(state: &State, theme: &Theme, frame: &mut Frame<'_>) {
    show(state, theme, frame);
}

/// Draws the state, and gives the places that can be clicked.
pub fn show(state: &State, theme: &Theme, frame: &mut Frame<'_>) -> Targets {
    let area = frame.area();
    let mut targets = Targets::default();
    let mut pen = parts::pen::Pen::new(frame.buffer_mut(), area, theme, &mut targets);
    pen.clear();
    parts::chrome::draw(state, &mut pen);
    pen.calm_blanks();
    targets
}
