//! Floor: figures that can be read from three metres, for the person at the rotary.

use std::cmp::Ordering;

use super::count::pieces_in;
use super::large::{self, Large};
use super::{coming, said};
use crate::figures::{
    Basis, CutStatus, RunStep, SlotFigures, entered_step, pieces_to_run, run_step,
};
use crate::finding::Code;
use crate::measure::Unit;
use crate::report::words;
use crate::screens::parts::pen::{Pen, StyledLine, cells};
use crate::screens::parts::surface::surface;
use crate::screens::state::State;
use crate::screens::theme::Role;
use crate::tally::Kind;

/// From so many columns on the joints that come and the last entries stand beside the figures.
const TWO_PANES: u16 = 170;
/// Their columns.
const COMING: u16 = 62;

fn unit(state: &State) -> &'static str {
    match state.show.unit() {
        Unit::FootInch => "",
        unit => unit.name(),
    }
}

/// Whether all joints are run and the string was read while it still hung.
fn hangs(figures: &SlotFigures) -> bool {
    let mut flags = figures.flags.iter();
    flags.any(|flag| flag.code == Code::CutFromHungReading)
}

/// Draws it.
pub fn draw(state: &State, pen: &mut Pen<'_>) {
    let Some((slot, _, figures)) = state.current() else {
        return;
    };
    let running = state.figures.running.get(state.slot_index());
    let entered = running.filter(|running| running.joints_run > 0);
    let step = match entered {
        Some(running) => Some(entered_step(&slot.hull, figures, running)),
        None => pieces_in(state).map(|pieces_in| run_step(&slot.hull, figures, pieces_in)),
    };
    let (columns, rows) = (pen.area.width, pen.area.height);
    let wide = if columns >= TWO_PANES {
        let from = columns - COMING;
        pen.upright(from, 0, rows);
        let mut part = pen.part(from + 2, 0, COMING - 3, rows);
        coming::draw(state, &mut part, step.as_ref());
        from
    } else {
        columns
    };
    let mut pen = pen.part(0, 0, wide, rows);
    title(state, &mut pen, (step.as_ref(), figures));
    match step {
        // Nothing large of figures that may have changed.
        _ if state.old.is_some() => {}
        Some(step) => figures_of(state, &mut pen, &step),
        None => not_known(state, &mut pen),
    }
}

/// The slot, what its figures rest on, and how many joints are run of how many.
fn title(state: &State, pen: &mut Pen<'_>, (step, figures): (Option<&RunStep>, &SlotFigures)) {
    let standing = state.figures.standings.get(state.slot_index());
    let status = standing.map(|standing| standing.status);
    let all_in = step.is_some_and(|step| step.next.is_none());
    let (basis, role) = match figures.chain.basis {
        _ if state.old.is_some() => (words::OLD_FLOOR, Role::Old),
        // What stops the slot stops the floor too: the figures below may be wrong.
        _ if status == Some(CutStatus::Stop) => ("STOP: SEE FLAGS", Role::Stop),
        Basis::Read if status == Some(CutStatus::Check) && all_in && !hangs(figures) => {
            ("CHECK: STICK-UP READ", Role::Check)
        }
        _ if figures.cut.is_cut() => ("ALREADY CUT", Role::Stop),
        Basis::Read if hangs(figures) => ("HANGS: STICK-UP READ", Role::Check),
        Basis::Read if all_in => ("LANDED: STICK-UP READ", Role::Chip),
        Basis::Read => ("LANDED ALREADY: AS IT WAS RUN", Role::Chip),
        Basis::Planned => ("PLANNED", Role::Chip),
        Basis::None => ("NO BASIS: LENGTHS ONLY", Role::Chip),
    };
    let mut line = StyledLine::of(format!("SLOT {}  ", state.slot), Role::Title)
        .and(format!(" {basis} "), role);
    let all = pieces_to_run(figures);
    if let Some(step) = step {
        let is_by_hand =
            state.entered().is_none() && !(all_in && figures.chain.basis == Basis::Read);
        let words = words::joints_run(step.pieces_in, all, is_by_hand);
        line = line.and(format!("  {words}"), Role::Figure);
    }
    let Some((slot, ..)) = state.current() else {
        return;
    };
    let hull = words::at_hull(&slot.hull.name, pen.area.width >= 100);
    line = line.and(format!("  {hull}"), Role::Label);
    pen.line(1, 0, &line);
    if let Some(step) = step {
        bar(pen, step.pieces_in, all);
    }
}

