//! Figures and flags of the job as a whole: the frame, the spread of the cuts, what is not stated.

use std::collections::HashMap;

use super::accuracy::{Term, Variance, Verdict, judge, total};
use super::checks::small;
use super::cut::plane_uncertainty;
use super::slot::SlotFigures;
use crate::flag::{Code, Flag, Place};
use crate::job::{Job, SlotSet};
use crate::measure::{Elevation, Length, LengthFormat, RationalLength};
use crate::tally::{Kind, Tally};

/// The frame's base.
#[derive(Clone, Debug, PartialEq)]
pub struct FrameFigures {
    /// Index of the slot that carries it.
    pub slot: usize,
    /// The elevation of its base; `None` without a shoulder.
    pub base: Option<Elevation>,
    /// Its height above the mudline at that slot.
    pub above_mudline: Option<Length>,
    /// How well that height is known.
    pub variance: Option<Variance>,
    /// What that is made of.
    pub terms: Vec<Term>,
    /// The verdict; `None` without a window or a shoulder.
    pub verdict: Option<Verdict>,
}

/// The spread of the cuts: the highest less the lowest of their deviations from their targets.
#[derive(Clone, Debug, PartialEq)]
pub struct Spread {
    /// How many conductors are cut and measured.
    pub cuts: usize,
    /// The spread, rounded to the nanometre; `None` under two cuts.
    pub value: Option<Length>,
    /// How well it is known: the benchmark cancels.
    pub variance: Option<Variance>,
    /// The verdict; `None` without a limit or under two cuts.
    pub verdict: Option<Verdict>,
}

pub(super) fn frame(job: &Job, slots: &[SlotFigures]) -> Option<FrameFigures> {
    let frame = job.frame.as_ref()?;
    let (slot, figures) = (job.slots.get(frame.slot)?, slots.get(frame.slot)?);
    let placed = figures
        .shoulder
        .and_then(|shoulder| Some((shoulder.piece, shoulder.elevation?)));
    let Some((piece, shoulder)) = placed else {
        return Some(FrameFigures {
            slot: frame.slot,
            base: None,
            above_mudline: None,
            variance: None,
            terms: Vec::new(),
            verdict: None,
        });
    };
    let base = shoulder - frame.ring_above_base;
    let above_mudline = base - job.mudline(slot);
    let mut terms = plane_uncertainty(&job.uncertainty, &figures.string, piece);
    terms.push(Term::new(
        "mudline",
        "the mudline",
        Some(Variance::of(job.uncertainty.mudline)),
    ));
    let variance = total(&terms);
    // A window is a tolerance about its middle.
    let verdict = frame.base_above_mudline.map(|window| {
        let middle = RationalLength::half(window.from + window.to);
        judge(
            RationalLength::from(above_mudline).minus(middle),
            RationalLength::half(window.to - window.from),
            variance,
        )
    });
    Some(FrameFigures {
        slot: frame.slot,
        base: Some(base),
        above_mudline: Some(above_mudline),
        variance,
        terms,
        verdict,
    })
}

/// The spread's own variance: two independent cuts, sqrt(2) times the survey's uncertainty.
fn of_spread(job: &Job) -> Option<Variance> {
    job.uncertainty
        .as_cut
        .map(|as_cut| Variance::of(as_cut).times(2))
}

pub(super) fn spread(job: &Job, slots: &[SlotFigures]) -> Spread {
    let deviations: Vec<RationalLength> = slots
        .iter()
        .filter_map(|slot| slot.cut.as_cut.as_ref())
        .map(|cut| cut.deviation)
        .collect();
    let extremes = deviations
        .iter()
        .max()
        .zip(deviations.iter().min())
        .filter(|_| deviations.len() >= 2);
    let Some((highest, lowest)) = extremes else {
        return Spread {
            cuts: deviations.len(),
            value: None,
            variance: None,
            verdict: None,
        };
    };
    let value = highest.minus(*lowest);
    let variance = of_spread(job);
    Spread {
        cuts: deviations.len(),
        value: Some(value.rounded()),
        variance,
        verdict: job
            .cut
            .spread
            .map(|limit| judge(value, limit.into(), variance)),
    }
}

