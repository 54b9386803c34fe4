//! What adopting another list would change.

use crate::figures::{AdoptionEffect, Mover};
use crate::job::Job;
use crate::measure::{Length, LengthFormat};

/// What would move, in one line.
pub fn effects(all: &[AdoptionEffect], job: &Job, format: LengthFormat) -> String {
    let said: Vec<String> = all
        .iter()
        .filter_map(|it| effect(it, job, format))
        .collect();
    if said.is_empty() {
        return "nothing of the string, the landing, the cut or what is fitted moves".to_owned();
    }
    said.join("; ")
}

/// One effect of adopting another list; `None` where it is too small to be told in this unit.
fn effect(effect: &AdoptionEffect, job: &Job, format: LengthFormat) -> Option<String> {
    let by = |by: Length| {
        let by = format.difference(by.abs());
        by.trim_start_matches('+').to_owned()
    };
    let way = |by: &Length| if by.is_negative() { "down" } else { "up" };
    Some(match effect {
        AdoptionEffect::Longer(length) => {
            let way = if length.is_negative() {
                "shorter"
            } else {
                "longer"
            };
            format!("string {} {way}", by(*length))
        }
        AdoptionEffect::Planes { moved: 1, most } => {
            format!("one make-up plane {} {}", by(*most), way(most))
        }
        AdoptionEffect::Planes { moved, most } => {
            format!(
                "{moved} make-up planes move, most {} {}",
                by(*most),
                way(most)
            )
        }
        AdoptionEffect::Moves(what, length) => {
            format!("{} {} {}", mover(*what), by(*length), way(length))
        }
        AdoptionEffect::Lost(what) => format!("{} no longer known", mover(*what)),
        AdoptionEffect::Found(what) => format!("{} known", mover(*what)),
        AdoptionEffect::CutJoint { now, then } => format!("cut in {then}, not in {now}"),
        AdoptionEffect::CutToConnection { now, then } => {
            let (now, then) = (format.text(*now), format.text(*then));
            if now == then {
                return None;
            }
            format!("cut {then} off the nearest connection, not {now}")
        }
        AdoptionEffect::CutOnString => "cut on the string with one of the two alone".to_owned(),
        AdoptionEffect::Accessory(index) => {
            let accessory = job.accessories.get(*index);
            let name = accessory.map_or("an accessory", |accessory| &accessory.name);
            format!("{name} in a different position")
        }
        AdoptionEffect::InKeepOuts { now, then } => {
            format!("connections in keep-outs: {then}, not {now}")
        }
    })
}

const fn mover(mover: Mover) -> &'static str {
    match mover {
        Mover::Shoulder => "landing shoulder",
        Mover::Shoe => "shoe",
        Mover::Top => "top",
    }
}
