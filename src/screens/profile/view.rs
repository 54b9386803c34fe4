//! Profile: all conductors side by side to scale. On a wide terminal what the cursor reads and what lies on the conductor
//! in front stand beside them, and on a very wide one the cut as it is set out.

use super::picture::{Picture, scene};
use super::scale::Scale;
use super::stops::{TWO_PANES, listed, near_cut, picture_rows};
use crate::figures::CutStatus;
use crate::report::scene::Scene;
use crate::report::words;
use crate::screens::parts::pen::{Pen, StyledLine, cells, width};
use crate::screens::state::State;
use crate::screens::theme::Role;

/// From so many columns on the cut stands between them.
const THREE_PANES: u16 = 170;
/// Columns of what the cursor reads, and of the cut.
const READING: u16 = 42;
const DETAIL: u16 = 60;

/// Draws it.
pub fn draw(state: &State, pen: &mut Pen<'_>) {
    let (columns, body) = (pen.area.width, pen.area.height);
    let rows = cells(picture_rows(columns, usize::from(body)));
    let scale = Scale {
        view: state.view,
        rows,
    };
    let scene = scene(state, &scale);
    let front = state.slot_index();
    let picture = Picture {
        state,
        scene: &scene,
        scale,
        beside: true,
        is_listed: columns >= TWO_PANES,
        front,
        cursor: Some(state.view.cursor),
    };
    if columns < TWO_PANES {
        picture.draw(&mut pen.part(0, 0, columns, rows + 1));
        let names = names(&scene, state);
        for (row, line) in reading(state, &names).into_iter().enumerate() {
            pen.line(1, rows + 1 + cells(row), &line);
        }
        return;
    }
    let beside = if columns < THREE_PANES {
        READING
    } else {
        READING + DETAIL
    };
    let wide = (columns - beside).min(picture.wanted());
    picture.draw(&mut pen.part(0, 0, wide, body));
    if columns >= THREE_PANES {
        pen.upright(wide, 0, body);
        cut(state, &mut pen.part(wide + 2, 0, DETAIL - 3, body), front);
    }
    let from = if columns < THREE_PANES {
        wide
    } else {
        wide + DETAIL
    };
    pen.upright(from, 0, body);
    let room = columns.saturating_sub(from + 3);
    let mut part = pen.part(from + 2, 0, room, body);
    pane(state, &mut part, &scene, front);
}

/// One conductor alone, with the levels that it is seen against.
pub fn small(state: &State, pen: &mut Pen<'_>, slot: usize) {
    let rows = pen.area.height.saturating_sub(1);
    let view = state.whole_view();
    one(state, pen, slot, Scale { view, rows });
}

/// The cut of one conductor from so near that the blade and the uncertainty of the line are seen.
fn cut(state: &State, pen: &mut Pen<'_>, slot: usize) {
    let Some(view) = near_cut(state, slot) else {
        return;
    };
    let rows = pen.area.height.saturating_sub(1);
    one(state, pen, slot, Scale { view, rows });
}

fn one(state: &State, pen: &mut Pen<'_>, slot: usize, scale: Scale) {
    let scene = scene(state, &scale);
    Picture {
        state,
        scene: &scene,
        scale,
        beside: false,
        is_listed: false,
        front: slot,
        cursor: None,
    }
    .draw(pen);
}

