//! What the journal says of a slot, as far as its figures depend on it.

use super::marks::Void;
use crate::journal::{AtRim, Record, Said, SlotRecord, StickUp};
use crate::measure::Elevation;
use crate::tally::Tally;

/// What the journal says of one slot.
#[derive(Clone, Copy, Debug)]
pub struct Recorded<'a> {
    /// What it says of the slot; nothing where there is no journal.
    pub slot: Option<&'a SlotRecord>,
    /// The stick-up that applies, where it is of the journal.
    pub stick_up: Option<&'a Said<StickUp>>,
    /// Whether the hull moves.
    pub hull_moves: bool,
}

impl<'a> Recorded<'a> {
    /// Of a job without a journal.
    pub const NOTHING: Self = Self {
        slot: None,
        stick_up: None,
        hull_moves: false,
    };

    /// Of the slot at an index.
    pub fn of(record: &'a Record, stick_ups: &'a [Option<Said<StickUp>>], slot: usize) -> Self {
        Self {
            slot: record.slots.get(slot),
            stick_up: stick_ups.get(slot).and_then(Option::as_ref),
            hull_moves: record.moving.is_some(),
        }
    }

    /// The readings round the finished top, where they are of the journal.
    pub fn at_rim(self) -> &'a [AtRim<Elevation>] {
        let read = self.slot.and_then(|slot| slot.as_cut.as_ref());
        read.map_or(&[], |read| &read.what.readings)
    }

    /// Whether the final cut was made.
    pub fn is_cut(self) -> bool {
        self.slot.is_some_and(|slot| slot.final_cut.is_some())
    }

    /// Whether joints were run that are not those of the tally of record, in its order, in a string that
    /// is landed.
    pub fn runs_otherwise(self, tally: &Tally, is_landed: bool) -> bool {
        self.slot
            .is_some_and(|slot| is_landed && slot.was_run && !slot.runs_as(tally))
    }

    /// The marks that are none.
    pub fn void(self, tally: &Tally, is_landed: bool) -> Void {
        Void {
            rig: self.hull_moves,
            top: self
                .slot
                .is_some_and(|slot| slot.rough_cut.or(slot.final_cut).is_some()),
            planes: self.runs_otherwise(tally, is_landed),
        }
    }
}
