//! How likely a deck is to sit within its limits once all is cut: drawn at random, with a stated seed.

use rand_chacha::ChaCha8Rng;
use rand_chacha::rand_core::{RngCore as _, SeedableRng as _};

use super::DeckTop;
use super::outline::plan_point;
use super::seat::{lifted, triangles_round};
use crate::measure::Length;

/// How a top is drawn.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum TopDrawn {
    /// It is cut: an error of its own, in metres, and which of the height references it was surveyed from.
    Cut(f64, usize),
    /// It is still to be cut: an error of its own, in metres, and how far it is below RT: what all such tops share counts over that.
    Target(f64, f64),
}

/// What tops share, as standard deviations.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Draws {
    /// A height reference of the survey, in metres, and how many there are; 0 where all tops have one in common.
    pub reference: (f64, usize),
    /// RT at the cut, in metres.
    pub rotary: f64,
    /// The tape's scale, without a unit.
    pub tape_scale: f64,
    /// How many draws.
    pub draws: u32,
    /// The seed.
    pub seed: u64,
}

/// Shares of the draws.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Chance {
    /// In which the highest less the lowest of the deck over the tops is within the first limit; `None` without one.
    pub level_within: Option<f64>,
    /// In which every gap is within the second limit; `None` without one.
    pub gap_within: Option<f64>,
}

/// Normal values by the method of G. Box and M. Muller (1958), from a generator whose stream is fixed for all time.
struct Normal {
    random: ChaCha8Rng,
    spare: Option<f64>,
}

impl Normal {
    /// Above 0 and at most 1.
    fn uniform(&mut self) -> f64 {
        let high = self.random.next_u32();
        let low = self.random.next_u32();
        (f64::from(high) + (f64::from(low) + 1.0) / 4_294_967_296.0) / 4_294_967_296.0
    }

    fn next(&mut self) -> f64 {
        if let Some(spare) = self.spare.take() {
            return spare;
        }
        let (one, other) = (self.uniform(), self.uniform());
        let long = libm::sqrt(-2.0 * libm::log(one));
        let angle = std::f64::consts::TAU * other;
        self.spare = Some(long * libm::sin(angle));
        long * libm::cos(angle)
    }
}

/// After so many draws it is told how many were made.
const TOLD: u32 = 10_000;

/// Draws tops and seats the deck on them. Where it rocks in a draw, what is worst of its rests counts. `None` where it has no seat: tops in one line, or a centre of gravity outside them.
pub fn chance(
    tops: &[(DeckTop, TopDrawn)],
    cog: (Length, Length),
    (spread, within): (Option<Length>, Option<Length>),
    draws: Draws,
    told: &dyn Fn(u32),
) -> Option<Chance> {
    let points: Vec<_> = tops
        .iter()
        .map(|(top, _)| plan_point(top.x, top.y))
        .collect();
    let triangles = triangles_round(&points, plan_point(cog.0, cog.1));
    if triangles.is_empty() || draws.draws == 0 {
        return None;
    }
    let first = tops.first()?.0.z;
    let plain: Vec<f64> = tops
        .iter()
        .map(|(top, _)| (top.z - first).real_metres())
        .collect();
    let shares = shares_of_tops(&points);
    let mut normal = Normal {
        random: ChaCha8Rng::seed_from_u64(draws.seed),
        spare: None,
    };
    let (mut level, mut gap) = (0_u32, 0_u32);
    let mut heights = plain.clone();
    for draw in 0..draws.draws {
        if draw % TOLD == 0 {
            told(draw);
        }
        let (rotary, scale) = (
            draws.rotary * normal.next(),
            draws.tape_scale * normal.next(),
        );
        let references: Vec<f64> = (0..draws.reference.1)
            .map(|_| draws.reference.0 * normal.next())
            .collect();
        for ((height, plain), (_, drawn)) in heights.iter_mut().zip(&plain).zip(tops) {
            *height = plain
                + match drawn {
                    TopDrawn::Cut(own, reference) => {
                        own * normal.next() + references.get(*reference).unwrap_or(&0.0)
                    }
                    TopDrawn::Target(own, below) => own * normal.next() + rotary + scale * below,
                };
        }
        let (range, most) = shares.worst(&heights, &lifted(&heights, &triangles));
        let is_in = |value: f64, limit: Option<Length>| {
            limit.is_some_and(|limit| value <= limit.real_metres())
        };
        level += u32::from(is_in(range, spread));
        gap += u32::from(is_in(most, within));
    }
    let share = |count: u32| f64::from(count) / f64::from(draws.draws);
    Some(Chance {
        level_within: spread.map(|_| share(level)),
        gap_within: within.map(|_| share(gap)),
    })
}

/// Heights over places by a plane through three tops.
struct Shares {
    points: Vec<(f64, f64)>,
}

fn shares_of_tops(points: &[(i128, i128)]) -> Shares {
    let first = points.first().copied().unwrap_or_default();
    let from = |at: &(i128, i128)| {
        let metres = super::outline::metres;
        (metres(at.0 - first.0), metres(at.1 - first.1))
    };
    Shares {
        points: points.iter().map(from).collect(),
    }
}

/// What a plane through three tops may lie below another one, in metres, by rounding alone.
const BELOW: f64 = 1e-9;

impl Shares {
    /// The most that the deck is from level over the tops, and its widest gap, on any of the planes on which it may rest: those
    /// through these triangles that lie below no top.
    fn worst(&self, heights: &[f64], triangles: &[[usize; 3]]) -> (f64, f64) {
        let planes = triangles.iter().map(|triangle| {
            let over = (0..heights.len()).map(|at| self.over(heights, *triangle, at));
            over.collect::<Vec<f64>>()
        });
        let gaps = |deck: &[f64]| {
            let gaps = deck.iter().zip(heights).map(|(deck, top)| deck - top);
            gaps.fold((f64::MAX, 0.0), |(least, most): (f64, f64), gap| {
                (least.min(gap), most.max(gap))
            })
        };
        let mut planes: Vec<Vec<f64>> = planes.collect();
        // One of them lies below no top, whatever is rounded.
        if planes.iter().any(|deck| gaps(deck).0 >= -BELOW) {
            planes.retain(|deck| gaps(deck).0 >= -BELOW);
        }
        planes
            .iter()
            .fold((0.0, 0.0), |(range, most): (f64, f64), deck| {
                let highest = deck.iter().copied().fold(f64::MIN, f64::max);
                let lowest = deck.iter().copied().fold(f64::MAX, f64::min);
                (range.max(highest - lowest), most.max(gaps(deck).1))
            })
    }

    fn over(&self, heights: &[f64], [first, second, third]: [usize; 3], at: usize) -> f64 {
        let place = |at: usize| self.points.get(at).copied().unwrap_or_default();
        let height = |at: usize| heights.get(at).copied().unwrap_or_default();
        let from_first = |at: usize| {
            let (origin, to) = (place(first), place(at));
            (to.0 - origin.0, to.1 - origin.1)
        };
        let across = |one: (f64, f64), other: (f64, f64)| one.0 * other.1 - one.1 * other.0;
        let (to_second, to_third, to) = (from_first(second), from_first(third), from_first(at));
        let whole = across(to_second, to_third);
        let of_second = across(to, to_third) / whole;
        let of_third = across(to_second, to) / whole;
        let rise = |to: usize| height(to) - height(first);
        height(first) + of_second * rise(second) + of_third * rise(third)
    }
}
