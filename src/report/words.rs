//! Sentences that stand on more than one face, written once.

use crate::figures::{Basis, MarkFrom, SlotFigures};
use crate::job::Job;

/// The caution on every sheet.
pub const CAUTION: &str = "CAUTION: this sheet computes, it does not authorise. Verify by an independent measurement, by a second \
person and from another mark, before any cut. Cutting, lifting and work at height over water follow the permit, the lifting \
plan and the responsible person's instructions; local codes and licensed practice decide. A cut cannot be undone.";

/// What the scribed line is.
pub const SCRIBE: &str = "The scribed line is the finished top; the blade runs above it.";

/// What was not corrected.
pub const NO_CORRECTION: &str = "No temperature or stretch correction applied.";

/// The name of what a mark is measured from, in files.
pub fn mark_name(job: &Job, from: MarkFrom) -> String {
    match from {
        MarkFrom::Rotary => "rotary".to_owned(),
        MarkFrom::LowerPlane => "lower-plane".to_owned(),
        MarkFrom::UpperPlane => "upper-plane".to_owned(),
        MarkFrom::Top => "top".to_owned(),
        MarkFrom::Bench(index) => format!(
            "bench {}",
            job.benches.get(index).map_or("", |bench| &bench.name)
        ),
    }
}

/// A probability that never claims certainty.
pub fn probability(value: f64) -> String {
    if value > 0.9999 {
        "above 0.9999".to_owned()
    } else if value < 0.0001 {
        "below 0.0001".to_owned()
    } else {
        format!("{value:.4}")
    }
}

/// A count with its noun, `1 connection` or `2 connections`.
pub fn counted(count: usize, noun: &str) -> String {
    let ending = if count == 1 { "" } else { "s" };
    format!("{count} {noun}{ending}")
}

/// Whether a conductor may be cut, in words that nobody overlooks. That it is cut already comes before
/// all else.
pub const fn cut_state(figures: &SlotFigures) -> &'static str {
    match (figures.cut.is_cut(), figures.basis) {
        (true, _) => "ALREADY CUT - DO NOT CUT AGAIN",
        (false, Basis::Planned) => "PLANNED, NOT RUN YET - NOT FOR CUTTING",
        (false, Basis::None) => "NO STICK-UP READ - NOT FOR CUTTING",
        (false, Basis::Read) => "not cut yet",
    }
}

/// That a conductor is cut but its readings are not judged; `None` where they are, or it is not cut.
pub fn unjudged(figures: &SlotFigures) -> Option<String> {
    let cut = &figures.cut;
    (cut.is_cut() && cut.as_cut.is_none()).then(|| {
        format!(
            "{} of the finished top, not judged: see the flags",
            counted(cut.readings, "reading")
        )
    })
}
