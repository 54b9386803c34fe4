//! Two mistakes at once.

use std::cmp::Reverse;
use std::collections::{BinaryHeap, HashMap, HashSet};

use super::mistakes::Mistake;
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
    // Where several are alike they keep their order, so that the same pairs are listed every time.
    let mut sorted: Vec<(Length, Mistake, Option<usize>, usize)> = candidates
        .iter()
        .enumerate()
        .map(|(at, candidate)| (candidate.effect, candidate.mistake, candidate.place, at))
        .collect();
    sorted.sort_unstable();
    let effect = |at: usize| sorted.get(at).map(|(effect, ..)| *effect);
    let left = |one: usize, other: usize| Some(off - effect(one)? - effect(other)?);
    // What is left, the mistake, its partner, and which way to go on from there.
    let fits = |one: usize, other: usize, up: bool| {
        let left = left(one, other)?.abs();
        (left <= within).then_some(Reverse((left, one, other, up)))
    };
    // The larger a mistake, the smaller its partner: the first partner that is not below what is wanted
    // moves down as the mistakes go up.
    let mut above = sorted.len();
    let mut first = Vec::new();
    for (one, (own, ..)) in sorted.iter().enumerate() {
        while let Some(below) = above.checked_sub(1)
            && effect(below).is_some_and(|other| other >= off - *own)
        {
            above = below;
        }
        first.extend(fits(one, above, true));
        first.extend(above.checked_sub(1).and_then(|it| fits(one, it, false)));
    }
    let mut heap = BinaryHeap::from(first);
    let mut pairs = Vec::new();
    let mut seen = HashSet::new();
    while let Some(Reverse((_, one, other, up))) = heap.pop() {
        let next = if up {
            Some(other + 1)
        } else {
            other.checked_sub(1)
        };
        heap.extend(next.and_then(|next| fits(one, next, up)));
        let (first, second) = (one.min(other), one.max(other));
        if first == second || !seen.insert((first, second)) {
            continue;
        }
        let candidate = |at: usize| candidates.get(sorted.get(at)?.3);
        let Some((one, other)) = candidate(first).zip(candidate(second)) else {
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

/// How many pairs of mistakes have an effect within so much of what is off.
pub(super) fn pairs_near(candidates: &[Candidate], off: Length, window: Length) -> i64 {
    let mut sorted: Vec<Length> = candidates.iter().map(|it| it.effect).collect();
    sorted.sort_unstable();
    let mut count = 0_usize;
    for effect in &sorted {
        let least = sorted.partition_point(|other| *effect + *other < off - window);
        let beyond = sorted.partition_point(|other| *effect + *other <= off + window);
        count += beyond - least;
    }
    // Each was counted from both sides, and each with itself where that is near.
    let is_near = |effect: Length| (off - effect).abs() <= window;
    count -= sorted.iter().filter(|it| is_near(**it + **it)).count();
    let mut near = count / 2;
    // Two of one joint, or one kind of mistake twice in all joints, are no pair.
    let mut same: HashMap<(Option<usize>, Option<Mistake>), Vec<Length>> = HashMap::new();
    for it in candidates {
        let kind = it.place.is_none().then_some(it.mistake);
        same.entry((it.place, kind)).or_default().push(it.effect);
    }
    for effects in same.values() {
        for (at, one) in effects.iter().enumerate() {
            let others = effects.iter().skip(at + 1);
            near -= others.filter(|other| is_near(*one + **other)).count();
        }
    }
    i64::try_from(near).unwrap_or(i64::MAX)
}

/// Two mistakes of different joints, or one of all joints beside another kind of mistake.
fn can_both_be(one: &Candidate, other: &Candidate) -> bool {
    match (one.place, other.place) {
        (Some(one), Some(other)) => one != other,
        _ => one.mistake != other.mistake,
    }
}
