//! What the entries of a journal come to: who hangs, what was read, what is decided and signed.
//!
//! Entries act in the order in which things happened (`at`, then the number), whenever they were written;
//! a struck entry has no effect. Of several that say the same thing the last one applies.

use std::collections::{BTreeMap, BTreeSet};

use super::entry::Entry;
use super::error::Wrong;
use super::event::Event;
use super::kept::{Instrument, Placed, Said, SlotRecord, Waiver};
use super::time::Day;
use crate::job::Job;
use crate::measure::{Elevation, Excerpt, Length};
use crate::tally::{Joint, Kind, Tally};

/// The lists that entries speak of.
#[derive(Clone, Copy, Debug)]
pub struct Known<'a> {
    /// The job as its file states it.
    pub job: &'a Job,
    /// The tally of record of each slot.
    pub tallies: &'a [Tally],
    /// The pipe on deck.
    pub pool: Option<&'a Tally>,
}

/// What a journal comes to.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Record {
    /// One for each slot of the job, in its order.
    pub slots: Vec<SlotRecord>,
    /// RT at hull positions, as last found.
    pub rotaries: Vec<Said<(String, Elevation, String)>>,
    /// All that was found of them, in order.
    pub positions: Vec<Said<(String, Elevation, String)>>,
    /// When the hull began to move.
    pub moves: Vec<(i64, u64)>,
    /// The hull moves, and its next position is not entered yet.
    pub moving: Option<Said<String>>,
    /// The instruments.
    pub instruments: Vec<Instrument>,
    /// Readings by instruments: the slot where there is one, the instrument, the entry and the day.
    pub read_with: Vec<(Option<usize>, String, u64, Option<Day>)>,
    /// Joints that were rejected, with the entry.
    pub rejected: BTreeMap<String, u64>,
    /// Entries whose clock was behind that of the entry before.
    pub clock_back: Vec<u64>,
    /// Entries that cannot be, and why: they have no effect.
    pub impossible: Vec<(u64, Wrong)>,
}

/// The numbers of entries that are struck by any of these.
pub fn struck(entries: &[Entry]) -> BTreeSet<u64> {
    let strikes = entries.iter().filter_map(|entry| match entry.event {
        Event::Strike { strikes, .. } => Some(strikes),
        _ => None,
    });
    strikes.collect()
}

impl Record {
    /// What entries come to, less those that are struck.
    pub fn of(known: Known<'_>, entries: &[Entry], struck: &BTreeSet<u64>) -> Self {
        let mut record = Self {
            slots: vec![SlotRecord::default(); known.job.slots.len()],
            ..Self::default()
        };
        let mut live: Vec<&Entry> = entries
            .iter()
            .filter(|entry| !struck.contains(&entry.seq))
            .collect();
        live.sort_by_key(|entry| (entry.at.seconds(), entry.seq));
        for entry in live {
            if let Err(wrong) = record.apply(known, entry) {
                record.impossible.push((entry.seq, wrong));
                let slot = entry.event.slot().map(|name| slot_index(known.job, name));
                let of_slot = slot
                    .and_then(Result::ok)
                    .and_then(|it| record.slots.get_mut(it));
                if let (Some(of_slot), Event::JointRun(_)) = (of_slot, &entry.event) {
                    of_slot.was_run = true;
                    of_slot.lost += 1;
                }
            }
        }
        record.clock_back = entries
            .windows(2)
            .filter_map(|pair| match pair {
                [before, after] if after.entered.seconds() < before.entered.seconds() => {
                    Some(after.seq)
                }
                _ => None,
            })
            .collect();
        record
    }

    /// RT at a hull position as it was for a reading: what was last found between the moves of the hull
    /// before and after it. `None` where nothing was found then.
    pub fn rotary_at(&self, hull: &str, reading: (i64, u64)) -> Option<Elevation> {
        let began = self.moves.iter().filter(|at| **at <= reading).max();
        let ended = self.moves.iter().filter(|at| **at > reading).min();
        let of_stay = |said: &&Said<(String, Elevation, String)>| {
            said.what.0 == hull
                && began.is_none_or(|began| said.order() > *began)
                && ended.is_none_or(|ended| said.order() < *ended)
        };
        let last = self.positions.iter().rev().find(of_stay);
        last.map(|said| said.what.1)
    }

