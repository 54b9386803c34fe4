//! What stands on the sheet of a cut and in the drawing beside it.

use crate::measure::{Length, LengthFormat, Unit};

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

/// Heads the drawing of the joint that is cut.
pub fn joint_drawn(number: &str) -> String {
    format!("Joint {number}, to scale along the pipe")
}

/// Which marks are not drawn for want of room.
pub fn marks_not_drawn(numbers: &[String]) -> String {
    format!("not drawn: {}", numbers.join(", "))
}
