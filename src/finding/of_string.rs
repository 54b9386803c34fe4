//! Where a string is, its running joint, and what is fixed to it. Quantities are exact; an uncertainty U is rounded to the
//! nanometre, and `None` where it is not stated.

use super::names::JointRef;
use crate::measure::{Elevation, Length};

/// A part of the string that has a window.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Part {
    /// The shoe.
    Shoe,
    /// The landing shoulder.
    Shoulder,
    /// The top.
    Top,
}

/// A connection that lies where none may.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct KeepOutRef {
    /// The joint below it.
    pub below: String,
    /// The joint above it.
    pub above: String,
    /// Its make-up plane.
    pub plane: Elevation,
    /// Why none may lie there.
    pub why: String,
}

/// Where a string is, its running joint, and what is fixed to it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum StringFinding {
    /// No elevations.
    NoStickUp {
        /// Whether there is a plan, which needs a running joint that the tally does not give.
        plan_without_joint: bool,
    },
    /// The top is below RT.
    TopBelowRotary {
        /// By how much.
        below: Length,
    },
    /// Too little rathole.
    ShoeOnBottom {
        /// The shoe above the bottom of the hole; negative below it.
        above: Length,
        /// The minimum.
        required: Length,
    },
    /// The running joint is not in the tally: its number, where the job names one.
    NoRunningJoint {
        /// The number that the job gives.
        number: Option<String>,
    },
    /// The running joint's number occurs several times.
    RunningJointTwice {
        /// The number.
        number: String,
        /// How often.
        times: usize,
    },
    /// The running joint is the bottom joint.
    RunningJointAtBottom,
    /// The tally marks another joint as running.
    RunningJointOther {
        /// The number that the job gives.
        job: String,
        /// The joint of kind running.
        tally: JointRef,
    },
    /// The shoulder's offset lies off its joint.
    ShoulderOffJoint {
        /// The offset.
        offset: Length,
        /// The joint's number.
        joint: String,
        /// Its effective length.
        effective: Length,
    },
    /// A part of the string lies outside its window.
    OutsideWindow {
        /// Which.
        part: Part,
        /// Where it is.
        at: Elevation,
        /// The lowest allowed.
        from: Elevation,
        /// The highest allowed.
        to: Elevation,
    },
    /// Connections where none may lie.
    ConnectionsInKeepOut {
        /// Which.
        connections: Vec<KeepOutRef>,
    },
    /// Accessories in a wrong place; the code says which.
    Accessories {
        /// Each with the elevation of its lower edge.
        accessories: Vec<(String, Elevation)>,
    },
}
