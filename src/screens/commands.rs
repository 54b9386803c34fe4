//! The one table of commands, which the keys, the bottom line and the help all read.

use crossterm::event::{KeyCode, KeyEvent, KeyModifiers};

use super::state::{Overlay, Screen, State};
use super::update::Action;
use crate::reconcile::Stands;

/// One command.
#[derive(Debug)]
pub struct Command {
    /// Its name, for tests and the manual.
    pub id: &'static str,
    /// The keys that give it.
    pub keys: &'static [KeyCode],
    /// How those keys are written.
    pub hint: &'static str,
    /// One or two words for the bottom line; empty where it is not listed there.
    pub short: &'static str,
    /// What it does, in one line.
    pub help: &'static str,
    /// When it works.
    pub available: fn(&State) -> bool,
    /// What it does.
    pub action: Action,
}

use KeyCode::{
    BackTab, Backspace, Char, Down, End, Enter, Esc, Home, Left, PageDown, PageUp, Right, Tab, Up,
};

/// Every command, in the order in which the bottom line and the help list them.
pub static COMMANDS: &[Command] = &[
    command(
        "joint-in",
        &[Char('+'), Char('=')],
        "+",
        "one more in",
        "one more joint in",
        floor,
        Action::JointIn,
    ),
    command(
        "joint-out",
        &[Char('-')],
        "-",
        "one less",
        "one joint less in",
        floor,
        Action::JointOut,
    ),
    command(
        "zoom-in",
        &[Char('+'), Char('=')],
        "+",
        "closer",
        "look closer at the cursor",
        profile,
        Action::ZoomIn,
    ),
    command(
        "zoom-out",
        &[Char('-')],
        "-",
        "wider",
        "see more",
        profile,
        Action::ZoomOut,
    ),
    command(
        "fit",
        &[Char('0')],
        "0",
        "all",
        "see all of it",
        profile,
        Action::Fit,
    ),
    command(
        "a-stands",
        &[Char('a')],
        "a",
        "keep A",
        "A, the tally of record, stands in this difference",
        differs,
        Action::Decide(Stands::A),
    ),
    command(
        "b-stands",
        &[Char('b')],
        "b",
        "take B",
        "B, the other list, stands in this difference",
        differs,
        Action::Decide(Stands::B),
    ),
    command(
        "measured",
        &[Char('e')],
        "e",
        "measured",
        "enter a value that was measured again, with a note",
        differs,
        Action::Measure,
    ),
    command(
        "write",
        &[Char('w')],
        "w",
        "write",
        "write the tally of record to a new file",
        differs,
        Action::WriteRecord,
    ),
    command(
        "next-list",
        &[Char('o')],
        "o",
        "list",
        "the next list of this string",
        several_lists,
        Action::NextList,
    ),
    command(
        "open",
        &[Enter],
        "Enter",
        "open",
        "open: go where it leads, or see how a figure came about",
        opens,
        Action::Open,
    ),
    command(
        "accept",
        &[Enter],
        "Enter",
        "accept",
        "take what is typed",
        typing,
        Action::Open,
    ),
    command(
        "erase",
        &[Backspace],
        "Backspace",
        "erase",
        "erase a letter",
        typing,
        Action::Erase,
    ),
    command(
        "close",
        &[Esc, Char('q'), Backspace],
        "Esc, q",
        "close",
        "close what lies over the screen",
        covered,
        Action::Back,
    ),
    command(
        "cancel",
        &[Esc],
        "Esc",
        "cancel",
        "leave what is typed",
        typing,
        Action::Back,
    ),
    command(
        "back",
        &[Esc, Backspace],
        "Esc",
        "back",
        "back to the overview",
        back,
        Action::Back,
    ),
    command(
        "up",
        &[Up, Char('k')],
        "Up",
        "",
        "up (floor: one joint less in)",
        calm,
        Action::Up,
    ),
    command(
        "down",
        &[Down, Char('j')],
        "Down",
        "",
        "down (floor: one more in)",
        calm,
        Action::Down,
    ),
    command(
        "left",
        &[Left, Char('h')],
        "Left",
        "",
        "left; on other screens than the overview, the slot before",
        calm,
        Action::Left,
    ),
    command(
        "right",
        &[Right, Char('l')],
        "Right",
        "",
        "right; on other screens than the overview, the next slot",
        calm,
        Action::Right,
    ),
    command(
        "page-up",
        &[PageUp],
        "PgUp",
        "",
        "a page up",
        calm,
        Action::PageUp,
    ),
    command(
        "page-down",
        &[PageDown],
        "PgDn",
        "",
        "a page down",
        calm,
        Action::PageDown,
    ),
    command(
        "home",
        &[Home, Char('g')],
        "Home",
        "",
        "to the first",
        calm,
        Action::Home,
    ),
    command(
        "end",
        &[End, Char('G')],
        "End",
        "",
        "to the last",
        calm,
        Action::End,
    ),
    command(
        "next-slot",
        &[Tab, Char(']')],
        "Tab",
        "slot",
        "the next slot",
        several,
        Action::NextSlot,
    ),
    command(
        "previous-slot",
        &[BackTab, Char('[')],
        "Shift-Tab",
        "",
        "the slot before",
        several,
        Action::PreviousSlot,
    ),
    command(
        "find",
        &[Char('/')],
        "/",
        "find",
        "find a joint by its number or serial",
        calm,
        Action::Find,
    ),
    command(
        "units",
        &[Char('u')],
        "u",
        "units",
        "switch units everywhere: m, ft, ft-in",
        calm,
        Action::Units,
    ),
    command(
        "find-next",
        &[Char('n')],
        "n",
        "next found",
        "find the next one",
        sought,
        Action::FindNext,
    ),
    command(
        "moved",
        &[Char('m')],
        "m",
        "changes",
        "what changes of the files moved since you last looked, and why figures are old",
        moved,
        Action::Moved,
    ),
    command(
        "reload",
        &[Char('r')],
        "r",
        "",
        "read the files again now",
        calm,
        Action::Reload,
    ),
    command(
        "help",
        &[Char('?')],
        "?",
        "help",
        "this screen explained, its terms and its keys",
        calm,
        Action::Help,
    ),
    command(
        "quit",
        &[Char('q')],
        "q",
        "quit",
        "quit",
        bare,
        Action::Quit,
    ),
    command(
        "overview",
        &[Char('1')],
        "1",
        "",
        "Overview",
        calm,
        Action::Go(Screen::Overview),
    ),
    command(
        "tally",
        &[Char('2')],
        "2",
        "",
        "Tally",
        calm,
        Action::Go(Screen::Tally),
    ),
    command(
        "reconcile",
        &[Char('3')],
        "3",
        "",
        "Reconcile",
        calm,
        Action::Go(Screen::Reconcile),
    ),
    command(
        "profile",
        &[Char('4')],
        "4",
        "",
        "Profile",
        calm,
        Action::Go(Screen::Profile),
    ),
    command(
        "cut",
        &[Char('5')],
        "5",
        "",
        "Cut",
        calm,
        Action::Go(Screen::Cut),
    ),
    command(
        "floor",
        &[Char('6')],
        "6",
        "",
        "Floor",
        calm,
        Action::Go(Screen::Floor),
    ),
];

