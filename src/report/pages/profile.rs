//! The profile as a drawing to scale, of the scene that the screen draws too.

use super::model::{Anchor, Drawing};
use crate::figures::Figures;
use crate::journal::Inputs;
use crate::measure::{Elevation, Length, LengthFormat, Unit};
use crate::report::scene::{FeatureKind, Lane, LevelKind, Scene, Tick, ZoneKind, ruler};
use crate::report::words;

/// Points in a millimetre of paper.
const PER_MM: f32 = 72.0 / 25.4;
/// The scales that are used: one to so many.
const SCALES: [u32; 19] = [
    50, 100, 200, 250, 300, 400, 500, 600, 750, 1000, 1500, 2000, 2500, 3000, 4000, 5000, 10_000,
    25_000, 50_000,
];
/// The least distance of two labels of the ruler, and of two connections that are drawn, in points.
const LEAST_STEP: f32 = 9.0;
const LEAST_PLANES: f32 = 1.2;
/// Room for the labels at the left and above.
const LEFT: f32 = 70.0;
const ABOVE: f32 = 26.0;
/// Room at the right for what runs across all conductors.
const RIGHT: f32 = 88.0;

/// A height in metres, for drawing.
#[expect(
    clippy::cast_possible_truncation,
    reason = "a drawing needs no more digits"
)]
fn metres(length: Length) -> f32 {
    length.real_metres() as f32
}

/// The whole job, every conductor equally wide, in a box of this size in points.
pub fn profile(inputs: &Inputs, figures: &Figures, (width, height): (f32, f32)) -> Drawing {
    let format = LengthFormat::new(inputs.job.units);
    let scene = Scene::of(inputs, figures, format, None);
    let (highest, lowest) = (scene.highest, scene.lowest);
    let span = metres(highest - lowest).max(1.0);
    let room = (height - ABOVE - 14.0) / PER_MM;
    let fits = |scale: &&u32| span * 1000.0 / real(**scale) <= room;
    // Elevations are bounded: the smallest scale holds 13 km on a page.
    let scale = SCALES.iter().find(fits).copied().unwrap_or(100_000);
    let per_metre = 1000.0 / real(scale) * PER_MM;
    let y = |elevation: Elevation| ABOVE + metres(highest - elevation) * per_metre;
    let title = format!(
        "Profile, 1 : {scale}, elevations above {}",
        inputs.job.sea_datum
    );
    let mut drawing = Drawing::new(title.clone(), (width, height));
    drawing.bold((0.0, 9.0), 8.0, Anchor::Start, title);
    let right = width - RIGHT;
    let least = Length::nearest_to_metres(f64::from(LEAST_STEP / per_metre)).unwrap_or_default();
    ruler_at_left(
        &mut drawing,
        &ruler(highest, lowest, least, format),
        format.unit(),
        (&y, right),
    );
    let mut across = Vec::new();
    for level in &scene.levels {
        let (thick, ink) = match level.kind {
            LevelKind::Rotary => (0.3, 160),
            LevelKind::Water | LevelKind::SeaDatum | LevelKind::Mudline => (0.6, 120),
        };
        drawing.line((LEFT - 8.0, y(level.at)), (right, y(level.at)), thick, ink);
        across.push((level.at, labelled(&level.name, level.at, format)));
    }
    let lanes = real(u32::try_from(scene.lanes.len().max(1)).unwrap_or(u32::MAX));
    let wide = (right - LEFT) / lanes;
    let from = |slot: usize| LEFT + wide * real(u32::try_from(slot).unwrap_or(u32::MAX));
    for bar in &scene.bars {
        for slot in &bar.slots {
            let x = from(*slot);
            drawing.line((x, y(bar.at)), (x + wide, y(bar.at)), 1.4, 90);
        }
        across.push((bar.at, labelled(&bar.name, bar.at, format)));
    }
    label(&mut drawing, across, &y, right + 4.0);
    for (position, lane) in scene.lanes.iter().enumerate() {
        let middle = from(position) + wide * 0.35;
        let pipe = (wide * 0.16).clamp(4.0, 14.0);
        drawing.bold(
            (middle, ABOVE - 6.0),
            8.0,
            Anchor::Middle,
            lane.name.clone(),
        );
        if lane.steel.is_none() {
            let place = (middle, ABOVE + 10.0);
            drawing.text(place, 6.0, Anchor::Middle, words::NO_BASIS);
            continue;
        }
        conductor(&mut drawing, lane, &y, (middle, pipe));
        let labels = lane.features.iter();
        let labels = labels.map(|it| (it.at, labelled(&it.word, it.at, format)));
        label(&mut drawing, labels.collect(), &y, middle + pipe + 4.0);
    }
    drawing
}

