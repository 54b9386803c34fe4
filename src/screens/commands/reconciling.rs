//! Commands of Reconcile: what is decided between the lists of a string.

use crossterm::event::KeyCode::Char;

use super::command::KeyCommand;
use crate::report::RecordFile;
use crate::screens::action::{Action, ListAction};
use crate::screens::available::{has_lists, has_thing};

/// These commands, in the order in which the bottom line and the help list them.
pub(super) static RECONCILING: &[KeyCommand] = &[
    KeyCommand {
        id: "take",
        keys: &[Char('t')],
        hint: "t",
        short: "take",
        help: "take what the list under the cursor says; it is shown before it is written",
        available: has_thing,
        action: |_| Some(Action::Lists(ListAction::Take)),
    },
    KeyCommand {
        id: "measured",
        keys: &[Char('e')],
        hint: "e",
        short: "measured",
        help: "enter a length or a loss that was measured again, and say how",
        available: has_thing,
        action: |_| Some(Action::Lists(ListAction::Measure)),
    },
    KeyCommand {
        id: "take-majority",
        keys: &[Char('v')],
        hint: "v",
        short: "majority",
        help: "take what most lists say, wherever nobody has decided",
        available: has_lists,
        action: |_| Some(Action::Lists(ListAction::TakeMajority)),
    },
    KeyCommand {
        id: "keep-rounded",
        keys: &[Char('d')],
        hint: "d",
        short: "rounding",
        help: "keep all within rounding: what the tally of record says stays where lists differ by rounding alone",
        available: has_lists,
        action: |_| Some(Action::Lists(ListAction::KeepRounded)),
    },
    KeyCommand {
        id: "reopen",
        keys: &[Char('o')],
        hint: "o",
        short: "open again",
        help: "set what is decided here open again, for everyone",
        available: has_thing,
        action: |_| Some(Action::Lists(ListAction::Reopen)),
    },
    KeyCommand {
        id: "take-back",
        keys: &[Char('z')],
        hint: "z",
        short: "take back",
        help: "take your last decision on this string back",
        available: has_lists,
        action: |_| Some(Action::Lists(ListAction::TakeBack)),
    },
    KeyCommand {
        id: "all-joints",
        keys: &[Char('f')],
        hint: "f",
        short: "all joints",
        help: "all joints, or those alone on which the lists do not agree",
        available: has_lists,
        action: |_| Some(Action::Filter),
    },
    KeyCommand {
        id: "write",
        keys: &[Char('w')],
        hint: "w",
        short: "write",
        help: "write the tally of record that follows to a new file",
        available: has_lists,
        action: |_| Some(Action::Lists(ListAction::Write(RecordFile::Csv))),
    },
    KeyCommand {
        id: "write-workbook",
        keys: &[Char('W')],
        hint: "W",
        short: "workbook",
        help: "the same as a workbook, with the bridge, all decisions and what each list says",
        available: has_lists,
        action: |_| Some(Action::Lists(ListAction::Write(RecordFile::Workbook))),
    },
    KeyCommand {
        id: "adopt",
        keys: &[Char('T')],
        hint: "T",
        short: "adopt",
        help: "adopt the tally of record that was written; what it moves is shown before it applies",
        available: has_lists,
        action: |_| Some(Action::Lists(ListAction::Adopt)),
    },
];