    fn apply(&mut self, known: Known<'_>, entry: &Entry) -> Result<(), Wrong> {
        let slot = entry
            .event
            .slot()
            .map(|name| slot_index(known.job, name))
            .transpose()?;
        if let Some(instrument) = entry.event.instrument() {
            let day = entry.at.day();
            self.read_with
                .push((slot, instrument.to_owned(), entry.seq, day));
        }
        match (&entry.event, slot) {
            (Event::HullPosition { hull, rotary, how }, _) => {
                known_hull(known.job, hull)?;
                self.rotaries.retain(|said| said.what.0 != *hull);
                let found = (hull.clone(), *rotary, how.clone());
                self.rotaries.push(Said::of(entry, found.clone()));
                self.positions.push(Said::of(entry, found));
                self.moving = None;
            }
            (Event::HullMoving { why }, _) => {
                let said = Said::of(entry, why.clone());
                self.moves.push(said.order());
                self.moving = Some(said);
            }
            (
                Event::Instrument {
                    id,
                    what,
                    due,
                    sigma,
                    ..
                },
                _,
            ) => self.instruments.push(Instrument {
                id: id.clone(),
                what: what.clone(),
                due: *due,
                sigma: *sigma,
            }),
            (Event::Reading { from, to, .. }, _) if from == to => {
                return Err(Wrong::FromItself(Excerpt::of(from)));
            }
            (
                Event::Reading {
                    sigma: None,
                    instrument,
                    ..
                },
                _,
            ) => {
                if self.sigma_of(instrument.as_deref()).is_none() {
                    let of = instrument.as_deref().map(Excerpt::of);
                    return Err(Wrong::NoSigma(of));
                }
            }
            (
                Event::JointChecked {
                    joint, is_accepted, ..
                },
                _,
            ) => {
                let lists = known.tallies.iter().chain(known.pool);
                if !lists.into_iter().any(|list| has(list, joint)) {
                    return Err(Wrong::NoSuchJoint(Excerpt::of(joint)));
                }
                if *is_accepted {
                    self.rejected.remove(joint);
                } else {
                    self.rejected.insert(joint.clone(), entry.seq);
                }
            }
            (Event::DeckLanded { slots }, _) => {
                let found: Result<Vec<usize>, Wrong> = slots
                    .iter()
                    .map(|(name, ..)| slot_index(known.job, name))
                    .collect();
                for (at, (name, ..)) in slots.iter().enumerate() {
                    if slots.iter().take(at).any(|(other, ..)| other == name) {
                        return Err(Wrong::SlotTwice(Excerpt::of(name)));
                    }
                }
                for (at, (_, gap, shim)) in found?.into_iter().zip(slots) {
                    if let Some(said) = self.slots.get_mut(at) {
                        said.deck_landed = Some(Said::of(entry, (*gap, *shim)));
                    }
                }
            }
            (_, Some(slot)) => self.apply_to(known, slot, entry)?,
            (_, None) => {}
        }
        Ok(())
    }

    /// How well an instrument reads a height difference, as that was entered last.
    pub fn sigma_of(&self, instrument: Option<&str>) -> Option<Length> {
        let mut instruments = self.instruments.iter().rev();
        let found = instruments.find(|it| Some(it.id.as_str()) == instrument);
        found.and_then(|it| it.sigma)
    }

    /// Whether the string of a slot may still be changed by an entry.
    fn may_change(&self, known: Known<'_>, slot: usize, entry: &Entry) -> Result<(), Wrong> {
        if let Some(seq) = self.slots.get(slot).and_then(|it| it.final_cut)
            && matches!(
                entry.event,
                Event::JointRun(_)
                    | Event::JointPulled { .. }
                    | Event::Cropped { .. }
                    | Event::CutMade { .. }
            )
        {
            let name = known.job.slots.get(slot).map_or("", |slot| &slot.name);
            return Err(Wrong::IsCut {
                slot: Excerpt::of(name),
                seq,
            });
        }
        Ok(())
    }

