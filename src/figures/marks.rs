//! The marks: ways to find the cut on the rig, and the readings that each rests on.

use std::sync::Arc;

use super::by_readings::MarkPoint;
use super::chain::{Chain, SlotView};
use super::estimate::{Estimate, Source, Term, Variance};
use super::terms::{of_drop, of_mark_on_string, rotary};
use crate::job::{Bench, Job, Uncertainty};
use crate::measure::{Elevation, Length};

/// What a mark is measured from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum MarkFrom {
    /// Down from the rotary table at the cut's hull position.
    Rotary,
    /// Up from the lower make-up plane of its joint.
    LowerPlane,
    /// Down from the upper make-up plane of its joint.
    UpperPlane,
    /// Down from the top as it was landed, before any cut.
    Top,
    /// Down from a bench, by its index in the job.
    Bench(usize),
}

impl MarkFrom {
    /// Its name in JSON and in entries of the journal.
    pub fn name(self, job: &Job) -> String {
        match self {
            Self::Rotary => "rotary".to_owned(),
            Self::LowerPlane => "lower-plane".to_owned(),
            Self::UpperPlane => "upper-plane".to_owned(),
            Self::Top => "top".to_owned(),
            Self::Bench(index) => {
                let bench = job.benches.get(index).map_or("", |bench| &bench.name);
                format!("bench {bench}")
            }
        }
    }
}

/// Which marks are none.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Void {
    /// Those from RT and from bench marks of a hull position: the hull moves.
    pub rig: bool,
    /// That from the top as it was landed: it is cut.
    pub top: bool,
    /// Those from make-up planes: other joints were run than the tally has.
    pub planes: bool,
}

impl Void {
    /// Whether a mark is none.
    pub fn has(self, job: &Job, mark: &Mark) -> bool {
        match mark.from {
            MarkFrom::Rotary => self.rig,
            MarkFrom::Top => self.top,
            MarkFrom::LowerPlane | MarkFrom::UpperPlane => self.planes,
            MarkFrom::Bench(index) => {
                let bench = job.benches.get(index);
                self.rig && bench.is_some_and(|bench| bench.hull.is_some())
            }
        }
    }
}

/// A reading, or a list of readings, that several marks may rest on.
#[derive(Clone, Debug, PartialEq)]
pub enum Reading {
    /// RT at a hull position.
    Rotary(Arc<crate::job::Hull>),
    /// The slot's stick-up at a hull position.
    StickUp(Arc<crate::job::Hull>),
    /// The slot's tally.
    Tally,
    /// A bench, by its index in the job.
    Bench(usize),
}

/// One way to find the cut.
#[derive(Clone, Debug, PartialEq)]
pub struct Mark {
    /// What it is measured from.
    pub from: MarkFrom,
    /// How far, and how well that finds the cut; downward, but upward from the lower plane.
    pub distance: Estimate<Length>,
}

impl Mark {
    /// Whether one measures upward from its reference to the cut, whatever the sign.
    pub fn is_upward(&self) -> bool {
        (self.from == MarkFrom::LowerPlane) != self.distance.value.is_negative()
    }

    /// The readings that it rests on and may share with other marks. The lengths of a landing string are
    /// not named: it is recovered, and nothing can be measured on it again.
    pub fn rests_on(&self) -> Vec<Reading> {
        let on_planes = matches!(self.from, MarkFrom::LowerPlane | MarkFrom::UpperPlane);
        let terms = self.distance.terms.iter();
        let mut readings: Vec<Reading> = Vec::with_capacity(3);
        readings.extend(terms.filter_map(|term| match &term.source {
            Source::Rotary(hull) => Some(Reading::Rotary(Arc::clone(hull))),
            Source::StickUp(_, hull) => Some(Reading::StickUp(Arc::clone(hull))),
            Source::Bench(index) => Some(Reading::Bench(*index)),
            Source::Straps(_) if on_planes => Some(Reading::Tally),
            _ => None,
        }));
        readings
    }
}

/// Readings on which several of some marks rest: those marks agree whether it is right or wrong.
pub fn shared_readings(marks: &[Mark]) -> Vec<Reading> {
    let all: Vec<Reading> = marks.iter().flat_map(Mark::rests_on).collect();
    let mut shared: Vec<Reading> = Vec::new();
    for reading in &all {
        let several = all.iter().filter(|other| *other == reading).count() > 1;
        if several && !shared.contains(reading) {
            shared.push(reading.clone());
        }
    }
    shared
}

