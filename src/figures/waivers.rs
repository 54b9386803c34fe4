//! Checks that are accepted as they are: a waiver holds for what the flag says, in its exact quantities.

use std::collections::BTreeMap;

use super::whole::{Figures, without_waivers};
use crate::finding::{Code, Flag, Severity};
use crate::journal::{Inputs, Said, SlotRecord, Waiver, Wrong, sha256};
use crate::measure::Excerpt;

/// The figures of a job as it is in its folder: those of [`compute`](super::compute), and what the other
/// lists of each string and the journal say.
pub fn of_inputs(inputs: &Inputs) -> Figures {
    let mut figures = without_waivers(inputs);
    let is_waived = |slot: &SlotRecord| !slot.waivers.is_empty();
    if inputs.record.slots.iter().any(is_waived) {
        apply(inputs, &mut figures);
        for (slot, standing) in figures.slots.iter().zip(&mut figures.standings) {
            standing.judge(slot);
        }
    }
    figures
}

/// Marks the flags of a job that are waived: those of slots, those of the job as they concern a slot, and
/// those of the job that are waived for every slot that they concern.
fn apply(inputs: &Inputs, figures: &mut Figures) {
    let mut earlier = Earlier {
        inputs,
        known: BTreeMap::new(),
    };
    let mut of_job: BTreeMap<Code, Vec<Option<u64>>> = BTreeMap::new();
    for (slot, said) in inputs.record.slots.iter().enumerate() {
        let own = figures.slots.get_mut(slot).map(|it| &mut it.flags);
        for flag in own.into_iter().flatten() {
            flag.waived = waived_by(slot, said, flag, &mut earlier);
        }
        let concerning = figures.standings.get_mut(slot).map(|it| &mut it.of_job);
        for flag in concerning.into_iter().flatten() {
            flag.waived = waived_by(slot, said, flag, &mut earlier);
            of_job.entry(flag.code).or_default().push(flag.waived);
        }
    }
    for flag in &mut figures.flags {
        let waived = of_job.get(&flag.code);
        flag.waived = waived
            .filter(|all| all.iter().all(Option::is_some))
            .and_then(|all| all.iter().flatten().max().copied());
    }
}

/// The entry that waives a flag of a slot.
fn waived_by(
    slot: usize,
    said: &SlotRecord,
    flag: &Flag,
    earlier: &mut Earlier<'_>,
) -> Option<u64> {
    if flag.severity != Severity::Check {
        return None;
    }
    let content = || digest(flag);
    let mut waivers = said.waivers.iter().rev();
    let holds = |said: &&Said<Waiver>| {
        said.what.flag == flag.code.name()
            && match &said.what.of {
                Some(of) => *of == content(),
                None => earlier.digest(slot, flag.code, said.seq) == Some(content()),
            }
    };
    waivers.find(holds).map(|it| it.seq)
}

/// What a waiver of a flag accepts.
fn digest(flag: &Flag) -> String {
    sha256(flag.content().as_bytes())
}

/// What flags said when entries were written that do not carry it themselves.
struct Earlier<'a> {
    inputs: &'a Inputs,
    known: BTreeMap<u64, Figures>,
}

impl Earlier<'_> {
    fn digest(&mut self, slot: usize, code: Code, seq: u64) -> Option<String> {
        let inputs = self.inputs;
        let then = self
            .known
            .entry(seq)
            .or_insert_with(|| without_waivers(&inputs.as_of(seq)));
        let mut flags = of_slot(then, slot);
        flags.find(|flag| flag.code == code).map(digest)
    }
}

/// The flags of a slot and those of the job that concern it.
fn of_slot(figures: &Figures, slot: usize) -> impl Iterator<Item = &Flag> {
    let own = figures.slots.get(slot).map(|it| &it.flags);
    let of_job = figures.standings.get(slot).map(|it| &it.of_job);
    own.into_iter().chain(of_job).flatten()
}

/// The digest of what a flag of a slot says, if it is raised and may be waived; else why not.
pub fn may_waive(inputs: &Inputs, slot: &str, flag: &str) -> Result<String, Wrong> {
    let known = Code::ALL.iter().find(|code| code.name() == flag);
    let mut slots = inputs.stated.slots.iter();
    let index = slots.position(|it| it.name == slot).unwrap_or_default();
    let figures = without_waivers(inputs);
    let raised = of_slot(&figures, index).find(|it| it.code.name() == flag);
    let severity = raised
        .map(|flag| flag.severity)
        .or_else(|| known.map(|code| code.severity()));
    if let (Some(code), Some(severity)) = (known, severity)
        && severity != Severity::Check
    {
        return Err(Wrong::NotACheck {
            code: code.name(),
            severity: severity.word(),
        });
    }
    if let Some(raised) = raised {
        return Ok(digest(raised));
    }
    let checks: Vec<&str> = of_slot(&figures, index)
        .filter(|flag| flag.severity == Severity::Check)
        .map(|flag| flag.code.name())
        .collect();
    Err(Wrong::NotRaised {
        flag: Excerpt::of(flag),
        slot: Excerpt::of(slot),
        expected: if checks.is_empty() {
            "no waiver: nothing is to be checked there".to_owned()
        } else {
            checks.join(", ")
        },
    })
}
