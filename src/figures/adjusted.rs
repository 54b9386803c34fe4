//! The elevations of a job by all its readings: beside those of each slot's chain, or in their place.

use std::collections::{BTreeMap, BTreeSet};

use super::by_readings::{ByReadings, NANOMETRES};
use super::chain::{Basis, Chain, SlotView};
use super::estimate::{Variance, total};
use super::levels::Levels;
use super::network::{ReadNetwork, ReadingOf, StringPoints, rotary_point, top_point};
use super::terms::{of_as_cut, of_top, rotary};
use crate::finding::{
    AdjustedPoint as AdjustedName, AdjustedPointRef, Code, Flag, LevelFinding, Place, ReadingRef,
};
use crate::job::{Elevations, Job};
use crate::journal::{Event, Inputs};
use crate::levels::{Adjusted, AdjustedPoint, LIMIT, Network, NetworkError, Parts, adjust};
use crate::measure::{Elevation, Length, RationalLength};

/// The readings of a job adjusted, and where they put its strings.
#[derive(Clone, Debug, PartialEq)]
pub struct JobLevels {
    /// The readings, adjusted.
    pub levels: Levels,
    /// Entered readings that are left out, for no reading ties their points: the entries with the points of each.
    pub untied: Vec<UntiedEntry>,
    /// The same elevations with every string divided at each of its planes.
    divided: Adjusted,
    network: Network,
    /// For each slot the points of its string.
    strings: Vec<StringPoints>,
    /// The parts of the network that hang together without the datum: for each point its part.
    parts: Vec<usize>,
    /// Whether a part has readings beyond those of the chain.
    has_more: BTreeMap<usize, bool>,
    /// The variance of the tape's scale; `None` where it is not stated.
    tape: Option<f64>,
}

/// An elevation by all readings, beside that of the chain.
#[derive(Clone, Debug, PartialEq)]
pub struct Compared {
    /// By all readings.
    pub adjusted: Elevation,
    /// How well that is known; `None` where a reading that ties it is not stated.
    pub variance: Option<Variance>,
    /// By the chain.
    pub chain: Option<Elevation>,
    /// By how much both may differ, in metres; `None` where one of the two is not stated, or exact.
    pub limit: Option<f64>,
}

/// What all readings say of a slot's top, and of RT at the cut's hull position.
#[derive(Clone, Debug, PartialEq)]
pub struct AdjustedFigures {
    /// The top; `None` where no reading names it.
    pub top: Option<Compared>,
    /// RT at the cut's hull position.
    pub rotary: Compared,
    /// The reading that is suspected, on which both rest all the same; several where nothing tells them apart.
    pub suspect: Vec<ReadingRef>,
}

impl Compared {
    /// The elevation by all readings less that of the chain.
    pub fn less_chain(&self) -> Option<Length> {
        self.chain.map(|chain| self.adjusted - chain)
    }

    /// Whether both differ by more than they may. What is rounded to the nanometre may differ by one.
    pub fn disagrees(&self) -> bool {
        let limit = self.limit.map(|it| it.max(1e-9));
        let off = self.less_chain().map(|it| it.abs().real_metres());
        limit.zip(off).is_some_and(|(limit, off)| off > limit)
    }

    /// Both elevations, compared; variances in square metres.
    fn of(point: &AdjustedPoint, chain: Option<(Elevation, Option<Variance>)>) -> Self {
        let variance = point
            .variance
            .map(|it| Variance::of_real(it.sqrt() * NANOMETRES));
        let by_chain = chain.and_then(|(_, variance)| variance);
        let both = variance.zip(by_chain);
        // The adjusted elevation uses what the chain uses: the variance of their difference is the difference of theirs.
        let limit = both
            .map(|(one, other)| (one.standard_nm(), other.standard_nm()))
            .filter(|(one, other)| *one > 0.0 && *other > 0.0)
            .map(|(one, other)| LIMIT * (other * other - one * one).max(0.0).sqrt() / NANOMETRES);
        Self {
            adjusted: point.elevation,
            variance,
            chain: chain.map(|(at, _)| at),
            limit,
        }
    }
}

/// Which parts of a network hang together without its fixed points, by the index of each point.
fn parts(network: &Network) -> Vec<usize> {
    let count = network.points.len();
    let mut parts = Parts::new(count);
    let is_fixed = |at: usize| network.points.get(at).is_some_and(|it| it.fixed.is_some());
    for reading in &network.readings {
        if !is_fixed(reading.from) && !is_fixed(reading.to) {
            parts.join(reading.from, reading.to);
        }
    }
    (0..count).map(|at| parts.of(at)).collect()
}

impl JobLevels {
    /// The readings of a job, adjusted, where it has more than its chains rest on, or is cut by them; else `None`.
    pub(super) fn of(inputs: &Inputs) -> Option<Result<Self, NetworkError>> {
        let entries = inputs.journal.entries.iter();
        let mut entered = entries.filter(|it| matches!(it.event, Event::Reading { .. }));
        let is_wanted = !inputs.readings.is_empty()
            || entered.next().is_some()
            || !inputs.job.corrections.is_empty()
            || inputs.job.cut.elevations == Elevations::Adjusted;
        is_wanted.then(|| Self::adjusted(inputs))
    }

