//! What was found when the deck was landed, beside what its seat says.

use super::together::is_one_setup;
use crate::deck::{DeckTop, Rest, Seat, leverage};
use crate::journal::Inputs;
use crate::levels::LIMIT;
use crate::measure::Length;

/// A gap as it was found.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LandedGap {
    /// The slot, by its index.
    pub slot: usize,
    /// The gap that was found.
    pub found: Length,
    /// The shim that was set.
    pub shim: Option<Length>,
    /// The gap by the tops as they were measured.
    pub seat: Length,
    /// By how much both may differ by chance; `None` where an uncertainty that this takes is not stated.
    pub limit: Option<Length>,
}

impl LandedGap {
    /// What was found less what the seat says.
    pub fn off(&self) -> Length {
        self.found - self.seat
    }

    /// Whether both differ by more than they may.
    pub fn is_otherwise(&self) -> bool {
        self.limit.is_some_and(|limit| self.off().abs() > limit)
    }
}

/// What is read with a feeler gauge between rough edges is not known better.
const LEAST: Length = Length::from_mm(1);

/// The gaps that were found, against the rest that they are nearest to.
pub(super) fn landed(inputs: &Inputs, tops: &[DeckTop], seat: &Seat) -> Vec<LandedGap> {
    let said = inputs.record.slots.iter().enumerate();
    let found: Vec<(usize, Length, Option<Length>)> = said
        .filter_map(|(slot, said)| {
            let (gap, shim) = said.deck_landed.as_ref()?.what;
            Some((slot, gap, shim))
        })
        .collect();
    let by_rest = |rest: &Rest| -> Vec<LandedGap> {
        let gaps = rest.gaps(tops);
        let all = found.iter().filter_map(|(slot, found, shim)| {
            Some(LandedGap {
                slot: *slot,
                found: *found,
                shim: *shim,
                seat: *gaps.get(*slot)?,
                limit: limit(inputs, tops, rest, *slot),
            })
        });
        all.collect()
    };
    let off = |all: &Vec<LandedGap>| -> Length { all.iter().map(|it| it.off().abs()).sum() };
    let rests = seat.rests.iter().map(by_rest);
    rests.min_by_key(off).unwrap_or_default()
}

/// By how much the gap over a top may be off by the errors of the tops that may bear and of its own. Tops that are near one plane
/// need not bear as they were measured.
fn limit(inputs: &Inputs, tops: &[DeckTop], rest: &Rest, slot: usize) -> Option<Length> {
    let is_cut = |at: &usize| {
        let slot = inputs.job.slots.get(*at);
        slot.is_some_and(|slot| !slot.as_cut.is_empty())
    };
    // A target says nothing of where a top is.
    if !is_cut(&slot) || !rest.contacts.iter().all(is_cut) {
        return None;
    }
    let stated = inputs.job.uncertainty.as_cut?.real_metres();
    // One height reference moves all tops alike; several are off by themselves.
    let reference = if is_one_setup(&inputs.job) {
        0.0
    } else {
        inputs.job.uncertainty.benchmark?.real_metres()
    };
    let variance = |slot: usize| {
        let leg = inputs.job.slots.get(slot)?.leg_uncertainty;
        let leg = leg.map_or(0.0, Length::real_metres);
        Some(stated * stated + leg * leg + reference * reference)
    };
    let all = (0..tops.len()).filter_map(variance);
    let worst = all.fold(0.0, f64::max);
    let bearing = leverage(tops, inputs.job.deck.cog?, slot).unwrap_or(1.0);
    let limit = Length::nearest_to_metres(LIMIT * (variance(slot)? + worst * bearing).sqrt())?;
    Some(limit.max(LEAST))
}
