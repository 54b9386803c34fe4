//! What the floor says, in capitals where it is read from three metres.

use super::places::counted_from;
use crate::figures::Chain;
use crate::measure::{Length, LengthFormat};
use crate::tally::{Kind, Tally};

/// Heads the depth of the shoe while a string is run.
pub fn shoe_depth(surface: &str) -> String {
    format!("SHOE DEPTH, TOP AT {surface}")
}

/// Heads what a string has still to be lowered.
pub fn still_to_lower(surface: &str) -> String {
    format!("STILL TO LOWER, FROM TOP AT {surface}")
}

/// In place of what the floor's figures rest on, where they may have changed.
pub const OLD_FLOOR: &str = "OLD FIGURES: DO NOT RUN BY THEM";

/// That the hull moves, and of which position the figures are.
pub fn hull_is_moving(read_at: &str) -> String {
    format!("THE HULL MOVES: FIGURES ARE OF POSITION {read_at}")
}

/// That the hull is at another position than the figures are of.
pub fn hull_is_at(now: &str, read_at: &str) -> String {
    format!("THE HULL IS AT {now}: FIGURES ARE OF POSITION {read_at}")
}

/// Heads the joints that come next.
pub const COMING: &str = "Coming joints";
/// Heads the last entries.
pub const ENTERED_LAST: &str = "Entered last";
/// That nothing is fitted on the next joint: a line at least, so that nothing jumps from joint to joint.
pub const NOTHING_TO_FIT: &str = "NOTHING TO FIT ON IT";
/// That there is no next joint.
pub const ALL_RUN: &str = "ALL JOINTS ARE RUN";
/// Heads the serial of the next joint.
pub const ITS_SERIAL: &str = "ITS SERIAL";
/// Heads a figure that is planned.
pub fn as_planned(label: &str) -> String {
    format!("{label}, PLANNED")
}

/// Heads the stick-up as it was read.
pub const STICK_UP_READ: &str = "STICK-UP, AS READ";
/// Heads the one to see when the string is landed.
pub const STICK_UP_AT_LANDING: &str = "STICK-UP AT LANDING";
/// Heads the length of what is in.
pub const STRING_SO_FAR: &str = "STRING SO FAR ";
/// Heads the shoe of a string that hangs.
pub const SHOE_AS_IT_HANGS: &str = "SHOE, AS IT HANGS";

/// Heads what a string that hangs with all its joints has still to be lowered, or by how much it hangs too low.
pub const fn still_to_lower_as_it_hangs(is_too_low: bool) -> &'static str {
    if is_too_low {
        "HANGS TOO LOW, BY"
    } else {
        "STILL TO LOWER, AS IT HANGS"
    }
}

/// Heads the shoe of a landed string.
pub const SHOE_AS_LANDED: &str = "SHOE, AS LANDED";

/// In place of large figures, where nothing says how many joints are run.
pub const COUNT_NOT_KNOWN: [&str; 3] = [
    "How many joints are run is not known: none is entered in the journal.",
    "a enters the joint that is run, Down or + counts by hand from the first.",
    "No next joint is shown until then.",
];

/// How many joints are run of how many, and whether that is counted by hand.
pub fn joints_run(run: usize, of: usize, by_hand: bool) -> String {
    let by_hand = if by_hand { ", BY HAND" } else { "" };
    format!("{run} OF {of} JOINTS RUN{by_hand}")
}

/// Heads the number of the next joint, with its kind where that is not a plain one.
pub fn next_is(kind: Option<Kind>) -> String {
    kind.map_or_else(
        || "NEXT JOINT".to_owned(),
        |kind| format!("NEXT JOINT, KIND {}", kind.name().to_uppercase()),
    )
}

/// Heads the length of the next joint with its number and serial.
pub fn next_and_its_length(number: &str, serial: Option<&str>) -> String {
    let serial = serial.map_or_else(String::new, |it| format!(", SERIAL {it}"));
    format!("NEXT JOINT {number}{serial}: ITS LENGTH")
}

/// Heads the length of the next joint.
pub const fn its_length(is_effective: bool) -> &'static str {
    if is_effective {
        "ITS LENGTH, EFFECTIVE"
    } else {
        "ITS LENGTH, OVERALL"
    }
}

/// A depth below RT, in capitals.
pub fn from_rt(below: Length, show: LengthFormat) -> String {
    let side = if below.is_negative() {
        "ABOVE"
    } else {
        "BELOW"
    };
    format!("{} {side} RT", show.text(below.abs()))
}

/// What to fit on a joint that is run next, in capitals for the rig floor.
pub fn fit(
    name: &str,
    height: Length,
    touches: bool,
    (chain, tally, piece): (&Chain, &Tally, usize),
    show: LengthFormat,
) -> String {
    let touches = if touches {
        ": TOUCHES A CONNECTION"
    } else {
        ""
    };
    format!(
        "FIT {}: LOWER EDGE {} ABOVE THE {}{touches}",
        name.to_uppercase(),
        show.text(height),
        counted_from(chain, tally, piece).to_uppercase()
    )
}
