//! The network as a graph whose edges have weights, solved by taking one point out after the other.
//!
//! Taking a point out joins its neighbours among themselves, each pair by the product of their weights over the sum of
//! all; that is symmetric elimination of the normal equations. All sums are of positive terms, so that nothing cancels.
//! The point with the fewest neighbours goes first. Going back through the points gives the entries of the inverse
//! between points that are or became neighbours (K. Takahashi's equations), which are all that variances of points
//! and of readings need.

use std::cmp::Reverse;
use std::collections::{BTreeMap, BinaryHeap};

/// One point taken out.
struct Taken {
    point: usize,
    /// The sum of its weights, those to the ground included.
    sum: f64,
    /// Its neighbours then, each with its share of the sum.
    shares: Vec<(usize, f64)>,
}

/// The graph with all points taken out.
pub(super) struct Eliminated {
    taken: Vec<Taken>,
    /// The place of each point in the order.
    order: Vec<usize>,
}

/// Edges between points, and from points to the ground.
pub(super) struct Edges {
    between: Vec<BTreeMap<usize, f64>>,
    to_ground: Vec<f64>,
}

impl Edges {
    pub(super) fn new(points: usize) -> Self {
        Self {
            between: vec![BTreeMap::new(); points],
            to_ground: vec![0.0; points],
        }
    }

    /// Adds an edge; `None` is the ground.
    pub(super) fn add(&mut self, one: Option<usize>, other: Option<usize>, weight: f64) {
        match (one, other) {
            (Some(point), None) | (None, Some(point)) => {
                if let Some(sum) = self.to_ground.get_mut(point) {
                    *sum += weight;
                }
            }
            (Some(one), Some(other)) if one != other => {
                for (from, to) in [(one, other), (other, one)] {
                    if let Some(edges) = self.between.get_mut(from) {
                        *edges.entry(to).or_default() += weight;
                    }
                }
            }
            _ => {}
        }
    }
}

impl Eliminated {
    /// Takes all points out. Every one must be tied to the ground, if through others.
    pub(super) fn of(mut edges: Edges) -> Self {
        let points = edges.between.len();
        let mut heap: BinaryHeap<Reverse<(usize, usize)>> = edges
            .between
            .iter()
            .enumerate()
            .map(|(point, it)| Reverse((it.len(), point)))
            .collect();
        let mut order = vec![usize::MAX; points];
        let mut taken: Vec<Taken> = Vec::with_capacity(points);
        while let Some(Reverse((degree, point))) = heap.pop() {
            let is_out = order.get(point) != Some(&usize::MAX);
            let now = edges.between.get(point).map_or(0, BTreeMap::len);
            // An entry from before its neighbours changed: another one is in the heap.
            if is_out || degree != now {
                continue;
            }
            let own = edges.between.get_mut(point).map(std::mem::take);
            let own: Vec<(usize, f64)> = own.unwrap_or_default().into_iter().collect();
            let ground = edges.to_ground.get(point).copied().unwrap_or_default();
            let sum = ground + own.iter().map(|(_, weight)| weight).sum::<f64>();
            let shares: Vec<(usize, f64)> = own.iter().map(|(at, it)| (*at, it / sum)).collect();
            for (at, share) in &shares {
                if let Some(sum) = edges.to_ground.get_mut(*at) {
                    *sum += share * ground;
                }
                let Some(theirs) = edges.between.get_mut(*at) else {
                    continue;
                };
                theirs.remove(&point);
                for (other, weight) in own.iter().filter(|(other, _)| other != at) {
                    *theirs.entry(*other).or_default() += share * weight;
                }
                heap.push(Reverse((theirs.len(), *at)));
            }
            if let Some(place) = order.get_mut(point) {
                *place = taken.len();
            }
            taken.push(Taken { point, sum, shares });
        }
        Self { taken, order }
    }

    /// The solution for a right-hand side, a value a point.
    pub(super) fn solve(&self, mut right: Vec<f64>) -> Vec<f64> {
        for it in &self.taken {
            let own = right.get(it.point).copied().unwrap_or_default();
            for (at, share) in &it.shares {
                if let Some(value) = right.get_mut(*at) {
                    *value += share * own;
                }
            }
        }
        for it in self.taken.iter().rev() {
            let shares = it.shares.iter();
            let others = shares.map(|(at, share)| share * right.get(*at).copied().unwrap_or(0.0));
            let others: f64 = others.sum();
            if let Some(value) = right.get_mut(it.point) {
                *value = *value / it.sum + others;
            }
        }
        right
    }

    /// The entries of the inverse between points that are or became neighbours.
    pub(super) fn inverse(&self) -> Inverse<'_> {
        // For each point, by its place in the order, its own entry and those with neighbours taken out after it.
        let mut own = vec![0.0; self.taken.len()];
        let mut rows: Vec<Vec<(usize, f64)>> = vec![Vec::new(); self.taken.len()];
        for (place, it) in self.taken.iter().enumerate().rev() {
            let entry = |one: usize, other: usize| -> f64 {
                if one == other {
                    let place = self.order.get(one).copied().unwrap_or_default();
                    return own.get(place).copied().unwrap_or_default();
                }
                Self::entry(&self.order, &rows, one, other)
            };
            let row: Vec<(usize, f64)> = it
                .shares
                .iter()
                .map(|(at, _)| {
                    let terms = it.shares.iter().map(|(by, share)| share * entry(*by, *at));
                    (*at, terms.sum())
                })
                .collect();
            let terms = it.shares.iter().zip(&row);
            let diagonal =
                1.0 / it.sum + terms.map(|((_, share), (_, it))| share * it).sum::<f64>();
            if let Some(value) = own.get_mut(place) {
                *value = diagonal;
            }
            if let Some(known) = rows.get_mut(place) {
                *known = row;
            }
        }
        Inverse {
            order: &self.order,
            own,
            rows,
        }
    }

    /// The entry of two different points: it stands with the one that was taken out first.
    fn entry(order: &[usize], rows: &[Vec<(usize, f64)>], one: usize, other: usize) -> f64 {
        let place = |point: usize| order.get(point).copied().unwrap_or(usize::MAX);
        let (first, second) = if place(one) < place(other) {
            (one, other)
        } else {
            (other, one)
        };
        let Some(row) = rows.get(place(first)) else {
            return 0.0;
        };
        // Neighbours are kept in the order of their indices.
        let found = row.binary_search_by_key(&second, |(at, _)| *at);
        found
            .ok()
            .and_then(|at| row.get(at))
            .map_or(0.0, |(_, it)| *it)
    }
}

/// Entries of the inverse.
pub(super) struct Inverse<'a> {
    order: &'a [usize],
    own: Vec<f64>,
    rows: Vec<Vec<(usize, f64)>>,
}

impl Inverse<'_> {
    /// The variance of a point; that of the ground is 0.
    pub(super) fn of(&self, point: Option<usize>) -> f64 {
        let place = point.and_then(|point| self.order.get(point));
        place
            .and_then(|place| self.own.get(*place))
            .copied()
            .unwrap_or_default()
    }

    /// The variance of the difference of two points that are neighbours.
    pub(super) fn between(&self, one: Option<usize>, other: Option<usize>) -> f64 {
        let both = match one.zip(other) {
            Some((one, other)) if one == other => return 0.0,
            Some((one, other)) => Eliminated::entry(self.order, &self.rows, one, other),
            None => 0.0,
        };
        self.of(one) + self.of(other) - both - both
    }
}
