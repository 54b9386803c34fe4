//! The cut: its target, where it lies, how to find it, what comes off, and what was cut.

use super::accuracy::{Term, Variance, Verdict, judge, probability_within, total};
use super::connections::gap;
use super::slot::{Basis, SlotFigures};
use super::steel;
use crate::job::{Job, Slot, Uncertainty};
use crate::measure::{Depth, Elevation, Length, RationalLength};
use crate::tally::PipeString;

/// The cut of one slot.
#[derive(Clone, Debug, PartialEq)]
pub struct Cut {
    /// The elevation of the finished top: the lower edge of the kerf.
    pub target: Elevation,
    /// All allowances together.
    pub allowances: Length,
    /// Below RT at the hull position from which the cut is made.
    pub below_rotary: Depth,
    /// The elevation of a first, rough cut.
    pub rough: Option<Elevation>,
    /// Where it lies on the string; `None` without a basis, or where it is not on the string.
    pub place: Option<CutPlace>,
    /// How many readings of the finished top there are. Above 0 the conductor is cut, whether or not
    /// they can be judged.
    pub readings: usize,
    /// What the readings say; `None` before it is cut, and where the cut is not on the string.
    pub as_cut: Option<AsCut>,
}

impl Cut {
    /// Whether the conductor is cut already: nobody may cut it again.
    pub const fn is_cut(&self) -> bool {
        self.readings > 0
    }
}

/// Where a cut lies on its string.
#[derive(Clone, Debug, PartialEq)]
pub struct CutPlace {
    /// The piece that contains it.
    pub piece: usize,
    /// Above that piece's lower make-up plane.
    pub above_lower_plane: Length,
    /// Below that piece's upper make-up plane; in the top piece, below the top.
    pub below_upper_plane: Length,
    /// Length of the piece above the kerf; never below 0.
    pub offcut_length: Length,
    /// Mass of the off-cut in kg.
    pub offcut_mass: f64,
    /// How many made-up connections the off-cut has.
    pub offcut_connections: usize,
    /// Least distance from the kerf to a connection.
    pub to_connection: Option<Length>,
    /// Distance from the kerf to the landing shoulder.
    pub to_shoulder: Option<Length>,
    /// The ways to find it.
    pub marks: Vec<Mark>,
}

impl CutPlace {
    /// Whether the kerf keeps a distance from connections and from the shoulder; a distance on the
    /// limit does.
    pub fn is_clear(&self, clearance: Length) -> bool {
        let keeps = |distance: Option<Length>| distance.is_none_or(|it| it >= clearance);
        keeps(self.to_connection) && keeps(self.to_shoulder)
    }

    /// The marks with their index, the nearest first.
    pub fn nearest_first(&self) -> Vec<(usize, &Mark)> {
        let mut marks: Vec<(usize, &Mark)> = self.marks.iter().enumerate().collect();
        marks.sort_by_key(|(_, mark)| mark.distance.abs());
        marks
    }

    /// Readings on which several of the marks rest: those marks agree whether it is right or wrong.
    pub fn shared_readings(&self) -> Vec<&str> {
        let all = || self.marks.iter().flat_map(|mark| &mark.rests_on);
        let mut shared: Vec<&str> = Vec::new();
        for reading in all() {
            let several = all().filter(|other| *other == reading).count() > 1;
            if several && !shared.contains(&reading.as_str()) {
                shared.push(reading);
            }
        }
        shared
    }
}

impl Mark {
    /// Whether one measures upward from its reference to the cut, whatever the sign.
    pub fn is_upward(&self) -> bool {
        (self.from == MarkFrom::LowerPlane) != self.distance.is_negative()
    }
}

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

/// One way to find the cut.
#[derive(Clone, Debug, PartialEq)]
pub struct Mark {
    /// What it is measured from.
    pub from: MarkFrom,
    /// How far; downward, but upward from the lower plane.
    pub distance: Length,
    /// How well it finds the cut; `None` where an uncertainty is not stated.
    pub variance: Option<Variance>,
    /// What that is made of.
    pub terms: Vec<Term>,
    /// The readings that it shares with other marks.
    pub rests_on: Vec<String>,
}

/// The finished top as measured.
#[derive(Clone, Debug, PartialEq)]
pub struct AsCut {
    /// How many readings.
    pub readings: usize,
    /// Their exact mean as a height above the sea datum.
    pub mean: RationalLength,
    /// The exact deviation of the mean from the target.
    pub deviation: RationalLength,
    /// Highest less lowest; `None` under three readings.
    pub out_of_level: Option<Length>,
    /// How well the mean is known; `None` where it is not stated.
    pub variance: Option<Variance>,
    /// What that is made of.
    pub terms: Vec<Term>,
    /// The verdict; `None` without a tolerance.
    pub verdict: Option<Verdict>,
    /// The probability of conformity; `None` without a tolerance or a stated uncertainty.
    pub probability: Option<f64>,
}

