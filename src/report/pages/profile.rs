//! The profile as a drawing to scale.

use super::model::{Anchor, Drawing};
use crate::figures::{Figures, SlotFigures, SlotView};
use crate::journal::Inputs;
use crate::measure::{Elevation, Length, LengthFormat};

/// Points in a millimetre of paper.
const PER_MM: f32 = 72.0 / 25.4;
/// The scales that are used: one to so many.
const SCALES: [u32; 19] = [
    50, 100, 200, 250, 300, 400, 500, 600, 750, 1000, 1500, 2000, 2500, 3000, 4000, 5000, 10_000,
    25_000, 50_000,
];
/// Steps of the ruler, in metres.
const STEPS: [u32; 9] = [1, 2, 5, 10, 20, 50, 100, 200, 500];
/// The least distance of two labels of the ruler, and of two connections that are drawn, in points.
const LEAST_STEP: f32 = 9.0;
const LEAST_PLANES: f32 = 1.2;
/// Room for the labels at the left and above.
const LEFT: f32 = 70.0;
const ABOVE: f32 = 26.0;
/// Room at the right for what runs across all conductors.
const RIGHT: f32 = 66.0;

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
    let job = &inputs.job;
    let format = LengthFormat::new(job.units);
    let mut all: Vec<Elevation> = vec![job.deck.elevation, job.site.water_level];
    all.extend(job.slots.iter().map(|slot| job.mudline(slot)));
    all.extend(job.hulls.iter().map(|hull| hull.stick_up_surface()));
    for slot in &figures.slots {
        all.extend(slot.chain.top);
        all.extend(slot.chain.shoe);
    }
    let highest = all.iter().max().copied().unwrap_or(job.deck.elevation);
    let lowest = all.iter().min().copied().unwrap_or(job.deck.elevation);
    let span = metres(highest - lowest).max(1.0);
    let room = (height - ABOVE - 14.0) / PER_MM;
    let fits = |scale: &&u32| span * 1000.0 / real(**scale) <= room;
    // Elevations are bounded: the smallest scale holds 13 km on a page.
    let scale = SCALES.iter().find(fits).copied().unwrap_or(100_000);
    let per_metre = 1000.0 / real(scale) * PER_MM;
    let y = |elevation: Elevation| ABOVE + metres(highest - elevation) * per_metre;
    let title = format!("Profile, 1 : {scale}, elevations above {}", job.sea_datum);
    let mut drawing = Drawing::new(title.clone(), (width, height));
    drawing.bold((0.0, 9.0), 8.0, Anchor::Start, title);
    let right = width - RIGHT;
    ruler(&mut drawing, (highest, lowest), (&y, per_metre), right);
    let mut across = Vec::new();
    for (name, at, ink) in [
        ("water", job.site.water_level, 120),
        ("mudline", job.site.mudline, 120),
        ("deck", job.deck.elevation, 0),
    ] {
        drawing.line((LEFT - 8.0, y(at)), (right, y(at)), 0.6, ink);
        across.push((at, format!("{name} {}", format.number(at.height()))));
    }
    label(&mut drawing, across, &y, right + 4.0);
    let lanes = real(u32::try_from(figures.slots.len().max(1)).unwrap_or(u32::MAX));
    let lane = (right - LEFT) / lanes;
    let views = SlotView::all(job, &inputs.tallies).zip(&figures.slots);
    for (index, (view, of_slot)) in (0_u32..).zip(views) {
        let middle = LEFT + lane * (real(index) + 0.35);
        let wide = (lane * 0.16).clamp(4.0, 14.0);
        drawing.bold(
            (middle, ABOVE - 6.0),
            8.0,
            Anchor::Middle,
            view.slot.name.clone(),
        );
        let (Some(top), Some(shoe)) = (of_slot.chain.top, of_slot.chain.shoe) else {
            drawing.text((middle, ABOVE + 10.0), 6.0, Anchor::Middle, "no basis");
            continue;
        };
        // What is cut off is gone.
        let as_cut = of_slot.cut.as_cut.as_ref();
        let finished = as_cut.map(|it| Elevation::above_datum(it.mean.value.rounded()));
        let (top, name) = match finished {
            Some(finished) => (finished, "finished top"),
            None => (top, "top"),
        };
        conductor(&mut drawing, of_slot, (top, shoe), &y, (middle, wide));
        let mut labels = vec![
            (top, format!("{name} {}", format.number(top.height()))),
            (shoe, format!("shoe {}", format.number(shoe.height()))),
        ];
        if let Some(shoulder) = of_slot.chain.shoulder_elevation() {
            drawing.line(
                (middle - wide, y(shoulder)),
                (middle + wide, y(shoulder)),
                1.6,
                0,
            );
            labels.push((
                shoulder,
                format!("shoulder {}", format.number(shoulder.height())),
            ));
        }
        if of_slot.cut.place.is_some() && finished.is_none() {
            let target = of_slot.cut.target;
            drawing.line(
                (middle - wide, y(target)),
                (middle + wide, y(target)),
                1.2,
                0,
            );
            labels.push((target, format!("cut {}", format.number(target.height()))));
        }
        for place in &of_slot.accessories {
            let accessory = job.accessories.get(place.accessory).zip(place.elevation);
            labels.extend(accessory.map(|(accessory, at)| (at, accessory.name.clone())));
        }
        label(&mut drawing, labels, &y, middle + wide + 4.0);
    }
    drawing
}

