//! Flags of what the journal says: of one slot, and of the job as a whole.

use crate::figures::adjusted::UntiedEntry;
use crate::figures::chain::{Basis, SlotView};
use crate::figures::checks::scribe::scribe;
use crate::figures::checks::slot::Checked;
use crate::figures::estimate::Variance;
use crate::figures::limits::{AT_A_THOUSANDTH, after_joint, limit};
use crate::figures::said::Recorded;
use crate::finding::{BrokenLine, Code, Flag, JournalFinding, Named, Place, Severity, StickUpAt};
use crate::job::{Hold, Job, Slot};
use crate::journal::{
    BrokenBy, Decided, Event, Inputs, Said, SignedFile, SlotRecord, Source, StickUp, StringState,
};
use crate::levels::NetworkError;
use crate::measure::{Elevation, Length};

/// Most entries that are named.
const NAMED: usize = 6;

fn flag(code: Code, finding: JournalFinding) -> Flag {
    Flag::new(code, Place::Whole, finding)
}

/// The flags of a slot that the journal raises; `stated` is the slot as the job file has it.
pub(in crate::figures) fn of_slot(
    inputs: &Inputs,
    checked: &Checked<'_>,
    recorded: Recorded<'_>,
) -> Vec<Flag> {
    let view = checked.view;
    let mut flags = Vec::new();
    let changed = inputs.changed_tallies.get(view.index);
    flags.extend(changed.and_then(Option::as_ref).map(|said| {
        let (file, seq) = (said.what.clone(), said.seq);
        flag(
            Code::TallyChanged,
            JournalFinding::TallyChanged { file, seq },
        )
    }));
    let Some(said) = recorded.slot else {
        return flags;
    };
    let stated = inputs.stated.slots.get(view.index);
    flags.extend(as_run(view, checked.chain.basis, recorded));
    flags.extend(stick_ups_off(&view, said));
    flags.extend(top_moved(inputs, said));
    flags.extend(stated.and_then(|stated| stick_up_differs(view.job, stated, said)));
    flags.extend(from_hung(recorded));
    flags.extend(slacked_off_early(said));
    flags.extend(scribe(inputs, checked, said));
    flags.extend(decisions_contradict(said));
    flags.extend(blade(view.job, said));
    flags.extend(cut_not_released(inputs, checked, said));
    flags.extend(target_moved(checked.cut.target, inputs, said));
    flags.extend(signers_changed(inputs, said));
    flags.extend(instruments(inputs, Some(view.index)));
    flags
}

/// The flags of the job as a whole that the journal raises.
///
/// Of entered readings some may be tied to nothing: those entries, with their points.
pub(in crate::figures) fn of_journal(inputs: &Inputs, untied: &[UntiedEntry]) -> Vec<Flag> {
    let (journal, record) = (&inputs.journal, &inputs.record);
    let mut flags = Vec::new();
    flags.extend(journal.broken.as_ref().map(|broken| {
        let by = match broken.why {
            BrokenBy::NotALine(_) | BrokenBy::Keys => BrokenLine::NotALine,
            BrokenBy::Changed => BrokenLine::Changed,
            BrokenBy::Number { .. } | BrokenBy::Previous => BrokenLine::NotNext,
        };
        let number = broken.line;
        flag(Code::JournalBroken, JournalFinding::Broken { number, by })
    }));
    flags.extend(
        journal
            .torn
            .map(|number| flag(Code::JournalTorn, JournalFinding::Torn { number })),
    );
    flags.extend(record.moving.as_ref().map(|said| {
        let (seq, why) = (said.seq, said.what.clone());
        flag(Code::HullMoving, JournalFinding::HullMoving { seq, why })
    }));
    if !record.clock_back.is_empty() {
        let entries = Named::of(record.clock_back.iter().copied(), NAMED);
        flags.push(flag(Code::ClockBack, JournalFinding::ClockBack { entries }));
    }
    let impossible = record.impossible.iter();
    let impossible = impossible.map(|(seq, why)| (*seq, why.to_string()));
    let untied = untied.iter().map(|(seq, points)| {
        let why = NetworkError::Untied(points.clone());
        (*seq, why.to_string())
    });
    let entries = Named::of(impossible.chain(untied), NAMED);
    if !entries.first.is_empty() {
        flags.push(flag(
            Code::EntryNotUsed,
            JournalFinding::NotUsed { entries },
        ));
    }
    flags.extend(rotary_differs(inputs));
    flags.extend(strays(inputs));
    flags.extend(instruments(inputs, None));
    flags
}

