//! Flags of the job as a whole: the frame, the spread of the cuts, what is not stated.

use std::collections::{HashMap, HashSet};

use crate::figures::chain::SlotView;
use crate::figures::estimate::{Source, Term, Variance};
use crate::figures::second_ways::{SecondWay, WayBy};
use crate::figures::slot::SlotFigures;
use crate::figures::together::{FrameFigures, Spread, spread_variance};
use crate::figures::verdict::Verdict;
use crate::finding::{
    Code, Flag, JobFinding, Named, Place, ProofOf, SecondWayBy, SharedSerial, TopFinding, TwoWays,
};
use crate::job::Job;
use crate::tally::{Joint, Kind, MayRepeat, Tally};

/// Most shared serials that are named.
const NAMED: usize = 6;

/// What the checks of a job look at.
pub(in crate::figures) struct Together<'a> {
    pub(in crate::figures) job: &'a Job,
    pub(in crate::figures) views: &'a [SlotView<'a>],
    pub(in crate::figures) slots: &'a [SlotFigures],
    pub(in crate::figures) frame: Option<&'a FrameFigures>,
    pub(in crate::figures) spread: &'a Spread,
    pub(in crate::figures) second_ways: &'a [SecondWay],
}

/// The flags of a job, in no set order.
pub(in crate::figures) fn job(all: &Together<'_>) -> Vec<Flag> {
    let job = all.job;
    let mut flags = Vec::new();
    flags.extend(all.frame.and_then(|frame| frame_flag(job, frame)));
    flags.extend(spread_flag(job, all.spread));
    if let (Some(limit), Some(variance)) = (job.cut.spread, spread_variance(job, all.slots.len()))
        && all.slots.len() > 1
        && !variance.expanded_is_within(limit)
    {
        flags.push(Flag::new(
            Code::ToleranceBelowUncertainty,
            Place::Whole,
            TopFinding::ToleranceBelowUncertainty {
                proofs: vec![(ProofOf::Spread, variance.expanded(), limit)],
            },
        ));
    }
    let terms = shown_terms(all, |_| true);
    let missing = shown_terms(all, |it| it.is_none());
    let keys = keys_of(&KEYS, &missing, |sigma| sigma.is_none());
    let benches = benches_without(job, &missing);
    if !keys.is_empty() || !benches.is_empty() {
        flags.push(Flag::new(
            Code::UncertaintyMissing,
            Place::Whole,
            JobFinding::UncertaintyMissing { keys, benches },
        ));
    }
    let keys = keys_of(&NAMED_AS_ZERO, &terms, |sigma| {
        sigma.is_some_and(|it| it <= 0.0)
    });
    if !keys.is_empty() {
        flags.push(Flag::new(
            Code::UncertaintyZero,
            Place::Whole,
            JobFinding::UncertaintyZero { keys },
        ));
    }
    flags.extend(two_ways(all.second_ways, Code::RotaryDisagrees, true));
    flags.extend(two_ways(all.second_ways, Code::DeckDisagrees, false));
    flags.extend(serial_in_two_slots(all.views));
    flags.extend(tally_in_two_slots(all.views));
    flags
}

/// The flag of the second ways that disagree, to RT or to the deck.
fn two_ways(ways: &[SecondWay], code: Code, to_rotary: bool) -> Option<Flag> {
    let ways: Vec<TwoWays> = ways
        .iter()
        .filter(|way| way.is_to_rotary() == to_rotary && !way.agrees())
        .map(|way| TwoWays {
            hull: way.hull.name.clone(),
            by: match &way.by {
                WayBy::Raised { before, by } => SecondWayBy::Raised {
                    before: before.name.clone(),
                    by: *by,
                },
                WayBy::AirGap => SecondWayBy::AirGap,
                WayBy::BelowRotary(depth) => SecondWayBy::BelowRotary(*depth),
            },
            stated: way.stated,
            second: way.second,
            allowed: way.allowed,
        })
        .collect();
    (!ways.is_empty()).then(|| Flag::new(code, Place::Whole, JobFinding::TwoWays { ways }))
}

fn frame_flag(job: &Job, frame: &FrameFigures) -> Option<Flag> {
    let above = frame.above_mudline.as_ref()?;
    let window = job.frame.as_ref()?.base_above_mudline?;
    let verdict = frame.verdict?;
    let beyond = !window.holds(&above.value);
    let code = match (verdict, beyond) {
        (Verdict::Within, _) => return None,
        (_, true) => Code::FrameOutside,
        (_, false) => Code::FrameUnproven,
    };
    let finding = JobFinding::FrameBase {
        height: above.value,
        uncertainty: above.expanded(),
        window: (window.from, window.to),
        beyond,
        proven: verdict == Verdict::Outside,
    };
    Some(Flag::new(code, Place::Whole, finding))
}

fn spread_flag(job: &Job, spread: &Spread) -> Option<Flag> {
    let (value, limit) = (spread.value.as_ref()?, job.cut.spread?);
    let verdict = spread.verdict?;
    let beyond = spread.exact? > limit.into();
    let code = match (verdict, beyond) {
        (Verdict::Within, _) => return None,
        (_, true) => Code::SpreadOutside,
        (_, false) => Code::SpreadUnproven,
    };
    let finding = JobFinding::Spread {
        value: value.value,
        uncertainty: value.expanded(),
        limit,
        beyond,
        proven: verdict == Verdict::Outside,
    };
    Some(Flag::new(code, Place::Whole, finding))
}

/// The keys of uncertainties, in the order of the job file.
const KEYS: [&str; 9] = [
    "strap",
    "connection",
    "tape_scale",
    "stick_up",
    "rotary",
    "as_cut",
    "rim",
    "benchmark",
    "mudline",
];

