//! Other lists of a slot's string: what differs from the tally of record, and what adopting another list
//! would move.

use super::chain::SlotView;
use super::fits::AccessoryPlace;
use super::said::Recorded;
use super::slot::SlotFigures;
use crate::job::{RECORD, name_of};
use crate::journal::{Inputs, OtherList};
use crate::measure::{Elevation, Length};
use crate::reconcile::many::{ListsRecord, NamedList, StringLists, side_by_side};
use crate::reconcile::{Bridge, Difference, Topic, bridge, differences};
use crate::tally::Tally;

/// Another list against the tally of record.
#[derive(Clone, Debug, PartialEq)]
pub struct ListFigures {
    /// The bridge from the tally of record to this list.
    pub bridge: Bridge,
    /// What asks for a decision, in the bridge's order.
    pub differences: Vec<Difference>,
    /// The slot's figures if this list were the tally of record.
    pub with_it: SlotFigures,
}

/// One for each list that could be read; `None` for those that could not.
pub(super) fn of_slot(view: SlotView<'_>, lists: &[OtherList]) -> Vec<Option<ListFigures>> {
    let of_list = |list: &OtherList| {
        let other = list.tally.as_ref().ok()?;
        let bridge = bridge(view.tally, other, view.slot.pipe.pins);
        Some(ListFigures {
            differences: differences(view.tally, other, &bridge),
            bridge,
            with_it: SlotFigures::of(view.with(other), Recorded::NOTHING, |_| Vec::new()),
        })
    };
    lists.iter().map(of_list).collect()
}

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

/// How many differences of a list nobody has decided yet.
pub fn left_to_decide(list: &OtherList, figures: &ListFigures) -> usize {
    let open = |difference: &&Difference| difference.decided(&list.decisions).is_none();
    figures.differences.iter().filter(open).count()
}

/// All lists of a slot's string side by side, with their names and files; the tally of record first, lists that
/// cannot be read left out.
#[derive(Clone, Debug, PartialEq)]
pub struct SlotLists {
    /// The name of each list.
    pub names: Vec<String>,
    /// Its file, relative to the folder.
    pub files: Vec<String>,
    /// What they say.
    pub lists: StringLists,
}

impl SlotLists {
    /// Those of the slot at an index; `None` where there is no such slot.
    pub fn of(inputs: &Inputs, slot: usize) -> Option<Self> {
        let (all, files) = named_lists(inputs, slot)?;
        let decisions = inputs.list_decisions(slot);
        let pins = inputs.job.slots.get(slot)?.pipe.pins;
        Some(Self {
            names: all.iter().map(|it| it.name.to_owned()).collect(),
            files,
            lists: side_by_side(&all, &decisions, pins),
        })
    }

    /// The tally of record that follows; the things on which decisions contradict each other, where there are any.
    pub fn record(
        &self,
        inputs: &Inputs,
        slot: usize,
    ) -> Result<ListsRecord, Vec<(String, Topic)>> {
        let pins = inputs.job.slots.get(slot).map(|it| it.pipe.pins);
        let all = named_lists(inputs, slot).map_or_else(Vec::new, |(all, _)| all);
        ListsRecord::of(&all, &self.lists, pins.unwrap_or_default())
    }

    /// The name of a list.
    pub fn name(&self, list: usize) -> &str {
        self.names.get(list).map_or("", String::as_str)
    }
}

/// The lists of a slot's string that can be read, the tally of record first, and their files.
fn named_lists(inputs: &Inputs, slot: usize) -> Option<(Vec<NamedList<'_>>, Vec<String>)> {
    let (stated, tally) = (inputs.job.slots.get(slot)?, inputs.tallies.get(slot)?);
    let said = inputs.record.slots.get(slot);
    let adopted = said.and_then(|it| it.tally.as_ref());
    let file = adopted.map_or_else(|| name_of(&stated.tally), |it| it.what.0.clone());
    let mut all = vec![NamedList {
        name: RECORD,
        from: None,
        tally,
    }];
    let mut files = vec![file];
    for list in inputs.lists.get(slot).into_iter().flatten() {
        let Ok(tally) = &list.tally else { continue };
        let mut sources = stated.lists.iter();
        let source = sources.find(|it| it.name == list.name);
        all.push(NamedList {
            name: &list.name,
            from: source.and_then(|it| it.from.as_deref()),
            tally,
        });
        files.push(name_of(&list.path));
    }
    Some((all, files))
}
