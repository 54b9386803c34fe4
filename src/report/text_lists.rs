//! The lists of a string as plain lines: what does not agree, and how much does.

use std::fmt::Write as _;

use super::words;
use crate::figures::SlotLists;
use crate::measure::LengthFormat;
use crate::reconcile::many::{ListRow, State};

/// Every list with its total, then every joint on which they do not all agree.
pub fn lists(slot: &str, all: &SlotLists, show: LengthFormat) -> String {
    let mut text = String::new();
    let _ = writeln!(text, "slot: {slot}");
    let totals = all.lists.joints.iter().zip(&all.lists.lengths);
    for ((name, file), (joints, length)) in all.names.iter().zip(&all.files).zip(totals) {
        let length = show.text(*length);
        let _ = writeln!(text, "list: {name}: {file}, {joints} joints, {length}");
    }
    let agrees = |row: &&ListRow| {
        let states = row.states();
        states.iter().all(|(_, state)| *state == State::Agreed) && row.other_names().count() == 0
    };
    let (same, other): (Vec<&ListRow>, Vec<&ListRow>) = all.lists.rows.iter().partition(agrees);
    let _ = writeln!(text, "{}", words::rows_agree(same.len(), other.len()));
    for row in other {
        let _ = writeln!(text);
        for line in words::list_row(all, row, show) {
            let _ = writeln!(text, "{line}");
        }
    }
    let _ = writeln!(text, "\nundecided: {}", all.lists.open);
    text
}
