//! The tally of record that follows from all lists of a string and what is decided of them.
//!
//! For what is open the first list applies. Nothing is made of decisions that contradict each other.

use std::collections::HashSet;

use super::NamedList;
use super::agree::State;
use super::row::{Agreement, ListChoice, ListRow, StringLists};
use crate::measure::Length;
use crate::reconcile::decide::Topic;
use crate::tally::{Joint, Kind, LengthKind, Pins, PipeString, Tally};

/// Where something of a joint of record comes from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ValueSource {
    /// What of it.
    pub topic: Topic,
    /// How far the lists agree on it.
    pub state: State,
    /// The lists that say so, by their places among all; none where it was measured again.
    pub from: Vec<usize>,
    /// Who decided it.
    pub by: Vec<ListChoice>,
}

/// A joint of a tally of record.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RecordJoint {
    /// The joint, with the figures that stand.
    pub joint: Joint,
    /// Where its length, its loss, its presence and its place come from.
    pub sources: Vec<ValueSource>,
    /// Its other names, with the lists that give them.
    pub other_names: Vec<(usize, String)>,
    /// Who decided which of its names is true.
    pub named_by: Vec<ListChoice>,
}

/// A tally of record, shoe first; landing joints of the first list last.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ListsRecord {
    /// Its joints.
    pub joints: Vec<RecordJoint>,
    /// Whether its lengths are effective ones, because a list that stands gives nothing else and no list gives the loss.
    pub effective_only: bool,
    /// How many things are open: the first list applies to them.
    pub open: usize,
}

impl ListsRecord {
    /// What follows from the lists; the things on which decisions contradict each other, where there are any.
    pub fn of(
        lists: &[NamedList<'_>],
        all: &StringLists,
        pins: Pins,
    ) -> Result<Self, Vec<(String, Topic)>> {
        let conflicts: Vec<(String, Topic)> = all
            .rows
            .iter()
            .flat_map(|row| Topic::ALL.map(|topic| (row, topic)))
            .filter(|(row, topic)| row.state(*topic) == State::Conflict)
            .map(|(row, topic)| (row.joint.clone(), topic))
            .collect();
        if !conflicts.is_empty() {
            return Err(conflicts);
        }
        Ok(Self::as_it_stands(lists, all, pins))
    }

    /// What follows from the lists by what stands, where decisions contradict each other by the last of them.
    pub fn as_it_stands(lists: &[NamedList<'_>], all: &StringLists, pins: Pins) -> Self {
        let strings: Vec<PipeString> = lists
            .iter()
            .map(|it| PipeString::make_up(it.tally, pins))
            .collect();
        let stays = |row: &&ListRow| row.presence.stands == Some(true);
        let mut maker = RecordMaker {
            lists,
            strings: &strings,
            effective_only: false,
            pins,
        };
        let mut staying = all.rows.iter().filter(stays);
        let effective_only = staying.any(|row| maker.overall(row).is_none());
        maker.effective_only = effective_only;
        let rows = in_order(&all.rows);
        let open_end = if pins.up {
            rows.len().saturating_sub(1)
        } else {
            0
        };
        let mut joints: Vec<RecordJoint> = rows
            .into_iter()
            .enumerate()
            .filter_map(|(at, row)| maker.joint(row, at == open_end))
            .collect();
        kinds_follow(&mut joints);
        numbers_are_unique(&mut joints);
        let landing = lists.first().into_iter().flat_map(|it| {
            let conductor = it.tally.conductor_joints();
            it.tally.joints.iter().skip(conductor)
        });
        joints.extend(landing.map(|joint| RecordJoint {
            joint: joint.clone(),
            sources: Vec::new(),
            other_names: Vec::new(),
            named_by: Vec::new(),
        }));
        Self {
            joints,
            effective_only,
            open: all.open,
        }
    }

    /// The record as a tally, as a reader of its file would have it.
    pub fn tally(&self) -> Tally {
        let joints = self.joints.iter().map(|it| it.joint.clone()).collect();
        Tally::of_joints(joints, self.effective_only)
    }
}

/// The rows that are in the string, in the order that stands.
fn in_order(rows: &[ListRow]) -> Vec<&ListRow> {
    let is_out_of_order = |row: &ListRow| row.place.stands.is_some_and(|place| place.moved);
    let mut order: Vec<usize> = (0..rows.len())
        .filter(|at| rows.get(*at).is_some_and(|row| !is_out_of_order(row)))
        .collect();
    let mut moved: Vec<(usize, usize)> = rows
        .iter()
        .enumerate()
        .filter(|(_, row)| is_out_of_order(row))
        .map(|(at, row)| (row.place.stands.map_or(0, |it| it.place), at))
        .collect();
    // From the shoe up, so that of several above one joint each is above the one before.
    moved.sort_unstable();
    let mut put: Vec<(Option<usize>, usize)> = Vec::new();
    for (_, at) in moved {
        let above = rows.get(at).and_then(|row| row.place.stands?.above);
        let last = put.iter().rev().find(|(other, _)| *other == above);
        let below = last.map(|(_, row)| *row).or(above);
        let place = below.and_then(|below| order.iter().position(|it| *it == below));
        order.insert(place.map_or(0, |place| place + 1), at);
        put.push((above, at));
    }
    let stays = |row: &&ListRow| row.presence.stands == Some(true);
    order
        .into_iter()
        .filter_map(|at| rows.get(at))
        .filter(stays)
        .collect()
}

struct RecordMaker<'a> {
    lists: &'a [NamedList<'a>],
    strings: &'a [PipeString],
    effective_only: bool,
    pins: Pins,
}

