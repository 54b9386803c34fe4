//! The plan of the tops, drawn to scale: x to the right, y up.

use crate::deck::{DeckTop, Rest};
use crate::measure::Length;
use crate::screens::parts::pen::{Pen, cells, width};
use crate::screens::theme::Role;

/// A cell is so many times as high as wide.
const HIGH: f64 = 2.0;

/// What a plan shows.
pub(super) struct Plan<'a> {
    pub(super) tops: &'a [DeckTop],
    /// The name of each slot, with its gap where there is one.
    pub(super) names: Vec<String>,
    pub(super) cog: (Length, Length),
    pub(super) rest: Option<&'a Rest>,
}

/// Where places lie among cells.
struct Scale {
    left: f64,
    top: f64,
    /// Columns a metre.
    per_metre: f64,
    /// Columns and rows before the first.
    before: (f64, f64),
}

impl Scale {
    fn cell(&self, (x, y): (f64, f64)) -> (f64, f64) {
        let column = (x - self.left) * self.per_metre + self.before.0;
        let row = (self.top - y) * self.per_metre / HIGH + self.before.1;
        (column, row)
    }
}

/// The cell of a coordinate; past any frame where it is beyond all.
fn whole(at: f64) -> u16 {
    let rounded = at.round().clamp(0.0, f64::from(u16::MAX));
    #[allow(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "clamped to what a cell can be"
    )]
    let cell = rounded as u16;
    cell
}

impl Plan<'_> {
    fn scale(&self, columns: u16, rows: u16) -> Scale {
        let places: Vec<(f64, f64)> = self.places().collect();
        let least = |of: fn(&(f64, f64)) -> f64| places.iter().map(of).fold(f64::MAX, f64::min);
        let most = |of: fn(&(f64, f64)) -> f64| places.iter().map(of).fold(f64::MIN, f64::max);
        let (left, right) = (least(|it| it.0), most(|it| it.0));
        let (bottom, top) = (least(|it| it.1), most(|it| it.1));
        let names = self.names.iter().map(|it| width(it)).max().unwrap_or(0);
        let room = f64::from(columns.saturating_sub(cells(names + 6)).max(2));
        let tall = f64::from(rows.saturating_sub(1).max(1));
        let (wide, high) = ((right - left).max(1e-3), (top - bottom).max(1e-3));
        let per_metre = (room / wide).min(tall * HIGH / high);
        let spare = tall - high * per_metre / HIGH;
        Scale {
            left,
            top,
            per_metre,
            before: (2.0, spare / 2.0),
        }
    }

    /// All that must be in sight: the tops and the centre of gravity.
    fn places(&self) -> impl Iterator<Item = (f64, f64)> {
        let tops = self.tops.iter().map(|top| (top.x, top.y));
        let all = tops.chain([self.cog]);
        all.map(|(x, y)| (x.real_metres(), y.real_metres()))
    }

    /// Draws the plan; gives the length in metres of the bar that says its scale, and its cells.
    pub(super) fn draw(&self, pen: &mut Pen<'_>) -> (f64, u16) {
        let scale = self.scale(pen.area.width, pen.area.height);
        let glyphs = pen.theme.glyphs;
        let at = |top: &DeckTop| scale.cell((top.x.real_metres(), top.y.real_metres()));
        if let Some(rest) = self.rest {
            let corners: Vec<(f64, f64)> = rest
                .contacts
                .iter()
                .filter_map(|it| self.tops.get(*it))
                .map(at)
                .collect();
            for (from, to) in round(&corners) {
                line(pen, from, to);
            }
        }
        let (column, row) = scale.cell((self.cog.0.real_metres(), self.cog.1.real_metres()));
        if let Some(rest) = self.rest {
            arrow(pen, rest, (column, row));
        }
        pen.sign(whole(column), whole(row), '+', Role::Title);
        for (index, (top, name)) in self.tops.iter().zip(&self.names).enumerate() {
            let (column, row) = at(top);
            let bears = self.rest.is_some_and(|it| it.contacts.contains(&index));
            let (sign, role) = if bears {
                (glyphs.bears, Role::Title)
            } else {
                (glyphs.floats, Role::Plain)
            };
            pen.sign(whole(column), whole(row), sign, role);
            pen.text(whole(column) + 1, whole(row), &format!(" {name} "), role);
        }
        let length = round_length(6.0 / scale.per_metre);
        (length, whole(length * scale.per_metre).max(1))
    }
}

/// An arrow from the centre of gravity to the low side; none where the deck is level.
fn arrow(pen: &mut Pen<'_>, rest: &Rest, (column, row): (f64, f64)) {
    let (b, c) = rest.slope;
    let steep = b.hypot(c);
    if steep < 1e-9 {
        return;
    }
    // Downhill, among cells: rows count downward.
    let (x, y) = (-b / steep, -c / steep);
    let eighth = (y.atan2(x) / std::f64::consts::FRAC_PI_4).rem_euclid(8.0);
    let arrow = pen.theme.glyphs.arrows.get(usize::from(whole(eighth)) % 8);
    let place = |far: f64| (whole(column + far * x), whole(row - far * y / HIGH));
    let dot = pen.theme.glyphs.dot;
    for far in [2.0, 3.0] {
        let (column, row) = place(far);
        pen.sign(column, row, dot, Role::Figure);
    }
    let (column, row) = place(4.5);
    pen.sign(column, row, arrow.copied().unwrap_or(dot), Role::Figure);
}

/// The sides of a polygon of these corners, in whatever order they come.
fn round(corners: &[(f64, f64)]) -> Vec<((f64, f64), (f64, f64))> {
    let count = f64::from(u16::try_from(corners.len()).unwrap_or(u16::MAX)).max(1.0);
    let middle = (
        corners.iter().map(|it| it.0).sum::<f64>() / count,
        corners.iter().map(|it| it.1).sum::<f64>() / count,
    );
    let mut order: Vec<(f64, f64)> = corners.to_vec();
    let angle = |it: &(f64, f64)| (it.1 - middle.1).atan2(it.0 - middle.0);
    order.sort_by(|one, other| angle(one).total_cmp(&angle(other)));
    let next = order.iter().cycle().skip(1);
    order.iter().copied().zip(next.copied()).collect()
}

/// A dotted line between two cells.
fn line(pen: &mut Pen<'_>, from: (f64, f64), to: (f64, f64)) {
    let dot = pen.theme.glyphs.dot;
    let (wide, high) = (to.0 - from.0, to.1 - from.1);
    let steps = whole(wide.abs().max(high.abs())).max(1);
    for step in 0..=steps {
        let part = f64::from(step) / f64::from(steps);
        let (column, row) = (from.0 + part * wide, from.1 + part * high);
        pen.sign(whole(column), whole(row), dot, Role::Label);
    }
}

/// One, two or five times a power of ten, not below a length.
fn round_length(least: f64) -> f64 {
    let power = 10_f64.powf(least.max(1e-6).log10().floor());
    let found = [1.0, 2.0, 5.0].iter().map(|it| it * power);
    let mut found = found.filter(|it| *it >= least);
    found.next().unwrap_or(10.0 * power)
}