/// A name with its elevation.
fn labelled(name: &str, at: Elevation, format: LengthFormat) -> String {
    format!("{name} {}", format.number(at.height()))
}

/// A conductor: spans beside it, the pipe that stays and what comes off, ticks at its connections, and what lies on it.
fn conductor(
    drawing: &mut Drawing,
    lane: &Lane,
    y: &impl Fn(Elevation) -> f32,
    (middle, wide): (f32, f32),
) {
    for zone in lane.zones.iter().filter(|it| it.kind == ZoneKind::KeepOut) {
        let (top, bottom) = (y(zone.to), y(zone.from));
        for side in [-1.0, 0.75] {
            let place = (middle + wide * side, top);
            drawing.fill(place, (wide * 0.25, bottom - top), 225);
        }
    }
    let Some((top, shoe)) = lane.steel else {
        return;
    };
    let (left, right) = (middle - wide / 2.0, middle + wide / 2.0);
    drawing.fill((left, y(top)), (wide, y(shoe) - y(top)), 215);
    for x in [left, right] {
        drawing.line((x, y(top)), (x, y(shoe)), 0.8, 60);
    }
    if let Some(upper) = lane.comes_off {
        for x in [left, right] {
            drawing.line((x, y(upper)), (x, y(top)), 0.4, 150);
        }
        drawing.line((left, y(upper)), (right, y(upper)), 0.4, 150);
    }
    let mut drawn = f32::MAX;
    for plane in &lane.planes {
        // From the shoe up; what lies too close to the last one would be a black bar.
        if drawn - y(*plane) < LEAST_PLANES {
            continue;
        }
        drawn = y(*plane);
        drawing.line((right, drawn), (right + 3.0, drawn), 0.6, 60);
        drawing.line((left - 3.0, drawn), (left, drawn), 0.6, 60);
    }
    for feature in &lane.features {
        let thick = match feature.kind {
            FeatureKind::Shoulder => 1.6,
            FeatureKind::Cut | FeatureKind::FinishedTop => 1.2,
            FeatureKind::Accessory | FeatureKind::Misplaced => 0.8,
            FeatureKind::Top | FeatureKind::Shoe => continue,
        };
        let at = y(feature.at);
        drawing.line((middle - wide, at), (middle + wide, at), thick, 0);
    }
}

/// Labels beside a conductor: never moved to another elevation without a leader to their own.
fn label(
    drawing: &mut Drawing,
    mut labels: Vec<(Elevation, String)>,
    y: &impl Fn(Elevation) -> f32,
    x: f32,
) {
    labels.sort_by_key(|label| std::cmp::Reverse(label.0));
    let mut free = f32::MIN;
    for (at, words) in labels {
        let own = y(at) + 2.0;
        let line = own.max(free);
        if line > own {
            drawing.line((x - 3.0, y(at)), (x - 1.0, line - 2.0), 0.3, 120);
        }
        // White behind the letters, so that no line runs through them.
        let letters = real(u32::try_from(words.chars().count()).unwrap_or_default());
        drawing.fill((x - 0.5, line - 5.0), (letters * 3.35 + 1.0, 6.4), 255);
        drawing.text((x, line), 5.5, Anchor::Start, words);
        free = line + 6.5;
    }
}

/// Round elevations at the left.
fn ruler_at_left(
    drawing: &mut Drawing,
    ticks: &[Tick],
    unit: Unit,
    (y, right): (&impl Fn(Elevation) -> f32, f32),
) {
    for tick in ticks {
        let at = y(tick.at);
        drawing.line((LEFT - 14.0, at), (LEFT - 8.0, at), 0.6, 0);
        drawing.line((LEFT - 8.0, at), (right, at), 0.15, 180);
        let place = (LEFT - 16.0, at + 2.0);
        // Feet and inches have their own signs.
        let text = match unit {
            Unit::FootInch => tick.text.clone(),
            unit => format!("{} {}", tick.text, unit.name()),
        };
        drawing.text(place, 6.0, Anchor::End, text);
    }
}

/// A count, for drawing.
#[expect(clippy::cast_precision_loss, reason = "scales and lanes are small")]
fn real(count: u32) -> f32 {
    count as f32
}