/// The joints as a bar: those that are in filled.
fn bar(pen: &mut Pen<'_>, run: usize, all: usize) {
    let glyphs = pen.theme.glyphs;
    let wide = usize::from(pen.area.width).saturating_sub(2);
    let end = |joints: usize| joints * wide / all.max(1);
    let is_apart = wide >= 3 * all;
    for joint in 0..all {
        let (from, to) = (end(joint), end(joint + 1));
        let (sign, role) = match joint.cmp(&run) {
            Ordering::Less => (glyphs.block, Role::Steel),
            Ordering::Equal => (glyphs.bar, Role::Figure),
            Ordering::Greater => (glyphs.keep_out, Role::Quiet),
        };
        // A gap between joints, where there is room for one.
        let to = if is_apart { to.saturating_sub(1) } else { to };
        for x in from..to {
            pen.sign(cells(x + 1), 1, sign, role);
        }
        if joint > wide {
            return;
        }
    }
}

/// How many joints are run is not known: in small letters, and no figure that could be taken for the next.
fn not_known(state: &State, pen: &mut Pen<'_>) {
    let room = usize::from(pen.area.width).saturating_sub(2);
    let lines = words::COUNT_NOT_KNOWN.iter();
    let mut y = 2;
    for text in lines {
        for line in StyledLine::of(*text, Role::Plain).wrapped(room, 2) {
            pen.line(1, y, &line);
            y += 1;
        }
    }
    for text in said::urgent(state) {
        for line in StyledLine::of(format!(" {text} "), Role::Stop).wrapped(room, 5) {
            pen.line(1, y, &line);
            y += 1;
        }
    }
    let entries = coming::entries(state, 5);
    if !entries.is_empty() {
        y += 1;
        pen.text(1, y, words::ENTERED_LAST, Role::Label);
        y += 1;
    }
    for entry in entries {
        pen.line(1, y, &coming::line(entry));
        y += 1;
    }
}