/// The pipe of a conductor, with short ticks at its connections.
fn conductor(
    drawing: &mut Drawing,
    of_slot: &SlotFigures,
    (top, shoe): (Elevation, Elevation),
    y: &impl Fn(Elevation) -> f32,
    (middle, wide): (f32, f32),
) {
    drawing.fill((middle - wide / 2.0, y(top)), (wide, y(shoe) - y(top)), 215);
    for side in [-0.5, 0.5] {
        let x = middle + wide * side;
        drawing.line((x, y(top)), (x, y(shoe)), 0.8, 60);
    }
    let connections = of_slot.connections.iter().filter(|it| !it.open_box);
    let mut drawn = f32::MAX;
    for connection in connections {
        // From the shoe up; what lies too close to the last one would be a black bar.
        if drawn - y(connection.plane) < LEAST_PLANES {
            continue;
        }
        drawn = y(connection.plane);
        let at = y(connection.plane);
        let x = middle + wide / 2.0;
        drawing.line((x, at), (x + 3.0, at), 0.6, 60);
        drawing.line(
            (middle - wide / 2.0 - 3.0, at),
            (middle - wide / 2.0, at),
            0.6,
            60,
        );
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
fn ruler(
    drawing: &mut Drawing,
    (highest, lowest): (Elevation, Elevation),
    (y, per_metre): (&impl Fn(Elevation) -> f32, f32),
    right: f32,
) {
    let is_wide = |step: &&u32| real(**step) * per_metre >= LEAST_STEP;
    let step = STEPS.iter().find(is_wide).copied().unwrap_or(1000);
    let step = Length::from_mm(i64::from(step) * 1000);
    let first = lowest.height().nm().div_euclid(step.nm()) + 1;
    let last = highest.height().nm().div_euclid(step.nm());
    for steps in first..=last {
        let at = Elevation::above_datum(step.times(steps));
        drawing.line((LEFT - 14.0, y(at)), (LEFT - 8.0, y(at)), 0.6, 0);
        drawing.line((LEFT - 8.0, y(at)), (right, y(at)), 0.15, 180);
        let words = format!("{:+} m", at.height().nm() / 1_000_000_000);
        drawing.text((LEFT - 16.0, y(at) + 2.0), 6.0, Anchor::End, words);
    }
}

/// A count, for drawing.
#[expect(clippy::cast_precision_loss, reason = "scales and lanes are small")]
fn real(count: u32) -> f32 {
    count as f32
}
