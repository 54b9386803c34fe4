//! What was found when the deck was landed, beside what its seat says.

use crate::deck::{DeckTop, Rest, Seat};
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

/// By how much the gap over a top may be off by the errors of the tops that bear and of its own.
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
    let variance = |slot: usize| {
        let leg = inputs.job.slots.get(slot)?.leg_uncertainty;
        let leg = leg.map_or(0.0, Length::real_metres);
        Some(stated * stated + leg * leg)
    };
    let bearing = rest.contacts.iter().filter_map(|it| variance(*it));
    let worst = bearing.fold(0.0, f64::max);
    let all = variance(slot)? + worst * leverage(tops, &rest.contacts, slot)?;
    let limit = Length::nearest_to_metres(LIMIT * all.sqrt())?;
    Some(limit.max(LEAST))
}

/// By how much the plane of some tops is off over another one, in squares of what one of them is: the sum of the squares
/// of its weights.
fn leverage(tops: &[DeckTop], contacts: &[usize], slot: usize) -> Option<f64> {
    let place = |at: &usize| {
        let top = tops.get(*at)?;
        Some((top.x.real_metres(), top.y.real_metres()))
    };
    let bearing: Option<Vec<(f64, f64)>> = contacts.iter().map(place).collect();
    let (bearing, at) = (bearing?, place(&slot)?);
    let count = f64::from(u32::try_from(bearing.len()).ok()?);
    let mean = |of: fn(&(f64, f64)) -> f64| bearing.iter().map(of).sum::<f64>() / count;
    let (mx, my) = (mean(|it| it.0), mean(|it| it.1));
    let (mut xx, mut xy, mut yy) = (0.0, 0.0, 0.0);
    for (x, y) in &bearing {
        let (x, y) = (x - mx, y - my);
        xx += x * x;
        xy += x * y;
        yy += y * y;
    }
    let determinant = xx * yy - xy * xy;
    let (x, y) = (at.0 - mx, at.1 - my);
    let far = (yy * x * x - 2.0 * xy * x * y + xx * y * y) / determinant;
    (determinant > 0.0).then_some(1.0 / count + far)
}
