//! The deck, drawn: how it rests, a plan, the gap over each top, and what could be done.

use super::plan::Plan;
use crate::deck::SeatState;
use crate::figures::Seating;
use crate::finding::Severity;
use crate::measure::Length;
use crate::report::words;
use crate::screens::parts::list::scroll;
use crate::screens::parts::pen::{Pen, StyledLine, cells};
use crate::screens::parts::table::{Align, ScreenTable, head};
use crate::screens::state::State;
use crate::screens::theme::Role;

/// From so many columns on what is said stands beside the plan.
const BESIDE: u16 = 118;
/// Rows that the lines below the plan have at least.
const BELOW: u16 = 6;
/// Cells of the longest bar.
const BAR: u16 = 10;

fn seating(state: &State) -> Option<&Seating> {
    state.seating.as_ref()?.as_ref().ok()
}

/// The rest that is shown.
pub(super) fn shown(state: &State, seating: &Seating) -> usize {
    let last = seating.seat.rests.len().saturating_sub(1);
    state.at_deck.rest.min(last)
}

/// Draws the deck.
pub fn draw(state: &State, pen: &mut Pen<'_>) {
    let (columns, rows) = (pen.area.width, pen.area.height);
    let room = usize::from(columns).saturating_sub(2);
    let Some(seating) = seating(state) else {
        let why = state.seating.as_ref().and_then(|it| it.as_ref().err());
        let why = words::not_seated(why.map_or("", String::as_str));
        let lines = StyledLine::of(why, Role::Check).wrapped(room, 2);
        for (row, line) in lines.iter().enumerate() {
            pen.line(1, cells(row), line);
        }
        return;
    };
    let rest = shown(state, seating);
    let mut from = 0;
    if state.figures.worst() == Some(Severity::Stop) {
        let line = StyledLine::of(words::DECK_STOPPED, Role::Stop);
        for line in line.wrapped(room, 2) {
            pen.line(1, from, &line);
            from += 1;
        }
    }
    for line in banner(seating, rest).wrapped(room, 2) {
        pen.line(1, from, &line);
        from += 1;
    }
    if let Some(text) = words::legs_as_designed(&state.inputs.job, seating) {
        for line in StyledLine::of(text, Role::Label).wrapped(room, 2) {
            pen.line(1, from, &line);
            from += 1;
        }
    }
    let slots = cells(seating.tops.len() + 1);
    if columns >= BESIDE {
        let rows = rows.saturating_sub(from);
        let half = columns * 9 / 20;
        draw_plan(
            state,
            seating,
            rest,
            &mut pen.part(1, from + 1, half - 4, rows - 1),
        );
        let right = half + 2;
        let wide = columns - right;
        pen.upright(half, from + 1, rows - 1);
        let table = &mut pen.part(right, from + 1, wide, slots);
        draw_tops(state, seating, rest, table);
        let said = said(state, usize::from(wide));
        let first = from + slots + 2;
        said_below(state, &said, &mut pen.part(right, first, wide, rows));
        return;
    }
    // The plan takes what the lines below it do not need.
    let said = said(state, usize::from(columns));
    let needed = cells(said.len()).max(BELOW).min(rows / 2);
    let middle = rows.saturating_sub(from + needed).max(slots).max(8);
    let half = columns * 2 / 5 - 1;
    draw_plan(state, seating, rest, &mut pen.part(1, from, half, middle));
    let right = half + 2;
    let mut part = pen.part(right, from, columns.saturating_sub(right), middle);
    draw_tops(state, seating, rest, &mut part);
    let from = from + middle;
    said_below(state, &said, &mut pen.part(0, from, columns, rows));
}

/// What is said of the seat, from the line on to which one scrolled.
fn said_below(state: &State, said: &[StyledLine], pen: &mut Pen<'_>) {
    let all = usize::from(pen.area.height);
    // Where not all is in sight the last row says so.
    let height = if said.len() > all {
        all.saturating_sub(1)
    } else {
        all
    };
    let first = scroll(state.at_deck.first, said.len(), height).min(said.len());
    for (row, line) in said.iter().skip(first).take(height).enumerate() {
        pen.line(1, cells(row), line);
    }
    let below = said.len().saturating_sub(first + height);
    if first + below > 0 && height > 0 {
        let text = format!(" {} ", words::more(first, below));
        pen.right(cells(height), &text, Role::Label);
    }
}

/// Whether it stands, and on what.
fn banner(seating: &Seating, rest: usize) -> StyledLine {
    let role = match seating.seat.state {
        SeatState::Stable => Role::Within,
        SeatState::Rocks | SeatState::Marginal | SeatState::Degenerate => Role::Check,
        SeatState::Unstable => Role::Stop,
    };
    let (word, meaning) = words::seat_state_parts(seating.seat.state);
    let line = StyledLine::of(format!(" {word} "), role).and(format!("  {meaning}"), Role::Title);
    match seating.seat.rests.len() {
        0 | 1 => line,
        several => {
            let which = words::rest_of(rest + 1, several);
            line.and(format!("  {which}"), Role::Label)
        }
    }
}

