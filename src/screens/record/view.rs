//! The record, drawn.

use super::update::{entries, place, selected};
use crate::journal::{Entry, Event};
use crate::report::words;
use crate::screens::parts::pen::{Pen, StyledLine, cells};
use crate::screens::state::State;
use crate::screens::theme::Role;

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
        "{:>5} {:<16} {:<4} {:<6} {:<15} says",
        "entry", "when", "by", "slot", "event"
    );
    pen.text(1, 1, &columns, Role::Label);
    let at = place(state, &listed);
    let detail: Vec<StyledLine> = selected(state)
        .map(|entry| {
            detail(state, entry)
                .into_iter()
                .flat_map(|it| it.wrapped(width, 2))
                .collect()
        })
        .unwrap_or_default();
    let height = usize::from(pen.area.height);
    let rows = height.saturating_sub(3 + detail.len().min(5)).max(1);
    let first = (at + 1).saturating_sub(rows);
    for (row, entry) in listed.iter().enumerate().skip(first).take(rows) {
        pen.line(1, cells(row - first + 2), &line(state, entry, row == at));
    }
    let from = height.saturating_sub(detail.len().min(5));
    let below = listed.len().saturating_sub(first + rows);
    if below > 0 {
        let text = words::more_below(below);
        let column = pen.area.width.saturating_sub(cells(text.len() + 1));
        pen.text(column, 0, &text, Role::Label);
    }
    for (row, line) in detail.iter().take(5).enumerate() {
        pen.line(1, cells(from + row), line);
    }
}

fn line(state: &State, entry: &Entry, is_at: bool) -> StyledLine {
    let struck = struck_by(state, entry.seq);
    let when = entry.at.to_string();
    let when = when.get(..16).unwrap_or_default().replace('T', " ");
    let slot = entry.event.slot().unwrap_or("-");
    let role = match (is_at, struck) {
        (true, _) => Role::Selected,
        (false, Some(_)) => Role::Label,
        (false, None) => Role::Plain,
    };
    let sign = if struck.is_some() { "x" } else { " " };
    let says = words::entry(entry);
    StyledLine::of(
        format!(
            "{:>5}{sign}{when:<16} {:<4} {slot:<6} {:<15} {says}",
            entry.seq, entry.by, entry.name
        ),
        role,
    )
}

/// All of an entry.
fn detail(state: &State, entry: &Entry) -> Vec<StyledLine> {
    let mut lines = Vec::new();
    let paper = if entry.from_paper { ", from paper" } else { "" };
    lines.push(StyledLine::of(
        format!(
            "{} {} written {}{paper}",
            entry.seq, entry.name, entry.entered
        ),
        Role::Title,
    ));
    lines.push(StyledLine::of(entry.own.clone(), Role::Plain));
    if let Some(seq) = struck_by(state, entry.seq) {
        lines.push(StyledLine::of(words::struck_by(seq), Role::Check));
    }
    lines
}
