//! Which points move as one, which are tied to a fixed point, and approximate elevations, all in exact sums.

use std::cmp::Reverse;
use std::collections::{BinaryHeap, VecDeque};

use thiserror::Error;

use super::network::{Network, Sigma};
use super::parts::Parts;
use crate::measure::{Elevation, Excerpt, Length};

/// Why a network has no elevations.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum NetworkError {
    /// Nothing is fixed.
    #[error(
        "no point is fixed; expected at least one with a known elevation (--fix NAME=ELEVATION)"
    )]
    NothingFixed,
    /// Points that no reading ties to a fixed point.
    #[error("no reading ties these points to a fixed one: {}", .0.join(", "))]
    Untied(Vec<String>),
    /// Two exact ways between two points that differ.
    #[error(
        "two exact ways from {from} to {to} differ: {one} and {other}; one of them cannot be exact"
    )]
    Contradict {
        /// The first point.
        from: Excerpt,
        /// The second.
        to: Excerpt,
        /// The rise by one way.
        one: String,
        /// The rise by the other.
        other: String,
    },
}

/// A point in the group of points that move as one with it.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct InGroup {
    /// The group.
    pub(super) group: usize,
    /// Its elevation less that of the group.
    pub(super) off: Length,
    /// The length that the tape measured between the two.
    pub(super) tape: Length,
}

/// The points in groups, with approximate elevations.
#[derive(Debug)]
pub(super) struct Grounded {
    /// For each point its group. That of the fixed points is the ground.
    pub(super) points: Vec<InGroup>,
    /// For each group its index among those that are adjusted; `None` for the ground, and for what no reading with a
    /// standard deviation ties to it.
    pub(super) unknown: Vec<Option<usize>>,
    /// How many groups are adjusted.
    pub(super) unknowns: usize,
    /// The group of the fixed points.
    pub(super) ground: usize,
    /// Approximate elevations of the groups, above the datum; `None` where nothing ties one to the ground.
    pub(super) approximate: Vec<Option<Elevation>>,
    /// For each point whether readings that are not stated alone tie it: how well it is known is not known then.
    pub(super) is_unsure: Vec<bool>,
}

/// Points that move as one, joined as exact readings are found.
struct Groups {
    parent: Vec<InGroup>,
}

impl Groups {
    fn new(points: usize) -> Self {
        let own = |group| InGroup {
            group,
            ..InGroup::default()
        };
        Self {
            parent: (0..points).map(own).collect(),
        }
    }

    fn of(&self, point: usize) -> InGroup {
        let mut at = point;
        let (mut off, mut tape) = (Length::ZERO, Length::ZERO);
        while let Some(it) = self.parent.get(at).filter(|it| it.group != at) {
            off += it.off;
            tape += it.tape;
            at = it.group;
        }
        InGroup {
            group: at,
            off,
            tape,
        }
    }

    /// Joins two points whose difference is exact. Gives the other difference where they were joined already
    /// by another.
    fn join(&mut self, from: usize, to: usize, rise: Length, tape: Length) -> Option<Length> {
        let (one, other) = (self.of(from), self.of(to));
        if one.group == other.group {
            let (known, known_tape) = (other.off - one.off, other.tape - one.tape);
            return (known != rise || known_tape != tape).then_some(known);
        }
        if let Some(it) = self.parent.get_mut(other.group) {
            *it = InGroup {
                group: one.group,
                off: one.off + rise - other.off,
                tape: one.tape + tape - other.tape,
            };
        }
        None
    }
}

impl Grounded {
    /// Groups the points of a network and ties them to the fixed ones.
    pub(super) fn of(network: &Network) -> Result<Self, NetworkError> {
        let (ties, is_unsure) = hung(network);
        let (points, ground) = grouped(network, &ties)?;
        let mut grounded = Self {
            unknown: vec![None; points.len()],
            approximate: vec![None; points.len()],
            points,
            unknowns: 0,
            ground,
            is_unsure,
        };
        let datum = Elevation::above_datum(Length::ZERO);
        grounded.spread(network, datum);
        grounded.number();
        Ok(grounded)
    }

