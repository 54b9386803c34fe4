//! Reconcile, drawn: a row a joint, a column a list, and beside or under it what is in front in full.

use super::details::{beside, decided_so_far, under};
use super::lookup::{all, position, things, trial};
use super::table;
use crate::figures::SlotLists;
use crate::report::words;
use crate::screens::parts::pen::{Pen, StyledLine};
use crate::screens::state::State;
use crate::screens::theme::Role;

/// Rows at the foot, where what is in front stands under the table.
const FOOT: u16 = 7;
/// From so many columns on it stands beside the table.
const TWO_PANES: u16 = 110;
/// From so many columns on all that is decided stands beside that.
const THREE_PANES: u16 = 170;
/// The most columns of the table where something stands beside it, and of what does.
const TABLE: u16 = 84;
const BESIDE: u16 = 60;
/// The least columns of what stands beside the table.
const LEAST_BESIDE: u16 = 46;

pub fn draw(state: &State, pen: &mut Pen<'_>) {
    let Some((slot, ..)) = state.current() else {
        return;
    };
    let wide = usize::from(pen.area.width).saturating_sub(2);
    let Some(all) = all(state) else {
        let mut lines = unreadable(state, wide);
        if lines.is_empty() {
            let text = words::no_other_list(&slot.name);
            lines = StyledLine::of(text, Role::Plain).wrapped(wide, 0);
        }
        for (row, line) in (0..).zip(&lines) {
            pen.line(1, row, line);
        }
        return;
    };
    let mut y = 0;
    for line in heading(state, all, wide) {
        pen.line(1, y, &line);
        y += 1;
    }
    let things = things(state);
    let at = position(state).unwrap_or(0);
    let (columns, rows) = (pen.area.width, pen.area.height);
    let in_front = things.get(at).copied();
    if columns < TWO_PANES {
        let foot = rows.saturating_sub(FOOT).max(y + 3);
        table::draw(
            state,
            &mut pen.part(0, y, columns, foot.saturating_sub(y)),
            all,
            (&things, at),
        );
        let lines = in_front
            .map(|it| under(state, all, it, wide))
            .unwrap_or_default();
        for (row, line) in (foot..).zip(&lines) {
            pen.line(1, row, line);
        }
        return;
    }
    let height = rows.saturating_sub(y);
    let room = columns.saturating_sub(LEAST_BESIDE).min(TABLE);
    let used = table::draw(state, &mut pen.part(0, y, room, height), all, (&things, at));
    let table_to = used.max(50) + 1;
    let beside_to = if columns < THREE_PANES {
        columns
    } else {
        table_to + BESIDE
    };
    let mut pane = |from: u16, to: u16, lines: &dyn Fn(usize) -> Vec<StyledLine>| {
        let room = to.saturating_sub(from + 2);
        let mut part = pen.part(from + 2, y, room, height);
        for (row, line) in (0..).zip(lines(usize::from(room).saturating_sub(1))) {
            part.line(0, row, &line);
        }
    };
    pane(table_to, beside_to, &|room| {
        let mut lines = in_front.map_or_else(Vec::new, |it| beside(state, all, it, room));
        if columns < THREE_PANES {
            lines.push(StyledLine::default());
            lines.extend(decided_so_far(state, all, room));
        }
        lines
    });
    if columns >= THREE_PANES {
        pane(beside_to, columns, &|room| decided_so_far(state, all, room));
    }
}

/// The lists that cannot be read, and decisions of old that cannot.
fn unreadable(state: &State, wide: usize) -> Vec<StyledLine> {
    let lists = state.inputs.lists.get(state.slot_index());
    let mut lines = Vec::new();
    for list in lists.into_iter().flatten() {
        if let Err(reason) = &list.tally {
            let text = words::list_unreadable(&list.name, &reason.to_string());
            lines.extend(StyledLine::of(text, Role::Check).wrapped(wide, 2));
        }
        if let Some(error) = &list.decisions_problem {
            let text = words::decisions_unreadable(&error.to_string());
            lines.extend(StyledLine::of(text, Role::Stop).wrapped(wide, 2));
        }
    }
    lines
}

/// What is left to decide, and what the string by what stands would move.
fn heading(state: &State, all: &SlotLists, wide: usize) -> Vec<StyledLine> {
    let mut line = StyledLine::of(format!("Slot {}", state.slot), Role::Title);
    for (text, is_open) in words::lists_heading(all) {
        let role = if is_open { Role::Check } else { Role::Label };
        let text = if is_open { format!(" {text} ") } else { text };
        line = line.and("   ", Role::Plain).and(text, role);
    }
    let mut lines = vec![line];
    if let Some(trial) = trial(state, state.slot_index()) {
        let moved = words::effects(&trial.if_adopted(), &state.inputs.job, state.show);
        let line = StyledLine::of("Record by what stands: ", Role::Label).and(moved, Role::Plain);
        lines.extend(line.wrapped(wide, 2).into_iter().take(3));
    }
    let rounded = all.lists.rounded().len();
    if rounded > 0 {
        lines.push(StyledLine::of(words::rounded(rounded), Role::Label));
    }
    lines.extend(unreadable(state, wide));
    let apart = all.names.iter().zip(&all.lists.numbers_apart);
    for (name, _) in apart.filter(|(_, is_apart)| **is_apart) {
        lines.push(StyledLine::of(words::numbers_apart(name), Role::Label));
    }
    let apart = all.names.iter().zip(&all.lists.serials_apart);
    for (name, _) in apart.filter(|(_, is_apart)| **is_apart) {
        lines.push(StyledLine::of(words::serials_apart(name), Role::Check));
    }
    for (list, note) in notes(state) {
        let text = words::also(list, &words::note(note));
        lines.extend(StyledLine::of(text, Role::Check).wrapped(wide, 2));
    }
    // The table comes first where rows are few.
    let most = state.body_rows() / 3;
    if lines.len() > most.max(2) {
        let hidden = lines.len() + 1 - most.max(2);
        lines.truncate(most.max(2) - 1);
        lines.push(StyledLine::of(words::more(0, hidden), Role::Label));
    }
    lines
}

/// What else differs between the tally of record and other lists, the first few.
fn notes(state: &State) -> impl Iterator<Item = (&str, &crate::reconcile::Note)> {
    let slot = state.slot_index();
    let lists = state.inputs.lists.get(slot).into_iter().flatten();
    let figures = state.figures.lists.get(slot).into_iter().flatten();
    let all = lists
        .zip(figures)
        .filter_map(|(list, it)| Some((list, it.as_ref()?)));
    all.flat_map(|(list, it)| {
        it.bridge
            .notes
            .iter()
            .map(|note| (list.name.as_str(), note))
    })
    .take(2)
}