/// The target, which hangs on no stick-up.
pub(super) fn target(job: &Job, index: usize, slot: &Slot) -> Cut {
    let allowances = job
        .allowances
        .iter()
        .filter(|allowance| allowance.slots.has(index))
        .map(|allowance| allowance.value)
        .sum();
    let target = job.deck.elevation + slot.cut_offset + allowances;
    let rotary = job
        .hulls
        .get(job.cut.hull)
        .map_or(target, |hull| hull.rotary);
    Cut {
        target,
        allowances,
        below_rotary: rotary.depth_of(target),
        rough: job.cut.rough_above.map(|above| target + above),
        place: None,
        readings: slot.as_cut.len(),
        as_cut: as_cut(job, slot, target),
    }
}

/// Places the cut on the string. Where it is not on it, nothing of the cut stands but its target.
pub(super) fn place(job: &Job, slot: &Slot, figures: &mut SlotFigures) {
    let (Some(shoe), Some(top)) = (figures.shoe, figures.top) else {
        return;
    };
    let target = figures.cut.target;
    let Some(piece) = figures.string.piece_at(target - shoe) else {
        figures.cut.rough = None;
        figures.cut.as_cut = None;
        return;
    };
    let Some((lower, upper)) = figures
        .string
        .pieces
        .get(piece)
        .map(|piece| (shoe + piece.lower, shoe + piece.upper))
    else {
        return;
    };
    let blade_top = target + job.cut.kerf;
    let offcut_length = (top - blade_top).max(Length::ZERO);
    let planes_above = figures.string.pieces.iter().skip(piece).filter(|piece| {
        let plane = shoe + piece.upper;
        plane > target && plane < top
    });
    let offcut_connections = if offcut_length.is_zero() {
        0
    } else {
        planes_above.count()
    };
    let offcut_mass = job.pipes.get(slot.pipe).map_or(0.0, |pipe| {
        #[allow(
            clippy::cast_precision_loss,
            reason = "a count of connections, far below 2^52"
        )]
        let connectors = offcut_connections as f64 * pipe.connector_mass.unwrap_or(0.0);
        steel::mass_per_metre(pipe) * offcut_length.real_metres() + connectors
    });
    figures.cut.place = Some(CutPlace {
        piece,
        above_lower_plane: target - lower,
        below_upper_plane: upper - target,
        offcut_length,
        offcut_mass,
        offcut_connections,
        to_connection: figures
            .connections
            .iter()
            .map(|connection| connection.distance(target, blade_top))
            .min(),
        to_shoulder: figures
            .shoulder
            .and_then(|shoulder| shoulder.elevation)
            .map(|shoulder| gap(shoulder, shoulder, target, blade_top)),
        marks: marks(job, slot, figures, piece, (lower, upper, top)),
    });
}

fn marks(
    job: &Job,
    slot: &Slot,
    figures: &SlotFigures,
    piece: usize,
    (lower, upper, top): (Elevation, Elevation, Elevation),
) -> Vec<Mark> {
    let target = figures.cut.target;
    let stated = &job.uncertainty;
    let mark = |from, distance, mut terms: Vec<Term>, rests_on| {
        // Every mark is set out once more with the tape.
        terms.push(Term::new(
            "stick_up",
            "reading the mark",
            stated.stick_up.map(Variance::of),
        ));
        Mark {
            from,
            distance,
            variance: total(&terms),
            terms,
            rests_on,
        }
    };
    let hull = |index: usize| job.hulls.get(index).map_or("", |hull| hull.name.as_str());
    let rotary_of = |index: usize| format!("RT at hull position {}", hull(index));
    let stick_up = match figures.basis {
        Basis::Read => format!(
            "stick-up of {} at hull position {}",
            slot.name,
            hull(slot.hull)
        ),
        _ => format!(
            "stick-up of {}, still to be read at hull position {}",
            slot.name,
            hull(slot.hull)
        ),
    };
    let top_rests = vec![rotary_of(slot.hull), stick_up];
    let mut plane_rests = top_rests.clone();
    plane_rests.push(format!("tally of {}", slot.name));
    let from_plane = |lowest: usize| plane_uncertainty(stated, &figures.string, lowest);
    let mut marks = vec![
        mark(
            MarkFrom::Rotary,
            figures.cut.below_rotary.downward(),
            vec![of_rotary(stated)],
            vec![rotary_of(job.cut.hull)],
        ),
        mark(
            MarkFrom::LowerPlane,
            target - lower,
            from_plane(piece),
            plane_rests.clone(),
        ),
    ];
    if piece + 1 < figures.string.pieces.len() {
        marks.push(mark(
            MarkFrom::UpperPlane,
            upper - target,
            from_plane(piece + 1),
            plane_rests,
        ));
    }
    marks.push(mark(
        MarkFrom::Top,
        top - target,
        of_top(stated, &figures.string),
        top_rests,
    ));
    marks.extend(job.benches.iter().enumerate().map(|(index, bench)| {
        mark(
            MarkFrom::Bench(index),
            bench.elevation - target,
            vec![Term::new(
                "bench.uncertainty",
                format!("bench {}", bench.name),
                bench.uncertainty.map(Variance::of),
            )],
            vec![format!("bench {}", bench.name)],
        )
    }));
    marks
}

