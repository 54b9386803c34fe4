//! Overview: a row a slot, and below it the flags, the worst first, each leading to its place.

use super::pen::{Item, Line, Pen, cells, list, scroll};
use super::state::{Overlay, Screen, State};
use super::table::{Align, Cell, Table, head};
use super::theme::Role;
use super::update::show_how;
use crate::figures::{SlotFigures, Verdict, how::Subject};
use crate::finding::{Flag, Place, Severity, worst};
use crate::measure::Elevation;
use crate::report::words;

/// How many columns can be gone through with left and right.
pub(super) const COLUMNS: usize = 10;

/// The flags of all slots and of the job, the worst first; the slot each belongs to.
pub(super) fn flags(state: &State) -> Vec<(Option<usize>, &Flag)> {
    let mut all: Vec<(Option<usize>, &Flag)> = state
        .figures
        .flags
        .iter()
        .map(|flag| (None, flag))
        .collect();
    for (index, slot) in state.figures.slots.iter().enumerate() {
        all.extend(slot.flags.iter().map(|flag| (Some(index), flag)));
    }
    all.sort_by(|(_, a), (_, b)| b.severity.cmp(&a.severity).then(a.code.cmp(&b.code)));
    all
}

/// The figure in a column that can be opened.
fn subject(column: usize, figures: &SlotFigures) -> Option<Subject> {
    Some(match column {
        1 => Subject::StickUp,
        3 => Subject::StringLength,
        4 => Subject::Shoe,
        5 => Subject::Shoulder,
        6 | 9 if figures.cut.as_cut.is_some() => Subject::AsCut,
        6 => Subject::Top,
        7 => Subject::CutTarget,
        8 => Subject::Offcut,
        _ => return None,
    })
}

/// The verdict on what is cut, and the worst flag.
pub(super) fn standing(figures: &SlotFigures) -> (String, Role) {
    let flag = figures.flags.first();
    let flagged = flag.map(|flag| format!("{}: {}", flag.severity.word(), flag.code));
    let role = flag.map_or(Role::Plain, |flag| Role::of_severity(flag.severity));
    let verdict = figures.cut.as_cut.as_ref().and_then(|cut| cut.verdict);
    let word = match (figures.cut.is_cut(), &figures.cut.as_cut, verdict) {
        (false, _, _) => None,
        (true, _, Some(verdict)) => Some(verdict.word()),
        (true, Some(_), None) => Some("cut, no tolerance"),
        (true, None, None) => Some("cut, not judged"),
    };
    match (word, flagged) {
        (Some(word), Some(flagged)) => {
            let worse = worst(&figures.flags) == Some(Severity::Stop) || verdict.is_none();
            let role = if worse {
                role
            } else {
                verdict.map_or(role, Role::of_verdict)
            };
            (format!("{word}, {flagged}"), role)
        }
        (Some(word), None) => (
            word.to_owned(),
            verdict.map_or(Role::Plain, Role::of_verdict),
        ),
        (None, Some(flagged)) => (flagged, role),
        (None, None) => ("no flags".to_owned(), Role::Plain),
    }
}

/// Where the conductor ends now: once it is cut, where that was measured.
fn top_now(figures: &SlotFigures) -> Option<Elevation> {
    match &figures.cut.as_cut {
        Some(as_cut) => Some(Elevation::above_datum(as_cut.mean.rounded())),
        None => figures.top,
    }
}

fn table(state: &State) -> Table<'static> {
    let mut table = Table::new(vec![
        head("slot", Align::Left, 20),
        head("basis", Align::Left, 12),
        head("joints", Align::Right, 3),
        head("length", Align::Point, 11),
        head("shoe", Align::Point, 14),
        head("shoulder", Align::Point, 13),
        head("top", Align::Point, 15),
        head("cut", Align::Point, 18),
        head("off-cut", Align::Point, 10),
        head("verdict, worst flag", Align::Left, 19),
    ]);
    let elevation = |elevation: Option<Elevation>| {
        elevation.map_or_else(
            || "-".to_owned(),
            |elevation| state.show.signed(elevation.height()),
        )
    };
    for (slot, figures) in state.inputs.job.slots.iter().zip(&state.figures.slots) {
        let shoulder = figures.shoulder.and_then(|shoulder| shoulder.elevation);
        let offcut = figures.cut.place.as_ref().map_or_else(
            || "-".to_owned(),
            |place| state.show.number(place.offcut_length),
        );
        let figure = |text: String| -> Cell { (text, Role::Plain) };
        table.add(vec![
            (slot.name.clone(), Role::Title),
            (figures.basis.word().to_owned(), Role::Plain),
            figure(figures.string.pieces.len().to_string()),
            figure(state.show.number(figures.string.length)),
            figure(elevation(figures.shoe)),
            (elevation(shoulder), Role::Shoulder),
            figure(elevation(top_now(figures))),
            (elevation(Some(figures.cut.target)), Role::Cut),
            figure(offcut),
            standing(figures),
        ]);
    }
    table
}

/// A flag as a line: severity, slot, code, what it says.
pub(super) fn flag_lines(
    state: &State,
    slot: Option<usize>,
    flag: &Flag,
    width: usize,
) -> Vec<Line> {
    let slot = slot.and_then(|slot| state.inputs.job.slots.get(slot));
    let name = slot.map_or("all", |slot| slot.name.as_str());
    Line::of(
        format!("{:<6}", flag.severity.word()),
        Role::of_severity(flag.severity),
    )
    .and(format!("{name:<4} "), Role::Title)
    .and(format!("{}: ", flag.code), Role::Plain)
    .and(words::flag(flag, state.show), Role::Plain)
    .wrapped(width.saturating_sub(2), 11)
}

