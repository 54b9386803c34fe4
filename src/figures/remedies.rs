//! What shims and what trims would do to each tolerance: shims fill the gaps and leave the cuts as they are, trims change the cuts.

use super::together::spread_variance;
use super::verdict::{Verdict, judge};
use super::whole::Figures;
use crate::deck::{DeckTop, Seat};
use crate::job::Job;
use crate::measure::{Length, RationalLength};

/// A cut against its tolerance, as it is and once it is trimmed.
#[derive(Clone, Debug, PartialEq)]
pub struct SlotRemedy {
    /// The slot, by its index.
    pub slot: usize,
    /// The shim over it: the widest gap of all rests.
    pub shim: Length,
    /// Its deviation from its target, which shims leave.
    pub deviation: Length,
    /// The verdict on that; `None` without a tolerance.
    pub state: Option<Verdict>,
    /// Its trim.
    pub trim: Length,
    /// Its deviation then.
    pub trimmed: Length,
    /// The verdict then.
    pub trimmed_state: Option<Verdict>,
}

/// The highest less the lowest of the deviations.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SpreadOf {
    /// That.
    pub value: Length,
    /// The verdict; `None` without a limit.
    pub state: Option<Verdict>,
}

/// What shims and trims would do.
#[derive(Clone, Debug, PartialEq)]
pub struct Remedies {
    /// Of each cut that is measured.
    pub slots: Vec<SlotRemedy>,
    /// The spread of the cuts as they are; `None` under two.
    pub spread: Option<SpreadOf>,
    /// The spread of the cuts once they are trimmed.
    pub trimmed_spread: Option<SpreadOf>,
}

/// What shims and trims would do to the cuts that are measured; `None` where nothing is needed, or no trims are known.
pub(super) fn remedies(
    job: &Job,
    figures: &Figures,
    (tops, seat): (&[DeckTop], &Seat),
    trims: &[Length],
) -> Option<Remedies> {
    let shims = widest_gaps(tops, seat);
    let is_needed = shims.iter().chain(trims).any(|it| !it.is_zero());
    let mut slots = Vec::new();
    let (mut before, mut after) = (Vec::new(), Vec::new());
    for (slot, of_slot) in figures.slots.iter().enumerate() {
        let Some(cut) = &of_slot.cut.as_cut else {
            continue;
        };
        let (shim, trim) = (*shims.get(slot)?, *trims.get(slot)?);
        let trimmed = cut.deviation.minus(trim.into());
        let verdict = |deviation: RationalLength| {
            let tolerance = job.cut.tolerance?;
            Some(judge(deviation, tolerance.into(), cut.mean.variance()))
        };
        slots.push(SlotRemedy {
            slot,
            shim,
            deviation: cut.deviation.rounded(),
            state: verdict(cut.deviation),
            trim,
            trimmed: trimmed.rounded(),
            trimmed_state: verdict(trimmed),
        });
        before.push(cut.deviation);
        after.push(trimmed);
    }
    (is_needed && !slots.is_empty()).then(|| Remedies {
        spread: spread_of(job, &before),
        trimmed_spread: spread_of(job, &after),
        slots,
    })
}

/// The widest gap over each top in any of the rests.
pub(super) fn widest_gaps(tops: &[DeckTop], seat: &Seat) -> Vec<Length> {
    let mut widest = vec![Length::ZERO; tops.len()];
    for rest in &seat.rests {
        for (most, gap) in widest.iter_mut().zip(rest.gaps(tops)) {
            *most = (*most).max(gap);
        }
    }
    widest
}

fn spread_of(job: &Job, deviations: &[RationalLength]) -> Option<SpreadOf> {
    let highest = deviations.iter().max()?;
    let lowest = deviations.iter().min()?;
    let value = highest.minus(*lowest);
    let limit = job.cut.spread;
    (deviations.len() > 1).then(|| SpreadOf {
        value: value.rounded(),
        state: limit.map(|it| judge(value, it.into(), spread_variance(job, deviations.len()))),
    })
}