pub(super) fn flags(
    job: &Job,
    tallies: &[Tally],
    slots: &[SlotFigures],
    frame: Option<&FrameFigures>,
    spread: &Spread,
) -> Vec<Flag> {
    let mut flags = Vec::new();
    let mut flag = |code, text: String| flags.push(Flag::new(code, Place::Whole, text));
    let known = |variance: Option<Variance>| {
        variance.map_or_else(
            || "not stated".to_owned(),
            |variance| small(job, variance.expanded()),
        )
    };
    if let Some((verdict, height)) =
        frame.and_then(|frame| Some((frame.verdict?, frame.above_mudline?)))
    {
        let text = |how: &str| {
            let height = LengthFormat::new(job.units).text(height);
            format!(
                "the frame's base is {height} above the mudline (U {}), which {how} its window",
                known(frame.and_then(|frame| frame.variance))
            )
        };
        match verdict {
            Verdict::Outside => flag(Code::FrameOutside, text("is outside")),
            Verdict::Unproven => flag(Code::FrameUnproven, text("is not proven to be within")),
            Verdict::Within => {}
        }
    }
    if let (Some(value), Some(limit), Some(verdict)) =
        (spread.value, job.cut.spread, spread.verdict)
    {
        let text = |how: &str| {
            format!(
                "the cuts differ by {} (U {}), which {how} {}",
                small(job, value),
                known(spread.variance),
                small(job, limit)
            )
        };
        match verdict {
            Verdict::Outside => flag(Code::SpreadOutside, text("is outside")),
            Verdict::Unproven => flag(Code::SpreadUnproven, text("is not proven to be within")),
            Verdict::Within => {}
        }
    }
    if let (Some(limit), Some(variance)) = (job.cut.spread, of_spread(job))
        && !variance.expanded_is_within(limit)
    {
        flag(
            Code::ToleranceBelowUncertainty,
            format!(
                "the spread of the cuts is known to {} (U), its limit is {}: nothing can be proven within it",
                small(job, variance.expanded()),
                small(job, limit)
            ),
        );
    }
    let missing = missing_uncertainties(job, slots, frame);
    if !missing.is_empty() {
        flag(
            Code::UncertaintyMissing,
            format!(
                "not stated in [uncertainty]: {}. What needs them is unproven, not exact",
                missing.join(", ")
            ),
        );
    }
    flags.extend(serial_in_two_slots(job, tallies));
    flags
}

/// The keys without a default that a figure which is shown needs.
fn missing_uncertainties(
    job: &Job,
    slots: &[SlotFigures],
    frame: Option<&FrameFigures>,
) -> Vec<&'static str> {
    let stated = &job.uncertainty;
    let marked = || slots.iter().filter(|slot| slot.cut.place.is_some());
    let frame_shown = frame.is_some_and(|frame| frame.base.is_some());
    let elevations = marked().next().is_some() || frame_shown;
    let measured = slots.iter().any(|slot| slot.cut.as_cut.is_some());
    // Marks from planes rest on joints, and so does the frame; every place has such a mark.
    [
        ("strap", elevations && stated.strap.is_none()),
        ("stick_up", elevations && stated.stick_up.is_none()),
        ("rotary", elevations && stated.rotary.is_none()),
        ("as_cut", measured && stated.as_cut.is_none()),
    ]
    .into_iter()
    .filter(|(_, missing)| *missing)
    .map(|(key, _)| key)
    .collect()
}

fn serial_in_two_slots(job: &Job, tallies: &[Tally]) -> Option<Flag> {
    let mut first_in: HashMap<&str, usize> = HashMap::new();
    let mut shared: Vec<String> = Vec::new();
    for (index, tally) in tallies.iter().enumerate() {
        for joint in tally
            .joints
            .iter()
            .filter(|joint| joint.kind != Some(Kind::Landing))
        {
            let Some(serial) = joint.serial.as_deref() else {
                continue;
            };
            let first = *first_in.entry(serial).or_insert(index);
            let name = |slot: usize| job.slots.get(slot).map_or("", |slot| slot.name.as_str());
            if first != index {
                shared.push(format!(
                    "{serial} in {} and {} (line {})",
                    name(first),
                    name(index),
                    joint.line
                ));
            }
        }
    }
    if shared.is_empty() {
        return None;
    }
    let more = shared.len().saturating_sub(6);
    shared.truncate(6);
    let tail = if more > 0 {
        format!(" and {more} more")
    } else {
        String::new()
    };
    Some(Flag::new(
        Code::SerialInTwoSlots,
        Place::Whole,
        format!(
            "one pipe cannot stand in two strings: {}{tail}",
            shared.join(", ")
        ),
    ))
}

impl SlotSet {
    /// The names of the slots, for faces.
    pub fn names(&self, job: &Job) -> String {
        match self {
            Self::All => "all slots".to_owned(),
            Self::Some(slots) => slots
                .iter()
                .filter_map(|slot| job.slots.get(*slot))
                .map(|slot| slot.name.as_str())
                .collect::<Vec<_>>()
                .join(", "),
        }
    }
}
