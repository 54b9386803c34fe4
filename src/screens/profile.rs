//! Profile: all conductors side by side to scale, against the sea, the seabed, the deck and the
//! rotary table at each hull position.

use super::pen::{Line, Pen, cells, width};
use super::state::{State, View};
use super::theme::Role;
use super::update::Step;
use crate::figures::SlotFigures;
use crate::job::Slot;
use crate::measure::{Elevation, Length};

/// The width of the column of elevations.
const GUTTER: u16 = 22;
/// The width of a pipe in a lane: wide lanes show wide pipes.
const fn pipe_in(lane: u16) -> u16 {
    if lane < 26 { 3 } else { 5 }
}

/// The least width of a slot's lane.
const LANE: u16 = 9;

/// Rows of the picture: what is left beside the head and the two lines of what the cursor reads.
fn picture_rows(body: usize) -> usize {
    body.saturating_sub(3).max(1)
}

fn times(length: Length, top: usize, below: usize) -> Length {
    let top = i64::try_from(top).unwrap_or(1);
    let below = i64::try_from(below).unwrap_or(1).max(1);
    Length::from_nm(length.nm() / below).times(top)
}

/// Moves the cursor by rows, or to an end; the view follows.
pub(super) fn step(state: &mut State, step: Step) {
    let rows = picture_rows(state.body_rows());
    let whole = state.whole_view();
    let view = &mut state.view;
    let bottom = whole.top - whole.span;
    let cursor = match step {
        Step::Back(by) => view.cursor + times(view.span, by, rows),
        Step::On(by) => view.cursor - times(view.span, by, rows),
        Step::First => whole.top,
        Step::Last => bottom,
    };
    view.cursor = cursor.min(whole.top).max(bottom);
    follow(view);
}

/// Brings the cursor into sight.
fn follow(view: &mut View) {
    let edge = times(view.span, 1, 50);
    if view.cursor > view.top {
        view.top = view.cursor + edge;
    } else if view.cursor <= view.top - view.span {
        view.top = view.cursor + view.span - edge;
    }
}

/// Half as much in sight, or twice as much, about the cursor.
pub(super) fn zoom(state: &mut State, closer: bool) {
    let whole = state.whole_view();
    let view = &mut state.view;
    let span = if closer {
        times(view.span, 1, 2).max(Length::from_mm(500))
    } else {
        times(view.span, 2, 1)
    };
    if span >= whole.span {
        let cursor = view.cursor;
        state.view = View { cursor, ..whole };
        return;
    }
    // The cursor stays where it is on the screen.
    let above = view.top - view.cursor;
    let above = if closer {
        times(above, 1, 2)
    } else {
        times(above, 2, 1)
    };
    view.span = span;
    view.top = view.cursor + above;
    follow(view);
}

/// Where elevations lie on the rows of the picture.
struct Scale {
    view: View,
    rows: u16,
}

impl Scale {
    /// The row of an elevation; negative above the picture.
    fn row(&self, elevation: Elevation) -> i64 {
        let below = i128::from((self.view.top - elevation).nm());
        let row =
            (below * i128::from(self.rows)).div_euclid(i128::from(self.view.span.nm().max(1)));
        i64::try_from(row).unwrap_or(i64::MAX)
    }

    /// The row where it is in the picture.
    fn seen(&self, elevation: Elevation) -> Option<u16> {
        let row = u16::try_from(self.row(elevation)).ok()?;
        (row < self.rows).then_some(row)
    }

    /// The rows between two elevations, as far as they are in the picture.
    fn span(&self, high: Elevation, low: Elevation) -> std::ops::Range<u16> {
        let clip = |row: i64| u16::try_from(row.clamp(0, i64::from(self.rows))).unwrap_or(0);
        clip(self.row(high))..clip(self.row(low).saturating_add(1))
    }
}

pub(super) fn draw(state: &State, pen: &mut Pen<'_>) {
    let rows = cells(picture_rows(usize::from(pen.area.height)));
    let scale = Scale {
        view: state.view,
        rows,
    };
    let width = pen.area.width;
    lanes(state, pen, &scale);
    {
        let mut picture = pen.part(0, 1, width, rows);
        lines(state, &mut picture, &scale);
    }
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
    let first = state
        .slot
        .saturating_sub(fit / 2)
        .min(count.saturating_sub(fit));
    let lane = (room / cells(fit)).min(34);
    if fit < count {
        let text = format!("{} to {} of {count}", first + 1, first + fit);
        pen.text(0, 0, &text, Role::Label);
    } else {
        let text = format!(
            "{} above {}",
            state.show.heading(),
            state.folder.job.sea_datum
        );
        pen.text(0, 0, &text, Role::Label);
    }
    for position in 0..fit {
        let index = first + position;
        let Some((slot, _, figures)) = state.of(index) else {
            continue;
        };
        let x = GUTTER + cells(position) * lane;
        let name = format!(" {} ", slot.name);
        let role = if index == state.slot {
            Role::Selected
        } else {
            Role::Title
        };
        let end = pen.text(x, 0, &name, role);
        let word = figures.basis.word();
        if usize::from(lane) > width(&name) + word.len() + 1 {
            pen.text(end + 1, 0, word, Role::Label);
        }
        let mut part = pen.part(x, 1, lane.saturating_sub(1), scale.rows);
        conductor(state, &mut part, scale, index, slot, figures);
    }
}

