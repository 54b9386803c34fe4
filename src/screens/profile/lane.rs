//! One lane of the profile: a conductor to scale, with what lies on it and beside it.

use super::View;
use crate::figures::SlotFigures;
use crate::job::Slot;
use crate::measure::Elevation;
use crate::screens::parts::pen::{Pen, cells, width};
use crate::screens::state::State;
use crate::screens::theme::Role;

/// The width of a pipe in a lane: wide lanes show wide pipes.
const fn pipe_in(lane: u16) -> u16 {
    if lane < 26 { 3 } else { 5 }
}

/// Where elevations lie on the rows of the picture.
pub struct Scale {
    pub view: View,
    pub rows: u16,
}

impl Scale {
    /// The row of an elevation; negative above the picture.
    pub fn row(&self, elevation: Elevation) -> i64 {
        let below = i128::from((self.view.top - elevation).nm());
        let row =
            (below * i128::from(self.rows)).div_euclid(i128::from(self.view.span.nm().max(1)));
        i64::try_from(row).unwrap_or(i64::MAX)
    }

    /// The row where it is in the picture.
    pub fn seen(&self, elevation: Elevation) -> Option<u16> {
        let row = u16::try_from(self.row(elevation)).ok()?;
        (row < self.rows).then_some(row)
    }

