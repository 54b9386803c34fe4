//! All figures of a job.

use super::adjusted::JobLevels;
use super::chain::SlotView;
use super::checks;
use super::lists::{self, ListFigures};
use super::misclosure::Misclosure;
use super::running::Running;
use super::said::Recorded;
use super::second_ways::{SecondWay, second_ways};
use super::side_by_side::SlotLists;
use super::slot::SlotFigures;
use super::status::{SlotState, Standing};
use super::together::{FrameFigures, Spread, frame, spread};
use crate::finding::{self, Code, Flag, LevelFinding, Place, Severity};
use crate::job::{Elevations, Job};
use crate::journal::{Inputs, OtherList, SlotRecord};
use crate::levels::NetworkError;
use crate::tally::Tally;

/// All figures of a job.
#[derive(Clone, Debug, PartialEq)]
pub struct Figures {
    /// One for each slot, in the order of the job.
    pub slots: Vec<SlotFigures>,
    /// For each slot the other lists of its string; `None` for those that cannot be read.
    pub lists: Vec<Vec<Option<ListFigures>>>,
    /// For each slot all lists of its string side by side; `None` where there is no other that can be read.
    pub side_by_side: Vec<Option<SlotLists>>,
    /// The frame, where the job has one.
    pub frame: Option<FrameFigures>,
    /// How far the cuts differ among themselves.
    pub spread: Spread,
    /// Second ways to the elevations of the job.
    pub second_ways: Vec<SecondWay>,
    /// For each slot whether it may be cut, and the flags of the job that concern it.
    pub standings: Vec<Standing>,
    /// Each slot's string as it hangs.
    pub running: Vec<Running>,
    /// For each slot where its string as it is run does not close; without a journal none.
    pub misclosures: Vec<Option<Misclosure>>,
    /// All readings adjusted, where there are more than the chains rest on or the cuts go by them.
    pub levels: Option<JobLevels>,
    /// Flags of the job as a whole, the worst first.
    pub flags: Vec<Flag>,
}

/// Computes the figures of a job from the tallies of its slots, in their order.
pub fn compute(job: &Job, tallies: &[Tally]) -> Figures {
    let views: Vec<SlotView<'_>> = SlotView::all(job, tallies).collect();
    let slots = views
        .iter()
        .map(|view| SlotFigures::of(*view, Recorded::NOTHING, None, |_| Vec::new()))
        .collect();
    let lists = views.iter().map(|_| Vec::new()).collect();
    let side_by_side = views.iter().map(|_| None).collect();
    together(job, &views, slots, (lists, side_by_side), (Vec::new(), &[]))
}

/// The figures of a job as it is in its folder: those of [`compute`], and what the other lists of
/// each string and the journal say; as if nothing were waived.
pub(super) fn without_waivers(inputs: &Inputs) -> Figures {
    let job = &inputs.job;
    let views: Vec<SlotView<'_>> = SlotView::all(job, &inputs.tallies).collect();
    let levels = JobLevels::of(inputs);
    let adjusted = levels.as_ref().and_then(|it| it.as_ref().ok());
    let of_slot = |(view, others): (&SlotView<'_>, &Vec<OtherList>)| {
        let lists = lists::of_slot(*view, others);
        let is_read = lists.iter().any(Option::is_some);
        let all = is_read.then(|| SlotLists::of(inputs, view.index)).flatten();
        let recorded = Recorded::of(&inputs.record, &inputs.stick_ups, view.index);
        let figures = SlotFigures::of(*view, recorded, adjusted, |checked| {
            let mut flags = checks::of_slot(inputs, checked, recorded);
            flags.extend(checks::lists(job, others, &lists, all.as_ref()));
            flags
        });
        (figures, (lists, all))
    };
    let (slots, lists): (Vec<_>, Vec<_>) = views.iter().zip(&inputs.lists).map(of_slot).unzip();
    let lists = lists.into_iter().unzip();
    let untied = adjusted.map_or(&[][..], |levels| &levels.untied);
    let mut of_journal = checks::of_journal(inputs, untied);
    of_journal.extend(of_levels(levels.as_ref(), job.cut.elevations));
    let misclosures = views
        .iter()
        .zip(&slots)
        .map(|(view, figures)| Misclosure::of(inputs, *view, figures))
        .collect();
    let said = (of_journal, inputs.record.slots.as_slice());
    Figures {
        misclosures,
        levels: levels.and_then(Result::ok),
        ..together(job, &views, slots, lists, said)
    }
}

/// Flags of all readings together.
fn of_levels(levels: Option<&Result<JobLevels, NetworkError>>, by: Elevations) -> Vec<Flag> {
    let is_cut_by = by == Elevations::Adjusted;
    match levels {
        None => Vec::new(),
        Some(Ok(levels)) => levels.flags(is_cut_by),
        Some(Err(error)) => {
            let why = error.to_string();
            let code = if is_cut_by {
                Code::AdjustedUnsound
            } else {
                Code::ReadingsContradict
            };
            vec![Flag::new(
                code,
                Place::Whole,
                LevelFinding::NotAdjusted { why },
            )]
        }
    }
}

/// What follows from all slots together.
fn together(
    job: &Job,
    views: &[SlotView<'_>],
    slots: Vec<SlotFigures>,
    (lists, side_by_side): (Vec<Vec<Option<ListFigures>>>, Vec<Option<SlotLists>>),
    (of_journal, said): (Vec<Flag>, &[SlotRecord]),
) -> Figures {
    let frame = frame(views, &slots);
    let spread = spread(job, &slots);
    let second_ways = second_ways(job);
    let mut flags = checks::job(&checks::Together {
        job,
        views,
        slots: &slots,
        frame: frame.as_ref(),
        spread: &spread,
        second_ways: &second_ways,
    });
    flags.extend(of_journal);
    finding::sort(&mut flags);
    let standings = views
        .iter()
        .zip(&slots)
        .map(|(view, of_slot)| Standing::of(*view, of_slot, &flags, &second_ways))
        .collect();
    let running = views
        .iter()
        .map(|view| Running::of(*view, said.get(view.index)))
        .collect();
    Figures {
        slots,
        lists,
        side_by_side,
        frame,
        spread,
        second_ways,
        standings,
        running,
        misclosures: Vec::new(),
        levels: None,
        flags,
    }
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

    /// How far a slot has come.
    pub fn state(&self, slot: usize) -> Option<SlotState> {
        let run = self.running.get(slot).map_or(0, |it| it.joints_run);
        let standing = self.standings.get(slot)?;
        Some(SlotState::of(self.slots.get(slot)?, standing, run))
    }

    /// How many flags there are that stop, that someone must look at, and that are good to know.
    pub fn flag_counts(&self) -> [usize; 3] {
        let slots = self.slots.iter().flat_map(|slot| &slot.flags);
        let mut counts = [0; 3];
        for flag in self.flags.iter().chain(slots) {
            let [stop, check, note] = &mut counts;
            *match flag.severity {
                Severity::Stop => stop,
                Severity::Check => check,
                Severity::Note => note,
            } += 1;
        }
        counts
    }
}
