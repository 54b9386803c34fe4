//! Two mistakes at once.

use std::cmp::Reverse;
use std::collections::{BinaryHeap, HashSet};

use super::suspect::{Candidate, Suspect};
use crate::measure::Length;

/// Most pairs that are listed.
pub const MOST_PAIRS: usize = 100;

/// Two mistakes that explain a misclosure together.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Pair {
    /// The mistakes.
    pub parts: [Suspect; 2],
    /// What correcting both adds.
    pub effect: Length,
    /// What is left then.
    pub left: Length,
}

/// The pairs that fit best. Every mistake looks for its partner in the sorted effects, outward from
/// where the sum would be just right, so that not all pairs are tried.
pub(super) fn best_pairs(
    candidates: &[Candidate],
    off: Length,
    within: Length,
    suspect: impl Fn(&Candidate, Length) -> Suspect,
) -> Vec<Pair> {
    let mut sorted: Vec<&Candidate> = candidates.iter().collect();
    sorted.sort_by_key(|candidate| (candidate.effect, candidate.mistake, candidate.place));
    let left = |one: usize, other: usize| {
        let (one, other) = (sorted.get(one)?, sorted.get(other)?);
        Some(off - one.effect - other.effect)
    };
    // What is left, the mistake, its partner, and which way to go on from there.
    let mut heap = BinaryHeap::new();
    let push = |heap: &mut BinaryHeap<_>, one: usize, other: usize, up: bool| {
        if let Some(left) = left(one, other)
            && left.abs() <= within
        {
            heap.push(Reverse((left.abs(), one, other, up)));
        }
    };
    for (one, candidate) in sorted.iter().enumerate() {
        let wanted = off - candidate.effect;
        let above = sorted.partition_point(|other| other.effect < wanted);
        push(&mut heap, one, above, true);
        if let Some(below) = above.checked_sub(1) {
            push(&mut heap, one, below, false);
        }
    }
    let mut pairs = Vec::new();
    let mut seen = HashSet::new();
    while let Some(Reverse((_, one, other, up))) = heap.pop() {
        let next = if up {
            Some(other + 1)
        } else {
            other.checked_sub(1)
        };
        if let Some(next) = next {
            push(&mut heap, one, next, up);
        }
        let (first, second) = (one.min(other), one.max(other));
        if first == second || !seen.insert((first, second)) {
            continue;
        }
        let (Some(one), Some(other)) = (sorted.get(first), sorted.get(second)) else {
            continue;
        };
        if !can_both_be(one, other) {
            continue;
        }
        let effect = one.effect + other.effect;
        pairs.push(Pair {
            parts: [
                suspect(one, off - one.effect),
                suspect(other, off - other.effect),
            ],
            effect,
            left: off - effect,
        });
        if pairs.len() == MOST_PAIRS {
            break;
        }
    }
    pairs
}

/// Two mistakes of different joints, or one of all joints beside another kind of mistake.
fn can_both_be(one: &Candidate, other: &Candidate) -> bool {
    match (one.place, other.place) {
        (Some(one), Some(other)) => one != other,
        _ => one.mistake != other.mistake,
    }
}
