//! One command of the table.

use crossterm::event::KeyCode;

use crate::screens::action::Action;
use crate::screens::overlay::Overlay;
use crate::screens::state::State;

/// One command.
#[derive(Debug)]
pub struct KeyCommand {
    /// Its name, for tests and the manual.
    pub id: &'static str,
    /// The keys that give it.
    pub keys: &'static [KeyCode],
    /// How those keys are written.
    pub hint: &'static str,
    /// One or two words for the bottom line; empty where it is not listed there.
    pub short: &'static str,
    /// One line of help.
    pub help: &'static str,
    /// When it works: by the state, with this over the screen.
    pub available: fn(&State, &Overlay) -> bool,
    /// What happens; nothing where what it acts on is not in front.
    pub action: fn(&State) -> Option<Action>,
}

impl KeyCommand {
    /// Whether it works here.
    pub fn is_available(&self, state: &State) -> bool {
        (self.available)(state, &state.overlay)
    }

    /// Its name in the palette.
    pub fn name(&self) -> String {
        self.id.replace('-', " ")
    }
}
