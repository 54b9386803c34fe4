//! One lane: a conductor with what lies on it and beside it.

use super::labels::Label;
use super::scale::Scale;
use crate::measure::{Length, LengthFormat};
use crate::report::scene::{FeatureKind, Lane, Zone, ZoneKind};
use crate::report::words;
use crate::screens::parts::canvas::Canvas;
use crate::screens::parts::pen::Pen;
use crate::screens::theme::Role;

/// Where a lane is in the picture.
#[derive(Clone, Copy, Debug)]
pub struct LaneBox {
    /// Its slot.
    pub slot: usize,
    /// Its first column.
    pub x: u16,
    /// Its columns.
    pub wide: u16,
    /// Columns of the pipe.
    pub pipe: u16,
}

impl LaneBox {
    /// The first column of the pipe, and the one after it.
    const fn pipe(&self) -> (u16, u16) {
        (self.x + 2, self.x + 2 + self.pipe)
    }

    /// The column where the labels begin: after the pipe, its ticks and the leaders.
    pub const fn labels(&self) -> u16 {
        self.x + BEFORE_LABELS + self.pipe
    }
}

/// Columns of a lane beside its pipe and its labels.
pub const BEFORE_LABELS: u16 = 5;

/// The rows of a span, where it is large enough to be seen.
fn seen(zone: &Zone, scale: &Scale) -> Option<std::ops::Range<u16>> {
    let squares = scale.squares(zone.to, zone.from);
    // A span that goes on beyond both edges shows nothing.
    if zone.kind == ZoneKind::Clearance && squares.len() == usize::from(2 * scale.rows) {
        return None;
    }
    let needed = match zone.kind {
        ZoneKind::KeepOut => 1,
        ZoneKind::Clearance => 6,
        ZoneKind::Blur | ZoneKind::Kerf => 3,
    };
    // A band of no width is that of a mark whose U is not stated: told where one looks as near.
    let near = Length::from_mm(500);
    if zone.kind == ZoneKind::Blur && zone.from == zone.to && scale.view.span > near {
        return None;
    }
    let needed = if zone.from == zone.to { 1 } else { needed };
    (squares.len() >= needed).then(|| scale.rows(zone.to, zone.from))
}

/// Spans, as patterns on both sides of the pipe.
pub fn zones(pen: &mut Pen<'_>, (lane, it): (&Lane, &LaneBox), scale: &Scale) {
    let glyphs = pen.theme.glyphs;
    let (from, to) = it.pipe();
    for zone in &lane.zones {
        let (sign, role, wide) = match zone.kind {
            ZoneKind::KeepOut => (glyphs.keep_out, Role::KeepOut, 2),
            ZoneKind::Clearance => (glyphs.wall, Role::Band, 1),
            ZoneKind::Blur => (glyphs.blur, Role::Blur, 1),
            ZoneKind::Kerf => continue,
        };
        let Some(rows) = seen(zone, scale) else {
            continue;
        };
        for row in rows {
            for column in (from - wide..from).chain(to..to + wide) {
                pen.sign(column, row, sign, role);
            }
        }
    }
}

/// The pipe, and what is on it.
pub fn steel(canvas: &mut Canvas, (lane, it): (&Lane, &LaneBox), scale: &Scale) {
    let (from, to) = it.pipe();
    let Some((top, shoe)) = lane.steel else {
        return;
    };
    canvas.fill(from..to, scale.squares(top, shoe), Some(Role::Steel));
    let features = |kind| lane.features.iter().filter(move |it| it.kind == kind);
    let square = |feature: &crate::report::scene::Feature| {
        let square = scale.seen(feature.at)?;
        Some(square..square + 1)
    };
    for squares in features(FeatureKind::Accessory).filter_map(square) {
        canvas.fill(from..to, squares, Some(Role::Accessory));
    }
    for squares in features(FeatureKind::Shoulder).filter_map(square) {
        canvas.fill(from - 1..to + 1, squares, Some(Role::Shoulder));
    }
    for squares in features(FeatureKind::Cut).filter_map(square) {
        canvas.fill(from - 1..to + 1, squares, Some(Role::Cut));
    }
}

/// What is drawn over the pipe: what comes off, and ticks at connections.
pub fn over(pen: &mut Pen<'_>, (lane, it): (&Lane, &LaneBox), scale: &Scale) {
    let glyphs = pen.theme.glyphs;
    let (from, to) = it.pipe();
    let Some((upper, _)) = lane.steel else {
        pen.text(it.x, scale.rows / 2, words::NO_BASIS, Role::Label);
        return;
    };
    if let Some(top) = lane.comes_off {
        // The blade's own width is open.
        let kerf = lane.zones.iter().find(|zone| zone.kind == ZoneKind::Kerf);
        let open = kerf.map_or(upper, |kerf| kerf.to);
        let squares = scale.above(top, open);
        for row in squares.start / 2..squares.end / 2 {
            for column in [from, to - 1] {
                pen.sign(column, row, glyphs.gone, Role::Label);
            }
        }
        // Where the cut has the same row, that matters more.
        if let Some(row) = scale.row(top).filter(|row| scale.row(upper) != Some(*row)) {
            for column in from..to {
                pen.sign(column, row, glyphs.line, Role::Label);
            }
        }
    }
    for row in lane.planes.iter().filter_map(|plane| scale.row(*plane)) {
        let [left, right] = glyphs.ticks;
        for (column, sign) in [(from - 1, left), (to, right)] {
            if pen.is_free(column, row) {
                pen.sign(column, row, sign, Role::Label);
            }
        }
    }
}

/// What stands beside it, the most important first.
pub fn labels(lane: &Lane, scale: &Scale, show: LengthFormat) -> Vec<Label> {
    let mut labels: Vec<Label> = lane
        .features
        .iter()
        .filter_map(|feature| {
            let role = match feature.kind {
                FeatureKind::Cut | FeatureKind::FinishedTop => Role::Cut,
                FeatureKind::Shoulder => Role::Shoulder,
                FeatureKind::Accessory => Role::Accessory,
                FeatureKind::Misplaced => Role::Check,
                FeatureKind::Top | FeatureKind::Shoe => Role::Plain,
            };
            let figure = format!("{} {}", feature.word, show.signed(feature.at.height()));
            Some(Label {
                at: feature.at,
                row: scale.row(feature.at)?,
                texts: vec![figure, feature.word.clone()],
                role,
            })
        })
        .collect();
    // Spans of the cut, where one looks so near that they are seen.
    for zone in lane.zones.iter().filter(|it| it.kind != ZoneKind::KeepOut) {
        let Some(rows) = seen(zone, scale) else {
            continue;
        };
        labels.push(Label {
            at: zone.to,
            row: rows.start,
            texts: vec![zone.word.clone(), zone.short.clone()],
            role: Role::Label,
        });
    }
    labels
}
