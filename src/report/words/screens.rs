//! Sentences that stand on one screen alone.

use std::path::Path;

use super::standing::counted;
use crate::figures::steel;
use crate::finding::Severity;
use crate::job::{CutSpec, Pipe, Slot};
use crate::measure::{Elevation, Length, LengthFormat, Unit};
use crate::reconcile::Topic;
use crate::tally::Tally;
use unicode_width::UnicodeWidthStr;

/// The terminal is too small for any screen.
pub fn too_small((least_width, least_height): (u16, u16), (width, height): (u16, u16)) -> String {
    format!(
        "kerfmark needs {least_width} x {least_height}; this is {width} x {height}. Ctrl-C quits."
    )
}

/// That a file is being read.
pub fn reading_file(file: &Path) -> String {
    format!("reading {}", file.display())
}

/// That figures are being worked out.
pub const WORKING_OUT: &str = "working out figures";

/// How many draws of tops were made.
pub fn drawn(drawn: u32, of: u32) -> String {
    let percent = u64::from(drawn) * 100 / u64::from(of.max(1));
    format!("{percent} % of {of} draws")
}

/// That no command is named by what is typed.
pub const NO_COMMAND: &str = "no command of this name works here";

/// That the copy in the second folder is behind.
pub const COPY_BEHIND: &str = "COPY BEHIND";

/// The same, and why.
pub fn copy_behind(why: &str) -> String {
    format!("{COPY_BEHIND}: {why}")
}

/// What is asked for while a value that was measured again is typed.
pub fn asked(slot: &str, joint: &str, topic: Topic, show: LengthFormat) -> String {
    format!(
        "slot {slot}, joint {joint}, {} measured again, in {}: ",
        topic.name(),
        show.heading()
    )
}

/// How many lines are not in sight.
pub fn more(above: usize, below: usize) -> String {
    match (above, below) {
        (above, 0) => format!("{above} more above"),
        (0, below) => format!("{below} more below"),
        (above, below) => format!("{above} more above, {below} below"),
    }
}

/// How many lines of a text are further down, and the keys that go there.
pub fn more_below(below: usize) -> String {
    format!("{below} more below (Down, PgDn)")
}

/// In place of a status that may have changed.
pub const OLD: &str = " old ";

/// In place of a list of flags.
pub const NO_FLAGS: &str = "no flags";
/// Labels of the slot in front.
pub const CUT_TARGET: &str = "cut target";
/// The mark that is nearest to the cut.
pub const NEAREST_MARK: &str = "nearest mark";
/// The joint that is cut.
pub const IN_JOINT: &str = "in joint";
/// Whether the cut keeps its distance.
pub const CLEARANCE: &str = "clearance";
/// What comes off.
pub const OFF_CUT: &str = "off-cut";
/// The hull position at which the slot is read.
pub const READ_AT: &str = "read from";

/// The spread of the cuts that are judged.
pub fn spread_of(cuts: usize, spread: Length, show: LengthFormat) -> String {
    format!("spread of {cuts} judged {} ", show.small(spread))
}

/// Which slots are in sight.
pub fn slots_shown(first: usize, last: usize, of: usize) -> String {
    format!(" slots {first} to {last} of {of}")
}

/// How many flags there are of a severity.
pub fn flags_of(severity: Severity, count: usize) -> String {
    counted(count, severity.word())
}

/// How many conductors are cut, and the units in use.
pub fn status_of_cuts(cut: usize, of: usize, unit: &str, dot: char) -> String {
    format!("{cut} of {of} cut {dot} {unit}")
}

/// The name of a unit as people say it.
pub const fn unit_in_full(unit: Unit) -> &'static str {
    match unit {
        Unit::Foot => "feet",
        Unit::FootInch => "feet and inches",
        Unit::Millimetre => "millimetres",
        _ => "metres",
    }
}

/// That the screens have the mouse.
pub const WITH_MOUSE: &str = "  mouse";

/// Which of several is in front.
pub fn one_of(which: usize, of: usize) -> String {
    format!(" {which} of {of} ")
}

/// A text in so many cells: what does not fit is left out between words, with a sign for it.
pub fn shortened(text: &str, room: usize) -> String {
    if text.width() <= room {
        return text.to_owned();
    }
    let mut short = String::new();
    for word in text.split_inclusive(' ') {
        if short.width() + word.trim_end().width() + 2 > room {
            break;
        }
        short.push_str(word);
    }
    match short.trim_end() {
        "" => String::new(),
        some => format!("{some} .."),
    }
}

/// That a conductor is cut, and what is to be said of its top.
pub fn cut_and(word: &str) -> String {
    format!("cut, {word}")
}

/// The tolerances of the cut and its kerf.
pub fn limits(cut: &CutSpec, show: LengthFormat) -> String {
    let small = |limit: Length| show.small(limit);
    let none = || "none given".to_owned();
    let tolerance = cut
        .tolerance
        .map_or_else(none, |it| format!("±{}", small(it)));
    let level = cut.level.map_or_else(none, small);
    let spread = cut.spread.map_or_else(none, small);
    let kerf = if cut.kerf_is_stated {
        small(cut.kerf)
    } else {
        "not given, nothing is taken off for it".to_owned()
    };
    format!("tolerance {tolerance}, out of level {level}, spread {spread}; kerf {kerf}")
}

/// A length, or that there is none.
pub(super) fn or_none(length: Option<Length>, show: LengthFormat) -> String {
    length.map_or_else(|| "none".to_owned(), |length| show.text(length))
}