fn of_rotary(stated: &Uncertainty) -> Term {
    Term::new("rotary", "RT", stated.rotary.map(Variance::of))
}

/// The top: RT, the stick-up, and the landing string that it was read on.
pub(super) fn of_top(stated: &Uncertainty, string: &PipeString) -> Vec<Term> {
    plane_uncertainty(stated, string, string.pieces.len())
}

/// A make-up plane, the lower one of the piece `lowest`: the top, and the joints between. The tape's
/// scale is common to all of them and to the landing string, so it acts on their whole length.
pub(super) fn plane_uncertainty(
    stated: &Uncertainty,
    string: &PipeString,
    lowest: usize,
) -> Vec<Term> {
    let mut terms = vec![
        of_rotary(stated),
        Term::new(
            "stick_up",
            "reading the stick-up",
            stated.stick_up.map(Variance::of),
        ),
    ];
    let joints = string.pieces.len() - lowest.min(string.pieces.len());
    let taped = joints + string.landing.len();
    if taped == 0 {
        return terms;
    }
    let connections = string.connections_from(lowest) + string.landing.len();
    let length = string
        .pieces
        .iter()
        .skip(lowest)
        .map(|piece| piece.effective)
        .sum::<Length>()
        + string.landing_length;
    let scale = stated.tape_scale * 1e-6 * length.real_nm();
    terms.extend([
        Term::new(
            "strap",
            format!("joints strapped: {taped}"),
            stated.strap.map(|strap| Variance::of(strap).times(taped)),
        ),
        Term::new(
            "connection",
            format!("connections made up: {connections}"),
            Some(Variance::of(stated.connection).times(connections)),
        ),
        Term::new(
            "tape_scale",
            "the tape's scale, common to all of them",
            Some(Variance::of_real(scale)),
        ),
    ]);
    terms
}

/// U of a string's length: each joint strapped, each connection made up, and the tape's scale that is
/// common to all. `None` where the strap's uncertainty is not stated.
pub fn length_uncertainty(stated: &Uncertainty, string: &PipeString) -> Option<Length> {
    let scale = stated.tape_scale * 1e-6 * string.length.real_nm();
    let variance = Variance::of(stated.strap?)
        .times(string.pieces.len())
        .and(Variance::of(stated.connection).times(string.connections_from(0)))
        .and(Variance::of_real(scale));
    Some(variance.expanded())
}

/// The mean of the finished top: the survey's own uncertainty and its benchmark, not reduced by
/// averaging.
pub(super) fn of_as_cut(stated: &Uncertainty) -> Vec<Term> {
    vec![
        Term::new(
            "as_cut",
            "the survey of the finished top",
            stated.as_cut.map(Variance::of),
        ),
        Term::new(
            "benchmark",
            "the survey's height reference",
            Some(Variance::of(stated.benchmark)),
        ),
    ]
}

fn as_cut(job: &Job, slot: &Slot, target: Elevation) -> Option<AsCut> {
    let heights: Vec<Length> = slot
        .as_cut
        .iter()
        .map(|elevation| elevation.height())
        .collect();
    let mean = RationalLength::mean(&heights)?;
    let deviation = mean.less(target.height());
    let terms = of_as_cut(&job.uncertainty);
    let variance = total(&terms);
    let verdict = job
        .cut
        .tolerance
        .map(|tolerance| judge(deviation, tolerance.into(), variance));
    let probability = job
        .cut
        .tolerance
        .zip(variance)
        .map(|(tolerance, variance)| {
            probability_within(
                deviation.real_nm(),
                tolerance.real_nm(),
                variance.standard_nm(),
            )
        });
    let out_of_level = heights
        .iter()
        .max()
        .zip(heights.iter().min())
        .filter(|_| heights.len() >= 3)
        .map(|(highest, lowest)| *highest - *lowest);
    Some(AsCut {
        readings: heights.len(),
        mean,
        deviation,
        out_of_level,
        variance,
        terms,
        verdict,
        probability,
    })
}