pub(super) fn draw(state: &State, pen: &mut Pen<'_>) {
    let slots = state.figures.slots.len();
    let height = usize::from(pen.area.height);
    let width = pen.area.width;
    let flags = flags(state);
    // The table takes what it needs, and leaves the flags a third.
    let room = height
        .saturating_sub(2 + (height / 3).min(flags.len() + 1))
        .max(2);
    let rows = slots.min(room.saturating_sub(1));
    let in_table = (state.row < slots).then_some(state.row);
    let first = scroll(in_table.unwrap_or(state.slot), slots, rows);
    let mut table = table(state);
    table.skip(first);
    let selected = in_table.map(|row| row - first.min(row));
    let mut y = cells(rows) + 1;
    {
        let mut part = pen.part(0, 0, width, y);
        let left_out = table.draw(&mut part, rows, selected, Some(state.column));
        if let Some((line, row)) = left_out.zip(in_table) {
            let name = state.of(row).map_or("", |(slot, _, _)| slot.name.as_str());
            let mut named = Line::of(format!("{name}: "), Role::Title);
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
    let heading = if flags.is_empty() {
        "No flags.".to_owned()
    } else {
        format!(
            "Flags: {} stop, {} check, {} note",
            counts(Severity::Stop),
            counts(Severity::Check),
            counts(Severity::Note)
        )
    };
    let end = pen.text(1, y, &heading, Role::Title);
    let line = spread(state);
    let wide = cells(line.width() + 1);
    if end + 3 + wide <= width {
        pen.line(width - wide, y, &line);
    } else {
        y += 1;
        pen.line(1, y, &line);
    }
    let items: Vec<Item<()>> = flags
        .iter()
        .map(|(slot, flag)| Item {
            lines: flag_lines(state, *slot, flag, usize::from(width)),
            opens: (),
        })
        .collect();
    let chosen = state.row.checked_sub(slots);
    let from = y + 1;
    let mut part = pen.part(0, from, width, u16::MAX);
    list(&mut part, &items, chosen);
}

/// What is known of the cuts together and of the frame.
fn spread(state: &State) -> Line {
    let spread = &state.figures.spread;
    let slots = &state.figures.slots;
    let cut = slots.iter().filter(|slot| slot.cut.is_cut()).count();
    let mut line = Line::of(format!("{cut} of {} cut", slots.len()), Role::Plain);
    if let Some(value) = spread.value {
        let verdict = spread.verdict;
        line = line
            .and(
                format!(
                    "; spread of {} judged {} ",
                    spread.cuts,
                    state.show.small(value)
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
        .and_then(|frame| Some((frame, frame.above_mudline?)))
    {
        let verdict = frame.verdict;
        line = line
            .and(
                format!("; frame's base {} above mudline ", state.show.text(height)),
                Role::Plain,
            )
            .and(
                verdict.map_or("no window given", Verdict::word),
                verdict.map_or(Role::Plain, Role::of_verdict),
            );
    }
    line
}

pub(super) fn open(state: &mut State) {
    let slots = state.figures.slots.len();
    if state.row < slots {
        state.slot = state.row;
        let Some((_, _, figures)) = state.current() else {
            return;
        };
        let (subject, flag) = (
            subject(state.column, figures),
            figures.flags.first().map(|flag| flag.place.clone()),
        );
        match (state.column, flag) {
            (0 | 2, _) => state.screen = Screen::Tally,
            (9, Some(place)) if subject.is_none() => go(state, &place),
            _ => show_how(state, subject),
        }
        return;
    }
    let target = flags(state)
        .get(state.row - slots)
        .map(|(slot, flag)| (*slot, flag.place.clone(), words::flag(flag, state.show)));
    match target {
        Some((Some(slot), place, _)) => {
            state.slot = slot;
            go(state, &place);
        }
        Some((None, _, text)) => {
            state.overlay = Overlay::Words(text, 0);
        }
        None => {}
    }
}

/// Goes to the place of a flag in the slot in front.
pub(super) fn go(state: &mut State, place: &Place) {
    let Some((_, tally, figures)) = state.current() else {
        return;
    };
    let row = match place {
        Place::Joint(joint) => Some(*joint),
        Place::Line(line) => {
            let joint = tally.joints.iter().position(|joint| joint.line == *line);
            let skipped = tally.skipped.iter().position(|skip| skip.line == *line);
            // A line that stands for no row: the joint above it in the file.
            let near = || {
                let above = tally.joints.iter().enumerate();
                above
                    .filter(|(_, joint)| joint.line < *line)
                    .max_by_key(|(_, joint)| joint.line)
                    .map(|(index, _)| index)
            };
            joint
                .or(skipped.map(|skip| tally.joints.len() + skip))
                .or_else(near)
        }
        Place::Shoulder => figures.shoulder.map(|shoulder| shoulder.piece),
        Place::Accessory(index) => figures.accessories.get(*index).and_then(|it| it.piece),
        Place::List(list) => {
            let list = *list;
            state.screen = Screen::Reconcile;
            if let Some(place) = state.places.get_mut(state.slot) {
                (place.list, place.difference) = (list, 0);
            }
            return;
        }
        Place::Cut | Place::Whole => None,
    };
    match row {
        Some(row) => {
            state.screen = Screen::Tally;
            if let Some(place) = state.places.get_mut(state.slot) {
                place.tally = row;
            }
        }
        None => state.screen = Screen::Cut,
    }
}