    /// The rows between two elevations, as far as they are in the picture.
    pub fn span(&self, high: Elevation, low: Elevation) -> std::ops::Range<u16> {
        let clip = |row: i64| u16::try_from(row.clamp(0, i64::from(self.rows))).unwrap_or(0);
        clip(self.row(high))..clip(self.row(low).saturating_add(1))
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

pub fn conductor(
    state: &State,
    pen: &mut Pen<'_>,
    scale: &Scale,
    index: usize,
    slot: &Slot,
    figures: &SlotFigures,
) {
    let glyphs = pen.theme.glyphs;
    let pipe = pipe_in(pen.area.width);
    // What lies behind first: nothing of it may run through a figure.
    behind(state, pen, scale, index, slot);
    steel(pen, scale, figures);
    for place in &figures.accessories {
        if let Some(row) = place.elevation.and_then(|elevation| scale.seen(elevation)) {
            across(pen, row, glyphs.accessory, Role::Accessory);
        }
    }
    if let Some(row) = figures
        .chain
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
    write_labels(pen, scale, pipe + 3, labels(state, figures));
}

/// Writes each label on the row of its elevation and on no other: a label on another row would be read
/// as a figure of that row. Where two want one row, the less important stands after the other if all of
/// it fits, and is left out otherwise.
fn write_labels(pen: &mut Pen<'_>, scale: &Scale, from: u16, labels: Vec<Label>) {
    const BETWEEN: &str = ", ";
    // For each row the cell after what is written on it.
    let mut ends: Vec<(u16, u16)> = Vec::new();
    for label in labels {
        let Some(row) = scale.seen(label.at) else {
            continue;
        };
        let taken = ends.iter().position(|(other, _)| *other == row);
        let end = taken.and_then(|at| ends.get(at)).map(|(_, end)| *end);
        let x = end.map_or(from, |end| end + cells(width(BETWEEN)));
        let text = label.text(usize::from(pen.area.width.saturating_sub(x)));
        // A word without its figure beside another figure would be taken for a name of that one.
        let lacks_figure = end.is_some() && label.number.is_some() && text == label.word;
        if text.is_empty() || lacks_figure {
            continue;
        }
        if let Some(end) = end {
            pen.text(end, row, BETWEEN, Role::Label);
        }
        let end = pen.text(x, row, &text, label.role);
        match taken.and_then(|at| ends.get_mut(at)) {
            Some(place) => place.1 = end,
            None => ends.push((row, end)),
        }
    }
    // A space after them keeps them off the lines behind.
    for (row, end) in ends {
        pen.text(end, row, " ", Role::Plain);
    }
}

/// The seabed and the keep-outs.
fn behind(state: &State, pen: &mut Pen<'_>, scale: &Scale, index: usize, slot: &Slot) {
    let job = &state.inputs.job;
    let (sign, pipe) = (pen.theme.glyphs.keep_out, pipe_in(pen.area.width));
    ground(pen, scale, job.mudline(slot));
    for keep_out in job.keep_outs.iter().filter(|it| it.slots.has(index)) {
        for row in scale.span(keep_out.to, keep_out.from) {
            for x in 0..pipe + 2 {
                pen.sign(x, row, sign, Role::KeepOut);
            }
        }
    }
}

/// The pipe with its connections; what is cut off is gone.
fn steel(pen: &mut Pen<'_>, scale: &Scale, figures: &SlotFigures) {
    let glyphs = pen.theme.glyphs;
    let (cut, target) = (figures.cut.is_cut(), figures.cut.target);
    let Some((top, shoe)) = figures.chain.top.zip(figures.chain.shoe) else {
        pen.text(0, scale.rows / 2, "no basis", Role::Label);
        return;
    };
    for row in scale.span(top, shoe) {
        let above = i64::from(row) < scale.row(target);
        let (wall, role) = match (above, cut) {
            (true, true) => continue,
            (true, false) => (glyphs.gone, Role::Label),
            _ => (glyphs.wall, Role::Steel),
        };
        across(pen, row, [wall, ' ', wall], role);
    }
    let stays = |elevation: Elevation| !(cut && elevation > target);
    let connections = figures.connections.iter().map(|it| it.plane);
    for row in connections
        .filter(|plane| stays(*plane))
        .filter_map(|plane| scale.seen(plane))
    {
        across(pen, row, glyphs.joint, Role::Steel);
    }
    if let Some(row) = scale.seen(top).filter(|_| !cut) {
        across(pen, row, glyphs.top, Role::Steel);
    }
    if let Some(row) = scale.seen(shoe) {
        across(pen, row, glyphs.shoe, Role::Steel);
    }
}

/// What stands beside a conductor, the most important first: it comes first on its row.
fn labels(state: &State, figures: &SlotFigures) -> Vec<Label> {
    let job = &state.inputs.job;
    let mut labels = Vec::new();
    let figure = |at: Elevation, word: &str, role| Label {
        at,
        word: word.to_owned(),
        number: Some(state.show.number(at.height())),
        role,
    };
    labels.push(figure(figures.cut.target, "cut", Role::Cut));
    let shoulder = figures
        .chain
        .shoulder
        .and_then(|shoulder| shoulder.elevation);
    labels.extend(shoulder.map(|at| figure(at, "shoulder", Role::Shoulder)));
    let top = figures.chain.top.filter(|_| !figures.cut.is_cut());
    labels.extend(top.map(|at| figure(at, "top", Role::Plain)));
    labels.extend(figures.chain.shoe.map(|at| figure(at, "shoe", Role::Plain)));
    labels.extend(figures.accessories.iter().filter_map(|place| {
        Some(Label {
            at: place.elevation?,
            word: job.accessories.get(place.accessory)?.name.clone(),
            number: None,
            role: Role::Accessory,
        })
    }));
    labels.extend(figures.in_keep_outs.iter().filter_map(|found| {
        let zone = job.keep_outs.get(found.keep_out)?;
        Some(Label {
            at: figures.connections.get(found.connection)?.plane,
            word: format!("in {}", zone.why),
            number: None,
            role: Role::of_severity(zone.severity),
        })
    }));
    labels
}

/// A word, and perhaps a figure, at an elevation.
struct Label {
    at: Elevation,
    word: String,
    number: Option<String>,
    role: Role,
}

impl Label {
    /// All of the figure or none of it: a figure cut short is another figure.
    fn text(&self, fits: usize) -> String {
        match &self.number {
            Some(number) if width(&self.word) + 1 + width(number) < fits => {
                format!("{} {number}", self.word)
            }
            _ if width(&self.word) <= fits => self.word.clone(),
            _ => String::new(),
        }
    }
}

fn ground(pen: &mut Pen<'_>, scale: &Scale, mudline: Elevation) {
    let glyphs = pen.theme.glyphs;
    if let Some(row) = scale.seen(mudline) {
        for x in 0..pen.area.width {
            pen.sign(x, row, glyphs.mudline, Role::Ground);
        }
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
