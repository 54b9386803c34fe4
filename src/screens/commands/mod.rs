//! The one table of commands, which the keys, the bottom line and the help all read.

mod command;
mod entering;
mod general;
mod going;
mod moving;
mod reconciling;

use crossterm::event::{KeyCode, KeyEvent, KeyModifiers};

use super::action::Action;
use super::available::typing;
use super::state::State;
pub use command::KeyCommand;

/// Every command, in the order in which the bottom line and the help list them.
pub fn commands() -> impl Iterator<Item = &'static KeyCommand> {
    let lists = reconciling::RECONCILING.iter();
    let entering = entering::ENTERING.iter();
    let general = general::GENERAL.iter().chain(moving::MOVING);
    lists.chain(entering).chain(general).chain(going::GOING)
}

/// What a key does here; `None` where it does nothing. Key presses alone should come here.
pub fn action(state: &State, key: KeyEvent) -> Option<Action> {
    let control = key.modifiers.contains(KeyModifiers::CONTROL);
    // The terminal in raw mode hands over what elsewhere ends a program.
    if control {
        return (key.code == KeyCode::Char('c')).then_some(Action::Quit);
    }
    if key.modifiers.contains(KeyModifiers::ALT) {
        return None;
    }
    if typing(state, &state.overlay)
        && let KeyCode::Char(letter) = key.code
    {
        return Some(Action::Type(letter));
    }
    commands()
        .find(|command| command.keys.contains(&key.code) && command.is_available(state))
        .and_then(|command| (command.action)(state))
}
