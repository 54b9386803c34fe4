//! Figures of the job as a whole: the frame's base, and the spread of the cuts.

use super::as_cut::AsCut;
use super::by_readings::MarkPoint;
use super::chain::SlotView;
use super::estimate::{Estimate, Source, Term, Variance, total};
use super::slot::SlotFigures;
use super::terms::{adjusted, of_height, of_spread};
use super::verdict::{Verdict, judge};
use crate::job::Job;
use crate::measure::{Elevation, Length, RationalLength};

/// The frame's base.
#[derive(Clone, Debug, PartialEq)]
pub struct FrameFigures {
    /// Index of the slot that carries it.
    pub slot: usize,
    /// The elevation of its base; `None` without a shoulder.
    pub base: Option<Elevation>,
    /// Its height above the mudline at that slot, and how well it is known.
    pub above_mudline: Option<Estimate<Length>>,
    /// The verdict; `None` without a window or a shoulder.
    pub verdict: Option<Verdict>,
}

/// The spread of the cuts: the highest less the lowest of their deviations from their targets.
#[derive(Clone, Debug, PartialEq)]
pub struct Spread {
    /// How many conductors are cut and measured.
    pub cuts: usize,
    /// The spread, rounded to the nanometre, and how well it is known; `None` under two cuts.
    pub value: Option<Estimate<Length>>,
    /// The spread exactly, which need not be a whole number of nanometres; `None` under two cuts.
    pub exact: Option<RationalLength>,
    /// The verdict; `None` without a limit or under two cuts.
    pub verdict: Option<Verdict>,
}

/// The frame's base, where the job has a frame.
pub(super) fn frame(views: &[SlotView<'_>], slots: &[SlotFigures]) -> Option<FrameFigures> {
    let job = views.first()?.job;
    let frame = job.frame.as_ref()?;
    let (view, figures) = (views.get(frame.slot)?, slots.get(frame.slot)?);
    let shoulder = figures.chain.shoulder;
    let placed = shoulder.and_then(|shoulder| Some((shoulder.piece, shoulder.elevation?)));
    let Some((piece, shoulder_at)) = placed else {
        return Some(FrameFigures {
            slot: frame.slot,
            base: None,
            above_mudline: None,
            verdict: None,
        });
    };
    let base = shoulder_at - frame.ring_above_base;
    let above_shoe = figures.chain.shoe.map(|shoe| shoulder_at - shoe);
    let mut terms = of_height(*view, &figures.chain, piece, above_shoe.unwrap_or_default());
    terms.push(Term::plain(
        Source::Mudline,
        "mudline",
        job.uncertainty.mudline,
    ));
    let shoulder = adjusted(&figures.chain, MarkPoint::Shoulder);
    let mudline = job.uncertainty.mudline.map(Variance::of);
    let by_readings = shoulder.zip(mudline).map(|(one, other)| one.and(other));
    let above_mudline = Estimate::new(base - view.mudline(), terms).known_by(by_readings);
    // A window is a tolerance about its middle.
    let verdict = frame.base_above_mudline.map(|window| {
        let middle = RationalLength::half(window.from + window.to);
        judge(
            RationalLength::from(above_mudline.value).minus(middle),
            RationalLength::half(window.to - window.from),
            above_mudline.variance(),
        )
    });
    Some(FrameFigures {
        slot: frame.slot,
        base: Some(base),
        above_mudline: Some(above_mudline),
        verdict,
    })
}

/// How far the cuts differ among themselves.
pub(super) fn spread(job: &Job, slots: &[SlotFigures]) -> Spread {
    let cuts: Vec<&AsCut> = slots
        .iter()
        .filter_map(|slot| slot.cut.as_cut.as_ref())
        .collect();
    let highest = cuts.iter().max_by_key(|cut| cut.deviation);
    let lowest = cuts.iter().min_by_key(|cut| cut.deviation);
    let Some((highest, lowest)) = highest.zip(lowest).filter(|_| cuts.len() >= 2) else {
        return Spread {
            cuts: cuts.len(),
            value: None,
            exact: None,
            verdict: None,
        };
    };
    let value = highest.deviation.minus(lowest.deviation);
    let spread = Estimate::new(
        value.rounded(),
        of_spread(&job.uncertainty, cuts.len(), is_one_setup(job)),
    );
    Spread {
        cuts: cuts.len(),
        exact: Some(value),
        verdict: job
            .cut
            .spread
            .map(|limit| judge(value, limit.into(), spread.variance())),
        value: Some(spread),
    }
}

/// The variance that the spread of so many cuts will have; `None` where it is not stated.
pub(super) fn spread_variance(job: &Job, cuts: usize) -> Option<Variance> {
    total(&of_spread(&job.uncertainty, cuts, is_one_setup(job)))
}

/// Whether the finished tops were surveyed from one set-up of the instrument, as far as anything says.
pub(super) fn is_one_setup(job: &Job) -> bool {
    let cut = job.slots.iter().filter(|slot| !slot.as_cut.is_empty());
    let mut setups = cut.map(|slot| slot.as_cut_setup.as_ref());
    let first = setups.next();
    setups.all(|setup| Some(setup) == first)
}
