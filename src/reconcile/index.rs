//! The joints of one list by their names, in a few bytes each: lists may have millions of them.

use std::hash::{BuildHasher as _, RandomState};

use super::edits::PossiblePlaces;
use super::partners::Partners;
use crate::tally::Joint;

/// Most joints of one name that are looked at for one that may be the same joint: conductors have a hundred.
const MOST_LOOKED_AT: usize = 500;

/// Which name of a joint.
type NameOf = fn(&Joint) -> Option<&str>;

/// The joints of one list by one of their names.
pub(super) struct Index<'a> {
    joints: &'a [Joint],
    name: NameOf,
    /// How names are spread: differently in each run, so that nobody can choose names that fall together. What
    /// is found does not depend on it.
    hasher: RandomState,
    /// The first joint of each group of names.
    first: Partners,
    /// The next joint of the same group.
    next: Partners,
}

impl<'a> Index<'a> {
    pub(super) fn of(joints: &'a [Joint], name: NameOf) -> Self {
        let mut index = Self {
            joints,
            name,
            hasher: RandomState::new(),
            first: Partners::none(joints.len().next_power_of_two()),
            next: Partners::none(joints.len()),
        };
        for (at, joint) in joints.iter().enumerate().rev() {
            if let Some(name) = name(joint) {
                let group = index.group(name);
                if let Some(next) = index.first.get(group) {
                    index.next.set(at, next);
                }
                index.first.set(group, at);
            }
        }
        index
    }

    fn group(&self, name: &str) -> usize {
        let hash = self.hasher.hash_one(name);
        // A power of two that fits into an index.
        let groups = u64::try_from(self.first.len()).unwrap_or(1);
        usize::try_from(hash & (groups - 1)).unwrap_or_default()
    }

    /// The joints of a name, in order.
    pub(super) fn all(&self, name: &str) -> impl Iterator<Item = usize> {
        self.same(self.first.get(self.group(name)), name)
    }

    /// The joints of a name from one of its group on.
    fn same(&self, from: Option<usize>, name: &str) -> impl Iterator<Item = usize> {
        let of = self.name;
        let group = std::iter::successors(from, |at| self.next.get(*at));
        group.filter(move |at| self.joints.get(*at).and_then(of) == Some(name))
    }

    /// The joints of the same name after one of them, in order.
    fn after(&self, at: usize) -> impl Iterator<Item = usize> + '_ {
        let name = self.joints.get(at).and_then(self.name);
        let next = name.and_then(|name| Some((self.next.get(at)?, name)));
        next.into_iter()
            .flat_map(|(next, name)| self.same(Some(next), name))
    }

    pub(super) fn has(&self, name: &str) -> bool {
        self.all(name).next().is_some()
    }
}

/// A joint's serial.
pub(super) fn serial(joint: &Joint) -> Option<&str> {
    joint.serial.as_deref()
}

/// The joints of one list by their serials and numbers.
pub(super) struct Names<'a> {
    joints: &'a [Joint],
    pub(super) serials: Index<'a>,
    numbers: Index<'a>,
}

impl<'a> Names<'a> {
    pub(super) fn of(joints: &'a [Joint]) -> Self {
        Self {
            joints,
            serials: Index::of(joints, serial),
            numbers: Index::of(joints, |joint| Some(&joint.number)),
        }
    }

    /// Whether a joint is one of its own list's other joints again: the same serial, or, where not
    /// both have one, the same number and length. Of two that are both alone the first is no repeat.
    pub(super) fn is_twice(&self, at: usize, paired: &Partners) -> bool {
        let Some(joint) = self.joints.get(at) else {
            return false;
        };
        let lengths = |joint: &Joint| (joint.overall(), joint.effective());
        let own = serial(joint).into_iter();
        let same_serial = own.flat_map(|serial| self.serials.all(serial));
        let same_number = self.numbers.all(&joint.number).take(MOST_LOOKED_AT);
        let same_number = same_number.filter(|other| {
            self.joints.get(*other).is_some_and(|twin| {
                let both = joint.serial.is_some() && twin.serial.is_some();
                !both && lengths(joint) == lengths(twin)
            })
        });
        let stands = |other: usize| other != at && (!paired.is_free(other) || other < at);
        same_serial.chain(same_number).any(stands)
    }

    /// For each joint of this list the joints of the other that have its name: its serial, if that is in the
    /// other, else its number, where not both have serials.
    ///
    /// Lists in which hardly anything has a name of its own, such as one number for all, would have as many as the
    /// square of their lengths: there the first of a name is taken for the first, the second for the second, and so on.
    pub(super) fn in_other(&self, other: &Names<'_>) -> PossiblePlaces {
        let most = 8 * (self.joints.len() + other.joints.len());
        let mut places = PossiblePlaces::default();
        for joint in self.joints {
            let same = self.same_in(other, joint);
            let rest = same.first.into_iter().flat_map(|it| same.index.after(it));
            let rest = rest.take(MOST_LOOKED_AT).filter(|at| same.may_be(*at));
            places.add(same.first.into_iter().chain(rest));
            if places.count() > most {
                return self.one_in_other(other);
            }
        }
        places
    }

    /// The same with one place for each joint.
    fn one_in_other(&self, other: &Names<'_>) -> PossiblePlaces {
        // For the first place of a name, the place that was taken last.
        let mut taken = Partners::none(other.joints.len());
        let mut places = PossiblePlaces::default();
        for joint in self.joints {
            let same = self.same_in(other, joint);
            let chosen = same.first.and_then(|first| {
                let chosen = match taken.get(first) {
                    None => Some(first),
                    Some(last) => {
                        let mut rest = same.index.after(last).take(MOST_LOOKED_AT);
                        rest.find(|at| same.may_be(*at))
                    }
                };
                // Where none is left it stays the last, after which there is none.
                if let Some(chosen) = chosen {
                    taken.set(first, chosen);
                }
                chosen
            });
            places.add(chosen.into_iter());
        }
        places
    }

    /// The joints of another list that have the name of one of this list.
    fn same_in<'o>(&'o self, other: &'o Names<'o>, joint: &'o Joint) -> SameName<'o> {
        let mut same = SameName {
            joint,
            own: &self.serials,
            index: &other.serials,
            by_serial: true,
            first: serial(joint).and_then(|it| other.serials.all(it).next()),
        };
        if same.first.is_none() {
            (same.index, same.by_serial) = (&other.numbers, false);
            let mut all = other.numbers.all(&joint.number).take(MOST_LOOKED_AT);
            same.first = all.find(|at| same.may_be(*at));
        }
        same
    }
}

/// The joints of another list that have the name of one.
struct SameName<'o> {
    joint: &'o Joint,
    /// The serials of its own list.
    own: &'o Index<'o>,
    index: &'o Index<'o>,
    /// Whether its serial is that name, rather than its number.
    by_serial: bool,
    /// The first that may be that joint.
    first: Option<usize>,
}

impl SameName<'_> {
    /// Whether a joint of that name may be the same joint.
    fn may_be(&self, at: usize) -> bool {
        let twin = self.index.joints.get(at);
        // A serial on either side alone says nothing against the number, but one that has its own partner does.
        let allows = |twin: &str| self.joint.serial.is_none() && !self.own.has(twin);
        self.by_serial || twin.is_some_and(|twin| serial(twin).is_none_or(allows))
    }
}
