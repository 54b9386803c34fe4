//! Words of the printable record.

use crate::figures::Figures;
use crate::job::name_of;
use crate::journal::{Inputs, sha256};
use crate::measure::{Length, LengthFormat};
use crate::signing::signed_figures;

/// The caution at the foot of every page.
pub const CAUTION_SHORT: &str = "Computes, does not authorise. Verify from another mark. Permit, lifting plan, local codes, licensed practice decide.";

/// There is no journal.
pub const NO_JOURNAL: &str = "no journal";

/// Why a planned slot has no marks.
pub const PLANNED_NO_MARKS: &str = "the string is not landed: nothing is set out by a plan";

/// The list cannot be read.
pub const UNREADABLE_LIST: &str = "this list cannot be read: see the flags of the slot";

/// What the sign before an entry means.
pub const STRUCK: &str = "x: struck by a later entry; it has no effect and stays in the journal";

/// The line that is marked round the conductor.
pub const LINE: &str = "LINE";

/// Where the blade runs.
pub const BLADE_ABOVE: &str = "BLADE ABOVE THE LINE";

/// Heads what was marked on a conductor, set to it and read of it.
pub const ENTERED: &str = "As entered";

/// The title of a slot's page: to cut by, or of what was cut.
pub fn slot_page(slot: &str, is_cut: bool) -> String {
    let what = if is_cut { "as it was cut" } else { "to cut by" };
    format!("Slot {slot}: {what}")
}

/// When it was printed.
pub fn printed_at(time: &str) -> String {
    format!("printed at {time}")
}

/// The file of a slot's tally of record.
pub fn tally_of(inputs: &Inputs, slot: usize) -> String {
    let adopted = inputs
        .record
        .slots
        .get(slot)
        .and_then(|it| it.tally.as_ref());
    match (adopted, inputs.job.slots.get(slot)) {
        (Some(said), _) => format!("{} (adopted by entry {})", said.what.0, said.seq),
        (None, Some(slot)) => format!("{} (as job.toml names it)", name_of(&slot.tally)),
        (None, None) => String::new(),
    }
}

/// The length of the string, and the unit of the columns above it.
pub fn in_unit(show: LengthFormat, length: Length) -> String {
    format!(
        "String length {}; columns in {}",
        show.text(length),
        show.heading()
    )
}

/// The unit of the columns of a running sheet.
pub fn columns_in(show: LengthFormat) -> String {
    format!(
        "lengths in {}; shoe: its depth below RT with the top at the spider; tick each joint as it is run",
        show.heading()
    )
}

/// The stick-up to be seen when a string lands.
pub fn stick_up_at_landing(stick_up: Length, surface: &str, show: LengthFormat) -> String {
    let [own, other] = super::both(show, stick_up.abs());
    format!(
        "STICK-UP AT LANDING {own} ({other}) {} {surface}",
        super::side_of_surface(stick_up)
    )
}

/// Without a plan there is nothing to land at.
pub const NO_PLAN: &str = "no plan is given: no stick-up can be said for the landing";

/// What becomes of what is written on a sheet.
pub const FROM_PAPER: &str =
    "What is written here is entered later with the time written here, and as from paper.";

/// The joint that carries the shoulder.
pub const RUNNING_JOINT: &str = "THE RUNNING JOINT: IT CARRIES THE SHOULDER";

/// In the place of the marks.
pub const NO_MARKS: &str = "NO MARKS: nothing may be set out from this slip";

/// There are no two marks that share no reading.
pub const ONE_MARK_ALONE: &str =
    "NO TWO MARKS SHARE NO READING: find a second one before anything is scribed";

/// A short code of every figure and flag of a slot: two slips of one code say the same.
pub fn slip_code(inputs: &Inputs, figures: &Figures, slot: usize) -> String {
    let all = signed_figures(inputs, figures, slot);
    let text: Vec<String> = all
        .iter()
        .map(|it| format!("{}={}", it.key, it.text))
        .collect();
    let standing = figures.standings.get(slot);
    // A slip that was printed while the slot was released is no slip of one that is not.
    let state = standing.map_or_else(String::new, super::cut_state);
    let digest = sha256(format!("{state}\n{}", text.join("\n")).as_bytes());
    digest.get(..6).unwrap_or_default().to_uppercase()
}

/// The code of a slip, and what it replaces.
pub fn slip(code: &str) -> String {
    format!(
        "slip {code}: the Cut screen shows the same code while nothing changed. It replaces every slip of this slot with another code: destroy those"
    )
}

/// The hull moves.
pub fn hull_moves(entry: u64) -> String {
    format!("THE HULL MOVES (entry {entry}): NO RT IS IN FORCE")
}

/// An RT that nobody found again.
pub const AS_STATED: &str = "as job.toml states it; not found again";

/// How, when and by which entry an RT was found.
pub fn found_by(how: &str, at: &str, entry: u64) -> String {
    format!("{how}, {at}, entry {entry}")
}

/// How far a landing may be off its plan.
pub fn allowed_off(allowed: Length, show: LengthFormat) -> String {
    format!(
        "up to {} from that passes; more is checked",
        show.small(allowed)
    )
}

/// What a sketch shows.
pub fn sketch_of(joint: &str) -> String {
    format!(
        "The cut in joint {joint}: the pipe is to one scale; a bench mark or RT is drawn above it, not to scale"
    )
}