const fn command(
    id: &'static str,
    keys: &'static [KeyCode],
    hint: &'static str,
    short: &'static str,
    help: &'static str,
    available: fn(&State) -> bool,
    action: Action,
) -> Command {
    Command {
        id,
        keys,
        hint,
        short,
        help,
        available,
        action,
    }
}

fn typing(state: &State) -> bool {
    matches!(state.overlay, Overlay::Find(_) | Overlay::Enter { .. })
}

fn calm(state: &State) -> bool {
    !typing(state)
}

fn bare(state: &State) -> bool {
    state.overlay == Overlay::None
}

fn floor(state: &State) -> bool {
    bare(state) && state.screen == Screen::Floor
}

fn profile(state: &State) -> bool {
    bare(state) && state.screen == Screen::Profile
}

fn differs(state: &State) -> bool {
    bare(state) && state.screen == Screen::Reconcile && super::reconcile::count(state) > 0
}

fn several_lists(state: &State) -> bool {
    let lists = state.inputs.lists.get(state.slot).map_or(0, Vec::len);
    bare(state) && state.screen == Screen::Reconcile && lists > 1
}

fn opens(state: &State) -> bool {
    bare(state) && state.screen != Screen::Profile
}

fn back(state: &State) -> bool {
    bare(state) && state.screen != Screen::Overview
}

/// Something lies over the screen, and nothing is typed into it.
fn covered(state: &State) -> bool {
    !bare(state) && !typing(state)
}

fn several(state: &State) -> bool {
    calm(state) && state.figures.slots.len() > 1
}

fn sought(state: &State) -> bool {
    bare(state) && !state.sought.is_empty()
}

fn moved(state: &State) -> bool {
    bare(state) && (!state.moved.is_empty() || state.old.is_some())
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
        .map(|command| command.action.clone())
}
