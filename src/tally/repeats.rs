//! Which of many texts occur more than once.

use std::hash::BuildHasher as _;

use foldhash::fast::FixedState;

/// The indices of texts that occur more than once, in the order in which that shows down the list: at its
/// second place a text tells of its first as well.
pub(super) fn repeated<'a>(count: usize, text: impl Fn(usize) -> Option<&'a str>) -> Vec<usize> {
    let texts = || (0..count).filter_map(|index| Some((index, text(index)?)));
    let mut marked: Vec<Marked> = texts()
        .map(|(index, text)| Marked::new(half_hash(text), index))
        .collect();
    leave_what_may_repeat(&mut marked);
    marked.sort_unstable();
    // Each repeat with the place at which it shows.
    let mut repeats: Vec<(usize, usize)> = Vec::new();
    for group in marked.chunk_by(|one, other| one.hash() == other.hash()) {
        if group.len() < 2 {
            continue;
        }
        // Different texts may have one hash.
        let mut alike: Vec<usize> = group.iter().map(|it| it.index()).collect();
        alike.sort_by_key(|index| text(*index));
        for same in alike.chunk_by(|one, other| text(*one) == text(*other)) {
            if let [first, second, ..] = same {
                repeats.push((*second, *first));
                repeats.extend(same.iter().skip(1).map(|index| (*index, *index)));
            }
        }
    }
    repeats.sort_unstable();
    repeats.into_iter().map(|(_, index)| index).collect()
}

/// Leaves out what certainly occurs once, which is nearly all: to sort that would take longer than the rest.
fn leave_what_may_repeat(marked: &mut Vec<Marked>) {
    let twice = seen_twice(marked.iter().map(|it| it.hash()), marked.len());
    marked.retain(|it| twice.has(it.hash()));
}

/// The bits of those of so many hashes that may be there twice.
fn seen_twice(hashes: impl Iterator<Item = u64>, count: usize) -> Bits {
    let (mut once, mut twice) = (Bits::of(count), Bits::of(count));
    for hash in hashes {
        if !once.set(hash) {
            twice.set(hash);
        }
    }
    twice
}

/// Which of many texts may occur more than once, told from half of their hashes: all that do, and few others.
pub(crate) struct MayRepeat(Bits);

impl MayRepeat {
    /// Of these texts, of which there are at most so many.
    pub(crate) fn of<'a>(texts: impl Iterator<Item = &'a str>, count: usize) -> Self {
        Self(seen_twice(texts.map(half_hash), count))
    }

    /// Whether a text may be one of them.
    pub(crate) fn has(&self, text: &str) -> bool {
        self.0.has(half_hash(text))
    }
}

/// The greater half of a text's hash.
fn half_hash(text: &str) -> u64 {
    FixedState::default().hash_one(text) >> Marked::HALF
}

/// Which hashes were seen, several to a bit.
struct Bits {
    words: Vec<u64>,
    mask: u64,
}

impl Bits {
    /// Bits for so many hashes, sixteen for each.
    fn of(count: usize) -> Self {
        let words = (count / 4).next_power_of_two();
        Self {
            mask: u64::try_from(words).map_or(0, |words| words - 1),
            words: vec![0; words],
        }
    }

    fn place(&self, hash: u64) -> (usize, u64) {
        let word = (hash / u64::from(u64::BITS)) & self.mask;
        let bit = 1 << (hash % u64::from(u64::BITS));
        // Within the words, by the mask.
        (usize::try_from(word).unwrap_or_default(), bit)
    }

    /// Sets the bit of a hash, and says whether it was not set before.
    fn set(&mut self, hash: u64) -> bool {
        let (word, bit) = self.place(hash);
        self.words.get_mut(word).is_some_and(|word| {
            let is_new = *word & bit == 0;
            *word |= bit;
            is_new
        })
    }

    fn has(&self, hash: u64) -> bool {
        let (word, bit) = self.place(hash);
        self.words.get(word).is_some_and(|word| word & bit != 0)
    }
}

/// Half of a text's hash above its index, so that sorting these brings equal hashes together, in the order of
/// the list.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
struct Marked(u64);

impl Marked {
    const HALF: u32 = 32;

    /// Of half a hash. A list has at most four million joints.
    fn new(hash: u64, index: usize) -> Self {
        let index = u32::try_from(index).unwrap_or(u32::MAX);
        Self((hash << Self::HALF) | u64::from(index))
    }

    const fn hash(self) -> u64 {
        self.0 >> Self::HALF
    }

    fn index(self) -> usize {
        usize::try_from(self.0 & u64::from(u32::MAX)).unwrap_or(usize::MAX)
    }
}

#[cfg(test)]
mod tests {
    use std::collections::HashMap;

    use proptest::prelude::*;

    use super::*;
    use crate::laws::laws;

    fn of(texts: &[Option<&str>]) -> Vec<usize> {
        repeated(texts.len(), |index| texts.get(index).copied().flatten())
    }

    #[test]
    fn repeats_are_told_in_the_order_in_which_they_show() {
        let texts = ["a", "b", "c", "b", "a", "b", "d"].map(Some);
        assert_eq!(of(&texts), [1, 3, 0, 4, 5]);
        assert_eq!(of(&[Some("x"), None, Some("x"), None]), [0, 2]);
        assert!(of(&[Some("2"), Some("9"), Some("10"), None]).is_empty());
        assert_eq!(of(&[Some("10"), Some("9"), Some("9")]), [1, 2]);
        assert!(of(&[]).is_empty());
    }

    proptest! {
        #![proptest_config(laws())]

        /// Against a map from each text to its places.
        #[test]
        fn repeats_are_those_of_a_map(texts in prop::collection::vec(prop::option::of("[ab]{1,3}"), 0..60)) {
            let mut places: HashMap<&str, Vec<usize>> = HashMap::new();
            let mut expected = Vec::new();
            for (index, text) in texts.iter().enumerate() {
                let Some(text) = text else { continue };
                let places = places.entry(text).or_default();
                if let [first] = places[..] {
                    expected.push(first);
                }
                if !places.is_empty() {
                    expected.push(index);
                }
                places.push(index);
            }
            let texts: Vec<Option<&str>> = texts.iter().map(Option::as_deref).collect();
            prop_assert_eq!(of(&texts), expected);
        }
    }
}