/// What the cursor reads, and what lies on the conductor in front, from the top.
fn pane(state: &State, pen: &mut Pen<'_>, scene: &Scene, front: usize) {
    let Some(lane) = scene.lanes.get(front) else {
        return;
    };
    let room = usize::from(pen.area.width);
    let mut y = 0;
    for line in reading(state, &names(scene, state)) {
        for line in line.wrapped(room, 2) {
            pen.line(0, y, &line);
            y += 1;
        }
    }
    y += 1;
    pen.text(0, y, &words::on_slot(&lane.name), Role::Label);
    y += 1;
    let listed = listed(scene, lane);
    let numbers: Vec<String> = listed
        .iter()
        .map(|(at, ..)| state.show.signed(at.height()))
        .collect();
    let wide = numbers.iter().map(|it| width(it)).max().unwrap_or(0);
    for ((at, word, role), number) in listed.into_iter().zip(numbers) {
        let text = StyledLine::of(format!("{number:>wide$}  "), Role::Plain).and(word, role);
        for line in text.wrapped(room, wide + 2) {
            pen.line(0, y, &line);
            if at == state.view.cursor {
                pen.select(0, y, pen.area.width);
            }
            y += 1;
        }
    }
}

/// What lies just where the cursor is.
fn names(scene: &Scene, state: &State) -> String {
    let lane = scene.lanes.get(state.slot_index());
    let listed = lane.into_iter().flat_map(|lane| listed(scene, lane));
    let here = listed.filter(|(at, ..)| *at == state.view.cursor);
    let names: Vec<String> = here.map(|(_, word, _)| word).collect();
    names.join(", ")
}

/// What the cursor reads: its elevation, its depth below each rotary table, and where it lies on the
/// conductor in front.
fn reading(state: &State, names: &str) -> Vec<StyledLine> {
    let show = state.show;
    let job = &state.inputs.job;
    let cursor = state.view.cursor;
    let mut first = StyledLine::of(
        format!("{} above {}", show.text(cursor.height()), job.sea_datum),
        Role::Figure,
    );
    // Where no mark may be set out, nothing is given that could be one.
    if let Some(why) = withheld(state) {
        let status = StyledLine::of(format!(" {} ", why.0), why.1);
        let here = StyledLine::of(format!("{names}   "), Role::Cut);
        return vec![first, status, here.and(why.2, Role::Label)];
    }
    for hull in &job.hulls {
        // As the slot in front has it, whose marks are read here.
        let of_slot = state.current();
        let rotary = of_slot.map_or(hull.rotary, |(slot, _, figures)| {
            figures.chain.rotary_at(slot, job, hull)
        });
        let words = words::from_rotary(cursor, rotary, &hull.name, show);
        first = first.and(format!("   {words}"), Role::Plain);
    }
    let Some((slot, _, figures)) = state.current() else {
        return vec![first];
    };
    let mut second = StyledLine::of(format!("Slot {}: ", slot.name), Role::Title);
    let on = figures
        .chain
        .piece_at(cursor)
        .and_then(|piece| Some((piece, cursor - figures.chain.lower_plane(piece)?)));
    second = match on {
        Some((piece, height)) => {
            let nearest = figures
                .connections
                .iter()
                .map(|connection| connection.distance(cursor, cursor))
                .min();
            let number = state.number(state.slot_index(), piece);
            second.and(words::on_joint(number, height, nearest, show), Role::Plain)
        }
        None => second.and("not on the conductor", Role::Plain),
    };
    let mudline = words::from_mudline(cursor, job.mudline(slot), &slot.name, show);
    let here = if names.is_empty() {
        StyledLine::default()
    } else {
        StyledLine::of(format!("{names}   "), Role::Cut)
    };
    vec![first, second, here.and(mudline, Role::Plain)]
}

/// Why no distance is read off the profile, where none may be set out: the state of the slot, its look, and the reason.
fn withheld(state: &State) -> Option<(String, Role, String)> {
    let (_, _, figures) = state.current()?;
    if state.old.is_some() {
        let state = words::OLD_STATE.to_owned();
        return Some((state, Role::Old, words::OLD_MARKS.to_owned()));
    }
    let standing = state.figures.standings.get(state.slot_index())?;
    if standing.status != CutStatus::Stop {
        return None;
    }
    let why = words::no_marks(figures, standing, state.show).unwrap_or_default();
    Some((words::cut_state(standing), Role::Stop, why))
}