/// One sign across the pipe.
fn across(pen: &mut Pen<'_>, row: u16, signs: [char; 3], role: Role) {
    let [left, middle, right] = signs;
    let pipe = pipe_in(pen.area.width);
    for x in 0..pipe {
        let sign = match x {
            0 => left,
            x if x + 1 == pipe => right,
            _ => middle,
        };
        pen.sign(x + 1, row, sign, role);
    }
}

fn conductor(
    state: &State,
    pen: &mut Pen<'_>,
    scale: &Scale,
    index: usize,
    slot: &Slot,
    figures: &SlotFigures,
) {
    let job = &state.folder.job;
    let glyphs = pen.theme.glyphs;
    let pipe = pipe_in(pen.area.width);
    let mut labels: Vec<(u16, String, Role)> = Vec::new();
    let mut label = |elevation: Elevation, word: &str, role: Role| {
        if let Some(row) = scale.seen(elevation) {
            let number = state.show.number(elevation.height());
            labels.push((row, format!("{word} {number}"), role));
        }
    };
    label(figures.cut.target, "cut", Role::Cut);
    if let Some(elevation) = figures.shoulder.and_then(|shoulder| shoulder.elevation) {
        label(elevation, "shoulder", Role::Shoulder);
    }
    let cut = figures.cut.is_cut();
    if let Some((top, shoe)) = figures.top.zip(figures.shoe) {
        if !cut {
            label(top, "top", Role::Plain);
        }
        label(shoe, "shoe", Role::Plain);
        for row in scale.span(top, shoe) {
            let above = i64::from(row) < scale.row(figures.cut.target);
            let (wall, role) = match (above, cut) {
                (true, true) => continue,
                (true, false) => (glyphs.gone, Role::Label),
                _ => (glyphs.wall, Role::Steel),
            };
            across(pen, row, [wall, ' ', wall], role);
        }
        let kept = |elevation: Elevation| !(cut && elevation > figures.cut.target);
        for connection in &figures.connections {
            if let Some(row) = scale
                .seen(connection.plane)
                .filter(|_| kept(connection.plane))
            {
                across(pen, row, glyphs.joint, Role::Steel);
            }
        }
        if let Some(row) = scale.seen(top).filter(|_| !cut) {
            across(pen, row, glyphs.top, Role::Steel);
        }
        if let Some(row) = scale.seen(shoe) {
            across(pen, row, glyphs.shoe, Role::Steel);
        }
    } else {
        pen.text(0, scale.rows / 2, "no basis", Role::Label);
    }
    for place in &figures.accessories {
        let Some(accessory) = job.accessories.get(place.accessory) else {
            continue;
        };
        if let Some(row) = place.elevation.and_then(|elevation| scale.seen(elevation)) {
            across(pen, row, glyphs.accessory, Role::Accessory);
            labels.push((row, accessory.name.clone(), Role::Accessory));
        }
    }
    if let Some(row) = figures
        .shoulder
        .and_then(|shoulder| scale.seen(shoulder.elevation?))
    {
        let [left, body, right] = glyphs.shoulder;
        across(pen, row, [body; 3], Role::Shoulder);
        pen.sign(0, row, left, Role::Shoulder);
        pen.sign(pipe + 1, row, right, Role::Shoulder);
    }
    if let Some(row) = scale.seen(figures.cut.target) {
        for x in 0..pipe + 2 {
            pen.sign(x, row, glyphs.cut, Role::Cut);
        }
    }
    let mut free: Vec<u16> = (0..scale.rows).collect();
    for (row, text, role) in labels {
        let near = [row, row.saturating_sub(1), row + 1];
        if let Some(row) = near.into_iter().find(|row| free.contains(row)) {
            free.retain(|other| *other != row);
            let fits = usize::from(pen.area.width.saturating_sub(pipe + 3));
            let short = text
                .rsplit_once(' ')
                .filter(|(_, number)| number.starts_with(is_numeric));
            let text = match short {
                Some((word, _)) if width(&text) > fits => word,
                _ => text.as_str(),
            };
            pen.text(pipe + 3, row, text, role);
        }
    }
    ground(pen, scale, job.mudline(slot));
    for keep_out in job.keep_outs.iter().filter(|it| it.slots.has(index)) {
        for row in scale.span(keep_out.to, keep_out.from) {
            fill(pen, row, glyphs.keep_out, Role::KeepOut, pipe + 2);
        }
    }
}

