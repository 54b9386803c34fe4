//! The record, drawn.

use super::update::{entries, place, selected};
use crate::journal::{Entry, Event};
use crate::report::words;
use crate::screens::action::Action;
use crate::screens::parts::pen::{Pen, StyledLine, cells};
use crate::screens::state::State;
use crate::screens::theme::Role;

/// From so many columns on, where what entries say has room beside it, the entry under the cursor stands beside the list.
const TWO_PANES: u16 = 150;
/// Columns before what an entry says.
const BEFORE: usize = 52;
/// Columns of the entry.
const DETAIL: usize = 44;

/// What struck an entry.
fn struck_by(state: &State, seq: u64) -> Option<u64> {
    let mut entries = state.inputs.journal.entries.iter();
    let found = entries
        .find(|entry| matches!(entry.event, Event::Strike { strikes, .. } if strikes == seq))?;
    Some(found.seq)
}

/// Draws the record.
pub fn draw(state: &State, pen: &mut Pen<'_>) {
    let listed = entries(state);
    let width = usize::from(pen.area.width).saturating_sub(2);
    if listed.is_empty() {
        pen.text(1, 0, words::NO_ENTRIES, Role::Title);
        return;
    }
    let which = if state.record.of_slot {
        "this slot and the job"
    } else {
        "all slots"
    };
    let head = StyledLine::of(format!("{} entries, {which}", listed.len()), Role::Title).and(
        format!(
            "  head {}",
            state.inputs.journal.head().get(..12).unwrap_or_default()
        ),
        Role::Label,
    );
    pen.line(1, 0, &head);
    let columns = format!(
        "{:>5}  {:<16} {:<4} {:<6} {:<15} says",
        "entry", "when", "by", "slot", "event"
    );
    pen.text(1, 1, &columns, Role::Label);
    let at = place(state, &listed);
    let is_beside = pen.area.width >= TWO_PANES;
    let room = if is_beside { DETAIL - 4 } else { width };
    let detail: Vec<StyledLine> = selected(state)
        .map(|entry| {
            let lines = detail(state, entry, is_beside).into_iter();
            lines.flat_map(|it| it.wrapped(room, 2)).collect()
        })
        .unwrap_or_default();
    let height = usize::from(pen.area.height);
    // Under the list where it is narrow, right below its last row.
    let under = if is_beside { 0 } else { detail.len().min(5) };
    let rows = height.saturating_sub(3 + under).max(1);
    let first = (at + 1).saturating_sub(rows);
    let list_to = if is_beside {
        pen.area.width - cells(DETAIL)
    } else {
        pen.area.width
    };
    for (row, entry) in listed.iter().enumerate().skip(first).take(rows) {
        let y = cells(row - first + 2);
        let mut part = pen.part(0, y, list_to, 1);
        let wide = usize::from(list_to).saturating_sub(2);
        part.line(1, 0, &line(state, entry, (row == at, wide)));
        if row == at {
            part.select(0, 0, list_to);
        }
        part.target((0, 0, list_to), Action::ToRow(row));
    }
    let below = listed.len().saturating_sub(first + rows);
    if below > 0 {
        let text = words::more_below(below);
        let column = list_to.saturating_sub(cells(text.len() + 1));
        pen.text(column, 0, &text, Role::Label);
    }
    if is_beside {
        let rows = pen.area.height;
        pen.upright(list_to, 0, rows);
        let mut part = pen.part(list_to + 2, 0, cells(DETAIL - 3), rows);
        for (row, line) in (0..).zip(&detail) {
            part.line(0, row, line);
        }
        return;
    }
    let from = (listed.len().min(rows) + 3).min(height.saturating_sub(under));
    for (row, line) in detail.iter().take(5).enumerate() {
        pen.line(1, cells(from + row), line);
    }
}

fn line(state: &State, entry: &Entry, (is_at, wide): (bool, usize)) -> StyledLine {
    let struck = struck_by(state, entry.seq);
    let when = entry.at.to_string();
    let when = when.get(..16).unwrap_or_default().replace('T', " ");
    let slot = entry.event.slot().unwrap_or("-");
    let role = match (is_at, struck) {
        (false, Some(_)) => Role::Label,
        _ => Role::Plain,
    };
    let sign = if struck.is_some() { "x" } else { " " };
    let says = words::shortened(&words::entry(entry), wide.saturating_sub(BEFORE));
    StyledLine::of(
        format!(
            "{:>5}{sign} {when:<16} {:<4} {slot:<6} {:<15} {says}",
            entry.seq, entry.by, entry.name
        ),
        role,
    )
}

/// All of an entry; what it says too, where its row may be cut short.
fn detail(state: &State, entry: &Entry, with_words: bool) -> Vec<StyledLine> {
    let mut lines = Vec::new();
    let paper = if entry.from_paper { ", from paper" } else { "" };
    lines.push(StyledLine::of(
        format!(
            "{} {} written {}{paper}",
            entry.seq, entry.name, entry.entered
        ),
        Role::Title,
    ));
    if with_words {
        lines.push(StyledLine::default());
        lines.push(StyledLine::of(words::entry(entry), Role::Plain));
        lines.push(StyledLine::default());
    }
    let role = if with_words { Role::Label } else { Role::Plain };
    lines.push(StyledLine::of(entry.own.clone(), role));
    if let Some(seq) = struck_by(state, entry.seq) {
        lines.push(StyledLine::of(words::struck_by(seq), Role::Check));
    }
    lines
}
