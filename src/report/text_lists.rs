//! The lists of a string as plain lines: what does not agree, how much does, and what each choice would move.

use std::fmt::Write as _;

use super::words;
use crate::figures::{SlotLists, Trial};
use crate::job::Job;
use crate::measure::LengthFormat;
use crate::reconcile::Topic;
use crate::reconcile::many::{ListRow, State};

/// Every choice is tried on the whole string. Beyond so many joints so tried, what choices move is left to be looked
/// at one by one.
const MOST_TRIED: usize = 2_000_000;

/// Every list with its total, then every joint on which they do not all agree.
pub fn lists(
    slot: &str,
    all: &SlotLists,
    trial: Option<&Trial<'_>>,
    (job, show): (&Job, LengthFormat),
) -> String {
    let mut text = String::new();
    let _ = writeln!(text, "slot: {slot}");
    let totals = all.lists.joints.iter().zip(&all.lists.lengths);
    for ((name, file), (joints, length)) in all.names.iter().zip(&all.files).zip(totals) {
        let length = show.text(*length);
        let _ = writeln!(text, "list: {name}: {file}, {joints} joints, {length}");
    }
    for (name, file, reason) in &all.unreadable {
        let _ = writeln!(text, "list: {}", words::list_not_read(name, file, reason));
    }
    if all.names.len() < 2 {
        let _ = writeln!(text, "note: {}", words::ONE_LIST);
    }
    for (name, _) in all
        .names
        .iter()
        .zip(&all.lists.numbers_apart)
        .filter(|it| *it.1)
    {
        let _ = writeln!(text, "note: {}", words::numbers_apart(name));
    }
    for (name, is_apart) in all.names.iter().zip(&all.lists.serials_apart) {
        if *is_apart {
            let _ = writeln!(text, "note: {}", words::serials_apart(name));
        }
    }
    let rounded = all.lists.rounded().len();
    if rounded > 0 {
        let _ = writeln!(text, "note: {}", words::rounded(rounded));
    }
    let agrees = |row: &ListRow| Topic::ALL.iter().all(|of| row.state(*of) == State::Agreed);
    let rows = all.lists.rows.iter().enumerate();
    let (same, other): (Vec<_>, Vec<_>) = rows.partition(|(_, row)| agrees(row));
    let _ = writeln!(text, "{}", words::rows_agree(same.len(), other.len()));
    let joints: usize = all.lists.joints.iter().sum();
    let trial = trial.filter(|_| joints * other.len() <= MOST_TRIED);
    if let Some(trial) = trial.filter(|_| !other.is_empty()) {
        let moved = words::effects(&trial.if_adopted(), job, show);
        let _ = writeln!(text, "by what stands: {moved}");
    }
    for (at, row) in other {
        let _ = writeln!(text);
        for line in words::list_row(all, row, show) {
            let _ = writeln!(text, "{line}");
        }
        let things = Topic::ALL
            .iter()
            .filter(|of| row.state(**of) != State::Agreed);
        let choices = trial.into_iter().flat_map(|trial| {
            let things = things.clone();
            things.flat_map(move |of| {
                let lines = words::choices(all, trial, (at, *of), (job, show));
                lines.into_iter().map(move |line| (*of, line))
            })
        });
        for (of, line) in choices {
            let _ = writeln!(text, "  {} {line}", of.name());
        }
    }
    let _ = writeln!(text, "\nundecided: {}", all.lists.open);
    text
}
