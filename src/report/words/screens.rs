//! Sentences that stand on one screen alone.

use std::path::Path;

use super::places::counted_from;
use super::standing::counted;
use crate::figures::{Chain, steel};
use crate::finding::Severity;
use crate::job::{CutSpec, Pipe, Slot};
use crate::measure::{Elevation, Length, LengthFormat, Unit};
use crate::reconcile::Topic;
use crate::tally::{Kind, Tally};
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

/// Heads the depth of the shoe while a string is run.
pub fn shoe_depth(surface: &str) -> String {
    format!("SHOE DEPTH, TOP AT {surface}")
}

/// Heads what a string has still to be lowered.
pub fn still_to_lower(surface: &str) -> String {
    format!("STILL TO LOWER, FROM TOP AT {surface}")
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

/// The readings on which a group of marks rests: what they share makes them agree, right or wrong.
pub fn group_rests_on(readings: &[String], marks: usize) -> String {
    let all = readings.join("; ");
    let (mark, agree) = match marks {
        1 => ("Mark", ""),
        _ => ("Marks", ": no check on each other, they share readings"),
    };
    format!("{mark} on {all}{agree}")
}

/// Labels a mark by its place in the order of nearness.
pub fn mark_number(number: usize) -> String {
    format!("  {number}")
}

/// Labels a reading of the finished top.
pub fn reading_number(number: usize) -> String {
    format!("  reading {number}")
}

/// How far a reading of the finished top is from the target.
pub fn off_target(off: Length, show: LengthFormat) -> String {
    format!("{} from target", show.small_signed(off))
}

/// Labels of the figure in large digits: the target of a cut, of one that is planned, and a top that is finished.
pub const TARGET_LARGE: &str = "CUT TARGET";
/// Of a slot that is not landed yet.
pub const TARGET_PLANNED: &str = "CUT TARGET, PLANNED";
/// Of a conductor that is cut.
pub const FINISHED_TOP_LARGE: &str = "FINISHED TOP, AS MEASURED";

/// The unit of a figure in large digits, and above what it is.
pub fn above_datum(unit: Unit, datum: &str) -> String {
    match unit {
        Unit::FootInch => format!("above {datum}"),
        unit => format!("{} above {datum}", unit.name()),
    }
}

/// In place of how a figure came about.
pub const NO_DERIVATION: &str = "no figure under the cursor";
/// In place of the drawing of a joint.
pub const NOT_ON_STRING: &str = "the cut is not on the string";
/// The make-up planes of the joint that is cut.
pub const UPPER_PLANE: &str = "upper plane";
/// The lower of them.
pub const LOWER_PLANE: &str = "lower plane";
/// Where the blade runs.
pub const BLADE: &str = "blade";

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

/// Heads the drawing of the joint that is cut.
pub fn joint_drawn(number: &str) -> String {
    format!("Joint {number}, to scale along the pipe")
}

/// Which marks are not drawn for want of room.
pub fn marks_not_drawn(numbers: &[String]) -> String {
    format!("not drawn: {}", numbers.join(", "))
}