    /// Goes out from the ground along readings with a standard deviation: each group gets the elevation of the first way to it.
    fn spread(&mut self, network: &Network, datum: Elevation) {
        let mut next: Vec<Vec<(usize, usize)>> = vec![Vec::new(); self.points.len()];
        for (at, reading) in network.readings.iter().enumerate() {
            if !matches!(network.sigma_of(reading), Sigma::Of(_)) {
                continue;
            }
            let groups = [reading.from, reading.to].map(|it| self.group(it));
            let [from, to] = groups;
            for (one, other) in [(from, to), (to, from)] {
                if let Some(list) = next.get_mut(one) {
                    list.push((at, other));
                }
            }
        }
        if let Some(elevation) = self.approximate.get_mut(self.ground) {
            *elevation = Some(datum);
        }
        let mut queue = VecDeque::from([self.ground]);
        while let Some(group) = queue.pop_front() {
            for (at, other) in next.get(group).cloned().unwrap_or_default() {
                if self.approximate.get(other) != Some(&None) {
                    continue;
                }
                let Some(reading) = network.readings.get(at) else {
                    continue;
                };
                let (from, to) = (self.point(reading.from), self.point(reading.to));
                let here = self.approximate.get(group).copied().flatten();
                // Both ends of the reading by its two groups.
                let there = if from.group == group {
                    here.map(|it| it + from.off + reading.rise - to.off)
                } else {
                    here.map(|it| it + to.off - reading.rise - from.off)
                };
                if let Some(elevation) = self.approximate.get_mut(other) {
                    *elevation = there;
                }
                queue.push_back(other);
            }
        }
    }

    /// Numbers the groups that are adjusted, in the order of their points.
    fn number(&mut self) {
        let tied = self.approximate.iter().enumerate();
        let tied: Vec<usize> = tied
            .filter(|(group, it)| it.is_some() && *group != self.ground)
            .map(|(group, _)| group)
            .collect();
        self.unknowns = tied.len();
        for (number, group) in tied.into_iter().enumerate() {
            if let Some(unknown) = self.unknown.get_mut(group) {
                *unknown = Some(number);
            }
        }
    }

    /// A point in its group.
    pub(super) fn point(&self, point: usize) -> InGroup {
        self.points.get(point).copied().unwrap_or_default()
    }

    fn group(&self, point: usize) -> usize {
        self.point(point).group
    }

    /// Whether a group is tied to the ground by readings with a standard deviation, or is it.
    pub(super) fn is_tied(&self, group: usize) -> bool {
        self.approximate.get(group).is_some_and(Option::is_some)
    }

    /// The index of a group among those that are adjusted; `None` for the ground.
    pub(super) fn unknown_of(&self, group: usize) -> Option<usize> {
        self.unknown.get(group).copied().flatten()
    }

    /// The approximate elevation of a point.
    pub(super) fn approximate_of(&self, point: usize) -> Option<Elevation> {
        let it = self.point(point);
        Some(self.approximate.get(it.group).copied().flatten()? + it.off)
    }
}

