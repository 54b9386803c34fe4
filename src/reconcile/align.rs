//! Which joint of one list is which of the other.
//!
//! By serial where both lists give one, else by number, else by length and place. The joints
//! inserted, deleted or moved are as few as they can be, each joint of a moved block counting one.
//! Without serials the lengths outrank the numbers where that leaves fewer changed joints, as after
//! a joint was put in and the rest renumbered.

use std::collections::{BTreeMap, HashSet};

use super::edits::{fewest_edits, longest_run};
use super::index::{Index, Names, serial};
use super::lengths::{Compare, STRAPS_APART};
use super::partners::{Partners, long, short};
use crate::tally::{Joint, Tally};

/// Most joints further on that are looked at for the partner of one: conductors have a hundred.
const MOST_LOOKED_AT: usize = 500;

/// One joint on the way down both lists, shoe first. Indices are those of the tallies.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Aligned {
    /// A joint of both lists.
    Both {
        /// In the first list.
        a: usize,
        /// In the second list.
        b: usize,
        /// Whether it is out of order.
        moved: bool,
    },
    /// A joint of the first list alone; `twice` if it is one of that list's other joints again.
    OnlyA {
        /// Its index.
        a: usize,
        /// Whether it is listed twice.
        twice: bool,
    },
    /// A joint of the second list alone.
    OnlyB {
        /// Its index.
        b: usize,
        /// Whether it is listed twice.
        twice: bool,
    },
}

impl Aligned {
    /// Its places in both lists.
    pub const fn places(self) -> (Option<usize>, Option<usize>) {
        match self {
            Self::Both { a, b, .. } => (Some(a), Some(b)),
            Self::OnlyA { a, .. } => (Some(a), None),
            Self::OnlyB { b, .. } => (None, Some(b)),
        }
    }
}

/// Two lists, joint by joint. Landing joints are no part of the string and are left out.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Alignment {
    /// In the order of the first list, joints of the second alone where they are there.
    pub joints: Vec<Aligned>,
}

impl Alignment {
    /// How many joints were inserted, deleted or moved.
    pub fn cost(&self) -> usize {
        let costs = |joint: &&Aligned| !matches!(joint, Aligned::Both { moved: false, .. });
        self.joints.iter().filter(costs).count()
    }
}

/// Pairs so far: for each joint of either list its partner in the other.
struct Pairing<'a> {
    a: &'a [Joint],
    b: &'a [Joint],
    compare: Compare,
    of_a: Partners,
    of_b: Partners,
    /// Pairs that keep the order of both lists.
    in_order: Vec<(u32, u32)>,
}

/// Aligns the joints of two tallies of one string.
pub fn align(a: &Tally, b: &Tally) -> Alignment {
    let compare = Compare::of(a, b);
    let joints = |tally: &'_ Tally| tally.conductor_joints();
    let (a, b) = (
        a.joints.get(..joints(a)).unwrap_or_default(),
        b.joints.get(..joints(b)).unwrap_or_default(),
    );
    let plain = with_plain_serials(a, b);
    let (a, b) = plain
        .as_ref()
        .map_or((a, b), |(a, b)| (a.as_slice(), b.as_slice()));
    let by_names = Pairing::by_names(a, b, compare);
    let names = by_names.changes();
    // Lengths could only help where something changed that an insertion does not account for.
    let needless = names.changed == a.len().abs_diff(b.len());
    let have_serials = |joints: &[Joint]| joints.iter().all(|joint| joint.serial.is_some());
    if needless || (have_serials(a) && have_serials(b)) {
        return by_names.alignment();
    }
    let mut best = (names, by_names);
    for apart in [compare.rounded, STRAPS_APART] {
        let within = |one: &Joint, other: &Joint| compare.apart(one, other) <= apart;
        if let Some(pairing) = Pairing::by_lengths(a, b, compare, within) {
            let changes = pairing.changes();
            if changes < best.0 {
                best = (changes, pairing);
            }
        }
    }
    best.1.alignment()
}

/// Both lists with their serials as people tell them apart, without case and without what separates letters from
/// digits: where that makes serials the same that were not, and none of one list the same.
fn with_plain_serials(a: &[Joint], b: &[Joint]) -> Option<(Vec<Joint>, Vec<Joint>)> {
    let in_b = Index::of(b, serial);
    let alone = a.iter().filter_map(serial);
    let alone = alone.filter(|serial| !in_b.has(serial)).map(plain_serial);
    let alone: HashSet<String> = alone.collect();
    drop(in_b);
    if alone.is_empty()
        || !b
            .iter()
            .filter_map(serial)
            .any(|it| alone.contains(&plain_serial(it)))
    {
        return None;
    }
    drop(alone);
    let made_plain = |joints: &[Joint]| {
        let known: HashSet<&str> = joints.iter().filter_map(serial).collect();
        let plain: HashSet<String> = known.iter().map(|it| plain_serial(it)).collect();
        let joints = joints.iter().map(|joint| Joint {
            serial: joint.serial.as_deref().map(|it| plain_serial(it).into()),
            ..joint.clone()
        });
        (plain.len() == known.len()).then(|| joints.collect::<Vec<_>>())
    };
    Some((made_plain(a)?, made_plain(b)?))
}

