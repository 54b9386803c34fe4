//! Where a string is, and its running joint. Quantities are exact.

use serde::Serialize;

use super::names::JointRef;
use crate::measure::{Elevation, Length};

/// A part of the string that has a window.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub enum Part {
    /// The shoe.
    Shoe,
    /// The landing shoulder.
    Shoulder,
    /// The top.
    Top,
}

/// Where a string is, and its running joint.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub enum StringFinding {
    /// No elevations.
    NoStickUp {
        /// Whether there is a plan, which needs a running joint that the tally does not give.
        plan_without_joint: bool,
    },
    /// The string stands far from its plan.
    OffPlan {
        /// What the plan fixes.
        part: Part,
        /// Where it is planned.
        planned: Elevation,
        /// Where the reading has it, less the plan.
        off: Length,
        /// How far it may be.
        allowed: Length,
    },
    /// A stick-up from a surface whose height above RT nobody stated.
    SurfaceAssumed {
        /// The hull position of the reading.
        hull: String,
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
}