/// Those that are named where they are stated as 0 and enter an uncertainty that is shown.
const NAMED_AS_ZERO: [&str; 7] = [
    "strap",
    "stick_up",
    "rotary",
    "as_cut",
    "rim",
    "benchmark",
    "mudline",
];

/// Which of some keys have terms of such a standard uncertainty.
fn keys_of(
    keys: &[&'static str],
    terms: &[&Term],
    is_such: impl Fn(Option<f64>) -> bool,
) -> Vec<&'static str> {
    let has = |key: &&&'static str| {
        let mut terms = terms.iter();
        terms.any(|term| term.key == **key && term.count > 0 && is_such(term.sigma))
    };
    keys.iter().filter(has).copied().collect()
}

/// The bench marks that marks are measured from and whose uncertainty is not stated.
fn benches_without(job: &Job, terms: &[&Term]) -> Vec<String> {
    let is_missing = |index: usize| {
        let mut terms = terms.iter();
        terms.any(|term| term.source == Source::Bench(index) && term.sigma.is_none())
    };
    let benches = job.benches.iter().enumerate();
    let missing = benches.filter(|(index, _)| is_missing(*index));
    missing.map(|(_, bench)| bench.name.clone()).collect()
}

/// The terms of every uncertainty that is shown and has such a one by all readings.
fn shown_terms<'a>(
    all: &Together<'a>,
    is_asked: impl Fn(Option<Variance>) -> bool + Copy,
) -> Vec<&'a Term> {
    let mut terms: Vec<&Term> = Vec::new();
    for slot in all.slots {
        let marks = slot.cut.place.iter().flat_map(|place| &place.marks);
        let marks = marks.filter(|mark| is_asked(mark.distance.by_readings));
        terms.extend(marks.flat_map(|mark| &mark.distance.terms));
        if let Some(as_cut) = &slot.cut.as_cut {
            terms.extend(&as_cut.mean.terms);
            terms.extend(as_cut.out_of_level.iter().flat_map(|it| &it.terms));
        }
    }
    terms.extend(all.spread.value.iter().flat_map(|it| &it.terms));
    let frame = all.frame.and_then(|frame| frame.above_mudline.as_ref());
    let frame = frame.filter(|it| is_asked(it.by_readings));
    terms.extend(frame.iter().flat_map(|it| &it.terms));
    terms
}

/// So many different lengths in one list were measured: lists of nominal lengths are alike in every slot.
const MEASURED: usize = 5;

/// Slots whose tally is one file, or lists the same lengths as measured.
fn tally_in_two_slots(views: &[SlotView<'_>]) -> Option<Flag> {
    let mut pairs = Vec::new();
    for (at, view) in views.iter().enumerate() {
        let mut before = views.iter().take(at);
        let same = before.find(|other| {
            other.slot.tally == view.slot.tally || lists_the_same(other.tally, view.tally)
        });
        pairs.extend(same.map(|other| (other.slot.name.clone(), view.slot.name.clone())));
    }
    (!pairs.is_empty()).then(|| {
        Flag::new(
            Code::TallyInTwoSlots,
            Place::Whole,
            JobFinding::SharedTallies { pairs },
        )
    })
}

/// Whether two tallies list the same lengths and losses, and those were measured.
fn lists_the_same(one: &Tally, other: &Tally) -> bool {
    let same = |(one, other): (&Joint, &Joint)| {
        (one.length_kind, one.length, one.makeup_loss)
            == (other.length_kind, other.length, other.makeup_loss)
    };
    one.joints.len() == other.joints.len() && one.joints.iter().zip(&other.joints).all(same) && {
        let lengths = one.joints.iter();
        let different: HashSet<_> = lengths.map(|it| it.length).collect();
        different.len() >= MEASURED
    }
}

fn serial_in_two_slots(views: &[SlotView<'_>]) -> Option<Flag> {
    let of_serials = || views.iter().filter(|it| !it.tally.serials_are_heats());
    if of_serials().count() < 2 {
        return None;
    }
    // Most serials are there once, and need not be kept.
    let joints = || of_serials().flat_map(|view| &view.tally.joints);
    let serials = joints().filter_map(|joint| joint.serial.as_deref());
    let may_repeat = MayRepeat::of(serials, joints().count());
    let mut first_in: HashMap<&str, &SlotView<'_>> = HashMap::new();
    let mut shared: Vec<SharedSerial> = Vec::new();
    let mut more = 0;
    let mut sharing = vec![false; views.len()];
    for view in of_serials() {
        let joints = view.tally.joints.iter();
        for joint in joints.filter(|joint| joint.kind != Some(Kind::Landing)) {
            let Some(serial) = joint.serial.as_deref().filter(|it| may_repeat.has(it)) else {
                continue;
            };
            let first = *first_in.entry(serial).or_insert(view);
            if first.index == view.index {
                continue;
            }
            for index in [first.index, view.index] {
                if let Some(shares) = sharing.get_mut(index) {
                    *shares = true;
                }
            }
            if shared.len() == NAMED {
                more += 1;
                continue;
            }
            shared.push(SharedSerial {
                serial: serial.to_owned(),
                first: first.slot.name.clone(),
                second: view.slot.name.clone(),
                line: joint.line,
            });
        }
    }
    let slots = views.iter().zip(&sharing).filter(|(_, shares)| **shares);
    let slots: Vec<String> = slots.map(|(view, _)| view.slot.name.clone()).collect();
    let serials = Named {
        first: shared,
        more,
    };
    (!serials.first.is_empty()).then(|| {
        Flag::new(
            Code::SerialInTwoSlots,
            Place::Whole,
            JobFinding::SharedSerials { serials, slots },
        )
    })
}
