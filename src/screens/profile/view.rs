//! Profile: all conductors side by side to scale, against the sea, the seabed, the deck and the
//! rotary table at each hull position.

use super::lane::{Scale, conductor};
use super::update::picture_rows;
use crate::measure::{Elevation, Length};
use crate::report::words;
use crate::screens::parts::pen::{Pen, StyledLine, cells, width};
use crate::screens::state::State;
use crate::screens::theme::Role;

/// The width of the column of elevations.
const GUTTER: u16 = 22;
/// The least width of a slot's lane.
const LANE: u16 = 9;

/// What the slot in front needs for its longest figure in feet and inches.
const FRONT: u16 = 30;

pub fn draw(state: &State, pen: &mut Pen<'_>) {
    let rows = cells(picture_rows(usize::from(pen.area.height)));
    let scale = Scale {
        view: state.view,
        rows,
    };
    let width = pen.area.width;
    // What lies behind is drawn first: nothing of it may run through a figure.
    {
        let mut picture = pen.part(0, 1, width, rows);
        lines(state, &mut picture, &scale);
    }
    lanes(state, pen, &scale);
    let read = reading(state);
    for (row, line) in read.into_iter().enumerate() {
        pen.line(1, rows + 1 + cells(row), &line);
    }
}

/// The slots that have room, about the one in front.
fn lanes(state: &State, pen: &mut Pen<'_>, scale: &Scale) {
    let count = state.figures.slots.len();
    let room = pen.area.width.saturating_sub(GUTTER);
    let fit = usize::from(room / LANE).clamp(1, count.max(1));
    let in_front = state.slot_index();
    let first = in_front
        .saturating_sub(fit / 2)
        .min(count.saturating_sub(fit));
    // The slot in front has room for its figures first, whatever is left to the others.
    let least = LANE * cells(fit.saturating_sub(1));
    let even = (room / cells(fit)).min(34);
    let front = even.max(FRONT.min(room.saturating_sub(least)));
    let other = match fit.saturating_sub(1) {
        0 => 0,
        others => (room.saturating_sub(front) / cells(others)).min(34),
    };
    if fit < count {
        let text = format!("{} to {} of {count}", first + 1, first + fit);
        pen.text(0, 0, &text, Role::Label);
    } else {
        let text = format!(
            "{} above {}",
            state.show.heading(),
            state.inputs.job.sea_datum
        );
        pen.text(0, 0, &text, Role::Label);
    }
    let mut from = GUTTER;
    for position in 0..fit {
        let index = first + position;
        let Some((slot, _, figures)) = state.of(index) else {
            continue;
        };
        let lane = if index == in_front { front } else { other };
        let x = from;
        from += lane;
        let name = format!(" {} ", slot.name);
        let role = if index == in_front {
            Role::Selected
        } else {
            Role::Title
        };
        let end = pen.text(x, 0, &name, role);
        let word = words::elevations_by(&figures.chain);
        if usize::from(lane) > width(&name) + word.len() + 1 {
            pen.text(end + 1, 0, word, Role::Label);
        }
        let mut part = pen.part(x, 1, lane.saturating_sub(1), scale.rows);
        conductor(state, &mut part, scale, index, slot, figures);
    }
}

/// The levels that all conductors are seen against, and the cursor.
fn lines(state: &State, pen: &mut Pen<'_>, scale: &Scale) {
    let job = &state.inputs.job;
    let glyphs = pen.theme.glyphs;
    let zero = Elevation::above_datum(Length::ZERO);
    let mut levels = vec![
        (
            job.deck.elevation,
            "deck".to_owned(),
            glyphs.line,
            Role::Label,
        ),
        (
            job.site.mudline,
            "mudline".to_owned(),
            glyphs.line,
            Role::Label,
        ),
        (zero, job.sea_datum.clone(), glyphs.sea, Role::Water),
    ];
    levels.extend(job.hulls.iter().map(|hull| {
        let name = format!("RT {}", hull.name);
        (hull.rotary, name, glyphs.line, Role::Label)
    }));
    levels.extend(
        job.keep_outs
            .iter()
            .map(|keep_out| (keep_out.to, keep_out.why.clone(), ' ', Role::KeepOut)),
    );
    let cursor = scale.seen(state.view.cursor);
    // For each row the cell after what is written on it.
    let mut ends: Vec<(u16, u16)> = Vec::new();
    for (elevation, name, sign, role) in levels {
        let Some(row) = scale.seen(elevation) else {
            continue;
        };
        if sign != ' ' {
            for x in (GUTTER..pen.area.width).step_by(2) {
                if pen.is_free(x, row) {
                    pen.sign(x, row, sign, role);
                }
            }
        }
        let number = state.show.signed(elevation.height());
        let mut part = pen.part(1, row, GUTTER - 2, 1);
        if let Some(place) = ends.iter_mut().find(|(other, _)| *other == row) {
            // Another level has the row: after it, whole or not at all.
            let beside = format!(", {number} ");
            if usize::from(place.1) + width(&beside) + width(&name) <= usize::from(GUTTER - 2) {
                let end = part.text(place.1, 0, &beside, Role::Plain);
                place.1 = part.text(end, 0, &name, role);
            }
            continue;
        }
        let end = part.text(0, 0, &format!("{number:>8} "), Role::Plain);
        ends.push((row, part.text(end, 0, &name, role)));
    }
    if let Some(row) = cursor {
        let number = state.show.signed(state.view.cursor.height());
        let here = glyphs.here;
        let mut part = pen.part(0, row, GUTTER - 1, 1);
        part.sign(0, 0, here, Role::Title);
        if !ends.iter().any(|(other, _)| *other == row) {
            part.text(1, 0, &format!("{number:>8} "), Role::Plain);
        }
        part.select(0, 0, GUTTER - 1);
    }
}

/// What the cursor reads: its elevation, its depth below each rotary table, and where it lies on the
/// conductor in front.
fn reading(state: &State) -> Vec<StyledLine> {
    let show = state.show;
    let job = &state.inputs.job;
    let cursor = state.view.cursor;
    let mut first = StyledLine::of(
        format!("{} above {}", show.text(cursor.height()), job.sea_datum),
        Role::Figure,
    );
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
    let third = StyledLine::of(
        words::from_mudline(cursor, job.mudline(slot), &slot.name, show),
        Role::Plain,
    );
    vec![first, second, third]
}