/// What is in the way of a cut, and how far it has to be.
pub fn clearances(
    to_connection: Option<Length>,
    to_shoulder: Option<Length>,
    required: Option<Length>,
    show: LengthFormat,
) -> String {
    let [connection, shoulder, required] =
        [to_connection, to_shoulder, required].map(|it| or_none(it, show));
    format!("connection {connection}, shoulder {shoulder}, required {required}")
}

/// A line that is added to the target, with the way that it moves it.
pub fn moves_target(value: Length, show: LengthFormat) -> String {
    let way = match (value.is_zero(), value.is_negative()) {
        (true, _) => "nothing",
        (_, true) => "LOWER",
        (_, false) => "higher",
    };
    format!("{} ({way})", show.small_signed(value))
}

/// How far the cut is below or above RT at a hull position.
pub fn below_rotary(below: Length, text: &str, hull: &str) -> String {
    let side = if below.is_negative() {
        "ABOVE"
    } else {
        "below"
    };
    format!("{text} {side} RT at hull position {hull}")
}

/// A first, rough cut: where it is measured from, and its elevation.
pub fn rough_cut(above: Length, at: &str, show: LengthFormat) -> String {
    format!("{} above the scribed line, at {at}", show.text(above))
}

/// The pipe that is cut: its diameter, its wall, and what a length of it weighs.
pub fn pipe(pipe: &Pipe) -> String {
    let inches = LengthFormat::new(crate::measure::Unit::FootInch);
    format!(
        "{} x {}, {:.1} kg/m",
        inches.small(pipe.od),
        inches.small(pipe.wall),
        steel::mass_per_metre(pipe)
    )
}

/// That figures are old, in the place of the marks.
pub const OLD_MARKS: &str = "the files cannot be read and these figures are old: m says why";

/// The same at the head of a slot.
pub const OLD_STATE: &str = "OLD FIGURES - DO NOT MARK BY THEM";

/// How long a cold cut takes.
pub fn cutting_time(pipe: &Pipe) -> String {
    format!(
        "about {:.0} minutes for a cold cut: a first estimate from common practice",
        steel::cutting_minutes(pipe)
    )
}

/// That a stick-up is of the landing string, and how far above the conductor's top its top is.
pub fn to_landing_top(landing: Length, show: LengthFormat) -> String {
    format!(
        "to the landing string's top, {} above the conductor's",
        show.text(landing)
    )
}

/// The hull position whose RT counts, shorter where there is little room.
pub fn at_hull(hull: &str, is_wide: bool) -> String {
    if is_wide {
        format!("RT at hull position {hull}")
    } else {
        format!("RT at {hull}")
    }
}

/// How high the frame's base is.
pub fn frame_base(height: Length, show: LengthFormat) -> String {
    format!("frame's base {} above mudline", show.text(height))
}

/// The tally that a slot's screen lists: its file, and how it was read.
pub fn tally_file(slot: &Slot, tally: &Tally) -> String {
    format!(
        "{}, in {}, read as {}",
        slot.tally.display(),
        tally.unit,
        tally.encoding
    )
}

/// The same where there is little room.
pub const KEEP_OUT: &str = "keep-out";

/// A keep-out that a joint reaches into, and whether the connection above the joint lies in it.
pub fn keep_out(why: &str, is_in_it: bool) -> String {
    if is_in_it {
        format!("CONNECTION ABOVE IT IN {why}")
    } else {
        format!("passes {why}")
    }
}

/// That a slot has no other list, and how one is named.
pub fn no_other_list(slot: &str) -> String {
    format!(
        "No other list of this string is named. Under slot {slot} of job.toml: lists = {{ yard = \"tallies/yard.csv\" }}"
    )
}

/// That a list cannot be read.
pub fn list_unreadable(list: &str, reason: &str) -> String {
    format!("{list} cannot be read: {reason}")
}

/// That decisions cannot be read.
pub fn decisions_unreadable(reason: &str) -> String {
    format!("DECISIONS CANNOT BE READ: {reason}")
}

/// How far an elevation is above or below a rotary table.
pub fn from_rotary(
    elevation: Elevation,
    rotary: Elevation,
    hull: &str,
    show: LengthFormat,
) -> String {
    let above = elevation - rotary;
    format!("{} RT {hull}", side(above, show))
}

/// How far an elevation is above or below the mudline of a slot.
pub fn from_mudline(
    elevation: Elevation,
    mudline: Elevation,
    slot: &str,
    show: LengthFormat,
) -> String {
    format!("{} the mudline of {slot}", side(elevation - mudline, show))
}

fn side(above: Length, show: LengthFormat) -> String {
    let side = if above.is_negative() {
        "below"
    } else {
        "above"
    };
    format!("{} {side}", show.text(above.abs()))
}

/// Where on a joint a height lies, and how far the nearest connection is.
pub fn on_joint(
    number: &str,
    height: Length,
    connection: Option<Length>,
    show: LengthFormat,
) -> String {
    let connection = connection.map_or_else(String::new, |nearest| {
        format!("; a connection {} off", show.text(nearest))
    });
    format!(
        "on {number}, {} above its lower plane{connection}",
        show.text(height)
    )
}

/// The row of the tally in front, and how many lines were skipped.
pub fn row_of(row: usize, joints: usize, skipped: usize) -> String {
    format!("{row} of {joints}, {} skipped", counted(skipped, "line"))
}

/// A tally of record that is written.
pub fn record_written(file: &Path, joints: usize, open: usize) -> String {
    format!(
        "{} written: {joints} joints, {open} not decided",
        file.display()
    )
}
