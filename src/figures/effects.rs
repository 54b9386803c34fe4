//! What would move if another tally of the string were the tally of record.

use std::collections::HashMap;

use super::fits::AccessoryPlace;
use super::slot::SlotFigures;
use crate::measure::{Elevation, Length};
use crate::tally::Tally;

/// A part of the string that another list would move.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Mover {
    /// The landing shoulder.
    Shoulder,
    /// The shoe.
    Shoe,
    /// The top.
    Top,
}

/// What would be different if another list were adopted.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum AdoptionEffect {
    /// The string is longer by so much; shorter below zero.
    Longer(Length),
    /// Make-up planes move.
    Planes {
        /// How many of those that both strings have.
        moved: usize,
        /// The most that one of them moves; upward above zero.
        most: Length,
    },
    /// Something moves; upward above zero.
    Moves(Mover, Length),
    /// Something would no longer be known.
    Lost(Mover),
    /// Something would be known.
    Found(Mover),
    /// The cut would lie in another joint.
    CutJoint {
        /// The joint now.
        now: String,
        /// The joint then.
        then: String,
    },
    /// The cut would come as close to a connection.
    CutToConnection {
        /// Its distance now.
        now: Length,
        /// Its distance then.
        then: Length,
    },
    /// The cut lies on the string with one of the lists alone.
    CutOnString,
    /// An accessory would be fitted in a different position: its index in the job.
    Accessory(usize),
    /// Another count of connections in keep-outs.
    InKeepOuts {
        /// How many now.
        now: usize,
        /// How many then.
        then: usize,
    },
}

/// What of the landing, the cut and what is fitted another list would move, the weightiest first.
pub fn effects(
    (tally, now): (&Tally, &SlotFigures),
    (other, then): (&Tally, &SlotFigures),
) -> Vec<AdoptionEffect> {
    let mut effects = Vec::new();
    let longer = then.chain.string.length - now.chain.string.length;
    effects.extend((!longer.is_zero()).then_some(AdoptionEffect::Longer(longer)));
    effects.extend(planes((tally, now), (other, then)));
    let mut moves = |what: Mover, now: Option<Elevation>, then: Option<Elevation>| {
        effects.extend(match (now, then) {
            (Some(now), Some(then)) if now != then => Some(AdoptionEffect::Moves(what, then - now)),
            (Some(_), None) => Some(AdoptionEffect::Lost(what)),
            (None, Some(_)) => Some(AdoptionEffect::Found(what)),
            _ => None,
        });
    };
    let (one, two) = (&now.chain, &then.chain);
    moves(
        Mover::Shoulder,
        one.shoulder_elevation(),
        two.shoulder_elevation(),
    );
    moves(Mover::Shoe, one.shoe, two.shoe);
    moves(Mover::Top, one.top, two.top);
    if let (Some(one), Some(two)) = (&now.cut.place, &then.cut.place) {
        let joints = (
            now.chain.number(tally, one.piece),
            then.chain.number(other, two.piece),
        );
        if joints.0 != joints.1 {
            effects.push(AdoptionEffect::CutJoint {
                now: joints.0.to_owned(),
                then: joints.1.to_owned(),
            });
        }
        if let Some((now, then)) = one.to_connection.zip(two.to_connection)
            && now != then
        {
            effects.push(AdoptionEffect::CutToConnection { now, then });
        }
    } else if now.cut.place.is_some() != then.cut.place.is_some() {
        effects.push(AdoptionEffect::CutOnString);
    }
    for (one, two) in now.accessories.iter().zip(&then.accessories) {
        let place = |figures: &SlotFigures, tally: &Tally, at: &AccessoryPlace| {
            let joint = at
                .piece
                .map(|piece| figures.chain.number(tally, piece).to_owned());
            (joint, at.above_lower_plane, at.clear)
        };
        if place(now, tally, one) != place(then, other, two) {
            effects.push(AdoptionEffect::Accessory(one.accessory));
        }
    }
    if now.in_keep_outs.len() != then.in_keep_outs.len() {
        effects.push(AdoptionEffect::InKeepOuts {
            now: now.in_keep_outs.len(),
            then: then.in_keep_outs.len(),
        });
    }
    effects
}

/// How far the lower make-up planes of joints move that are in both strings.
fn planes(
    (tally, now): (&Tally, &SlotFigures),
    (other, then): (&Tally, &SlotFigures),
) -> Option<AdoptionEffect> {
    let planes = |tally: &Tally, figures: &SlotFigures| -> Vec<(String, Elevation)> {
        let pieces = 0..figures.chain.string.pieces.len();
        let planes = pieces.filter_map(|piece| {
            let number = figures.chain.number(tally, piece).to_owned();
            Some((number, figures.chain.lower_plane(piece)?))
        });
        planes.collect()
    };
    let before: HashMap<String, Elevation> = planes(tally, now).into_iter().collect();
    let moved: Vec<Length> = planes(other, then)
        .into_iter()
        .filter_map(|(number, plane)| Some(plane - *before.get(&number)?))
        .filter(|by| !by.is_zero())
        .collect();
    let most = moved.iter().copied().max_by_key(|by| by.abs())?;
    Some(AdoptionEffect::Planes {
        moved: moved.len(),
        most,
    })
}
