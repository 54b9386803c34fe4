//! A sketch of the joint that is cut, with two distances that share no reading.

use super::model::{Anchor, Drawing};
use crate::figures::{CutPlace, Mark, MarkFrom, SlotFigures, SlotView};
use crate::measure::{Length, LengthFormat};
use crate::report::words;

/// The size of the sketch in points.
const SIZE: (f32, f32) = (500.0, 124.0);

/// Two marks that may be set out and share no reading, the nearest first; one where there are no two.
pub fn independent<'a>(figures: &SlotFigures, place: &'a CutPlace) -> Vec<&'a Mark> {
    let marks = words::marks_to_set_out(figures, place);
    let apart = |one: &Mark, other: &Mark| {
        let readings = other.rests_on();
        one.rests_on().iter().all(|it| !readings.contains(it))
    };
    for (at, one) in marks.iter().enumerate() {
        if let Some(other) = marks.iter().skip(at + 1).find(|other| apart(one, other)) {
            return vec![*one, *other];
        }
    }
    marks.into_iter().take(1).collect()
}

/// The joint that is cut, its planes, the line and the blade, and how far it is from the marks. Not to scale
/// across; along the pipe the joint fills the height.
pub fn sketch(view: SlotView<'_>, figures: &SlotFigures, place: &CutPlace) -> Drawing {
    let show = LengthFormat::new(view.job.units);
    let title = words::sketch_of(figures.chain.number(view.tally, place.piece));
    let mut drawing = Drawing::new(title.clone(), SIZE);
    drawing.bold((0.0, 9.0), 8.0, Anchor::Start, title);
    let (top, bottom, middle, wide) = (24.0, SIZE.1 - 14.0, 140.0, 44.0);
    let length = place.above_lower_plane + place.below_upper_plane;
    let share = ratio(place.below_upper_plane, length);
    let cut = top + (bottom - top) * share;
    drawing.fill((middle - wide / 2.0, top), (wide, bottom - top), 220);
    for side in [-0.5, 0.5] {
        let x = middle + wide * side;
        drawing.line((x, top), (x, bottom), 1.0, 40);
    }
    for (at, name) in [(top, "upper plane"), (bottom, "lower plane")] {
        drawing.line((middle - wide, at), (middle + wide, at), 1.2, 40);
        drawing.text((middle - wide - 4.0, at + 2.0), 6.5, Anchor::End, name);
    }
    drawing.line((middle - wide, cut), (middle + wide, cut), 2.0, 0);
    drawing.bold(
        (middle - wide - 4.0, cut + 2.5),
        8.0,
        Anchor::End,
        words::LINE,
    );
    drawing.bold((middle, cut - 5.0), 6.5, Anchor::Middle, words::BLADE_ABOVE);
    let mut x = middle + wide + 16.0;
    for (number, mark) in (1..).zip(independent(figures, place)) {
        let (from, to) = match mark.from {
            MarkFrom::LowerPlane => (bottom, cut),
            MarkFrom::UpperPlane | MarkFrom::Top => (top, cut),
            _ => (14.0, cut),
        };
        drawing.line((x, from), (x, to), 1.0, 0);
        let tip = if to > from { -5.0 } else { 5.0 };
        for side in [-2.5, 2.5] {
            drawing.line((x + side, to + tip), (x, to), 1.0, 0);
        }
        let [own, other] = words::both(show, mark.distance.value.abs());
        let between = f32::midpoint(from, to);
        drawing.bold(
            (x + 6.0, between),
            10.0,
            Anchor::Start,
            format!("{number}  {own}"),
        );
        drawing.text((x + 6.0, between + 10.0), 7.0, Anchor::Start, other);
        let from = words::direction(view, figures, mark);
        drawing.text((x + 6.0, between + 19.0), 6.5, Anchor::Start, from);
        x += 122.0;
    }
    drawing
}

/// A share of a length, for drawing.
#[expect(
    clippy::cast_possible_truncation,
    reason = "a drawing needs no more digits"
)]
fn ratio(part: Length, whole: Length) -> f32 {
    let whole = whole.real_metres();
    if whole <= 0.0 {
        0.5
    } else {
        (part.real_metres() / whole).clamp(0.0, 1.0) as f32
    }
}