fn figures_of(state: &State, pen: &mut Pen<'_>, step: &RunStep) {
    let area = pen.area.width.saturating_sub(2);
    let wrap = |(text, role): (String, Role)| {
        StyledLine::of(format!(" {text} "), role).wrapped(usize::from(area), 5)
    };
    let first = said::urgent(state).into_iter().map(|it| (it, Role::Stop));
    let elsewhere = said::other_hull(state).into_iter();
    let first = first.chain(elsewhere.map(|it| (it, Role::Check)));
    let fit = said::fit(state, step).into_iter();
    let fit = fit.map(|it| {
        let is_nothing = it == words::NOTHING_TO_FIT || it == words::ALL_RUN;
        (it, if is_nothing { Role::Label } else { Role::Chip })
    });
    let misclosure = said::misclosure(state).into_iter();
    let misclosure = misclosure.map(|it| (it, Role::Check));
    let fit: Vec<StyledLine> = first.chain(fit).chain(misclosure).flat_map(wrap).collect();
    let small = small(state, step).into_iter();
    let small: Vec<StyledLine> = small
        .flat_map(|line| line.wrapped(usize::from(area), 2))
        .collect();
    let height = pen.area.height;
    // The title, the bar, and what is said are never left out for larger figures.
    let said = cells(fit.len() + small.len());
    let room = height.saturating_sub(2 + said);
    let (ways, named) = ways(state, step);
    let mut y = 2;
    for line in &fit {
        pen.line(1, y, line);
        y += 1;
    }
    let mut found = large::chosen(pen.theme, &ways, (area, room));
    let other = large::chosen(pen.theme, &named, (area, room));
    // A long number is no reason to set all others small.
    if let Some((_, size)) = &other
        && found
            .as_ref()
            .is_none_or(|(_, own)| 2 * own.rows() <= size.rows())
    {
        found = other;
    }
    if let Some((rows, size)) = found {
        let end = large::draw(&mut pen.part(1, y, area, room), &rows, size);
        y += end.min(room);
    } else if let Some(way) = ways.first() {
        // Figures with signs that there are no large ones of, or too long for any: in plain letters.
        for figure in way.iter().flatten() {
            let line = StyledLine::of(format!("{}: ", figure.label), Role::Label)
                .and(&figure.text, Role::Figure)
                .and(format!(" {}", figure.after.join(" ")), Role::Plain);
            pen.line(1, y, &line);
            y += 1;
        }
    }
    for line in &small {
        pen.line(1, y, line);
        y += 1;
    }
    // What was entered last, as far as there is room.
    if pen.area.width < TWO_PANES {
        let rows = usize::from(height.saturating_sub(y + 1));
        for entry in coming::entries(state, rows.min(3)) {
            y += 1;
            let line = coming::line(entry).wrapped(usize::from(area), 2);
            if let Some(line) = line.first() {
                pen.line(1, y, line);
            }
        }
    }
}

/// Ways to set figures in rows.
type Ways = Vec<Vec<Vec<Large>>>;

/// The figures that matter, in the ways in which they can be set in rows, and those in which the number of the joint is in
/// plain letters. Of a conductor that is cut none does.
fn ways(state: &State, step: &RunStep) -> (Ways, Ways) {
    let Some((_, _, figures)) = state.current() else {
        return Default::default();
    };
    if figures.cut.is_cut() {
        return Default::default();
    }
    let landing = landing(state, step);
    let Some((number, serial, length)) = next(state, step) else {
        return (vec![vec![landing.into_iter().collect()]], Vec::new());
    };
    let beside = |after: Option<&Large>| {
        let mut number = number.clone();
        number.after.extend(after.map(|it| it.text.clone()));
        number
    };
    let rows = |rows: Vec<Vec<Option<&Large>>>| -> Vec<Vec<Large>> {
        let rows = rows.into_iter();
        let rows = rows.map(|row| row.into_iter().flatten().cloned().collect::<Vec<_>>());
        rows.filter(|row| !row.is_empty()).collect()
    };
    let (serial, length, landing) = (serial.as_ref(), length.as_ref(), landing.as_ref());
    let with_serial = beside(serial);
    let mut ways = vec![
        rows(vec![
            vec![Some(&number), serial],
            vec![length],
            vec![landing],
        ]),
        rows(vec![vec![Some(&number), serial], vec![length, landing]]),
        rows(vec![vec![Some(&with_serial)], vec![length], vec![landing]]),
        rows(vec![vec![Some(&with_serial)], vec![length, landing]]),
        rows(vec![vec![Some(&with_serial), length], vec![landing]]),
    ];
    // A number that is too long, or has signs that there are no large ones of, stands over the length in plain letters.
    let named = length.map(|length| Large {
        label: words::next_and_its_length(&number.text, serial.map(|it| it.text.as_str())),
        ..length.clone()
    });
    let named = vec![
        rows(vec![vec![named.as_ref()], vec![landing]]),
        rows(vec![vec![named.as_ref(), landing]]),
    ];
    ways.retain(|way| !way.is_empty());
    (ways, named)
}

