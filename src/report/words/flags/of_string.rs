//! Flags of where a string is, and of its running joint.

use super::parts::{Words, joint_words};
use crate::finding::{Part, StringFinding};
use crate::measure::Excerpt;

impl Words {
    /// Flags of where a string is, and of its running joint.
    pub(super) fn of_string(&self, found: &StringFinding) -> String {
        match found {
            StringFinding::NoStickUp { plan_without_joint } => format!(
                "nothing fixes the elevations: {}",
                if *plan_without_joint {
                    "plan_shoulder needs shoulder_offset and a running joint that the tally has"
                } else {
                    "give stick_up once it is read, or plan_shoulder or plan_top before"
                }
            ),
            StringFinding::OffPlan {
                part,
                planned,
                off,
                allowed,
            } => {
                let way = if off.is_negative() { "below" } else { "above" };
                format!(
                    "by the stick-up the {} is at {}, {} {way} its plan of {}; up to {} passes: is the reading right?",
                    part_name(*part),
                    self.at(*planned + *off),
                    self.by(*off),
                    self.at(*planned),
                    self.by(*allowed)
                )
            }
            StringFinding::SurfaceAssumed { hull } => format!(
                "the stick-up is taken from RT, because hull position {} has no stick_up_from; state it, \"0 m\" where stick-ups are read from RT",
                Excerpt::of(hull)
            ),
            StringFinding::TopBelowRotary { below } => {
                format!("the top is {} below RT", self.length(*below))
            }
            StringFinding::ShoeOnBottom { above, required } => {
                let side = if above.is_negative() {
                    "below"
                } else {
                    "above"
                };
                format!(
                    "the shoe would be {} {side} the bottom of the hole; required: at least {} above it",
                    self.length(above.abs()),
                    self.length(*required)
                )
            }
            StringFinding::NoRunningJoint { number } => number.as_ref().map_or_else(
                || "the tally has no single joint of kind running to carry the shoulder".to_owned(),
                |number| {
                    format!(
                        "the running joint {} is not in the tally",
                        Excerpt::of(number)
                    )
                },
            ),
            StringFinding::RunningJointTwice { number, times } => format!(
                "the running joint {} occurs {times} times in the tally: where the shoulder is cannot be told",
                Excerpt::of(number)
            ),
            StringFinding::RunningJointAtBottom => {
                "the running joint is the bottom joint: its shoulder counts from its lower end"
                    .to_owned()
            }
            StringFinding::RunningJointOther { job, tally } => format!(
                "the job says {}, the tally marks {} as running",
                Excerpt::of(job),
                joint_words(tally)
            ),
            StringFinding::ShoulderOffJoint {
                offset,
                joint,
                effective,
            } => format!(
                "the shoulder's offset of {} lies off {}, whose effective length is {}",
                self.length(*offset),
                Excerpt::of(joint),
                self.length(*effective)
            ),
            StringFinding::OutsideWindow { part, at, from, to } => format!(
                "the {} is at {}, outside {} to {}",
                part_name(*part),
                self.at(*at),
                self.at(*from),
                self.at(*to)
            ),
        }
    }
}

const fn part_name(part: Part) -> &'static str {
    match part {
        Part::Shoe => "shoe",
        Part::Shoulder => "landing shoulder",
        Part::Top => "top",
    }
}