    fn adjusted(inputs: &Inputs) -> Result<Self, NetworkError> {
        let (levels, untied) = levels_of(inputs)?;
        let without = untied.iter().map(|it| it.0).collect();
        let (read, strings) = ReadNetwork::divided(inputs, &without);
        let divided = adjust(&read.network)?;
        let parts = parts(&read.network);
        let mut has_more: BTreeMap<usize, bool> = BTreeMap::new();
        let is_of_chain = |of: &ReadingOf| {
            matches!(
                of,
                ReadingOf::Rotary(_) | ReadingOf::StickUp(..) | ReadingOf::Tally(_)
            )
        };
        let more = read.network.readings.iter().zip(&read.of);
        for (reading, _) in more.filter(|(_, of)| !is_of_chain(of)) {
            for end in [reading.from, reading.to] {
                let is_fixed = read.network.points.get(end);
                if is_fixed.is_some_and(|it| it.fixed.is_none()) {
                    has_more.extend(parts.get(end).map(|part| (*part, true)));
                }
            }
        }
        let stated = inputs.job.uncertainty.tape_scale;
        let stated = stated.map(|ppm| (ppm * 1e-6) * (ppm * 1e-6));
        Ok(Self {
            levels,
            untied,
            tape: divided.tape.as_ref().map(|it| it.variance).or(stated),
            divided,
            network: read.network,
            strings,
            parts,
            has_more,
        })
    }

    fn point(&self, name: &str) -> Option<&AdjustedPoint> {
        self.divided.points.get(self.network.find(name)?)
    }

    /// Whether a reading beyond those of the chain is tied to a point.
    fn has_more(&self, name: &str) -> bool {
        let part = self.network.find(name).and_then(|at| self.parts.get(at));
        part.is_some_and(|part| self.has_more.contains_key(part))
    }

    /// The elevations of a slot that has a stick-up.
    pub(super) fn of_slot(&self, view: SlotView<'_>) -> Option<ByReadings> {
        let points = self.strings.get(view.index)?;
        let at = |index: &usize| self.divided.points.get(*index).cloned();
        let planes: Option<Vec<AdjustedPoint>> = points.planes.iter().map(at).collect();
        let benches = view.job.benches.iter();
        let benches: Option<Vec<AdjustedPoint>> = benches
            .map(|bench| self.point(&bench.name).cloned())
            .collect();
        Some(ByReadings {
            top: self.point(&top_point(&view.slot.name))?.clone(),
            planes: planes.filter(|it| !it.is_empty())?,
            shoulder: points.shoulder.as_ref().and_then(at),
            rotary: self.point(&rotary_point(&view.slot.hull.name))?.clone(),
            cut_rotary: self.point(&rotary_point(&view.job.cut.hull.name))?.clone(),
            benches: benches?,
            tape: self.tape,
        })
    }

    /// What all readings say beside the chain of a slot; `None` where they are no more than that.
    pub(super) fn compared(&self, view: SlotView<'_>, chain: &Chain) -> Option<AdjustedFigures> {
        let top = top_point(&view.slot.name);
        let hull = &view.job.cut.hull;
        let at_cut = rotary_point(&hull.name);
        if !self.has_more(&top) && !self.has_more(&at_cut) {
            return None;
        }
        let is_read = chain.basis == Basis::Read;
        let by_chain = chain.top.filter(|_| is_read);
        let by_chain = by_chain.map(|at| (at, of_top(view, chain).variance()));
        let stated = rotary(&view.job.uncertainty, hull);
        let stated = total(&[stated]);
        Some(AdjustedFigures {
            suspect: self.suspected(),
            top: self.point(&top).map(|it| Compared::of(it, by_chain)),
            rotary: Compared::of(self.point(&at_cut)?, Some((hull.rotary, stated))),
        })
    }

    /// What all readings say beside the survey of a finished top; `None` where none but that names it.
    pub(super) fn finished(&self, view: SlotView<'_>) -> Option<Compared> {
        let point = self.point(&format!("{}.cut", view.slot.name))?;
        let heights: Vec<Length> = view.slot.as_cut.iter().map(|it| it.height()).collect();
        let mean = RationalLength::mean(&heights)?.rounded();
        let survey = total(&of_as_cut(&view.job.uncertainty, view.index));
        Some(Compared::of(
            point,
            Some((Elevation::above_datum(mean), survey)),
        ))
    }

