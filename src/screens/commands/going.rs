//! Commands that go to the screens.

use crossterm::event::KeyCode::Char;

use super::command::KeyCommand;
use crate::screens::action::Action;
use crate::screens::available::not_typing;
use crate::screens::screen::Screen;

/// These commands, in the order of the screens.
pub(super) static GOING: &[KeyCommand] = &[
    KeyCommand {
        id: "go-to-overview",
        keys: &[Char('1')],
        hint: "1",
        short: "",
        help: "Overview: a row a slot, and what is flagged",
        available: not_typing,
        action: |_| Some(Action::Go(Screen::Overview)),
    },
    KeyCommand {
        id: "go-to-tally",
        keys: &[Char('2')],
        hint: "2",
        short: "",
        help: "Tally: the joints of the string in front",
        available: not_typing,
        action: |_| Some(Action::Go(Screen::Tally)),
    },
    KeyCommand {
        id: "go-to-reconcile",
        keys: &[Char('3')],
        hint: "3",
        short: "",
        help: "Reconcile: all lists of the string side by side",
        available: not_typing,
        action: |_| Some(Action::Go(Screen::Reconcile)),
    },
    KeyCommand {
        id: "go-to-profile",
        keys: &[Char('4')],
        hint: "4",
        short: "",
        help: "Profile: all conductors to scale",
        available: not_typing,
        action: |_| Some(Action::Go(Screen::Profile)),
    },
    KeyCommand {
        id: "go-to-cut",
        keys: &[Char('5')],
        hint: "5",
        short: "",
        help: "Cut: the sheet by which the conductor is cut",
        available: not_typing,
        action: |_| Some(Action::Go(Screen::Cut)),
    },
    KeyCommand {
        id: "go-to-floor",
        keys: &[Char('6')],
        hint: "6",
        short: "",
        help: "Floor: large figures for the rotary",
        available: not_typing,
        action: |_| Some(Action::Go(Screen::Floor)),
    },
    KeyCommand {
        id: "go-to-levels",
        keys: &[Char('7')],
        hint: "7",
        short: "",
        help: "Levels: every reading of heights",
        available: not_typing,
        action: |_| Some(Action::Go(Screen::Levels)),
    },
    KeyCommand {
        id: "go-to-deck",
        keys: &[Char('8')],
        hint: "8",
        short: "",
        help: "Deck: how the deck sits on its tops",
        available: not_typing,
        action: |_| Some(Action::Go(Screen::Deck)),
    },
    KeyCommand {
        id: "go-to-record",
        keys: &[Char('9')],
        hint: "9",
        short: "",
        help: "Record: every entry of the journal",
        available: not_typing,
        action: |_| Some(Action::Go(Screen::Record)),
    },
];