impl RecordMaker<'_> {
    fn joint(&self, row: &ListRow, is_open_end: bool) -> Option<RecordJoint> {
        let mut found: Option<Joint> = None;
        for listed in &row.listed {
            let list = self.lists.get(listed.list)?;
            let joint = list.tally.joints.get(listed.index)?;
            match &mut found {
                None => found = Some(joint.clone()),
                Some(known) => {
                    known.serial = known.serial.take().or_else(|| joint.serial.clone());
                    known.kind = known.kind.or(joint.kind);
                    known.remarks = known.remarks.take().or_else(|| joint.remarks.clone());
                }
            }
        }
        let mut joint = found?;
        joint.number = row.true_number().to_owned().into();
        if self.effective_only {
            joint.length_kind = LengthKind::Effective;
            joint.length = Some(self.adds(row, is_open_end)?);
            joint.makeup_loss = None;
        } else {
            joint.length_kind = LengthKind::Overall;
            joint.length = self.overall(row);
            joint.makeup_loss = row.loss.stands;
        }
        Some(RecordJoint {
            joint,
            sources: vec![
                source(Topic::Length, &row.length),
                source(Topic::MakeupLoss, &row.loss),
                source(Topic::Presence, &row.presence),
                source(Topic::Place, &row.place),
            ],
            named_by: row.number.by.clone(),
            other_names: row
                .other_names()
                .map(|(list, name)| (list, name.to_owned()))
                .collect(),
        })
    }

    /// The overall length of a joint. Where the list that stands gives the effective one, the loss that stands is what it
    /// lacks, but at the open end of that list; `None` where no loss is known.
    fn overall(&self, row: &ListRow) -> Option<Length> {
        if let Some(overall) = row.length.stands {
            return Some(overall);
        }
        let listed = row.listed_in(*row.length.from.first()?)?;
        let effective = listed.effective?;
        let string = self.strings.get(listed.list)?;
        if string.open_end() == listed.index {
            return Some(effective);
        }
        Some(effective + row.loss.stands.or(self.pins.nominal_loss)?)
    }

    /// What a joint adds to its string by the list that stands, or by what was measured. A joint that is the open
    /// end here and not there, or the other way round, adds its loss or does not.
    fn adds(&self, row: &ListRow, is_open_end: bool) -> Option<Length> {
        let loss = row
            .loss
            .stands
            .or(self.pins.nominal_loss)
            .unwrap_or_default();
        let list = row.length.from.first();
        let listed = list.and_then(|list| row.listed_in(*list));
        let Some(listed) = listed else {
            let measured = row.length.stands?;
            return Some(if is_open_end {
                measured
            } else {
                measured - loss
            });
        };
        let piece = self.strings.get(listed.list)?.pieces.get(listed.index)?;
        Some(match (listed.length, listed.open_end == is_open_end) {
            (Some(overall), false) if is_open_end => overall,
            (Some(overall), false) => overall - loss,
            _ => piece.effective,
        })
    }
}

fn source<T>(topic: Topic, of: &Agreement<T>) -> ValueSource {
    ValueSource {
        topic,
        state: of.state,
        from: of.from.clone(),
        by: of.by.clone(),
    }
}

/// The kinds shoe and top are those of the ends, wherever the joints that had them are now.
fn kinds_follow(joints: &mut [RecordJoint]) {
    for (kind, is_end) in [(Kind::Shoe, true), (Kind::Top, false)] {
        let had = joints.iter().any(|it| it.joint.kind == Some(kind));
        for it in joints.iter_mut() {
            it.joint.kind = it.joint.kind.filter(|own| *own != kind);
        }
        let end = if is_end {
            joints.first_mut()
        } else {
            joints.last_mut()
        };
        if let Some(end) = end.filter(|_| had) {
            end.joint.kind = end.joint.kind.or(Some(kind));
        }
    }
}

/// A number that another joint has already gets a mark of its own, and stays among the names.
fn numbers_are_unique(joints: &mut [RecordJoint]) {
    let mut known: HashSet<String> = HashSet::new();
    for it in joints.iter_mut() {
        let number = it.joint.number.to_string();
        let mut own = number.clone();
        let mut count = 2;
        while !known.insert(own.clone()) {
            own = format!("{number}/{count}");
            count += 1;
        }
        if own != number {
            it.other_names.push((0, number));
            it.joint.number = own.into();
        }
    }
}
