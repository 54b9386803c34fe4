//! The picture: conductors side by side to scale, against the levels that they are seen against.

use super::labels::{self, Label};
use super::lane::{self, BEFORE_LABELS, LaneBox};
use super::scale::Scale;
use crate::measure::{Elevation, Length, Unit};
use crate::report::scene::{BarKind, LevelKind, PlanesIn, Scene, ZoneKind, ruler};
use crate::report::words;
use crate::screens::parts::canvas::Canvas;
use crate::screens::parts::pen::{Pen, cells, width};
use crate::screens::state::State;
use crate::screens::theme::Role;

/// Rows between two marks of the ruler.
const TICK_ROWS: i64 = 4;
/// The least columns of a lane, and the most.
const LANE: u16 = 6;
const WIDE: u16 = 34;
/// Columns in which the lane in front still has words beside its pipe.
const SOME: u16 = 20;
/// From so many columns of each lane on pipes are wider.
const THICK: u16 = 20;
/// Columns of a narrow pipe, and of a wide one.
const PIPES: (u16, u16) = (3, 5);

/// What is drawn, and where.
pub struct Picture<'a> {
    pub state: &'a State,
    pub scene: &'a Scene,
    pub scale: Scale,
    /// Whether the other conductors are shown beside the one in front, as far as there is room.
    pub beside: bool,
    /// Whether the figures of the one in front are listed elsewhere too: the others may then take room from its labels.
    pub is_listed: bool,
    /// The slot whose figures are read.
    pub front: usize,
    /// The elevation that the cursor reads.
    pub cursor: Option<Elevation>,
}

/// The scene with the make-up planes that a part of the height shows.
pub fn scene(state: &State, scale: &Scale) -> Scene {
    let view = scale.view;
    let planes = PlanesIn {
        high: view.top,
        low: view.top - view.span,
        most: usize::from(scale.rows),
    };
    Scene::of(&state.inputs, &state.figures, state.show, Some(planes))
}

