//! Overview: a row a slot, and below it the flags, the worst first, each leading to its place.

use super::flags::{flags, row};
use crate::figures::{SlotFigures, Standing, Verdict};
use crate::finding::Severity;
use crate::measure::Elevation;
use crate::report::words;
use crate::screens::parts::flags::flag_lines;
use crate::screens::parts::list::{ListItem, list, scroll};
use crate::screens::parts::pen::{Pen, StyledLine, cells};
use crate::screens::parts::table::{Align, ScreenTable, TableCell, head};
use crate::screens::state::State;
use crate::screens::theme::Role;

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

fn table(state: &State) -> ScreenTable<'static> {
    let mut table = ScreenTable::new(vec![
        head("slot", Align::Left, 20),
        head("basis", Align::Left, 12),
        head("joints", Align::Right, 3),
        head("length", Align::Point, 11),
        head("shoe", Align::Point, 14),
        head("shoulder", Align::Point, 13),
        head("top", Align::Point, 15),
        head("cut", Align::Point, 18),
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
    for ((slot, figures), of_slot) in slots.zip(&state.figures.standings) {
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
            (slot.name.clone(), Role::Title),
            (figures.chain.basis.word().to_owned(), Role::Plain),
            figure(figures.chain.string.pieces.len().to_string()),
            figure(state.show.number(figures.chain.string.length)),
            figure(elevation(figures.chain.shoe)),
            (elevation(shoulder), Role::Shoulder),
            figure(elevation(top_now(figures))),
            (elevation(Some(figures.cut.target)), Role::Cut),
            figure(offcut),
            standing(figures, of_slot),
        ]);
    }
    table
}

pub fn draw(state: &State, pen: &mut Pen<'_>) {
    let slots = state.figures.slots.len();
    let height = usize::from(pen.area.height);
    let width = pen.area.width;
    let flags = flags(state);
    // The table takes what it needs, and leaves the flags a third.
    let room = height
        .saturating_sub(2 + (height / 3).min(flags.len() + 1))
        .max(2);
    let rows = slots.min(room.saturating_sub(1));
    let row = row(state).unwrap_or(0);
    let in_table = (row < slots).then_some(row);
    let first = scroll(state.slot_index(), slots, rows);
    let mut table = table(state);
    table.skip(first);
    let selected = in_table.map(|row| row - first.min(row));
    let mut y = cells(rows) + 1;
    {
        let mut part = pen.part(0, 0, width, y);
        let left_out = table.draw(&mut part, rows, selected, Some(state.overview.column));
        if let Some((line, row)) = left_out.zip(in_table) {
            let name = state.of(row).map_or("", |(slot, _, _)| slot.name.as_str());
            let mut named = StyledLine::of(format!("{name}: "), Role::Title);
            named.0.extend(line.0);
            pen.line(1, y, &named);
        }
        y += 1;
    }
    if slots > rows {
        pen.right(
            y - 1,
            &format!(" slots {} to {} of {slots}", first + 1, first + rows),
            Role::Label,
        );
    }
    let counts = |severity| {
        flags
            .iter()
            .filter(|(_, flag)| flag.severity == severity)
            .count()
    };
    let heading = words::flag_counts([Severity::Stop, Severity::Check, Severity::Note].map(counts));
    let end = pen.text(1, y, &heading, Role::Title);
    let line = spread(state);
    let wide = cells(line.width() + 1);
    if end + 3 + wide <= width {
        pen.line(width - wide, y, &line);
    } else {
        y += 1;
        pen.line(1, y, &line);
    }
    if let Some(fallen) = fallen(state) {
        y += 1;
        pen.text(1, y, &fallen, Role::Check);
    }
    let items: Vec<ListItem<()>> = flags
        .iter()
        .map(|(slot, flag)| ListItem {
            lines: flag_lines(state, *slot, flag, usize::from(width)),
            opens: (),
        })
        .collect();
    let chosen = row.checked_sub(slots);
    let from = y + 1;
    let mut part = pen.part(0, from, width, u16::MAX);
    list(&mut part, &items, chosen);
}

/// Which slots have signatures that do not stand any more.
fn fallen(state: &State) -> Option<String> {
    let standings = state.inputs.job.slots.iter().zip(&state.figures.standings);
    let slots: Vec<(&str, usize)> = standings
        .map(|(slot, standing)| (slot.name.as_str(), standing.fallen))
        .collect();
    words::fallen_of(&slots)
}

/// What is known of the cuts together and of the frame.
fn spread(state: &State) -> StyledLine {
    let spread = &state.figures.spread;
    let slots = &state.figures.slots;
    let cut = slots.iter().filter(|slot| slot.cut.is_cut()).count();
    let mut line = StyledLine::of(format!("{cut} of {} cut", slots.len()), Role::Plain);
    if let Some(value) = &spread.value {
        let verdict = spread.verdict;
        line = line
            .and(
                format!(
                    "; spread of {} judged {} ",
                    spread.cuts,
                    state.show.small(value.value)
                ),
                Role::Plain,
            )
            .and(
                verdict.map_or("no limit given", Verdict::word),
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
        line = line
            .and(
                format!("; {}: ", words::frame_base(height.value, state.show)),
                Role::Plain,
            )
            .and(
                verdict.map_or("no window given", Verdict::word),
                verdict.map_or(Role::Plain, Role::of_verdict),
            );
    }
    line
}
