//! Overview: a row a slot, and below it the flags, the worst first, each leading to its place.

use super::flags::{flags, row};
use super::pane;
use crate::figures::{SlotFigures, SlotState, Standing, Verdict};
use crate::finding::Severity;
use crate::measure::Elevation;
use crate::report::words;
use crate::screens::action::Action;
use crate::screens::parts::flags::flag_lines;
use crate::screens::parts::list::{ListItem, list, scroll};
use crate::screens::parts::pen::{Pen, StyledLine, cells};
use crate::screens::parts::table::{Align, ScreenTable, TableCell, head};
use crate::screens::state::State;
use crate::screens::theme::{Glyphs, Role};

/// Whether a conductor may be cut, and of one that is cut the verdict, in a word or two.
pub fn standing(figures: &SlotFigures, standing: &Standing) -> (String, Role) {
    let status = standing.status;
    let role = Role::of_status(status);
    let Some(as_cut) = &figures.cut.as_cut else {
        return (status.word().to_owned(), role);
    };
    let flags = words::head_flags(figures, standing);
    let stops = flags.iter().any(|flag| flag.severity == Severity::Stop);
    match as_cut.verdict {
        // What stops going on matters more than that one top is within.
        Some(verdict) if verdict == Verdict::Outside || !stops => {
            (words::cut_and(verdict.word()), Role::of_verdict(verdict))
        }
        _ if stops => (words::cut_and("stop"), Role::Stop),
        _ => (words::cut_and("no tolerance"), Role::Plain),
    }
}

/// Where the conductor ends now: once it is cut, where that was measured.
fn top_now(figures: &SlotFigures) -> Option<Elevation> {
    match &figures.cut.as_cut {
        Some(as_cut) => Some(Elevation::above_datum(as_cut.mean.value.rounded())),
        None => figures.chain.top,
    }
}

fn table(state: &State, glyphs: &Glyphs) -> ScreenTable<'static> {
    let mut table = ScreenTable::new(vec![
        head("  slot", Align::Left, 20),
        head("state", Align::Left, 16),
        head("joints", Align::Right, 3),
        head("length", Align::Point, 11),
        head("shoe", Align::Point, 14),
        head("shoulder", Align::Point, 13),
        head("top", Align::Point, 15),
        head("target", Align::Point, 18),
        head("off-cut", Align::Point, 10),
        head("status", Align::Left, 19),
    ]);
    let elevation = |elevation: Option<Elevation>| {
        elevation.map_or_else(
            || "-".to_owned(),
            |elevation| state.show.signed(elevation.height()),
        )
    };
    let slots = state.inputs.job.slots.iter().zip(&state.figures.slots);
    let slots = slots.zip(&state.figures.standings).enumerate();
    for (index, ((slot, figures), of_slot)) in slots {
        let reached = state.figures.state(index).unwrap_or(SlotState::Planned);
        let sign = glyphs.state(reached);
        let shoulder = figures
            .chain
            .shoulder
            .and_then(|shoulder| shoulder.elevation);
        let offcut = figures.cut.place.as_ref().map_or_else(
            || "-".to_owned(),
            |place| state.show.number(place.offcut_length),
        );
        let figure = |text: String| -> TableCell { (text, Role::Plain) };
        table.add(vec![
            (format!("{sign} {}", slot.name), Role::Title),
            (reached.word().to_owned(), Role::Plain),
            figure(figures.chain.string.pieces.len().to_string()),
            figure(state.show.number(figures.chain.string.length)),
            figure(elevation(figures.chain.shoe)),
            (elevation(shoulder), Role::Shoulder),
            figure(elevation(top_now(figures))),
            (elevation(Some(figures.cut.target)), Role::Cut),
            figure(offcut),
            if state.old.is_some() {
                (words::OLD.to_owned(), Role::Old)
            } else {
                let (word, role) = standing(figures, of_slot);
                (format!(" {word} "), role)
            },
        ]);
    }
    table
}

/// From so many columns on the slot in front stands beside the flags, and from so many its figures too.
const TWO_PANES: u16 = 118;
const THREE_PANES: u16 = 170;
/// Columns of the slot to scale, and of its figures.
const PROFILE: u16 = 60;
const FIGURES: u16 = 52;

/// Draws it.
pub fn draw(state: &State, pen: &mut Pen<'_>) {
    let (width, height) = (pen.area.width, pen.area.height);
    let y = draw_table(state, pen);
    if width < TWO_PANES {
        let mut y = y;
        if let Some((text, role)) = pane::nearest(state) {
            let line = StyledLine::of(format!("{}: ", state.slot), Role::Title).and(text, role);
            for line in line.wrapped(usize::from(width) - 2, 2).into_iter().take(2) {
                pen.line(1, y, &line);
                y += 1;
            }
        }
        draw_flags(state, &mut pen.part(0, y, width, height));
        return;
    }
    let y = y + 1;
    let rows = height.saturating_sub(y);
    let is_wide = width >= THREE_PANES;
    let beside = if is_wide { PROFILE + FIGURES } else { PROFILE };
    let flags = width - beside;
    draw_flags(state, &mut pen.part(0, y, flags - 1, rows));
    pen.upright(flags, y, rows);
    if is_wide {
        pane::draw_figures(state, &mut pen.part(flags + 2, y, FIGURES - 4, rows));
        pen.upright(flags + FIGURES, y, rows);
    }
    let from = width - PROFILE;
    let mut part = pen.part(from + 2, y, PROFILE - 3, rows);
    pane::draw_profile(state, &mut part, !is_wide);
}

