//! Sentences, each written once.

mod flags;
mod reconcile;

pub use flags::flag;
pub use reconcile::{bridge_line, difference, mistake, note, pair, refusal, sources, suspect};

use crate::figures::{
    AsCut, Basis, CutPlace, Mark, MarkFrom, SlotFigures, Variance, probability_words,
};
use crate::flag::{Code, Flag, Severity};
use crate::job::{Job, Pipe};
use crate::measure::{Length, LengthFormat, Unit};
use crate::tally::Tally;

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

/// A count with its noun, `1 connection` or `2 connections`.
pub fn counted(count: usize, noun: &str) -> String {
    let ending = if count == 1 { "" } else { "s" };
    format!("{count} {noun}{ending}")
}

/// A length in the unit in use and in the other system.
pub fn both(show: LengthFormat, length: Length) -> [String; 2] {
    let other = LengthFormat::new(if show.unit() == Unit::Metre {
        Unit::FootInch
    } else {
        Unit::Metre
    });
    [show.text(length), other.text(length)]
}

/// An expanded uncertainty, or that it is not stated.
pub fn stated(show: LengthFormat, variance: Option<Variance>) -> String {
    variance.map_or_else(
        || "not stated".to_owned(),
        |variance| show.small(variance.expanded()),
    )
}

/// The uncertainties that count as nothing, so that nobody takes a figure for better than it is.
pub fn counted_as_zero(job: &Job) -> Option<String> {
    let given = &job.uncertainty;
    let zero = |length: Length| length.is_zero();
    let keys: Vec<&str> = [
        ("connection", zero(given.connection)),
        ("tape_scale", given.tape_scale <= 0.0),
        ("benchmark", zero(given.benchmark)),
        ("mudline", zero(given.mudline)),
    ]
    .into_iter()
    .filter(|(_, is_zero)| *is_zero)
    .map(|(key, _)| key)
    .collect();
    (!keys.is_empty()).then(|| {
        format!(
            "Uncertainties counted as 0, because they are left out or stated so: {}.",
            keys.join(", ")
        )
    })
}

/// Whether a conductor may be cut, in words that nobody overlooks. That it is cut already comes before
/// all else.
pub fn cut_state(figures: &SlotFigures) -> String {
    let stops: Vec<&str> = stops(figures).map(|flag| flag.code.name()).collect();
    match (figures.cut.is_cut(), figures.basis) {
        (true, _) => "ALREADY CUT - DO NOT CUT AGAIN".to_owned(),
        (false, Basis::Planned) => "PLANNED, NOT RUN YET - NOT FOR CUTTING".to_owned(),
        (false, Basis::None) => "NO STICK-UP READ - NOT FOR CUTTING".to_owned(),
        (false, Basis::Read) if stops.is_empty() => "not cut yet".to_owned(),
        (false, Basis::Read) => format!("STOP - DO NOT CUT: {}", stops.join(", ")),
    }
}

/// Whether nothing that the program knows forbids the cut.
pub fn may_be_cut(figures: &SlotFigures) -> bool {
    !figures.cut.is_cut() && figures.basis == Basis::Read && stops(figures).next().is_none()
}