/// The readings that are not stated and hang parts of the network on the rest, which nothing stated ties to a fixed point:
/// of those that could, always the first in the list. Such a part stands where that puts it, and agrees in itself as well as
/// its own readings do. With them, which points are tied so.
fn hung(network: &Network) -> (Vec<usize>, Vec<bool>) {
    let mut parts = Parts::new(network.points.len());
    let mut fixed = network.points.iter().enumerate();
    let first = fixed.find(|(_, it)| it.fixed.is_some()).map(|(at, _)| at);
    let Some(first) = first else {
        return (Vec::new(), vec![false; network.points.len()]);
    };
    for (at, _) in fixed.filter(|(_, it)| it.fixed.is_some()) {
        parts.join(first, at);
    }
    for reading in &network.readings {
        if network.sigma_of(reading) != Sigma::NotStated {
            parts.join(reading.from, reading.to);
        }
    }
    let part_of: Vec<usize> = (0..network.points.len()).map(|it| parts.of(it)).collect();
    let part = |point: usize| part_of.get(point).copied().unwrap_or(point);
    let mut at_part: Vec<Vec<usize>> = vec![Vec::new(); network.points.len()];
    for (at, reading) in network.readings.iter().enumerate() {
        if network.sigma_of(reading) == Sigma::NotStated {
            for end in [reading.from, reading.to] {
                if let Some(readings) = at_part.get_mut(part(end)) {
                    readings.push(at);
                }
            }
        }
    }
    let ground = part(first);
    let mut is_tied = vec![false; network.points.len()];
    let mut ties = Vec::new();
    let mut next: BinaryHeap<Reverse<usize>> = BinaryHeap::new();
    let mut tie = |part: usize, is_tied: &mut Vec<bool>, next: &mut BinaryHeap<Reverse<usize>>| {
        if let Some(tied) = is_tied.get_mut(part) {
            *tied = true;
        }
        let readings = at_part.get_mut(part).map(std::mem::take);
        next.extend(readings.into_iter().flatten().map(Reverse));
    };
    tie(ground, &mut is_tied, &mut next);
    while let Some(Reverse(at)) = next.pop() {
        let ends = network
            .readings
            .get(at)
            .map(|it| [it.from, it.to].map(part));
        let free = ends.into_iter().flatten();
        let free = free.into_iter().find(|it| is_tied.get(*it) == Some(&false));
        if let Some(free) = free {
            ties.push(at);
            tie(free, &mut is_tied, &mut next);
        }
    }
    let is_unsure = part_of.iter().map(|part| *part != ground).collect();
    (ties, is_unsure)
}

/// Joins fixed points, points between which a reading is exact, and those that a reading ties that is not stated. Gives the
/// group of the fixed points, whose elevation is that of the datum.
fn grouped(network: &Network, ties: &[usize]) -> Result<(Vec<InGroup>, usize), NetworkError> {
    let mut groups = Groups::new(network.points.len());
    let fixed = network.points.iter().enumerate();
    let fixed: Vec<(usize, Elevation)> =
        fixed.filter_map(|(at, it)| Some((at, it.fixed?))).collect();
    let Some((first, at)) = fixed.first().copied() else {
        return Err(NetworkError::NothingFixed);
    };
    let contradicts = |from: usize, to: usize, one: Length, other: Length| {
        let metres = |it: Length| format!("{} m", it.exact_metres());
        NetworkError::Contradict {
            from: Excerpt::of(network.name(from)),
            to: Excerpt::of(network.name(to)),
            one: metres(one),
            other: metres(other),
        }
    };
    for (other, elevation) in fixed.iter().skip(1) {
        let rise = *elevation - at;
        if let Some(known) = groups.join(first, *other, rise, Length::ZERO) {
            return Err(contradicts(first, *other, known, rise));
        }
    }
    for reading in &network.readings {
        if network.sigma_of(reading) != Sigma::Exact {
            continue;
        }
        // A tape that is exact has no scale error.
        let tape = if network.tape_scale == Some(0.0) {
            Length::ZERO
        } else {
            reading.tape
        };
        if let Some(known) = groups.join(reading.from, reading.to, reading.rise, tape) {
            return Err(contradicts(reading.from, reading.to, known, reading.rise));
        }
    }
    for reading in ties.iter().filter_map(|at| network.readings.get(*at)) {
        groups.join(reading.from, reading.to, reading.rise, Length::ZERO);
    }
    let ground = groups.of(first);
    // The ground stands at the datum, so that offsets of its points are elevations above that.
    let lift = (at - Elevation::above_datum(Length::ZERO)) - ground.off;
    let points = (0..network.points.len()).map(|point| {
        let it = groups.of(point);
        if it.group != ground.group {
            return it;
        }
        // Nor does the scale of a tape move what is fixed.
        InGroup {
            off: it.off + lift,
            tape: it.tape - ground.tape,
            ..it
        }
    });
    Ok((points.collect(), ground.group))
}