impl Picture<'_> {
    /// The columns of the ruler, with those between it and the first lane.
    fn gutter(&self) -> (Vec<(u16, String)>, u16) {
        let view = self.scale.view;
        let rows = i64::from(self.scale.rows.max(1));
        let least = Length::from_nm(view.span.nm() / rows).times(TICK_ROWS);
        let ticks = ruler(view.top, view.top - view.span, least, self.state.show);
        let ticks: Vec<(u16, String)> = ticks
            .into_iter()
            .filter_map(|tick| Some((self.scale.row(tick.at)?, tick.text)))
            .collect();
        let cursor = self.cursor.map(|at| self.state.show.signed(at.height()));
        let texts = ticks.iter().map(|(_, text)| width(text));
        let wide = texts.chain(cursor.map(|text| width(&text))).max();
        // As wide as nearly every elevation needs: nothing moves while the cursor does.
        let least = match self.state.show.unit() {
            Unit::FootInch => 14,
            _ => 9,
        };
        (ticks, cells(wide.unwrap_or(0).max(least)) + 3)
    }

    /// What stands beside the levels and bars, and how many columns that takes.
    fn margin(&self) -> (Vec<Label>, u16) {
        let show = self.state.show;
        let mut labels = Vec::new();
        let mut add = |at: Elevation, name: &str, role| {
            let figure = format!("{name} {}", show.signed(at.height()));
            labels.extend(self.scale.row(at).map(|row| Label {
                at,
                row,
                texts: vec![figure, name.to_owned()],
                role,
            }));
        };
        for bar in &self.scene.bars {
            add(bar.at, &bar.name, Role::Plain);
        }
        for level in &self.scene.levels {
            let role = match level.kind {
                LevelKind::Water | LevelKind::SeaDatum => Role::Water,
                LevelKind::Mudline => Role::Ground,
                LevelKind::Rotary => Role::Label,
            };
            add(level.at, &level.name, role);
        }
        // The higher first: what shares a row with it stands below.
        labels.sort_by_key(|label| std::cmp::Reverse(label.at));
        let front = self.scene.lanes.get(self.front);
        let zones = front.into_iter().flat_map(|lane| &lane.zones);
        for zone in zones.filter(|zone| zone.kind == ZoneKind::KeepOut) {
            labels.extend(self.scale.row(zone.to).map(|row| Label {
                at: zone.to,
                row,
                texts: vec![words::keep_out_of(&zone.word), zone.word.clone()],
                role: Role::Label,
            }));
        }
        if !self.beside {
            let wide = labels.iter().map(Label::width).max().unwrap_or(0);
            return (labels, cells(wide) + 5);
        }
        let names = self.scene.levels.iter().map(|level| &level.name);
        let names = names.chain(self.scene.bars.iter().map(|bar| &bar.name));
        // As wide as all of them need, whichever are in sight: nothing moves while one zooms.
        let figure = width(&show.signed(self.scene.lowest.height()));
        let wide = names.map(|name| width(name)).max().unwrap_or(0) + figure;
        (labels, cells(wide) + 5)
    }

    /// The columns that it can make use of.
    pub fn wanted(&self) -> u16 {
        let lanes = cells(self.scene.lanes.len().max(1));
        let (gutter, margin) = (self.gutter().1, self.margin().1);
        gutter + margin + WIDE.saturating_mul(lanes)
    }

    /// Draws it, with the names of the slots on the first row.
    pub fn draw(&self, pen: &mut Pen<'_>) {
        let (ticks, gutter) = self.gutter();
        let (labels, margin) = self.margin();
        let columns = pen.area.width;
        let room = columns.saturating_sub(gutter + margin);
        let boxes = self.boxes(gutter, room);
        self.names(pen, &boxes);
        let from = gutter;
        let to = boxes.last().map_or(from, |it| it.x + it.wide);
        let rows = self.scale.rows;
        let mut picture = pen.part(0, 1, columns, rows);
        self.ruler(&mut picture, &ticks, gutter);
        self.levels(&mut picture, (from, to));
        let mut canvas = Canvas::new(columns, rows);
        for bar in &self.scene.bars {
            let across = boxes.iter().filter(|it| bar.slots.contains(&it.slot));
            let role = match bar.kind {
                BarKind::Deck | BarKind::Frame => Role::Label,
            };
            if let Some(square) = self.scale.seen(bar.at) {
                for it in across {
                    let (from, to) = (it.x, it.x + it.wide);
                    canvas.fill(from..to, square..square + 1, Some(role));
                }
            }
        }
        let shown = boxes.iter();
        let shown = shown.filter_map(|it| Some((it, self.scene.lanes.get(it.slot)?)));
        for (it, lane) in shown.clone() {
            lane::zones(&mut picture, (lane, it), &self.scale);
            lane::steel(&mut canvas, (lane, it), &self.scale);
        }
        canvas.draw(&mut picture);
        for (it, lane) in shown {
            lane::over(&mut picture, (lane, it), &self.scale);
            let mut part = picture.part(0, 0, it.x + it.wide, rows);
            let labels = lane::labels(lane, &self.scale, self.state.show);
            labels::write(&mut part, it.labels(), &labels);
        }
        let x = to + 3;
        labels::write(&mut picture, x, &labels);
        self.cursor(&mut picture, gutter);
    }

    /// Where the lanes are: the one in front has room for its figures first, whatever is left to the others; those next
    /// to it are shown first.
    fn boxes(&self, from: u16, room: u16) -> Vec<LaneBox> {
        let all = self.scene.lanes.len().max(1);
        let lane = self.scene.lanes.get(self.front);
        let labels = lane.map(|lane| lane::labels(lane, &self.scale, self.state.show));
        let labels = labels.iter().flatten().map(Label::width).max();
        let needed = cells(labels.unwrap_or(0)) + BEFORE_LABELS + PIPES.0 + 1;
        let all_others = LANE * cells(all - 1);
        let needed = if self.is_listed {
            needed.min(room.saturating_sub(all_others).max(SOME))
        } else {
            needed
        };
        let needed = needed.clamp(LANE, room.max(LANE));
        let fit = if self.beside {
            usize::from((room - needed.min(room)) / LANE + 1).min(all)
        } else {
            1
        };
        let first = self.front.saturating_sub(fit / 2).min(all - fit);
        let count = cells(fit);
        let others = count - 1;
        let even = (room / count).min(WIDE);
        let front = even.max(needed);
        let other = match others {
            0 => 0,
            others => (room.saturating_sub(front) / others).min(WIDE),
        };
        // All conductors are equally wide.
        let is_thick = others == 0 || other >= THICK;
        let pipe = if is_thick && front >= needed + 2 {
            PIPES.1
        } else {
            PIPES.0
        };
        let mut x = from;
        let mut boxes = Vec::with_capacity(fit);
        for slot in first..first + fit {
            let wide = if slot == self.front { front } else { other };
            boxes.push(LaneBox {
                slot,
                x,
                wide,
                pipe,
            });
            x += wide;
        }
        boxes
    }

    fn names(&self, pen: &mut Pen<'_>, boxes: &[LaneBox]) {
        let row = Length::from_nm(self.scale.view.span.nm() / i64::from(self.scale.rows.max(1)));
        let first = boxes.first().map_or(0, |it| it.x);
        let text = words::scale_of_rows(row, self.state.show);
        // Above what stands at the right: the names of slots need the left.
        let after = boxes.last().map_or(0, |it| it.x + it.wide) + 3;
        let at = after.min(pen.area.width.saturating_sub(cells(width(&text)) + 1));
        pen.text(at, 0, &text, Role::Label);
        if self.beside && boxes.len() < self.scene.lanes.len() {
            let text = words::one_of(self.front + 1, self.scene.lanes.len());
            pen.part(0, 0, first, 1)
                .text(0, 0, text.trim_start(), Role::Label);
        }
        for it in boxes {
            let Some(lane) = self.scene.lanes.get(it.slot) else {
                continue;
            };
            let is_front = it.slot == self.front && boxes.len() > 1;
            let role = if is_front { Role::Chip } else { Role::Title };
            let reached = self.state.figures.state(it.slot);
            let sign = reached.map_or(' ', |it| pen.theme.glyphs.state(it));
            let name = format!(" {sign} {} ", lane.name);
            let end = pen.part(it.x, 0, it.wide, 1).text(0, 0, &name, role) + it.x;
            let figures = self.state.figures.slots.get(it.slot);
            let word = figures.map_or("", |it| words::elevations_by(&it.chain));
            if usize::from(it.x + it.wide) > usize::from(end) + width(word) + 1 {
                pen.text(end + 1, 0, word, Role::Label);
            }
        }
    }

    fn ruler(&self, pen: &mut Pen<'_>, ticks: &[(u16, String)], gutter: u16) {
        let glyphs = pen.theme.glyphs;
        let axis = gutter.saturating_sub(2);
        for row in 0..self.scale.rows {
            pen.sign(axis, row, glyphs.wall, Role::Quiet);
        }
        for (row, text) in ticks {
            pen.sign(axis, *row, glyphs.tick, Role::Quiet);
            let x = axis.saturating_sub(cells(width(text)));
            pen.text(x, *row, text, Role::Label);
        }
    }

    /// The ground first, then what runs across.
    fn levels(&self, pen: &mut Pen<'_>, (from, to): (u16, u16)) {
        let glyphs = pen.theme.glyphs;
        let mudline = self.scene.levels.iter();
        let mudline = mudline.filter(|level| level.kind == LevelKind::Mudline);
        for level in mudline {
            let low = self.scale.view.top - self.scale.view.span;
            for row in self.scale.rows(level.at, low).skip(1) {
                // A sparse pattern, so that figures stay easy to read.
                for x in (from + row % 4..to).step_by(4) {
                    pen.sign(x, row, glyphs.ground, Role::Quiet);
                }
            }
        }
        for level in self.scene.levels.iter().rev() {
            let Some(row) = self.scale.row(level.at) else {
                continue;
            };
            let (sign, role, every) = match level.kind {
                LevelKind::Water | LevelKind::SeaDatum => (glyphs.sea, Role::Water, 1),
                LevelKind::Mudline => (glyphs.line, Role::Ground, 1),
                LevelKind::Rotary => (glyphs.level, Role::Quiet, 2),
            };
            for x in (from..to).step_by(every) {
                pen.sign(x, row, sign, role);
            }
        }
    }

    fn cursor(&self, pen: &mut Pen<'_>, gutter: u16) {
        let Some((at, row)) = self.cursor.and_then(|at| Some((at, self.scale.row(at)?))) else {
            return;
        };
        let axis = gutter.saturating_sub(2);
        let number = self.state.show.signed(at.height());
        let wide = usize::from(axis);
        pen.text(0, row, &format!("{number:>wide$}"), Role::Selected);
        let here = pen.theme.glyphs.here;
        pen.sign(axis, row, here, Role::Title);
    }
}