/// The flags of a slot that stop the job.
pub fn stops(figures: &SlotFigures) -> impl Iterator<Item = &Flag> {
    let stop = |flag: &&Flag| flag.severity == Severity::Stop;
    figures.flags.iter().filter(stop)
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

/// Why there is no cut to mark.
pub fn no_place(figures: &SlotFigures, format: LengthFormat) -> String {
    let codes = [Code::TooShort, Code::CutBelowShoe, Code::NoStickUp];
    let mut flags = figures.flags.iter();
    flags.find(|flag| codes.contains(&flag.code)).map_or_else(
        || "its place on the string is not known".to_owned(),
        |it| flag(it, format),
    )
}

/// How the finished top lies in height: the verdict, which is of the height alone.
pub fn height_verdict(as_cut: &AsCut, tolerance: Option<Length>, show: LengthFormat) -> String {
    let limit = tolerance.map_or_else(
        || "no tolerance given".to_owned(),
        |limit| format!("tolerance +/- {}", show.small(limit)),
    );
    let chance = as_cut.probability.map_or_else(String::new, |chance| {
        format!(", probability of conformity {}", probability_words(chance))
    });
    format!(
        "{} from target, U {}, {limit}{chance}",
        show.small_signed(as_cut.deviation.rounded()),
        stated(show, as_cut.variance)
    )
}

/// How level the finished top is. It is compared plainly with what is allowed: nothing is proven.
pub fn level_words(as_cut: &AsCut, allowed: Option<Length>, show: LengthFormat) -> String {
    let Some(level) = as_cut.out_of_level else {
        return "out of level: not known (under 3 readings)".to_owned();
    };
    match allowed {
        None => format!("out of level {}, no limit given", show.small(level)),
        Some(allowed) => format!(
            "out of level {}, {} {} allowed (compared plainly)",
            show.small(level),
            if level > allowed {
                "MORE THAN the"
            } else {
                "not above the"
            },
            show.small(allowed)
        ),
    }
}

/// Whether the kerf keeps its distance, in a word.
pub fn clearance_word(place: &CutPlace, asked: Option<Length>) -> &'static str {
    match asked {
        None => "no clearance asked for",
        Some(asked) if place.is_clear(asked) => "clear",
        Some(_) => "TOO CLOSE",
    }
}

/// What the crane must lift, and what that mass leaves out.
pub fn offcut_mass(place: &CutPlace, pipe: Option<&Pipe>) -> String {
    let partial = pipe.is_some_and(|pipe| pipe.connector_mass.is_none());
    let least = if partial && place.offcut_connections > 0 {
        "at least "
    } else {
        ""
    };
    format!(
        "{least}{:.0} kg, {} in it, the open half at its top not counted",
        place.offcut_mass,
        counted(place.offcut_connections, "made-up connection")
    )
}

/// What stands before the mass of the off-cut.
pub const fn lift_word(figures: &SlotFigures) -> &'static str {
    if figures.cut.is_cut() {
        "was to be lifted"
    } else {
        "to be lifted"
    }
}

/// The heading of the marks: a conductor that is cut has none to set out any more.
pub const fn marks_heading(figures: &SlotFigures) -> &'static str {
    if figures.cut.is_cut() {
        "Marks it was to be found by"
    } else {
        "Marks"
    }
}

/// `DOWN from ...` or `UP from ...`, the true way whatever the sign.
pub fn direction(job: &Job, tally: &Tally, figures: &SlotFigures, mark: &Mark) -> String {
    let way = if mark.is_upward() {
        "UP from"
    } else {
        "DOWN from"
    };
    let piece = figures.cut.place.as_ref().map_or(0, |place| place.piece);
    let from = match mark.from {
        MarkFrom::Rotary => format!(
            "RT at hull position {}",
            job.hulls.get(job.cut.hull).map_or("", |hull| &hull.name)
        ),
        MarkFrom::LowerPlane => format!("the {}", figures.counted_from(tally, piece)),
        MarkFrom::UpperPlane => {
            format!(
                "the upper make-up plane of {}",
                figures.number(tally, piece)
            )
        }
        MarkFrom::Top => top_words(figures).to_owned(),
        MarkFrom::Bench(index) => format!(
            "bench {}",
            job.benches.get(index).map_or("", |bench| &bench.name)
        ),
    };
    format!("{way} {from}")
}

/// Which top a mark is measured from: after a rough cut it is gone, and under a landing string it
/// is not the one that the stick-up was read on.
const fn top_words(figures: &SlotFigures) -> &'static str {
    let landing = !figures.string.landing.is_empty();
    match (figures.basis, landing) {
        (Basis::Planned, false) => "the planned top, before any cut",
        (Basis::Planned, true) => "the conductor's planned top, under the landing string",
        (_, false) => "the top as landed, before any cut",
        (_, true) => "the conductor's top as landed, under the landing string",
    }
}

/// That marks which rest on one reading are not independent.
pub fn not_independent(place: &CutPlace) -> Option<String> {
    let shared = place.shared_readings();
    (!shared.is_empty()).then(|| {
        format!(
            "Not independent: marks that rest on the same reading ({}) agree whether it is right or wrong.",
            shared.join("; ")
        )
    })
}
