//! Reconcile: where another list of the string differs from the tally of record, and what stands.

use super::lookup::{difference_at, difference_in_front, list_at, list_in_front, lists};
use crate::figures::{ListFigures, effects, left_to_decide};
use crate::journal::OtherList;
use crate::reconcile::{Difference, Stands, unmatched_decisions};
use crate::report::words;
use crate::screens::parts::list::{ListItem, list};
use crate::screens::parts::pen::{Pen, StyledLine, cells};
use crate::screens::state::State;
use crate::screens::theme::Role;
use crate::tally::Tally;

/// Rows at the foot: both joints, the words, and the decision.
const FOOT: u16 = 8;

pub fn draw(state: &State, pen: &mut Pen<'_>) {
    let Some((slot, tally, _)) = state.current() else {
        return;
    };
    let width = usize::from(pen.area.width).saturating_sub(2);
    let Some((other, figures)) = list_in_front(state) else {
        let text = words::no_other_list(&slot.name);
        for (row, line) in (0..).zip(StyledLine::of(text, Role::Plain).wrapped(width, 0)) {
            pen.line(1, row, &line);
        }
        return;
    };
    let lists = lists(state).len();
    let title = StyledLine::of(format!("Slot {}  ", slot.name), Role::Title)
        .and(
            words::compared(&slot.tally, &other.name, &other.path),
            Role::Label,
        )
        .and(
            format!(
                "   list {} of {lists}",
                list_at(state).map_or(1, |at| at + 1)
            ),
            Role::Label,
        );
    pen.line(1, 0, &title);
    let (Some(figures), Ok(list_tally)) = (figures, &other.tally) else {
        let reason = other.tally.as_ref().err().map(ToString::to_string);
        let text = words::list_unreadable(&other.name, &reason.unwrap_or_default());
        for (row, line) in (2..).zip(StyledLine::of(text, Role::Check).wrapped(width, 2)) {
            pen.line(1, row, &line);
        }
        return;
    };
    let mut y = 1;
    for line in heading(state, other, figures, width) {
        pen.line(1, y, &line);
        y += 1;
    }
    let height = pen.area.height;
    let foot = height.saturating_sub(FOOT).max(y + 1);
    let items: Vec<ListItem<()>> = figures
        .differences
        .iter()
        .map(|difference| ListItem {
            lines: vec![row(state, other, difference)],
            opens: (),
        })
        .collect();
    if items.is_empty() {
        pen.text(1, y + 1, "No joint differs.", Role::Within);
    }
    list(
        &mut pen.part(0, y, pen.area.width, foot.saturating_sub(y)),
        &items,
        difference_at(state),
    );
    if let Some(difference) = difference_in_front(state) {
        let mut part = pen.part(0, foot, pen.area.width, FOOT);
        in_full(state, &mut part, (tally, list_tally), other, difference);
    }
}

/// The totals, what is left to decide, and what the other list would move.
fn heading(
    state: &State,
    other: &OtherList,
    figures: &ListFigures,
    width: usize,
) -> Vec<StyledLine> {
    let show = state.show;
    let bridge = &figures.bridge;
    let left = left_to_decide(other, figures);
    let role = if left == 0 { Role::Within } else { Role::Check };
    let mut lines = StyledLine::of(
        format!(
            "{}: {} and {}",
            words::compared_lengths(
                show,
                ["the tally of record", &other.name],
                bridge.difference()
            ),
            show.text(bridge.a),
            show.text(bridge.b)
        ),
        Role::Figure,
    )
    .and(
        format!("   differences {}, ", figures.differences.len()),
        Role::Plain,
    )
    .and(format!("not decided {left}"), role)
    .wrapped(width, 2);
    for note in bridge.notes.iter().take(2) {
        lines.extend(
            StyledLine::of(format!("also: {}", words::note(note)), Role::Check).wrapped(width, 2),
        );
    }
    if let Some(error) = &other.decisions_problem {
        let text = words::decisions_unreadable(&error.to_string());
        lines.extend(StyledLine::of(text, Role::Stop).wrapped(width, 2));
    }
    let without = unmatched_decisions(&figures.differences, &other.decisions).count();
    if without > 0 {
        let text = words::without_difference(without);
        lines.push(StyledLine::of(text, Role::Label));
    }
    let would_move = state.current().map_or_else(Vec::new, |(_, tally, now)| {
        let other = other.tally.as_ref().unwrap_or(tally);
        effects((tally, now), (other, &figures.with_it))
    });
    let text = words::if_adopted(&would_move, &state.inputs.job, show);
    lines.extend(
        StyledLine::of(text, Role::Plain)
            .wrapped(width, 2)
            .into_iter()
            .take(3),
    );
    lines
}

/// One difference: what is decided, the topic, the joint, and how far it moves make-up planes.
fn row(state: &State, other: &OtherList, difference: &Difference) -> StyledLine {
    let (word, role) = match difference.decided(&other.decisions).map(|it| it.stands) {
        None => ("open    ".to_owned(), Role::Check),
        Some(Stands::A) => ("A stands".to_owned(), Role::Within),
        Some(Stands::B) => ("B stands".to_owned(), Role::Within),
        Some(Stands::Measured(_)) => ("measured".to_owned(), Role::Within),
    };
    StyledLine::of(word, role)
        .and(format!("  {:<12}", difference.topic.name()), Role::Plain)
        .and(format!("{:<10}", difference.joint), Role::Title)
        .and(
            words::planes_moved(difference.moves, state.show),
            Role::Figure,
        )
}

/// Both rows of the difference in front, its words, and what is decided.
fn in_full(
    state: &State,
    pen: &mut Pen<'_>,
    (a, b): (&Tally, &Tally),
    other: &OtherList,
    difference: &Difference,
) {
    let width = usize::from(pen.area.width).saturating_sub(2);
    let show = state.show;
    let of = |tally: &Tally, at: Option<usize>| {
        words::joint_row(at.and_then(|at| tally.joints.get(at)), show)
    };
    pen.line(
        1,
        0,
        &StyledLine::of(format!("A {}", of(a, difference.a)), Role::Figure),
    );
    pen.line(
        1,
        1,
        &StyledLine::of(format!("B {}", of(b, difference.b)), Role::Figure),
    );
    let mut lines =
        StyledLine::of(words::difference(difference, state.show), Role::Plain).wrapped(width, 2);
    lines.truncate(4);
    let decided = difference.decided(&other.decisions);
    let role = decided.map_or(Role::Check, |_| Role::Within);
    lines.push(StyledLine::of(words::decided(decided, show), role));
    for (row, line) in (2..).zip(&lines) {
        pen.line(1, cells(row), line);
    }
}