/// A serial as people tell it from another: without case, and without what separates letters from digits.
pub(super) fn plain_serial(serial: &str) -> String {
    let letters = serial.chars().filter(|it| it.is_alphanumeric());
    letters.flat_map(char::to_lowercase).collect()
}

/// What a pairing leaves changed, the weightiest first.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
struct Changes {
    /// Joints inserted, deleted, moved, or of another length.
    changed: usize,
    /// Lengths that differ by more than two straps of one joint do.
    far: usize,
    /// Pairs whose numbers differ.
    renumbered: usize,
}

/// Whether two joints are known to be different ones: both have serials, and not the same.
fn differ_by_serial(a: &Joint, b: &Joint) -> bool {
    same_serial(a, b) == Some(false)
}

/// Whether two joints have one serial; `None` where not both have any.
fn same_serial(a: &Joint, b: &Joint) -> Option<bool> {
    Some(a.serial.as_ref()? == b.serial.as_ref()?)
}

impl<'a> Pairing<'a> {
    fn new(a: &'a [Joint], b: &'a [Joint], compare: Compare) -> Self {
        Self {
            a,
            b,
            compare,
            of_a: Partners::none(a.len()),
            of_b: Partners::none(b.len()),
            in_order: Vec::new(),
        }
    }

    fn joints(&self, a: usize, b: usize) -> Option<(&'a Joint, &'a Joint)> {
        Some((self.a.get(a)?, self.b.get(b)?))
    }

    fn pair(&mut self, a: usize, b: usize) {
        self.of_a.set(a, b);
        self.of_b.set(b, a);
    }

    /// Pairs what keeps the order of both lists.
    fn keep(&mut self, in_order: Vec<(u32, u32)>) {
        for (at, to) in &in_order {
            self.pair(long(*at), long(*to));
        }
        self.in_order = in_order;
    }

    fn is_free(&self, a: usize, b: usize) -> bool {
        self.of_a.is_free(a) && self.of_b.is_free(b)
    }

    /// By serial where both lists have it, else by number.
    fn by_names(a: &'a [Joint], b: &'a [Joint], compare: Compare) -> Self {
        let mut pairing = Self::new(a, b, compare);
        let candidates = Names::of(a).in_other(&Names::of(b));
        pairing.keep(longest_run(&candidates));
        // What has the same name in a different position was moved.
        for at in 0..a.len() {
            for to in candidates.of(at) {
                if pairing.is_free(at, to) {
                    pairing.pair(at, to);
                }
            }
        }
        drop(candidates);
        pairing.by_place(|pairing, at, to, _| {
            let pair = pairing.joints(at, to);
            pair.is_some_and(|(one, other)| compare.apart(one, other) <= STRAPS_APART)
        });
        pairing.moved_by_length();
        pairing
    }

    /// By lengths in order; `None` where the lists differ too much for that.
    fn by_lengths(
        a: &'a [Joint],
        b: &'a [Joint],
        compare: Compare,
        within: impl Fn(&Joint, &Joint) -> bool,
    ) -> Option<Self> {
        let mut pairing = Self::new(a, b, compare);
        let (bound_a, bound_b) = (in_both(a, b), in_both(b, a));
        let equal = |at: usize, to: usize| {
            let pair = pairing.joints(at, to);
            pair.is_some_and(|(one, other)| {
                // A joint whose serial is in the other list is that one and no other.
                let bound = bound_a.get(at) == Some(&true) || bound_b.get(to) == Some(&true);
                same_serial(one, other).unwrap_or_else(|| !bound && within(one, other))
            })
        };
        let in_order = fewest_edits((a.len(), b.len()), equal)?;
        pairing.keep(in_order);
        pairing.moved_by_serial();
        pairing.moved_by_length();
        // Where as many are left on either side, they are the same joints with other figures.
        pairing.by_place(|pairing, at, to, even| {
            let pair = pairing.joints(at, to);
            pair.is_some_and(|(one, other)| even || one.number == other.number)
        });
        Some(pairing)
    }

