//! What adopting another list would change.

use crate::figures::{AdoptionEffect, Mover};
use crate::job::Job;
use crate::measure::LengthFormat;

/// One effect of adopting another list.
pub fn effect(effect: &AdoptionEffect, job: &Job, format: LengthFormat) -> String {
    match effect {
        AdoptionEffect::Moves(what, by) => {
            let way = if by.is_negative() { "down" } else { "up" };
            let by = format.difference(by.abs());
            format!(
                "{} moves {way} by {}",
                mover(*what),
                by.trim_start_matches('+')
            )
        }
        AdoptionEffect::Lost(what) => format!("{} would not be known", mover(*what)),
        AdoptionEffect::Found(what) => format!("{} would be known", mover(*what)),
        AdoptionEffect::CutJoint { now, then } => {
            format!("the cut would lie in {then}, not in {now}")
        }
        AdoptionEffect::CutToConnection { now, then } => format!(
            "the cut would lie {} off the nearest connection, not {}",
            format.text(*then),
            format.text(*now)
        ),
        AdoptionEffect::CutOnString => {
            "the cut would not lie on the string, or only then".to_owned()
        }
        AdoptionEffect::Accessory(index) => {
            let accessory = job.accessories.get(*index);
            format!(
                "{} would be fitted in a different position",
                accessory.map_or("an accessory", |accessory| &accessory.name)
            )
        }
        AdoptionEffect::InKeepOuts { now, then } => {
            format!("connections in keep-outs: {then}, not {now}")
        }
    }
}

const fn mover(mover: Mover) -> &'static str {
    match mover {
        Mover::Shoulder => "the landing shoulder",
        Mover::Shoe => "the shoe",
        Mover::Top => "the top",
    }
}
