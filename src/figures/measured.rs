//! Something of a string that was measured, against what its tally and its stick-up or plan make of it.

use std::ops::Range;

use super::chain::{Basis, Chain};
use crate::job::{Plan, Slot};
use crate::measure::{Elevation, Length};

/// What was measured.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum MeasuredAs {
    /// The length of the string.
    StringLength(Length),
    /// The stick-up at the slot's hull position.
    StickUp(Length),
    /// The depth of the shoe below RT at the slot's hull position.
    Shoe(Length),
    /// The elevation of the top.
    Top(Elevation),
}

/// Measured less computed string length, and the pieces that lie between what was measured and what fixes
/// the elevations; `None` for all of them.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct MeasuredOff {
    /// Measured less computed.
    pub off: Length,
    /// The pieces, by their indices.
    pub among: Option<Range<usize>>,
}

impl MeasuredOff {
    /// By how much a string is longer than computed; `None` where nothing fixes its elevations.
    pub fn of(slot: &Slot, chain: &Chain, measured: MeasuredAs) -> Option<Self> {
        let pieces = chain.string.pieces.len();
        let off = match measured {
            MeasuredAs::StringLength(length) => length - chain.string.length,
            MeasuredAs::StickUp(stick_up) => stick_up - chain.stick_up?,
            MeasuredAs::Shoe(depth) => chain.shoe? - (slot.hull.rotary - depth),
            MeasuredAs::Top(top) => top - chain.top?,
        };
        let is_whole = matches!(measured, MeasuredAs::StringLength(_));
        let is_at_shoe = matches!(measured, MeasuredAs::Shoe(_));
        let among = match (chain.basis, slot.plan) {
            _ if is_whole => None,
            // By its plan a string hangs on its shoulder: what lies on the other side of that is not measured.
            (Basis::Planned, Some(Plan::Shoulder(_))) => {
                let running = chain.shoulder?.piece;
                Some(if is_at_shoe {
                    0..(running + 1).min(pieces)
                } else {
                    running..pieces
                })
            }
            (Basis::Planned, _) if !is_at_shoe => Some(pieces..pieces),
            _ => None,
        };
        Some(Self { off, among })
    }
}