/// The next joint: its number, its serial, its length.
fn next(state: &State, step: &RunStep) -> Option<(Large, Option<Large>, Option<Large>)> {
    let tally = state.inputs.tallies.get(state.slot_index())?;
    let joint = tally.joints.get(step.next?)?;
    let kind = joint.kind.filter(|kind| *kind != Kind::Joint);
    let large = |label: String, text: &str, after: &str| Large {
        label,
        text: text.to_owned(),
        after: if after.is_empty() {
            Vec::new()
        } else {
            vec![after.to_owned()]
        },
        role: Role::Figure,
    };
    let number = large(words::next_is(kind), &joint.number, "");
    let serial = joint.serial.as_deref();
    let serial = serial.map(|serial| large(words::ITS_SERIAL.to_owned(), serial, ""));
    let length = joint.length;
    let length = length.map(|length| {
        let label = words::its_length(joint.overall().is_none());
        large(label.to_owned(), &state.show.number(length), unit(state))
    });
    Some((number, serial, length))
}

/// What is still to lower, or the stick-up at landing.
fn landing(state: &State, step: &RunStep) -> Option<Large> {
    let stick_up = step.stick_up_at_place?;
    let (_, _, figures) = state.current()?;
    let (unit, surface) = (unit(state), surface(state));
    if hangs(figures)
        && let Some(left) = state.figures.running.get(state.slot_index())
        && let Some(left) = left.still_to_lower
    {
        return Some(Large {
            label: words::still_to_lower_as_it_hangs(left.is_negative()).to_owned(),
            text: state.show.number(left.abs()),
            after: vec![unit.to_owned()],
            role: Role::Figure,
        });
    }
    let mut after = Vec::new();
    let is_planned = figures.chain.basis == Basis::Planned;
    let label = if stick_up.is_negative() && step.next.is_some() {
        after.push(unit.to_owned());
        words::still_to_lower(surface)
    } else {
        let side = words::side_of_surface(stick_up);
        after.push(format!("{unit} {side}").trim().to_owned());
        after.push(surface.to_owned());
        let read = figures.chain.basis == Basis::Read && step.next.is_none();
        let label = if read {
            words::STICK_UP_READ
        } else {
            words::STICK_UP_AT_LANDING
        };
        label.to_owned()
    };
    after.retain(|word| !word.is_empty());
    let label = if is_planned {
        words::as_planned(&label)
    } else {
        label
    };
    Some(Large {
        label,
        text: state.show.number(stick_up.abs()),
        after,
        role: Role::Figure,
    })
}

/// What else there is to know, in plain letters: the shoe, the string so far, loads.
fn small(state: &State, step: &RunStep) -> Vec<StyledLine> {
    let mut line = StyledLine::of(words::STRING_SO_FAR, Role::Label)
        .and(format!("{}   ", state.show.text(step.length)), Role::Plain);
    if let Some((label, depth)) = shoe(state, step) {
        line = line
            .and(format!("{label} "), Role::Label)
            .and(depth, Role::Plain);
    }
    let mut lines = vec![line];
    let loads = said::loads(state).into_iter();
    lines.extend(loads.map(|text| StyledLine::of(text, Role::Label)));
    lines
}

/// The shoe: where it was landed once all joints are run; before, with the top at the spider; nothing
/// but lengths without a basis.
fn shoe(state: &State, step: &RunStep) -> Option<(String, String)> {
    step.stick_up_at_place?;
    let (_, _, figures) = state.current()?;
    let landed = figures.chain.basis == Basis::Read && step.next.is_none();
    let (label, depth) = if landed {
        let label = if hangs(figures) {
            words::SHOE_AS_IT_HANGS
        } else {
            words::SHOE_AS_LANDED
        };
        let label = label.to_owned();
        (label, figures.chain.rotary.depth_of(figures.chain.shoe?))
    } else {
        let label = words::shoe_depth(surface(state));
        (label, step.shoe_below_rotary)
    };
    Some((label, words::from_rt(depth.downward(), state.show)))
}