/// The table of slots; gives the row after it.
fn draw_table(state: &State, pen: &mut Pen<'_>) -> u16 {
    let slots = state.figures.slots.len();
    let height = usize::from(pen.area.height);
    let width = pen.area.width;
    // The table takes what it needs, and leaves the flags a third.
    let flags = flags(state).len();
    let room = height
        .saturating_sub(3 + (height / 3).min(flags + 1))
        .max(2);
    let rows = slots.min(room.saturating_sub(1));
    let row = row(state).unwrap_or(0);
    let in_table = (row < slots).then_some(row);
    let first = scroll(state.slot_index(), slots, rows);
    let of = (state.show, pen.theme.is_ascii(), state.old.is_some());
    let table = state.slot_table.get(of, || table(state, pen.theme.glyphs));
    let selected = in_table.map(|row| row - first.min(row));
    let mut y = cells(rows) + 1;
    let mut part = pen.part(0, 0, width, y);
    let left_out = table.draw(
        &mut part,
        first..first + rows,
        selected,
        Some(state.overview.column),
    );
    for row in 0..rows {
        pen.target((0, cells(row + 1), width), Action::ToRow(first + row));
    }
    let is_cut_short = slots > rows;
    let left_out = left_out.zip(in_table);
    if left_out.is_some() || is_cut_short {
        if let Some((line, row)) = left_out {
            let name = state.of(row).map_or("", |(slot, _, _)| slot.name.as_str());
            let mut named = StyledLine::of(format!("{name}: "), Role::Title);
            named.0.extend(line.0);
            let lines = named.wrapped(usize::from(width).saturating_sub(2), 2);
            for (row, line) in (y..).zip(&lines) {
                pen.line(1, row, line);
            }
            y += cells(lines.len().saturating_sub(1));
        }
        if is_cut_short {
            let text = words::slots_shown(first + 1, first + rows, slots);
            pen.right(y, &text, Role::Label);
        }
        y += 1;
    }
    y
}

/// What is known of the cuts together, and the flags, the worst first.
fn draw_flags(state: &State, pen: &mut Pen<'_>) {
    let slots = state.figures.slots.len();
    let width = pen.area.width;
    let room = usize::from(width).saturating_sub(2);
    let mut y = 0;
    for line in spread(state).map_or_else(Vec::new, |line| line.wrapped(room, 2)) {
        pen.line(1, y, &line);
        y += 1;
    }
    if let Some(fallen) = fallen(state) {
        for line in StyledLine::of(format!(" {fallen} "), Role::Check).wrapped(room, 2) {
            pen.line(1, y, &line);
            y += 1;
        }
    }
    if y > 0 {
        y += 1;
    }
    let flags = flags(state);
    if flags.is_empty() {
        pen.text(1, y, words::NO_FLAGS, Role::Label);
        return;
    }
    let items = state.flag_items.get((state.show, width), || {
        let items = flags.iter().map(|(slot, flag)| ListItem {
            lines: flag_lines(state, *slot, flag, usize::from(width)),
            opens: (),
        });
        items.collect()
    });
    let chosen = row(state).and_then(|row| row.checked_sub(slots));
    let rows = pen.area.height.saturating_sub(y);
    list(&mut pen.part(0, y, width, rows), &items, chosen, slots);
}

/// Which slots have signatures that do not stand any more.
fn fallen(state: &State) -> Option<String> {
    let standings = state.inputs.job.slots.iter().zip(&state.figures.standings);
    let slots: Vec<(&str, usize)> = standings
        .map(|(slot, standing)| (slot.name.as_str(), standing.fallen))
        .collect();
    words::fallen_of(&slots)
}

/// What is known of the cuts together and of the frame; `None` where that is nothing.
fn spread(state: &State) -> Option<StyledLine> {
    let spread = &state.figures.spread;
    let mut line = StyledLine::default();
    if let Some(value) = &spread.value {
        let verdict = spread.verdict;
        line = line
            .and(
                words::spread_of(spread.cuts, value.value, state.show),
                Role::Plain,
            )
            .and(
                format!(" {} ", verdict.map_or("no limit given", Verdict::word)),
                verdict.map_or(Role::Plain, Role::of_verdict),
            );
    }
    if let Some((frame, height)) = state
        .figures
        .frame
        .as_ref()
        .and_then(|frame| Some((frame, frame.above_mudline.as_ref()?)))
    {
        let verdict = frame.verdict;
        let between = if line.0.is_empty() { "" } else { "   " };
        let base = words::frame_base(height.value, state.show);
        line = line.and(format!("{between}{base} "), Role::Plain).and(
            format!(" {} ", verdict.map_or("no window given", Verdict::word)),
            verdict.map_or(Role::Plain, Role::of_verdict),
        );
    }
    (!line.0.is_empty()).then_some(line)
}
