//! The job as it is in force: what its file states, with what the journal says later put in its place.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::event::{StickUp, StringState};
use super::joints::Source;
use super::kept::{Said, SlotRecord};
use super::record::{Record, is_landing};
use crate::job::{Hold, Hull, Job, People, Role};
use crate::measure::{Elevation, Length};
use crate::tally::Tally;

/// The job in force, and which entries its readings are from.
#[derive(Clone, Debug)]
pub struct InForce {
    /// The job.
    pub job: Job,
    /// For each slot the stick-up that applies, where it is of the journal.
    pub stick_ups: Vec<Option<Said<StickUp>>>,
}

impl SlotRecord {
    /// Whether the joints that hang are those of a tally, in its order, landing joints included.
    pub fn hangs_as(&self, tally: &Tally) -> bool {
        let hanging = self.hanging.iter().map(|it| it.what.source);
        self.lost == 0 && hanging.eq((0..tally.joints.len()).map(Source::Tally))
    }

    /// The conductor's joints that hang, in order.
    pub fn conductor(&self) -> impl Iterator<Item = &Said<super::kept::Hanging>> {
        let hanging = self.hanging.iter();
        hanging.filter(|it| !is_landing(&it.what.joint))
    }

    /// Whether the conductor's joints that hang are those of a tally, in its order.
    pub fn runs_as(&self, tally: &Tally) -> bool {
        let run = self.conductor().map(|it| it.what.source);
        self.lost == 0 && run.eq((0..tally.conductor_joints()).map(Source::Tally))
    }

    /// The stick-up that applies to the whole string: the last one at rest, or a later one while it hung
    /// with all its joints.
    pub fn stick_up(&self, tally: &Tally) -> Option<&Said<StickUp>> {
        let last_run = self.hanging.iter().map(Said::order).max();
        let hung_whole = |read: &Said<StickUp>| {
            self.hangs_as(tally) && last_run.is_some_and(|last| read.order() > last)
        };
        let mut read = self.stick_ups.iter().rev();
        read.find(|it| it.what.state.is_at_rest() || hung_whole(it))
    }

    /// Whether a stick-up at rest was read: the string is landed.
    pub fn is_landed(&self) -> bool {
        let mut read = self.stick_ups.iter();
        read.any(|it| it.what.state != StringState::Hung)
    }

    /// All that was cropped since a reading; all there is where it has no time.
    pub fn cropped_since(&self, reading: Option<(i64, u64)>) -> Length {
        let since = self
            .crops
            .iter()
            .filter(|crop| reading.is_none_or(|read| crop.order() > read));
        since.map(|crop| crop.what.length).sum()
    }
}

impl SlotRecord {
    /// The target that was released for cutting, with the entry of the last signature: signed in every
    /// role that the hold point needs, at one elevation.
    pub fn released_target(&self, people: &People) -> Option<(Elevation, u64)> {
        let points = people.hold_points();
        let (_, roles) = points.iter().find(|(hold, _)| *hold == Hold::CutRelease)?;
        let mut by_role: BTreeMap<Role, Elevation> = BTreeMap::new();
        let mut released = None;
        for said in &self.signed {
            let Some(target) = said
                .what
                .target
                .filter(|_| said.what.hold == Hold::CutRelease)
            else {
                continue;
            };
            by_role.insert(said.what.role, target);
            if roles.iter().all(|role| by_role.get(role) == Some(&target)) {
                released = Some((target, said.seq));
            }
        }
        released
    }
}

/// Puts what the journal says in the place of what the job file states.
pub fn in_force(stated: &Job, tallies: &[Tally], record: &Record) -> InForce {
    let mut job = stated.clone();
    let hull = |hull: &Arc<Hull>| -> Arc<Hull> {
        let mut found = record.rotaries.iter();
        match found.find(|it| it.what.0 == hull.name) {
            Some(found) if found.what.1 != hull.rotary => Arc::new(Hull {
                rotary: found.what.1,
                ..Hull::clone(hull)
            }),
            _ => Arc::clone(hull),
        }
    };
    for it in &mut job.hulls {
        *it = hull(it);
    }
    job.cut.hull = hull(&job.cut.hull);
    // The deck's depth below RT is the order's, and was written with the RT of the job file: an RT that was
    // found a few millimetres off does not move the deck.
    for bench in &mut job.benches {
        bench.hull = bench.hull.as_ref().map(&hull);
    }
    let mut stick_ups = Vec::with_capacity(job.slots.len());
    let slots = job.slots.iter_mut().zip(tallies).zip(&record.slots);
    for ((slot, tally), said) in slots {
        slot.hull = hull(&slot.hull);
        slot.cropped = said
            .crops
            .iter()
            .map(|crop| (crop.what.joint, crop.what.length))
            .collect();
        let read = said.stick_up(tally);
        let since = said.cropped_since(read.map(Said::order));
        if let Some(read) = read {
            slot.stick_up = Some(read.what.value);
            let mut hulls = job.hulls.iter();
            if let Some(now) = hulls.find(|hull| hull.name == read.what.hull) {
                // The RT of the time of the reading: the hull may have moved since.
                let mut stated = stated.hulls.iter();
                let stated = stated.find(|hull| hull.name == read.what.hull);
                let then = record
                    .rotary_at(&read.what.hull, read.order())
                    .or_else(|| stated.map(|hull| hull.rotary));
                slot.hull = match then {
                    Some(rotary) if rotary != now.rotary => Arc::new(Hull {
                        rotary,
                        ..Hull::clone(now)
                    }),
                    _ => Arc::clone(now),
                };
            }
        }
        slot.stick_up = slot.stick_up.map(|stick_up| stick_up - since);
        if let Some(read) = &said.as_cut {
            slot.as_cut = read.what.readings.iter().map(|it| it.value).collect();
            slot.as_cut_setup.clone_from(&read.what.setup);
        }
        stick_ups.push(read.cloned());
    }
    InForce { job, stick_ups }
}
