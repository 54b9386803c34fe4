//! The state of a cut and what comes off.

use super::flags::flag;
use super::places::reading;
use super::standing::counted;
use crate::figures::{Basis, CutPlace, SlotFigures, SlotView, shared_readings};
use crate::finding::{Code, Flag, Severity};
use crate::measure::{Length, LengthFormat};

/// Whether a conductor may be cut, in words that nobody overlooks. That it is cut already comes before
/// all else.
pub fn cut_state(figures: &SlotFigures) -> String {
    let stops: Vec<&str> = stops(figures).map(|flag| flag.code.name()).collect();
    match (figures.cut.is_cut(), figures.chain.basis) {
        (true, _) => "ALREADY CUT - DO NOT CUT AGAIN".to_owned(),
        (false, Basis::Planned) => "PLANNED, NOT RUN YET - NOT FOR CUTTING".to_owned(),
        (false, Basis::None) => "NO STICK-UP READ - NOT FOR CUTTING".to_owned(),
        (false, Basis::Read) if stops.is_empty() => "not cut yet".to_owned(),
        (false, Basis::Read) => format!("STOP - DO NOT CUT: {}", stops.join(", ")),
    }
}

/// Whether nothing that the program knows forbids the cut.
pub fn may_be_cut(figures: &SlotFigures) -> bool {
    !figures.cut.is_cut() && figures.chain.basis == Basis::Read && stops(figures).next().is_none()
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

/// Whether the kerf keeps its distance, in a word.
pub fn clearance_word(place: &CutPlace, asked: Option<Length>) -> &'static str {
    match asked {
        None => "no clearance required",
        Some(asked) if place.is_clear(asked) => "clear",
        Some(_) => "TOO CLOSE",
    }
}

/// What the crane must lift, and what that mass leaves out.
pub fn offcut_mass(place: &CutPlace) -> String {
    let least = if place.offcut_mass_is_partial {
        "at least "
    } else {
        ""
    };
    format!(
        "{least}{:.0} kg, {} in it, excluding the open box at its top",
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
        "Marks used (before the cut)"
    } else {
        "Marks"
    }
}

/// That marks which rest on one reading are not independent.
pub fn not_independent(
    view: SlotView<'_>,
    figures: &SlotFigures,
    place: &CutPlace,
) -> Option<String> {
    let shared = shared_readings(&place.marks);
    let shared: Vec<String> = shared.iter().map(|it| reading(view, figures, it)).collect();
    (!shared.is_empty()).then(|| {
        format!(
            "Not independent: marks that rest on the same reading ({}) agree whether it is right or wrong.",
            shared.join("; ")
        )
    })
}
