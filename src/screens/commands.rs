//! The one table of commands, which the keys, the bottom line and the help all read.

use crossterm::event::{KeyCode, KeyEvent, KeyModifiers};

use super::action::Action;
use super::available::{
    can_enter, can_go_back, can_move_hull, can_open, counts_by_hand, covered, has_changes,
    has_difference, has_lists, has_slots, has_sought, in_form, in_menu, no_overlay, not_typing,
    on_floor, on_profile, on_record, typing,
};
use super::reconcile::in_front;
use super::screen::Screen;
use super::state::State;
use crate::reconcile::Stands;

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
    /// When it works.
    pub available: fn(&State) -> bool,
    /// What happens; nothing where what it acts on is not in front.
    pub action: fn(&State) -> Option<Action>,
}

use KeyCode::{
    BackTab, Backspace, Char, Down, End, Enter, Esc, Home, Left, PageDown, PageUp, Right, Tab, Up,
};

/// Every command, in the order in which the bottom line and the help list them.
pub static COMMANDS: &[KeyCommand] = &[
    KeyCommand {
        id: "joint-in",
        keys: &[Char('+'), Char('=')],
        hint: "+",
        short: "add joint",
        help: "add a joint to those that are run",
        available: counts_by_hand,
        action: |_| Some(Action::JointIn),
    },
    KeyCommand {
        id: "joint-out",
        keys: &[Char('-')],
        hint: "-",
        short: "remove joint",
        help: "remove a joint from those that are run",
        available: counts_by_hand,
        action: |_| Some(Action::JointOut),
    },
    KeyCommand {
        id: "run-joint",
        keys: &[Char('a')],
        hint: "a",
        short: "run joint",
        help: "enter the next joint as it is run, or another that is chosen",
        available: on_floor,
        action: |_| Some(Action::Enter("joint-run")),
    },
    KeyCommand {
        id: "stick-up",
        keys: &[Char('s')],
        hint: "s",
        short: "stick-up",
        help: "enter a stick-up, with the state of the string",
        available: on_floor,
        action: |_| Some(Action::Enter("stick-up")),
    },
    KeyCommand {
        id: "hull-moving",
        keys: &[Char('H')],
        hint: "H",
        short: "hull moves",
        help: "enter that the hull begins to move: marks from RT are void until its position is entered",
        available: can_move_hull,
        action: |_| Some(Action::Enter("hull-moving")),
    },
    KeyCommand {
        id: "strike",
        keys: &[Char('x')],
        hint: "x",
        short: "strike",
        help: "strike the entry under the cursor, with a reason; it stays in the record",
        available: on_record,
        action: |_| Some(Action::Strike),
    },
    KeyCommand {
        id: "filter",
        keys: &[Char('f')],
        hint: "f",
        short: "filter",
        help: "entries of all slots, or of this slot and the job",
        available: on_record,
        action: |_| Some(Action::Filter),
    },
    KeyCommand {
        id: "enter",
        keys: &[Char('e')],
        hint: "e",
        short: "enter",
        help: "enter an event: choose one, fill in its form",
        available: can_enter,
        action: |_| Some(Action::Menu),
    },
    KeyCommand {
        id: "hold-point",
        keys: &[Char('p')],
        hint: "p",
        short: "hold point",
        help: "what the next hold point of this slot lacks, and where that is entered",
        available: no_overlay,
        action: |_| Some(Action::Holds),
    },
    KeyCommand {
        id: "person",
        keys: &[Char('i')],
        hint: "i",
        short: "",
        help: "the next person is the one who enters (initials of [people])",
        available: no_overlay,
        action: |_| Some(Action::NextPerson),
    },
    KeyCommand {
        id: "field-before",
        keys: &[Up, BackTab],
        hint: "Up",
        short: "",
        help: "the field before",
        available: in_form,
        action: |_| Some(Action::Up),
    },
    KeyCommand {
        id: "field-after",
        keys: &[Down, Tab],
        hint: "Down",
        short: "field",
        help: "the next field",
        available: in_form,
        action: |_| Some(Action::Down),
    },
    KeyCommand {
        id: "choice-before",
        keys: &[Left],
        hint: "Left",
        short: "",
        help: "the choice before",
        available: in_form,
        action: |_| Some(Action::Left),
    },
    KeyCommand {
        id: "choice-after",
        keys: &[Right],
        hint: "Right",
        short: "choose",
        help: "the next choice",
        available: in_form,
        action: |_| Some(Action::Right),
    },
    KeyCommand {
        id: "choose-event",
        keys: &[Enter],
        hint: "Enter",
        short: "choose",
        help: "go where the line leads: a form, or a screen",
        available: in_menu,
        action: |_| Some(Action::Open),
    },
    KeyCommand {
        id: "zoom-in",
        keys: &[Char('+'), Char('=')],
        hint: "+",
        short: "zoom in",
        help: "zoom in on the cursor",
        available: on_profile,
        action: |_| Some(Action::ZoomIn),
    },
    KeyCommand {
        id: "zoom-out",
        keys: &[Char('-')],
        hint: "-",
        short: "zoom out",
        help: "zoom out",
        available: on_profile,
        action: |_| Some(Action::ZoomOut),
    },
    KeyCommand {
        id: "fit",
        keys: &[Char('0')],
        hint: "0",
        short: "fit",
        help: "fit all conductors into sight",
        available: on_profile,
        action: |_| Some(Action::Fit),
    },
    KeyCommand {
        id: "a-stands",
        keys: &[Char('a')],
        hint: "a",
        short: "keep A",
        help: "A, the tally of record, applies to this difference",
        available: has_difference,
        action: |state| decide(state, Stands::A),
    },
    KeyCommand {
        id: "b-stands",
        keys: &[Char('b')],
        hint: "b",
        short: "take B",
        help: "B, the other list, applies to this difference",
        available: has_difference,
        action: |state| decide(state, Stands::B),
    },
    KeyCommand {
        id: "measured",
        keys: &[Char('e')],
        hint: "e",
        short: "measured",
        help: "enter a value that was measured again, with a note",
        available: has_difference,
        action: |state| Some(Action::Measure(Box::new(in_front(state)?))),
    },
    KeyCommand {
        id: "write",
        keys: &[Char('w')],
        hint: "w",
        short: "write",
        help: "write the tally of record to a new file",
        available: has_difference,
        action: |_| Some(Action::WriteRecord),
    },
    KeyCommand {
        id: "next-list",
        keys: &[Char('o')],
        hint: "o",
        short: "list",
        help: "the next list of this string",
        available: has_lists,
        action: |_| Some(Action::NextList),
    },
    KeyCommand {
        id: "open",
        keys: &[Enter],
        hint: "Enter",
        short: "open",
        help: "open: go where it leads, or see how a figure came about",
        available: can_open,
        action: |_| Some(Action::Open),
    },
    KeyCommand {
        id: "accept",
        keys: &[Enter],
        hint: "Enter",
        short: "accept",
        help: "take what is typed",
        available: typing,
        action: |_| Some(Action::Open),
    },
    KeyCommand {
        id: "erase",
        keys: &[Backspace],
        hint: "Backspace",
        short: "erase",
        help: "erase a letter",
        available: typing,
        action: |_| Some(Action::Erase),
    },
    KeyCommand {
        id: "close",
        keys: &[Esc, Char('q'), Backspace],
        hint: "Esc, q",
        short: "close",
        help: "close what lies over the screen",
        available: covered,
        action: |_| Some(Action::Back),
    },
    KeyCommand {
        id: "cancel",
        keys: &[Esc],
        hint: "Esc",
        short: "cancel",
        help: "cancel what is typed",
        available: typing,
        action: |_| Some(Action::Back),
    },
    KeyCommand {
        id: "back",
        keys: &[Esc, Backspace],
        hint: "Esc",
        short: "back",
        help: "back to the overview",
        available: can_go_back,
        action: |_| Some(Action::Back),
    },
    KeyCommand {
        id: "up",
        keys: &[Up, Char('k')],
        hint: "Up",
        short: "",
        help: "up (floor: remove joint)",
        available: not_typing,
        action: |_| Some(Action::Up),
    },
    KeyCommand {
        id: "down",
        keys: &[Down, Char('j')],
        hint: "Down",
        short: "",
        help: "down (floor: add joint)",
        available: not_typing,
        action: |_| Some(Action::Down),
    },
    KeyCommand {
        id: "left",
        keys: &[Left, Char('h')],
        hint: "Left",
        short: "",
        help: "left; on other screens than the overview, the slot before",
        available: not_typing,
        action: |_| Some(Action::Left),
    },
    KeyCommand {
        id: "right",
        keys: &[Right, Char('l')],
        hint: "Right",
        short: "",
        help: "right; on other screens than the overview, the next slot",
        available: not_typing,
        action: |_| Some(Action::Right),
    },
    KeyCommand {
        id: "page-up",
        keys: &[PageUp],
        hint: "PgUp",
        short: "",
        help: "a page up",
        available: not_typing,
        action: |_| Some(Action::PageUp),
    },
    KeyCommand {
        id: "page-down",
        keys: &[PageDown],
        hint: "PgDn",
        short: "",
        help: "a page down",
        available: not_typing,
        action: |_| Some(Action::PageDown),
    },
    KeyCommand {
        id: "home",
        keys: &[Home, Char('g')],
        hint: "Home",
        short: "",
        help: "to the first",
        available: not_typing,
        action: |_| Some(Action::Home),
    },
    KeyCommand {
        id: "end",
        keys: &[End, Char('G')],
        hint: "End",
        short: "",
        help: "to the last",
        available: not_typing,
        action: |_| Some(Action::End),
    },
    KeyCommand {
        id: "next-slot",
        keys: &[Tab, Char(']')],
        hint: "Tab",
        short: "slot",
        help: "the next slot",
        available: has_slots,
        action: |_| Some(Action::NextSlot),
    },
    KeyCommand {
        id: "previous-slot",
        keys: &[BackTab, Char('[')],
        hint: "Shift-Tab",
        short: "",
        help: "the slot before",
        available: has_slots,
        action: |_| Some(Action::PreviousSlot),
    },
    KeyCommand {
        id: "find",
        keys: &[Char('/')],
        hint: "/",
        short: "find",
        help: "find a joint by its number or serial",
        available: not_typing,
        action: |_| Some(Action::Find),
    },
    KeyCommand {
        id: "units",
        keys: &[Char('u')],
        hint: "u",
        short: "units",
        help: "switch units everywhere: m, ft, ft-in",
        available: not_typing,
        action: |_| Some(Action::Units),
    },
    KeyCommand {
        id: "find-next",
        keys: &[Char('n')],
        hint: "n",
        short: "next found",
        help: "find the next one",
        available: has_sought,
        action: |_| Some(Action::FindNext),
    },
    KeyCommand {
        id: "changes",
        keys: &[Char('m')],
        hint: "m",
        short: "changes",
        help: "what changed in the files since you last looked, and why figures are old",
        available: has_changes,
        action: |_| Some(Action::Changes),
    },
    KeyCommand {
        id: "reload",
        keys: &[Char('r')],
        hint: "r",
        short: "",
        help: "read the files again now",
        available: not_typing,
        action: |_| Some(Action::Reload),
    },
    KeyCommand {
        id: "help",
        keys: &[Char('?')],
        hint: "?",
        short: "help",
        help: "this screen explained, its terms and its keys",
        available: not_typing,
        action: |_| Some(Action::Help),
    },
    KeyCommand {
        id: "quit",
        keys: &[Char('q')],
        hint: "q",
        short: "quit",
        help: "quit",
        available: no_overlay,
        action: |_| Some(Action::Quit),
    },
    KeyCommand {
        id: "overview",
        keys: &[Char('1')],
        hint: "1",
        short: "",
        help: "Overview",
        available: not_typing,
        action: |_| Some(Action::Go(Screen::Overview)),
    },
    KeyCommand {
        id: "tally",
        keys: &[Char('2')],
        hint: "2",
        short: "",
        help: "Tally",
        available: not_typing,
        action: |_| Some(Action::Go(Screen::Tally)),
    },
    KeyCommand {
        id: "reconcile",
        keys: &[Char('3')],
        hint: "3",
        short: "",
        help: "Reconcile",
        available: not_typing,
        action: |_| Some(Action::Go(Screen::Reconcile)),
    },
    KeyCommand {
        id: "profile",
        keys: &[Char('4')],
        hint: "4",
        short: "",
        help: "Profile",
        available: not_typing,
        action: |_| Some(Action::Go(Screen::Profile)),
    },
    KeyCommand {
        id: "cut",
        keys: &[Char('5')],
        hint: "5",
        short: "",
        help: "Cut",
        available: not_typing,
        action: |_| Some(Action::Go(Screen::Cut)),
    },
    KeyCommand {
        id: "floor",
        keys: &[Char('6')],
        hint: "6",
        short: "",
        help: "Floor",
        available: not_typing,
        action: |_| Some(Action::Go(Screen::Floor)),
    },
    KeyCommand {
        id: "record",
        keys: &[Char('7')],
        hint: "7",
        short: "",
        help: "Record",
        available: not_typing,
        action: |_| Some(Action::Go(Screen::Record)),
    },
];

fn decide(state: &State, stands: Stands) -> Option<Action> {
    Some(Action::Decide(Box::new(in_front(state)?), stands))
}

/// What a key does here; `None` where it does nothing. Key presses alone should come here.
pub fn action(state: &State, key: KeyEvent) -> Option<Action> {
    let control = key.modifiers.contains(KeyModifiers::CONTROL);
    // The terminal in raw mode hands over what elsewhere ends a program.
    if control {
        return (key.code == Char('c')).then_some(Action::Quit);
    }
    if key.modifiers.contains(KeyModifiers::ALT) {
        return None;
    }
    if typing(state)
        && let Char(letter) = key.code
    {
        return Some(Action::Type(letter));
    }
    COMMANDS
        .iter()
        .find(|command| command.keys.contains(&key.code) && (command.available)(state))
        .and_then(|command| (command.action)(state))
}