    /// The flags of a slot whose elevations by all readings are not those of its chain, or of its survey.
    pub(super) fn disagrees(
        &self,
        job: &Job,
        found: Option<&AdjustedFigures>,
        finished: Option<&Compared>,
    ) -> Vec<Flag> {
        let name = |it: &Compared, of: AdjustedName, limit: Option<Length>| {
            Some(AdjustedPointRef {
                of,
                adjusted: it.adjusted,
                chain: it.chain?,
                limit: limit?,
            })
        };
        let by_chance = |it: &Compared| it.limit.and_then(Length::nearest_to_metres);
        let hull = || AdjustedName::Rotary(job.cut.hull.name.clone());
        let both = found.map(|it| {
            [
                (AdjustedName::Top, it.top.as_ref()),
                (hull(), Some(&it.rotary)),
            ]
        });
        let both = || both.clone().into_iter().flatten();
        let disagree = both().filter_map(|(of, it)| {
            let it = it.filter(|it| it.disagrees())?;
            name(it, of, by_chance(it))
        });
        let disagree: Vec<AdjustedPointRef> = disagree.collect();
        let far = both().filter_map(|(of, it)| {
            let is_far = |it: &&Compared| {
                let off = it.less_chain().map(Length::abs);
                it.limit.is_none() && off.is_some_and(|off| off > job.agree.plan)
            };
            name(it.filter(is_far)?, of, Some(job.agree.plan))
        });
        let far: Vec<AdjustedPointRef> = far.collect();
        let finished = finished.filter(|it| it.disagrees());
        let finished = finished.and_then(|it| name(it, AdjustedName::FinishedTop, by_chance(it)));
        let disagrees = |points: Vec<AdjustedPointRef>| LevelFinding::AdjustedDisagrees {
            points,
            look_at: self.worst_readings(),
        };
        let mut flags = Vec::new();
        if !disagree.is_empty() {
            let finding = disagrees(disagree);
            flags.push(Flag::new(Code::AdjustedDisagrees, Place::Whole, finding));
        }
        if !far.is_empty() {
            let finding = LevelFinding::AdjustedFar { points: far };
            flags.push(Flag::new(Code::AdjustedFar, Place::Whole, finding));
        }
        flags.extend(
            finished.map(|it| Flag::new(Code::AsCutDisagrees, Place::Cut, disagrees(vec![it]))),
        );
        flags
    }

    /// The reading to look at first: that which is suspected first, all of those that nothing tells apart; else that which is
    /// furthest from the others.
    pub fn worst_readings(&self) -> Vec<ReadingRef> {
        if let Some(first) = self.levels.suspects.first() {
            let all = first.readings.iter();
            return all.filter_map(|it| self.levels.suspect(*it)).collect();
        }
        let readings = self.levels.adjusted.readings.iter().enumerate();
        let checked = readings.filter_map(|(at, it)| Some((at, it.w()?.abs())));
        let worst = checked.max_by(|(_, one), (_, other)| one.total_cmp(other));
        worst
            .and_then(|(at, _)| self.levels.reading(at))
            .into_iter()
            .collect()
    }

    /// The readings that are suspected first.
    fn suspected(&self) -> Vec<ReadingRef> {
        if self.levels.suspects.is_empty() {
            Vec::new()
        } else {
            self.worst_readings()
        }
    }

    /// The flags of the job as a whole: readings that are suspected, and that all together disagree by too much.
    pub(super) fn flags(&self, is_cut_by: bool) -> Vec<Flag> {
        let is_outside = self.levels.is_above();
        let is_suspect = !self.levels.suspects.is_empty();
        let mut flags = self.levels.flags();
        flags.retain(|flag| match flag.code {
            Code::ReadingUnchecked => false,
            Code::VarianceOutside => is_outside,
            _ => true,
        });
        if is_cut_by && (is_suspect || is_outside) {
            let finding = LevelFinding::Unsound {
                suspect: self.suspected(),
                is_outside,
            };
            flags.push(Flag::new(Code::AdjustedUnsound, Place::Whole, finding));
        }
        flags
    }
}

/// The readings of a job, adjusted, and the entered ones that are left out for nothing ties their points: those are told. A file
/// is the user's to mend.
pub fn levels_of(inputs: &Inputs) -> Result<(Levels, Vec<UntiedEntry>), NetworkError> {
    let mut without = BTreeSet::new();
    let mut untied: Vec<UntiedEntry> = Vec::new();
    loop {
        let read = ReadNetwork::without(inputs, &without);
        let points = match Levels::of(read.clone()) {
            Ok(levels) => return Ok((levels, untied)),
            Err(NetworkError::Untied(points)) => points,
            Err(error) => return Err(error),
        };
        let entries = entries_at(&read, &points);
        if entries.is_empty() {
            return Err(NetworkError::Untied(points));
        }
        without.extend(entries.iter().map(|it| it.0));
        untied.extend(entries);
    }
}

/// An entered reading whose points nothing ties: its entry, and those points.
pub type UntiedEntry = (u64, Vec<String>);

/// The entered readings at points of these names, with those points.
fn entries_at(read: &ReadNetwork, points: &[String]) -> Vec<UntiedEntry> {
    let readings = read.network.readings.iter().zip(&read.of);
    let at = readings.filter_map(|(reading, of)| {
        let ReadingOf::Journal(seq) = of else {
            return None;
        };
        let ends = [reading.from, reading.to].map(|it| read.network.name(it).to_owned());
        let untied: Vec<String> = ends.into_iter().filter(|it| points.contains(it)).collect();
        (!untied.is_empty()).then_some((*seq, untied))
    });
    at.collect()
}
