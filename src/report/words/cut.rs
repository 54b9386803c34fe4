//! The state of a cut and what comes off.

use super::flags::flag;
use super::places::reading;
use super::standing::counted;
use crate::figures::{
    CutPlace, CutStatus, Mark, MarkFrom, SlotFigures, SlotView, Standing, shared_readings,
};
use crate::finding::{Code, Flag, Severity};
use crate::measure::{Length, LengthFormat};

/// Whether a conductor may be cut, in words that nobody overlooks; with who released it, where someone did.
pub fn cut_state(standing: &Standing) -> String {
    let words = match (standing.status, &standing.release) {
        (CutStatus::Cut, _) if standing.is_unsurveyed => "CUT, NOT SURVEYED - DO NOT CUT AGAIN",
        (CutStatus::Cut, _) => "ALREADY CUT - DO NOT CUT AGAIN",
        (CutStatus::Stop, _) => "STOP - DO NOT CUT",
        (CutStatus::Planned, _) => "PLANNED - NOT FOR CUTTING",
        (CutStatus::Check, _) => "CHECK BEFORE CUTTING",
        (CutStatus::Clear, None) => "FOR SCRIBING ONLY - NOT RELEASED",
        (CutStatus::Clear, Some(release)) => {
            let paper = if release.on_paper { " on paper" } else { "" };
            let names = release.names.join(", ");
            return format!("RELEASED{paper} by {names} at {}", release.at);
        }
    };
    words.to_owned()
}

/// The flags that stand at the head of a slot: its own and those of the job that concern it, the worst
/// first. Notes stop nobody and stand below.
pub fn head_flags<'a>(figures: &'a SlotFigures, standing: &'a Standing) -> Vec<&'a Flag> {
    let all = figures.flags.iter().chain(&standing.of_job);
    let mut head: Vec<&Flag> = all.filter(|flag| flag.severity > Severity::Note).collect();
    head.sort_by(|a, b| b.severity.cmp(&a.severity).then(a.code.cmp(&b.code)));
    head
}

/// Why no marks are given, in their place; `None` where they are.
pub fn no_marks(figures: &SlotFigures, standing: &Standing, show: LengthFormat) -> Option<String> {
    match standing.status {
        CutStatus::Cut => Some("it is cut: nothing is set out any more".to_owned()),
        CutStatus::Stop => {
            let stops: Vec<&str> = head_flags(figures, standing)
                .into_iter()
                .filter(|flag| flag.severity == Severity::Stop)
                .map(|flag| flag.code.name())
                .collect();
            Some(format!(
                "no marks are given while this stops it: {}",
                stops.join(", ")
            ))
        }
        _ if figures.cut.place.is_none() => Some(no_place(figures, show)),
        _ => None,
    }
}

/// The marks that may be set out, the nearest first. From which end the joints count is a guess while
/// the order of the tally is, and then nothing is measured from their planes.
pub fn marks_to_set_out<'a>(figures: &SlotFigures, place: &'a CutPlace) -> Vec<&'a Mark> {
    let mut flags = figures.flags.iter();
    let is_guess = flags.any(|flag| flag.code == Code::OrderAssumed);
    let of_plane = |mark: &Mark| matches!(mark.from, MarkFrom::LowerPlane | MarkFrom::UpperPlane);
    let mut marks = place.nearest_first();
    marks.retain(|mark| !(is_guess && of_plane(mark)));
    marks
}

/// Why there is no cut to mark.
fn no_place(figures: &SlotFigures, format: LengthFormat) -> String {
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

/// That marks which rest on one reading are not independent.
pub fn not_independent(
    view: SlotView<'_>,
    figures: &SlotFigures,
    place: &CutPlace,
    show: LengthFormat,
) -> Option<String> {
    let shared = shared_readings(&place.marks);
    let shared: Vec<String> = shared
        .iter()
        .map(|it| reading(view, figures, it, show))
        .collect();
    (!shared.is_empty()).then(|| {
        format!(
            "Not independent: marks that rest on the same reading ({}) agree whether it is right or wrong.",
            shared.join("; ")
        )
    })
}
