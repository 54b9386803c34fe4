//! Every figure that follows from a job and its tallies, computed once and shown by all faces.
//!
//! Pure: [`compute`] knows no file, clock or terminal. The chain is short: the stick-up at its hull
//! position gives the top, the tally gives the shoe and every make-up plane, and the cut target is
//! compared with them. What cannot be known is `None`, never a zero.

mod accuracy;
mod checks;
mod connections;
mod cut;
pub mod how;
mod lists;
mod run;
mod slot;
pub mod steel;
mod whole;

pub use accuracy::{Term, Variance, Verdict, judge, probability_within, probability_words, total};
pub use connections::Connection;
pub use cut::{AsCut, Cut, CutPlace, Mark, MarkFrom, length_uncertainty};
pub use lists::{ListFigures, left_to_decide, would_move};
pub use run::{RunStep, run_steps, side_of_surface};
pub use slot::{AccessoryPlace, Basis, InKeepOut, Shoulder, SlotFigures};
pub use whole::{FrameFigures, Spread};

use crate::flag::{self, Flag, Severity};
use crate::job::{Inputs, Job};
use crate::tally::Tally;

/// All figures of a job.
#[derive(Clone, Debug, PartialEq)]
pub struct Figures {
    /// One for each slot, in the order of the job.
    pub slots: Vec<SlotFigures>,
    /// The frame, where the job has one.
    pub frame: Option<FrameFigures>,
    /// How far the cuts differ among themselves.
    pub spread: Spread,
    /// Flags of the job as a whole.
    pub flags: Vec<Flag>,
}

/// Computes the figures of a job from the tallies of its slots, in their order.
pub fn compute(job: &Job, tallies: &[Tally]) -> Figures {
    let mut slots: Vec<SlotFigures> = job
        .slots
        .iter()
        .zip(tallies)
        .enumerate()
        .map(|(index, (slot, tally))| slot::compute(job, index, slot, tally))
        .collect();
    let frame = whole::frame(job, &slots);
    let spread = whole::spread(job, &slots);
    let mut flags = whole::flags(job, tallies, &slots, frame.as_ref(), &spread);
    flag::sort(&mut flags);
    for slot in &mut slots {
        flag::sort(&mut slot.flags);
    }
    Figures {
        slots,
        frame,
        spread,
        flags,
    }
}

/// The figures of a job as it stands on disk: those of [`compute`], and what the other lists of each
/// string say.
pub fn of_folder(inputs: &Inputs) -> Figures {
    let job = &inputs.job;
    let mut figures = compute(job, &inputs.tallies);
    let slots = figures
        .slots
        .iter_mut()
        .zip(&inputs.tallies)
        .zip(&inputs.lists);
    for (index, ((slot, tally), others)) in slots.enumerate() {
        slot.lists = lists::of_slot(job, index, tally, others);
        slot.flags.extend(lists::flags(job, others, &slot.lists));
        flag::sort(&mut slot.flags);
    }
    figures
}

impl Figures {
    /// The worst severity anywhere; `None` where nothing is flagged.
    pub fn worst(&self) -> Option<Severity> {
        let slots = self.slots.iter().flat_map(|slot| &slot.flags);
        self.flags
            .iter()
            .chain(slots)
            .map(|flag| flag.severity)
            .max()
    }
}

#[cfg(test)]
mod tests;