/// Statements in the folder that the journal does not name: it lost entries.
fn strays(inputs: &Inputs) -> Option<Flag> {
    let named = |file: &SignedFile| {
        let mut entries = inputs.journal.entries.iter();
        entries.any(|entry| {
            matches!(&entry.event, Event::HoldSigned(signed) if signed.statement == file.name)
        })
    };
    let strays = inputs.signed_files.iter().filter(|file| !named(file));
    let files = Named::of(strays.map(|file| file.name.clone()), NAMED);
    (!files.first.is_empty()).then(|| {
        let finding = JournalFinding::StatementsWithoutEntry { files };
        flag(Code::StatementWithoutEntry, finding)
    })
}

/// RT at hull positions by the journal and by the job file.
fn rotary_differs(inputs: &Inputs) -> Option<Flag> {
    let allowed = inputs.job.agree.raise;
    let stated = |name: &str| {
        let mut hulls = inputs.stated.hulls.iter();
        hulls.find(|hull| hull.name == name).map(|hull| hull.rotary)
    };
    let hulls: Vec<_> = inputs
        .record
        .rotaries
        .iter()
        .filter_map(|said| {
            let (name, found, _) = &said.what;
            let stated = stated(name)?;
            let is_off = (*found - stated).abs() > allowed;
            is_off.then(|| (name.clone(), stated, *found, said.seq))
        })
        .collect();
    (!hulls.is_empty()).then(|| {
        let finding = JournalFinding::RotaryDiffers { hulls, allowed };
        flag(Code::JournalDisagrees, finding)
    })
}

/// The joints that were run are not those of the tally of record.
fn as_run(view: SlotView<'_>, basis: Basis, recorded: Recorded<'_>) -> Option<Flag> {
    let said = recorded.slot?;
    if !recorded.runs_otherwise(view.tally, basis == Basis::Read) {
        return None;
    }
    let listed = view.tally.conductor_joints();
    let run: Vec<_> = said.conductor().map(|it| &it.what).collect();
    let same = run
        .iter()
        .enumerate()
        .take_while(|(at, it)| it.source == Source::Tally(*at) && *at < listed)
        .count();
    let joint_listed = view.tally.joints.get(same).filter(|_| same < listed);
    let finding = JournalFinding::AsRunDiffers {
        run: run.len(),
        tally: listed,
        place: same + 1,
        joint_run: run.get(same).map(|it| it.run.joint.clone()),
        joint_listed: joint_listed.map(|joint| joint.number.to_string()),
    };
    Some(flag(Code::AsRunDiffers, finding))
}

/// Joints whose stick-ups before and after do not agree with their length. Nothing is checked where an
/// uncertainty is not stated.
fn stick_ups_off(view: &SlotView<'_>, said: &SlotRecord) -> Option<Flag> {
    let allowed = after_joint(&view.job.uncertainty)?;
    let off = said.hanging.iter().filter_map(|it| {
        let hanging = &it.what;
        let expected = hanging.run.before? + hanging.adds;
        let found = hanging.run.after?;
        ((found - expected).abs() > allowed).then(|| StickUpAt {
            joint: hanging.run.joint.clone(),
            seq: it.seq,
            expected,
            found,
        })
    });
    let joints = Named::of(off, NAMED);
    (!joints.first.is_empty()).then(|| {
        let finding = JournalFinding::StickUpOff { joints, allowed };
        flag(Code::StickUpOff, finding)
    })
}

/// Where a stick-up puts the top of what it was read on, with what was cropped since taken off.
fn top_by(inputs: &Inputs, said: &SlotRecord, read: &Said<StickUp>) -> Option<Elevation> {
    let mut hulls = inputs.stated.hulls.iter();
    let stated = hulls.find(|hull| hull.name == read.what.hull)?;
    let rotary = inputs
        .record
        .rotary_at(&read.what.hull, read.order())
        .unwrap_or(stated.rotary);
    let surface = rotary + stated.stick_up_from;
    Some(surface + read.what.value - said.cropped_since(Some(read.order())))
}