fn is_numeric(sign: char) -> bool {
    sign == '-' || sign.is_ascii_digit()
}

/// Fills what is free of a row.
fn fill(pen: &mut Pen<'_>, row: u16, sign: char, role: Role, limit: u16) {
    for x in 0..pen.area.width.min(limit) {
        if pen.is_free(x, row) {
            pen.sign(x, row, sign, role);
        }
    }
}

fn ground(pen: &mut Pen<'_>, scale: &Scale, mudline: Elevation) {
    let glyphs = pen.theme.glyphs;
    if let Some(row) = scale.seen(mudline) {
        fill(pen, row, glyphs.mudline, Role::Ground, u16::MAX);
    }
    let from = scale.row(mudline).saturating_add(1).max(0);
    let from = u16::try_from(from).unwrap_or(u16::MAX);
    for row in from..scale.rows {
        // A sparse pattern, so that figures stay easy to read.
        for x in (row % 4..pen.area.width).step_by(4) {
            if pen.is_free(x, row) {
                pen.sign(x, row, glyphs.ground, Role::Ground);
            }
        }
    }
}

/// The levels that all conductors are seen against, and the cursor.
fn lines(state: &State, pen: &mut Pen<'_>, scale: &Scale) {
    let job = &state.folder.job;
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
    let mut used: Vec<u16> = Vec::new();
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
        if used.contains(&row) {
            continue;
        }
        used.push(row);
        let number = state.show.signed(elevation.height());
        let mut part = pen.part(1, row, GUTTER - 2, 1);
        let end = part.text(0, 0, &format!("{number:>8} "), Role::Plain);
        part.text(end, 0, &name, role);
    }
    if let Some(row) = cursor {
        let number = state.show.signed(state.view.cursor.height());
        let here = glyphs.here;
        let mut part = pen.part(0, row, GUTTER - 1, 1);
        part.sign(0, 0, here, Role::Title);
        if !used.contains(&row) {
            part.text(1, 0, &format!("{number:>8} "), Role::Plain);
        }
        part.select(0, 0, GUTTER - 1);
    }
}

/// What the cursor reads: its elevation, its depth below each rotary table, and where it lies on the
/// conductor in front.
fn reading(state: &State) -> Vec<Line> {
    let show = state.show;
    let job = &state.folder.job;
    let cursor = state.view.cursor;
    let mut first = Line::of(
        format!("{} above {}", show.text(cursor.height()), job.sea_datum),
        Role::Figure,
    );
    for hull in &job.hulls {
        let depth = hull.rotary.depth_of(cursor).downward();
        let side = if depth.is_negative() {
            "above"
        } else {
            "below"
        };
        first = first.and(
            format!("   {} {side} RT {}", show.text(depth.abs()), hull.name),
            Role::Plain,
        );
    }
    let Some((slot, _, figures)) = state.current() else {
        return vec![first];
    };
    let mut second = Line::of(format!("Slot {}: ", slot.name), Role::Title);
    let on = figures.shoe.map(|shoe| cursor - shoe).and_then(|height| {
        let piece = figures.string.piece_at(height)?;
        Some((piece, height - figures.string.pieces.get(piece)?.lower))
    });
    second = match on {
        Some((piece, height)) => {
            let nearest = figures
                .connections
                .iter()
                .map(|connection| connection.distance(cursor, cursor))
                .min();
            let nearest = nearest.map_or_else(String::new, |nearest| {
                format!("; a connection {} off", show.text(nearest))
            });
            second.and(
                format!(
                    "on {}, {} above its lower plane{nearest}",
                    state.number(state.slot, piece),
                    show.text(height)
                ),
                Role::Plain,
            )
        }
        None => second.and("not on the conductor", Role::Plain),
    };
    let mudline = cursor - job.mudline(slot);
    let side = if mudline.is_negative() {
        "below"
    } else {
        "above"
    };
    second = second.and(
        format!("; {} {side} mudline", show.text(mudline.abs())),
        Role::Plain,
    );
    vec![first, second]
}
