//! What stands in drawings to scale.

use crate::measure::{Length, LengthFormat, Unit};

/// The seabed.
pub const MUDLINE: &str = "mudline";
/// The sea surface, where it is not the datum.
pub const SEA_SURFACE: &str = "sea surface";
/// The plane on which the deck lands.
pub const DECK: &str = "deck";
/// The base of the frame.
pub const FRAME_BASE: &str = "frame's base";
/// Where a conductor is to be cut.
pub const CUT: &str = "cut";
/// Where it was cut.
pub const FINISHED_TOP: &str = "finished top";
/// The landing shoulder.
pub const SHOULDER: &str = "shoulder";
/// The top of a string.
pub const TOP: &str = "top";
/// Its lower end.
pub const SHOE: &str = "shoe";
/// In place of a string that is not placed.
pub const NO_BASIS: &str = "no basis";

/// The rotary table at a hull position.
pub fn rt_at(hull: &str) -> String {
    format!("RT {hull}")
}

/// A connection that lies where none may.
pub fn connection_in(why: &str) -> String {
    format!("connection in {why}")
}

/// A span in which no connection may lie.
pub fn keep_out_of(why: &str) -> String {
    format!("keep-out: {why}")
}

/// How far a cut keeps from connections.
pub fn clearance_of(clearance: Length, show: LengthFormat) -> String {
    format!("clearance {}", show.text(clearance))
}

/// How well the nearest mark finds the cut.
pub fn u_of_mark(u: Length, mark: &str, show: LengthFormat) -> String {
    format!("U {} from {mark}", show.small(u))
}

/// That nothing says how well the nearest mark finds the cut.
pub fn u_not_stated(mark: &str) -> String {
    format!("U not stated from {mark}")
}

/// The same without what it is measured from.
pub fn u_alone(u: Length, show: LengthFormat) -> String {
    format!("U {}", show.small(u))
}

/// What the blade takes away.
pub fn kerf_of(kerf: Length, show: LengthFormat) -> String {
    format!("kerf {}", show.small(kerf))
}

/// How much of the height a row shows.
pub fn scale_of_rows(row: Length, show: LengthFormat) -> String {
    let (unit, name) = match show.unit() {
        unit if unit.is_metric() && row >= Length::from_mm(1000) => (Unit::Metre, "m"),
        unit if unit.is_metric() => (Unit::Millimetre, "mm"),
        _ if row >= Length::from_nm(Unit::Foot.nm()) => (Unit::Foot, "ft"),
        _ => (Unit::Inch, "in"),
    };
    // Two digits say enough of a scale.
    let value = row.real_nm() / Length::from_nm(unit.nm()).real_nm();
    let decimals = usize::from(value < 10.0) + usize::from(value < 1.0);
    format!("1 row = {value:.decimals$} {name}")
}

/// Heads what lies on a conductor.
pub fn on_slot(slot: &str) -> String {
    format!("On {slot}, from the top")
}

/// The upper end of a span.
pub fn upper_end(of: &str) -> String {
    format!("{of}, upper end")
}

/// The lower end of a span.
pub fn lower_end(of: &str) -> String {
    format!("{of}, lower end")
}

/// The nearest mark of a cut: how far, which way from what, and how well that finds it.
pub fn nearest_mark(distance: &str, way: &str, u: &str) -> String {
    format!("{distance} {way}, U {u}")
}