/// Two stick-ups at rest that put the top at different elevations: the first such pair with the last.
fn top_moved(inputs: &Inputs, said: &SlotRecord) -> Option<Flag> {
    let stated = &inputs.job.uncertainty;
    let stick_up = Variance::of(stated.stick_up?).times(2);
    let at_rest: Vec<&Said<StickUp>> = said
        .stick_ups
        .iter()
        .filter(|read| read.what.state.is_at_rest())
        .collect();
    for (at, later) in at_rest.iter().enumerate().rev() {
        for earlier in at_rest.iter().take(at) {
            let variance = if earlier.what.hull == later.what.hull {
                stick_up
            } else {
                stick_up.and(Variance::of(stated.rotary?).times(2))
            };
            let tops = (top_by(inputs, said, earlier)?, top_by(inputs, said, later)?);
            let allowed = limit(2.0, variance);
            if (tops.1 - tops.0).abs() > allowed {
                let finding = JournalFinding::TopMoved {
                    entries: (earlier.seq, later.seq),
                    tops,
                    allowed,
                };
                return Some(flag(Code::TopMoved, finding));
            }
        }
    }
    None
}

/// The stick-up of the job file against that of the journal at the same hull position.
fn stick_up_differs(job: &Job, stated: &Slot, said: &SlotRecord) -> Option<Flag> {
    let value = stated.stick_up?;
    let allowed = limit(
        AT_A_THOUSANDTH,
        Variance::of(job.uncertainty.stick_up?).times(2),
    );
    let mut read = said.stick_ups.iter().rev();
    let read = read.find(|it| it.what.state.is_at_rest() && it.what.hull == stated.hull.name)?;
    // Both as of now: what was cropped counts where it came after a reading.
    let stated_now = value - said.cropped_since(None);
    let found_now = read.what.value - said.cropped_since(Some(read.order()));
    ((found_now - stated_now).abs() > allowed).then(|| {
        let finding = JournalFinding::StickUpDiffers {
            hull: stated.hull.name.clone(),
            stated: stated_now,
            found: found_now,
            seq: read.seq,
            allowed,
        };
        flag(Code::JournalDisagrees, finding)
    })
}

fn from_hung(recorded: Recorded<'_>) -> Option<Flag> {
    let read = recorded.stick_up?;
    (!read.what.state.is_at_rest()).then(|| {
        let finding = JournalFinding::FromHungReading { seq: read.seq };
        flag(Code::CutFromHungReading, finding)
    })
}

/// A slack-off before the time up to which the order forbids it.
fn slacked_off_early(said: &SlotRecord) -> Option<Flag> {
    let reads = said.stick_ups.iter();
    let mut slacked = reads.filter(|it| it.what.state == StringState::SlackedOff);
    slacked.find_map(|read| {
        let mut placed = said.placed.iter();
        let placed = placed.find(|placed| {
            placed.order() < read.order() && read.at.seconds() < placed.what.until.seconds()
        })?;
        let finding = JournalFinding::SlackedOffEarly {
            seq: read.seq,
            at: read.at.to_string(),
            until: placed.what.until.to_string(),
        };
        Some(flag(Code::SlackedOffEarly, finding))
    })
}

/// Decisions of two persons on one thing that differ.
fn decisions_contradict(said: &SlotRecord) -> Option<Flag> {
    let of_two = said.decided.iter().filter_map(|(thing, choices)| {
        let mut all = choices.iter();
        let (first, said) = all.next()?;
        let differs = |it: &Said<Decided>| {
            (&it.what.choice, it.what.value) != (&said.what.choice, said.what.value)
        };
        let (other, _) = all.find(|(_, it)| differs(it))?;
        let (of, joint) = (thing.of.clone(), thing.joint.clone());
        Some((of, joint, first.clone(), other.clone()))
    });
    let things = Named::of(of_two, NAMED);
    (!things.first.is_empty()).then(|| {
        let finding = JournalFinding::DecisionsContradict { things };
        flag(Code::DecisionsContradict, finding)
    })
}

