//! What entries do to a string: joints run, lengths cropped, differences decided.

use super::entry::Entry;
use super::error::Wrong;
use super::event::{Event, JointRun};
use super::joints::{Source, find};
use super::kept::{Crop, Decided, Hanging, Said, Thing};
use super::lists::OLD_FILE;
use super::record::{Known, Record, is_landing, named, no_joint};
use crate::job::{AS_RUN, MEASURED, OPEN, RECORD};
use crate::measure::{Excerpt, Length, Unit};
use crate::tally::{Joint, Kind, Pins, PipeString, Tally};

impl Record {
    /// Takes a decision: a list of the slot, a value that was measured, or open again.
    pub(super) fn decide(
        &mut self,
        known: Known<'_>,
        slot: usize,
        entry: &Entry,
    ) -> Result<(), Wrong> {
        let Event::Decision {
            of,
            joint,
            choice,
            value,
            note,
            line,
            made_of,
            ..
        } = &entry.event
        else {
            return Ok(());
        };
        let (Some(stated), Some(of_slot)) = (known.job.slots.get(slot), self.slots.get_mut(slot))
        else {
            return Ok(());
        };
        let thing = Thing {
            of: of.clone(),
            joint: joint.clone(),
            line: *line,
        };
        let is_length = matches!(of.as_str(), "length" | "makeup-loss");
        match choice.as_str() {
            OPEN => {
                of_slot.decided.remove(&thing);
                return Ok(());
            }
            MEASURED if !is_length => return Err(Wrong::NotMeasurable),
            MEASURED if value.is_none() => {
                return Err(Wrong::Missing {
                    key: "value",
                    event: "decision",
                    expected: "the value that was measured".to_owned(),
                });
            }
            MEASURED | RECORD | AS_RUN => {}
            list if stated.lists.iter().any(|it| it.name == list) => {}
            other => {
                let lists = stated.lists.iter().map(|it| it.name.as_str());
                return Err(Wrong::NotInJob {
                    key: "choice",
                    found: Excerpt::of(other),
                    expected: named(lists.chain([RECORD, AS_RUN, MEASURED, OPEN])),
                });
            }
        }
        let decided = Decided {
            choice: choice.clone(),
            value: *value,
            note: note.clone(),
            made_of: made_of.clone(),
        };
        let choices = of_slot.decided.entry(thing).or_default();
        // Nobody stands behind a row of an old file any more once a person has decided.
        choices.remove(OLD_FILE);
        choices.insert(entry.by.clone(), Said::of(entry, decided));
        Ok(())
    }

    pub(super) fn run(
        &mut self,
        known: Known<'_>,
        slot: usize,
        entry: &Entry,
        run: &JointRun,
    ) -> Result<(), Wrong> {
        let hanging = self.slots.get(slot).map_or(&[][..], |it| &it.hanging);
        let tally = known.tallies.get(slot);
        let hangs_in = |source: Source| {
            let of_pool = matches!(source, Source::Pool(_));
            let slots = self.slots.iter().enumerate();
            let mut slots = slots.filter(|(index, _)| of_pool || *index == slot);
            slots.find_map(|(index, it)| {
                let mut all = it.hanging.iter();
                let found = all.find(|it| it.what.source == source)?;
                Some((index, found.seq))
            })
        };
        let found = find(tally, known.pool, run);
        if found.is_empty() {
            let joint = match &run.serial {
                Some(serial) => format!("{}` with the serial `{serial}", run.joint),
                None => run.joint.clone(),
            };
            return Err(no_joint(known, slot, &joint));
        }
        let free = found.iter().find(|(source, _)| hangs_in(*source).is_none());
        let Some((source, joint)) = free else {
            let at = found.first().and_then(|(source, _)| hangs_in(*source));
            let (index, seq) = at.unwrap_or((slot, 0));
            let name = known.job.slots.get(index).map_or("", |slot| &slot.name);
            return Err(Wrong::Hangs {
                joint: Excerpt::of(&run.joint),
                slot: Excerpt::of(name),
                seq,
            });
        };
        let serial = joint.serial.as_deref();
        let by_serial = serial.and_then(|serial| self.rejected.get(serial));
        if let Some(seq) = self.rejected.get(&run.joint).or(by_serial) {
            return Err(Wrong::Rejected {
                joint: Excerpt::of(&run.joint),
                seq: *seq,
            });
        }
        let pins = known.job.slots.get(slot).map(|it| it.pipe.pins);
        // What was cropped off it is gone for good, also where it was pulled and is run again.
        let crops = self.slots.get(slot).into_iter().flat_map(|it| &it.crops);
        let own = crops.filter(|crop| Source::Tally(crop.what.joint) == *source);
        let joint = shorter(joint, own.map(|crop| crop.what.length).sum());
        let adds = added(hanging, &joint, pins.unwrap_or_default());
        let what = Hanging {
            run: run.clone(),
            joint,
            source: *source,
            adds,
        };
        if let Some(of_slot) = self.slots.get_mut(slot) {
            of_slot.was_run = true;
            of_slot.hanging.push(Said::of(entry, what));
        }
        Ok(())
    }