    /// Pairs joints that are left between the same neighbours, in order, where `same` allows it;
    /// it is told whether as many are left on either side.
    fn by_place(&mut self, same: impl Fn(&Self, usize, usize, bool) -> bool) {
        let anchors = std::mem::take(&mut self.in_order).into_iter();
        let anchors = anchors.map(|(to_a, to_b)| (long(to_a), long(to_b)));
        let (mut from_a, mut from_b) = (0, 0);
        for (to_a, to_b) in anchors.chain([(self.a.len(), self.b.len())]) {
            let free = |all: &Partners, from: usize, to: usize| -> Vec<usize> {
                (from..to).filter(|at| all.is_free(*at)).collect()
            };
            let left_a = free(&self.of_a, from_a, to_a);
            let left_b = free(&self.of_b, from_b, to_b);
            let even = left_a.len() == left_b.len();
            let mut next = 0;
            for at in left_a {
                let others = left_b.iter().enumerate().skip(next).take(MOST_LOOKED_AT);
                let found = others.into_iter().find(|(_, to)| {
                    let different = self
                        .joints(at, **to)
                        .is_none_or(|(one, other)| differ_by_serial(one, other));
                    !different && same(self, at, **to, even)
                });
                if let Some((place, to)) = found {
                    self.pair(at, *to);
                    self.in_order.push((short(at), short(*to)));
                    next = place + 1;
                }
            }
            if to_a < self.a.len() || to_b < self.b.len() {
                self.in_order.push((short(to_a), short(to_b)));
            }
            (from_a, from_b) = (to_a + 1, to_b + 1);
        }
    }

    /// Joints left over that have the same serial were moved.
    fn moved_by_serial(&mut self) {
        let serials = Index::of(self.b, serial);
        for (at, joint) in self.a.iter().enumerate() {
            let own = serial(joint).into_iter();
            let mut places = own.flat_map(|serial| serials.all(serial));
            if let Some(to) = places.find(|to| self.is_free(at, *to)) {
                self.pair(at, to);
            }
        }
    }

    /// Joints left over that have the same length, to within rounding, and no other name were moved.
    fn moved_by_length(&mut self) {
        let mut left: BTreeMap<i64, Vec<usize>> = BTreeMap::new();
        for (to, joint) in self.b.iter().enumerate().rev() {
            if self.of_b.is_free(to) {
                let length = self.compare.length(joint).nm();
                left.entry(length).or_default().push(to);
            }
        }
        for (at, joint) in self.a.iter().enumerate() {
            if !self.of_a.is_free(at) {
                continue;
            }
            let length = self.compare.length(joint).nm();
            let rounded = self.compare.rounded.nm();
            let near = left.range(length - rounded..=length + rounded);
            let free = near.filter_map(|(other, places)| {
                let mut last = places.iter().enumerate().rev().take(MOST_LOOKED_AT);
                let place = last.find(|(_, to)| {
                    let pair = self.joints(at, **to);
                    pair.is_some_and(|(one, other)| !differ_by_serial(one, other))
                });
                let place = place.map(|(place, _)| place);
                Some(((other - length).abs(), *other, place?))
            });
            let nearest = free.min();
            let found = nearest.and_then(|(_, other, place)| Some((left.get_mut(&other)?, place)));
            if let Some((places, place)) = found {
                let to = places.remove(place);
                self.pair(at, to);
            }
        }
    }

    fn changes(&self) -> Changes {
        let unpaired = |all: &Partners| all.iter().filter(Option::is_none).count();
        let pairs = || {
            let pairs = self.of_a.iter().enumerate();
            pairs.filter_map(|(at, to)| self.joints(at, to?))
        };
        let moved = pairs().count() - self.in_order.len();
        let (mut differing, mut far, mut renumbered) = (0, 0, 0);
        for (one, other) in pairs() {
            differing += usize::from(!self.compare.equal(one, other));
            far += usize::from(self.compare.apart(one, other) > STRAPS_APART);
            renumbered += usize::from(one.number != other.number);
        }
        Changes {
            changed: unpaired(&self.of_a) + unpaired(&self.of_b) + moved + differing,
            far,
            renumbered,
        }
    }

    fn alignment(self) -> Alignment {
        let mut steps = Vec::with_capacity(self.a.len().max(self.b.len()));
        let (mut names_a, mut names_b) = (None, None);
        let mut in_order = self.in_order.iter().peekable();
        let mut to_b = 0;
        let mut only_b = |steps: &mut Vec<Aligned>, from: usize, to: usize| {
            for b in from..to {
                if self.of_b.is_free(b) {
                    let names = names_b.get_or_insert_with(|| Names::of(self.b));
                    let twice = names.is_twice(b, &self.of_b);
                    steps.push(Aligned::OnlyB { b, twice });
                }
            }
        };
        for (a, partner) in self.of_a.iter().enumerate() {
            match partner {
                None => {
                    let names = names_a.get_or_insert_with(|| Names::of(self.a));
                    let twice = names.is_twice(a, &self.of_a);
                    steps.push(Aligned::OnlyA { a, twice });
                }
                Some(b) => {
                    let moved = in_order.peek() != Some(&&(short(a), short(b)));
                    if !moved {
                        in_order.next();
                        only_b(&mut steps, to_b, b);
                        to_b = b + 1;
                    }
                    steps.push(Aligned::Both { a, b, moved });
                }
            }
        }
        only_b(&mut steps, to_b, self.b.len());
        Alignment { joints: steps }
    }
}

/// For each joint of one list whether its serial is in the other.
fn in_both(joints: &[Joint], others: &[Joint]) -> Vec<bool> {
    let others = Index::of(others, serial);
    let stands = |joint: &Joint| serial(joint).is_some_and(|it| others.has(it));
    joints.iter().map(stands).collect()
}