/// Marks by what they rest on, as indices: those of one group share a reading with another of it, those of different
/// groups share none. Groups and marks are in the order of the marks.
pub fn independent_groups(marks: &[&Mark]) -> Vec<Vec<usize>> {
    let mut groups: Vec<(Vec<usize>, Vec<Reading>)> = Vec::new();
    for (at, mark) in marks.iter().enumerate() {
        let mut joined = (vec![at], mark.rests_on());
        // One mark may bring several groups together.
        let mut apart = Vec::with_capacity(groups.len() + 1);
        let mut place = None;
        for group in groups {
            if group.1.iter().any(|it| joined.1.contains(it)) {
                place = place.or(Some(apart.len()));
                joined.0.extend(group.0);
                joined.1.extend(group.1);
            } else {
                apart.push(group);
            }
        }
        joined.0.sort_unstable();
        let place = place.unwrap_or(apart.len());
        apart.insert(place, joined);
        groups = apart;
    }
    groups.into_iter().map(|(marks, _)| marks).collect()
}

/// The marks of a cut in the joint at `piece`, whose planes are at `lower` and `upper`.
pub(super) fn marks(
    view: SlotView<'_>,
    chain: &Chain,
    target: Elevation,
    (piece, lower, upper): (usize, Elevation, Elevation),
) -> Vec<Mark> {
    let job = view.job;
    let stated = &job.uncertainty;
    let lean = chain.lean;
    let mark = |from, distance: Length, terms: Vec<Term>| Mark {
        from,
        distance: Estimate::new(distance, terms).known_by(by_readings(
            chain,
            stated,
            (from, piece),
            distance,
        )),
    };
    let (pieces, above_shoe) = (chain.string.pieces.len(), chain.shoe.map(|it| target - it));
    let on_string = |from, distance, lowest| {
        let terms = of_mark_on_string(view, chain, lowest, above_shoe.unwrap_or_default());
        mark(from, distance, terms)
    };
    let below_rotary = chain.cut_rotary.depth_of(target).downward();
    let of_rotary = rotary(stated, &job.cut.hull);
    let mut marks = vec![
        mark(
            MarkFrom::Rotary,
            below_rotary,
            of_drop(stated, of_rotary, below_rotary),
        ),
        on_string(MarkFrom::LowerPlane, lean.along(target - lower), piece),
    ];
    if piece + 1 < pieces {
        let distance = lean.along(upper - target);
        marks.push(on_string(MarkFrom::UpperPlane, distance, piece + 1));
    }
    marks.extend(
        chain
            .top
            .map(|top| on_string(MarkFrom::Top, lean.along(top - target), pieces)),
    );
    let benches = job.benches.iter().enumerate();
    let here = benches.filter(|(_, bench)| !bench_moved(job, bench));
    marks.extend(here.map(|(index, bench)| {
        let term = Term::plain(Source::Bench(index), "bench.uncertainty", bench.uncertainty);
        let at = chain.benches.get(index).copied();
        let drop = at.unwrap_or(bench.elevation) - target;
        mark(MarkFrom::Bench(index), drop, of_drop(stated, term, drop))
    }));
    marks
}

/// How well a mark is found from its point as all readings have that, by one tape and one marking; `None` where the
/// chain is in force, or one of those is not stated.
fn by_readings(
    chain: &Chain,
    stated: &Uncertainty,
    (from, piece): (MarkFrom, usize),
    distance: Length,
) -> Option<Variance> {
    let all = chain.by_readings.as_ref()?;
    let (point, up) = match from {
        MarkFrom::Rotary => (MarkPoint::CutRotary, -distance),
        MarkFrom::LowerPlane => (MarkPoint::Plane(piece), distance),
        MarkFrom::UpperPlane => (MarkPoint::Plane(piece + 1), -distance),
        MarkFrom::Top => (MarkPoint::Top, -distance),
        MarkFrom::Bench(index) => (MarkPoint::Bench(index), -distance),
    };
    let marking = Variance::of(stated.stick_up?);
    Some(all.measured_from(point, up)?.and(marking))
}

/// Whether a bench is on the rig and belongs to another hull position than the cut's.
pub(super) fn bench_moved(job: &Job, bench: &Bench) -> bool {
    let hull = bench.hull.as_ref();
    hull.is_some_and(|hull| hull.name != job.cut.hull.name)
}