    /// Takes a length off the top joint: the one that hangs highest, else that of the tally of record.
    pub(super) fn crop(
        &mut self,
        known: Known<'_>,
        slot: usize,
        entry: &Entry,
        length: Length,
    ) -> Result<(), Wrong> {
        let (Some(tally), Some(of_slot)) = (known.tallies.get(slot), self.slots.get_mut(slot))
        else {
            return Ok(());
        };
        let last = tally.conductor_joints().saturating_sub(1);
        let hanging = of_slot
            .hanging
            .iter()
            .filter(|it| !is_landing(&it.what.joint));
        let joint = match hanging.clone().next_back().map(|it| it.what.source) {
            Some(Source::Tally(index)) => index,
            Some(Source::Pool(_)) => hanging.count().saturating_sub(1).min(last),
            None => last,
        };
        let pins = known.job.slots.get(slot).map(|it| it.pipe.pins);
        let string = PipeString::make_up(tally, pins.unwrap_or_default());
        let whole = string.pieces.get(joint).map(|piece| piece.effective);
        let before = of_slot.crops.iter().filter(|crop| crop.what.joint == joint);
        let cropped: Length = before.map(|crop| crop.what.length).sum();
        let left = whole.unwrap_or_default() - cropped;
        if length > left {
            let number = tally.joints.get(joint).map_or("", |joint| &joint.number);
            return Err(Wrong::CroppedTooMuch {
                joint: Excerpt::of(number),
                left: left.exact(Unit::Metre),
            });
        }
        let mut hanging = of_slot.hanging.iter_mut();
        if let Some(it) = hanging.find(|it| it.what.source == Source::Tally(joint)) {
            it.what.joint = shorter(&it.what.joint, length);
            it.what.adds -= length;
        }
        of_slot.crops.push(Said::of(entry, Crop { joint, length }));
        Ok(())
    }
}

/// A joint that is so much shorter.
fn shorter(joint: &Joint, by: Length) -> Joint {
    Joint {
        length: joint.length.map(|length| length - by),
        ..joint.clone()
    }
}

/// By how much a string becomes longer when a joint is made up on top of those that hang.
fn added(hanging: &[Said<Hanging>], joint: &Joint, pins: Pins) -> Length {
    let joints: Vec<Joint> = hanging
        .last()
        .map(|it| it.what.joint.clone())
        .into_iter()
        .chain([joint.clone()])
        .map(|joint| Joint {
            // Landing joints are made up as any other while they hang.
            kind: joint.kind.filter(|kind| *kind != Kind::Landing),
            ..joint
        })
        .collect();
    let has_below = joints.len() > 1;
    let string = PipeString::make_up(&Tally::of_joints(joints, false), pins);
    let alone = string.pieces.get(0).map(|piece| piece.effective);
    if !has_below {
        return alone.unwrap_or_default();
    }
    // Pins down, the joint below keeps what it had; pins up, the joint above swallows its pin.
    if pins.up {
        let below = hanging.last().map(|it| &it.what.joint);
        let full = below.and_then(|it| it.length);
        string.length - full.unwrap_or_default()
    } else {
        string.length - alone.unwrap_or_default()
    }
}