fn draw_plan(state: &State, seating: &Seating, rest: usize, pen: &mut Pen<'_>) {
    let gaps = seating.gaps(rest);
    let names = state.inputs.job.slots.iter().enumerate();
    let names = names.map(|(at, slot)| match gaps.get(at) {
        Some(gap) if !gap.is_zero() => format!("{} {}", slot.name, state.show.small(*gap)),
        _ => slot.name.clone(),
    });
    let Some(cog) = state.inputs.job.deck.cog else {
        return;
    };
    let plan = Plan {
        tops: &seating.tops,
        names: names.collect(),
        cog,
        rest: seating.seat.rests.get(rest),
    };
    let (columns, rows) = (pen.area.width, pen.area.height);
    let (length, wide) = plan.draw(&mut pen.part(0, 0, columns, rows.saturating_sub(1)));
    let line = pen.theme.glyphs.line;
    for column in 0..wide.min(columns) {
        pen.sign(column, rows.saturating_sub(1), line, Role::Label);
    }
    let length = Length::nearest_to_metres(length);
    let length = length.map_or_else(String::new, |it| state.show.text(it));
    let room = usize::from(columns.saturating_sub(wide + 1));
    let text = words::plan_scale(&length);
    let text = if text.len() > room { length } else { text };
    pen.text(wide + 1, rows.saturating_sub(1), &text, Role::Label);
}

/// Each top with its gap, to scale against the limit.
fn draw_tops(state: &State, seating: &Seating, rest: usize, pen: &mut Pen<'_>) {
    let show = state.show;
    let gaps = seating.gaps(rest);
    let widest = gaps.iter().copied().max().unwrap_or_default();
    let longest = widest.max(seating.within.unwrap_or_default()).real_nm();
    let bar = |length: Length| -> u16 {
        let part = if longest > 0.0 {
            length.real_nm() / longest
        } else {
            0.0
        };
        let shown = (part * f64::from(BAR)).ceil();
        (0..=BAR)
            .rev()
            .find(|it| f64::from(*it) <= shown)
            .unwrap_or(0)
    };
    let limit = seating.within.map(bar);
    let mut legs = state.inputs.job.slots.iter();
    let has_legs = legs.any(|it| it.leg_deviation.is_some());
    let mut headings = vec![
        head("slot", Align::Left, 9),
        head("top", Align::Point, 7),
        head("from", Align::Left, 2),
        head("gap", Align::Right, 8),
        head("trim", Align::Right, 6),
        head("gap to scale", Align::Left, 5),
    ];
    if has_legs {
        headings.insert(3, head("leg", Align::Right, 3));
    }
    let mut table = ScreenTable::new(headings);
    let glyphs = pen.theme.glyphs;
    for (at, top) in seating.tops.iter().enumerate() {
        let name = state.inputs.job.slots.get(at);
        let leg = name.and_then(|it| it.leg_deviation);
        let offset = name.map(|it| it.cut_offset).unwrap_or_default();
        let gap = gaps.get(at).copied();
        let trim = seating.trims.as_ref().and_then(|it| it.get(at)).copied();
        let trim = trim.filter(|it| !it.is_zero());
        let is_wide = gap
            .zip(seating.within)
            .is_some_and(|(gap, within)| gap > within);
        let length = bar(gap.unwrap_or_default());
        let drawn: String = (1..=BAR)
            .map(|cell| {
                if Some(cell) == limit {
                    glyphs.wall
                } else if cell <= length {
                    glyphs.block
                } else {
                    ' '
                }
            })
            .collect();
        let source = seating.sources.get(at).map_or("", |it| it.word());
        let mut row = vec![
            (
                name.map_or_else(String::new, |it| it.name.clone()),
                Role::Title,
            ),
            (
                show.signed(top.z - leg.unwrap_or_default() + offset),
                Role::Plain,
            ),
            (source.to_owned(), Role::Label),
            (
                gap.map_or_else(|| "-".to_owned(), |gap| words::gap_briefly(gap, show)),
                if is_wide { Role::Check } else { Role::Figure },
            ),
            (
                trim.map_or_else(|| "-".to_owned(), |it| show.small(it)),
                Role::Plain,
            ),
            (drawn, Role::Figure),
        ];
        if has_legs {
            let leg = leg.map_or_else(String::new, |leg| show.small_signed(leg));
            row.insert(3, (leg, Role::Plain));
        }
        table.add(row);
    }
    let rows = usize::from(pen.area.height).saturating_sub(1);
    table.draw(pen, 0..rows, None, None);
}

/// What stands below the plan, line by line.
pub(super) fn said(state: &State, columns: usize) -> Vec<StyledLine> {
    let Some(seating) = seating(state) else {
        return Vec::new();
    };
    let rest = shown(state, seating);
    let room = columns.saturating_sub(2);
    let mut lines = Vec::new();
    let mut add = |text: String, role| lines.extend(StyledLine::of(text, role).wrapped(room, 2));
    let job = &state.inputs.job;
    for flag in &seating.flags {
        let said = words::flag(flag, state.show);
        let role = Role::of_severity(flag.severity);
        add(
            format!(" {} {}: {said}", flag.severity.word(), flag.code),
            role,
        );
    }
    for text in words::seat_said(job, seating, rest, state.show) {
        add(text, Role::Plain);
    }
    add(words::CAUTION.to_owned(), Role::Title);
    add(words::SEAT_STIFF.to_owned(), Role::Label);
    lines
}