/// A blade whose lower edge is off the line by more than marks may be apart: the line is where the finished top
/// shall be.
fn blade(job: &Job, said: &SlotRecord) -> Option<Flag> {
    let set = said.cutter.as_ref()?;
    let readings = || set.what.iter().map(|it| it.value);
    let range = (readings().min()?, readings().max()?);
    let allowed = job.agree.marks;
    let is_near = |height: Length| range.0 >= height - allowed && range.1 <= height + allowed;
    // Until the rough cut is made the blade may be set to that one.
    let for_rough = said.rough_cut.is_none_or(|made| made > set.seq);
    let rough = job.cut.rough_above.filter(|_| for_rough);
    let is_off = !is_near(Length::ZERO) && !rough.is_some_and(is_near);
    is_off.then(|| {
        let seq = set.seq;
        let finding = JournalFinding::BladeOffLine {
            seq,
            range,
            allowed,
        };
        let mut flag = Flag::new(Code::BladeOffLine, Place::Cut, finding);
        // What is cut too low cannot be mended.
        if range.0 < -allowed {
            flag.severity = Severity::Stop;
        }
        flag
    })
}

/// A final cut that nobody released, in a job that uses that hold point.
fn cut_not_released(inputs: &Inputs, checked: &Checked<'_>, said: &SlotRecord) -> Option<Flag> {
    let seq = said.final_cut?;
    let people = &inputs.job.people;
    let points = people.hold_points();
    let is_used = points.iter().any(|(hold, _)| *hold == Hold::CutRelease);
    let is_released = said.released_target(people).is_some();
    let is_planned = checked.chain.basis != Basis::Read;
    ((is_used && !is_released) || is_planned).then(|| {
        let finding = JournalFinding::CutNotReleased { seq, is_planned };
        Flag::new(Code::CutNotReleased, Place::Cut, finding)
    })
}

/// The target that was released for cutting and differs now.
fn target_moved(now: Elevation, inputs: &Inputs, said: &SlotRecord) -> Option<Flag> {
    let (signed, seq) = said.released_target(&inputs.job.people)?;
    (signed != now).then(|| {
        let finding = JournalFinding::TargetMoved { signed, now, seq };
        Flag::new(Code::TargetMoved, Place::Cut, finding)
    })
}

/// Signatures that were made when others could sign.
fn signers_changed(inputs: &Inputs, said: &SlotRecord) -> Option<Flag> {
    let now = inputs.signing_digest();
    let then = said.signed.iter().filter(|it| {
        let digest = it.what.signers_sha256.as_ref();
        digest.is_some_and(|then| *then != now)
    });
    let entries = Named::of(then.map(|it| it.seq), NAMED);
    (!entries.first.is_empty()).then(|| {
        let finding = JournalFinding::SignersChanged { entries };
        flag(Code::SignersChanged, finding)
    })
}

/// Readings of a slot, or of none, by instruments that were never entered or whose due day was past.
fn instruments(inputs: &Inputs, slot: Option<usize>) -> Vec<Flag> {
    let record = &inputs.record;
    let mut unstated = Vec::new();
    let mut expired = Vec::new();
    let here = record.read_with.iter().filter(|(of, ..)| *of == slot);
    for (_, id, seq, day) in here {
        let known = record.instruments.iter().filter(|it| it.id == *id);
        let Some(due) = known.map(|it| it.due).max() else {
            unstated.push((id.clone(), *seq));
            continue;
        };
        if let Some(day) = day.filter(|day| *day > due) {
            expired.push((id.clone(), due.to_string(), day.to_string(), *seq));
        }
    }
    let mut flags = Vec::new();
    if !unstated.is_empty() {
        let readings = Named::of(unstated.into_iter(), NAMED);
        let finding = JournalFinding::InstrumentUnstated { readings };
        flags.push(flag(Code::InstrumentUnstated, finding));
    }
    if !expired.is_empty() {
        let readings = Named::of(expired.into_iter(), NAMED);
        let finding = JournalFinding::InstrumentExpired { readings };
        flags.push(flag(Code::InstrumentExpired, finding));
    }
    flags
}
