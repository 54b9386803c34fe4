//! Places: what heights count from, what marks are measured from, and the readings that they rest on.

use super::second_ways::ONE_READING;
use crate::figures::{Basis, Chain, Mark, MarkFrom, Reading, SlotFigures, SlotView};
use crate::job::{Elevations, Job};
use crate::measure::{Length, LengthFormat};
use crate::tally::Tally;

/// What heights on a piece count from: its lower make-up plane, or the lower end of the bottom joint,
/// which has none.
pub fn counted_from(chain: &Chain, tally: &Tally, piece: usize) -> String {
    let what = if piece == 0 {
        "lower end"
    } else {
        "lower make-up plane"
    };
    format!("{what} of {}", chain.number(tally, piece))
}

/// On which side of its surface a top is: a bare sign is misread.
pub const fn side_of_surface(stick_up: Length) -> &'static str {
    if stick_up.is_zero() {
        "LEVEL WITH"
    } else if stick_up.is_negative() {
        "BELOW"
    } else {
        "ABOVE"
    }
}

/// The name of what a mark is measured from, in files.
pub fn mark_name(job: &Job, from: MarkFrom) -> String {
    from.name(job)
}

/// What a mark is measured from.
pub fn reference(view: SlotView<'_>, figures: &SlotFigures, from: MarkFrom) -> String {
    let piece = figures.cut.place.as_ref().map_or(0, |place| place.piece);
    match from {
        MarkFrom::Rotary => format!("RT at hull position {}", view.job.cut.hull.name),
        MarkFrom::LowerPlane => {
            format!("the {}", counted_from(&figures.chain, view.tally, piece))
        }
        MarkFrom::UpperPlane => format!(
            "the upper make-up plane of {}",
            figures.chain.number(view.tally, piece)
        ),
        MarkFrom::Top => top_words(figures).to_owned(),
        MarkFrom::Bench(index) => bench_mark(view.job, index),
    }
}

/// A mark of known elevation, in sentences.
pub(super) fn bench_mark(job: &Job, index: usize) -> String {
    format!("bench mark {}", bench_name(job, index))
}

fn bench_name(job: &Job, index: usize) -> &str {
    job.benches.get(index).map_or("", |bench| &bench.name)
}

/// `DOWN from ...` or `UP from ...`, the true way whatever the sign.
pub fn direction(view: SlotView<'_>, figures: &SlotFigures, mark: &Mark) -> String {
    let way = if mark.is_upward() {
        "UP from"
    } else {
        "DOWN from"
    };
    format!("{way} {}", reference(view, figures, mark.from))
}

/// Which top a mark is measured from: after a rough cut it is cut off, and under a landing string it
/// is not the one that the stick-up was read on.
const fn top_words(figures: &SlotFigures) -> &'static str {
    let landing = !figures.chain.string.landing.is_empty();
    match (figures.chain.basis, landing) {
        (Basis::Planned, false) => "the planned top, before any cut",
        (Basis::Planned, true) => "the conductor's planned top, under the landing string",
        (_, false) => "the top as landed, before any cut",
        (_, true) => "the conductor's top as landed, under the landing string",
    }
}

/// A reading that marks rest on.
pub fn reading(
    view: SlotView<'_>,
    figures: &SlotFigures,
    reading: &Reading,
    show: LengthFormat,
) -> String {
    match reading {
        Reading::Bench(index) => bench_at(view.job, figures, *index, show),
        other => reading_name(view, figures, other),
    }
}

/// A bench mark with its elevation: what stands on the sheet can be taped.
fn bench_at(job: &Job, figures: &SlotFigures, index: usize, show: LengthFormat) -> String {
    let at = figures.chain.benches.get(index).map(|at| at.height());
    let at = at.map_or_else(String::new, |at| format!(" at {}", show.text(at)));
    let stated = job.benches.get(index).map(|it| it.elevation.height());
    let stated = stated.map_or_else(String::new, |it| format!(" (as stated {})", show.text(it)));
    let by_all = format!("by all readings{stated}");
    let by = match figures.chain.elevations() {
        Elevations::Chain => ONE_READING,
        Elevations::Adjusted => &by_all,
    };
    format!("{}{at}, {by}", bench_mark(job, index))
}

/// A reading that marks rest on, in files: what a mark is measured from has one name there.
pub fn reading_name(view: SlotView<'_>, figures: &SlotFigures, reading: &Reading) -> String {
    match reading {
        Reading::Rotary(hull) => format!("RT at hull position {}", hull.name),
        Reading::StickUp(hull) if figures.chain.basis == Basis::Read => format!(
            "stick-up of {} at hull position {}",
            view.slot.name, hull.name
        ),
        Reading::StickUp(hull) => format!(
            "stick-up of {}, still to be read at hull position {}",
            view.slot.name, hull.name
        ),
        Reading::Tally => format!("tally of {}", view.slot.name),
        Reading::Bench(index) => mark_name(view.job, MarkFrom::Bench(*index)),
    }
}

/// The readings that a mark rests on.
pub fn rests_on(
    view: SlotView<'_>,
    figures: &SlotFigures,
    mark: &Mark,
    show: LengthFormat,
) -> Vec<String> {
    let readings = mark.rests_on();
    readings
        .iter()
        .map(|it| reading(view, figures, it, show))
        .collect()
}