    /// Applies an entry to its slot.
    fn apply_to(&mut self, known: Known<'_>, slot: usize, entry: &Entry) -> Result<(), Wrong> {
        self.may_change(known, slot, entry)?;
        match &entry.event {
            Event::JointRun(run) => return self.run(known, slot, entry, run),
            Event::Decision { .. } => return self.decide(known, slot, entry),
            Event::Cropped { length, .. } => return self.crop(known, slot, entry, *length),
            Event::Connection { joint, state, .. } => {
                let tally = known.tallies.get(slot);
                let lists = tally.into_iter().chain(known.pool);
                if !lists.into_iter().any(|list| has(list, joint)) {
                    return Err(no_joint(known, slot, joint));
                }
                if let Some(of_slot) = self.slots.get_mut(slot) {
                    of_slot.connections.insert(joint.clone(), state.clone());
                }
                return Ok(());
            }
            _ => {}
        }
        let name = known.job.slots.get(slot).map(|slot| slot.name.clone());
        let name = name.unwrap_or_default();
        let Some(of_slot) = self.slots.get_mut(slot) else {
            return Ok(());
        };
        match &entry.event {
            Event::JointPulled { joint, .. } => {
                let mut hanging = of_slot.hanging.iter();
                let Some(at) = hanging.rposition(|it| it.what.run.joint == *joint) else {
                    return Err(Wrong::HangsNot {
                        joint: Excerpt::of(joint),
                        slot: Excerpt::of(&name),
                    });
                };
                of_slot.hanging.remove(at);
            }
            Event::StickUp(read) => {
                known_hull(known.job, &read.hull)?;
                if let Some(seq) = of_slot.rough_cut.or(of_slot.final_cut) {
                    return Err(Wrong::CutAlready {
                        slot: Excerpt::of(&name),
                        seq,
                    });
                }
                of_slot.stick_ups.push(Said::of(entry, read.clone()));
            }
            Event::Frame {
                heading,
                base_above_mudline,
                ..
            } => of_slot.frame = Some(Said::of(entry, (*heading, *base_above_mudline))),
            Event::Scribe(scribe) => {
                for mark in &scribe.marks {
                    known_mark(known.job, &mark.from)?;
                }
                of_slot.scribe = Some(Said::of(entry, scribe.clone()));
            }
            Event::CutterSet { readings, .. } => {
                of_slot.cutter = Some(Said::of(entry, readings.clone()));
            }
            Event::CutMade { is_final: true, .. } => of_slot.final_cut = Some(entry.seq),
            Event::CutMade { .. } => of_slot.rough_cut = Some(entry.seq),
            Event::AsCut(read) => of_slot.as_cut = Some(Said::of(entry, read.clone())),
            Event::Placed { what, until, .. } => of_slot.placed.push(Said::of(
                entry,
                Placed {
                    what: what.clone(),
                    until: until.clone(),
                },
            )),
            Event::HookLoad {
                kilograms,
                is_before_landing,
                ..
            } => of_slot
                .hook_loads
                .push(Said::of(entry, (*kilograms, *is_before_landing))),
            Event::TallyOfRecord { file, sha256, .. } => {
                of_slot.tally = Some(Said::of(entry, (file.clone(), sha256.clone())));
            }
            Event::Waiver { flag, why, of, .. } => of_slot.waivers.push(Said::of(
                entry,
                Waiver {
                    flag: flag.clone(),
                    why: why.clone(),
                    of: of.clone(),
                },
            )),
            Event::HoldSigned(signed) => of_slot.signed.push(Said::of(entry, signed.clone())),
            _ => {}
        }
        Ok(())
    }
}

pub(super) fn is_landing(joint: &Joint) -> bool {
    joint.kind == Some(Kind::Landing)
}

fn has(list: &Tally, joint: &str) -> bool {
    let mut joints = list.joints.iter();
    joints.any(|it| it.number == joint || it.serial.as_deref() == Some(joint))
}

pub(super) fn no_joint(known: Known<'_>, slot: usize, joint: &str) -> Wrong {
    let name = known.job.slots.get(slot).map_or("", |slot| &slot.name);
    Wrong::NoJoint {
        joint: Excerpt::of(joint),
        slot: Excerpt::of(name),
    }
}

fn slot_index(job: &Job, name: &str) -> Result<usize, Wrong> {
    let mut slots = job.slots.iter();
    let index = slots.position(|slot| slot.name == name);
    index.ok_or_else(|| Wrong::NotInJob {
        key: "slot",
        found: Excerpt::of(name),
        expected: named(job.slots.iter().map(|slot| slot.name.as_str())),
    })
}

fn known_hull(job: &Job, name: &str) -> Result<(), Wrong> {
    if job.hulls.iter().any(|hull| hull.name == name) {
        return Ok(());
    }
    Err(Wrong::NotInJob {
        key: "hull",
        found: Excerpt::of(name),
        expected: named(job.hulls.iter().map(|hull| hull.name.as_str())),
    })
}

/// The marks that every cut may have, by their names.
pub const MARKS: [&str; 4] = ["rotary", "lower-plane", "upper-plane", "top"];

fn known_mark(job: &Job, name: &str) -> Result<(), Wrong> {
    let benches = || {
        job.benches
            .iter()
            .map(|bench| format!("bench {}", bench.name))
    };
    if MARKS.contains(&name) || benches().any(|bench| bench == name) {
        return Ok(());
    }
    let all: Vec<String> = MARKS
        .iter()
        .map(|it| (*it).to_owned())
        .chain(benches())
        .collect();
    Err(Wrong::NotInJob {
        key: "from",
        found: Excerpt::of(name),
        expected: named(all.iter().map(String::as_str)),
    })
}

/// Names in a message; of many the first.
pub(super) fn named<'n>(names: impl Iterator<Item = &'n str>) -> String {
    const TOLD: usize = 12;
    let all: Vec<String> = names.map(|name| Excerpt::of(name).to_string()).collect();
    let more = all.len().saturating_sub(TOLD);
    let first = all
        .get(..TOLD.min(all.len()))
        .unwrap_or_default()
        .join(", ");
    if more == 0 {
        first
    } else {
        format!("{first} and {more} more")
    }
}
