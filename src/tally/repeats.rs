//! Which of many texts occur more than once.

use std::hash::BuildHasher as _;

use foldhash::fast::FixedState;

/// The indices of texts that occur more than once, in the order in which that shows down the list: at its
/// second place a text tells of its first as well.
pub(super) fn repeated<'a>(count: usize, text: impl Fn(usize) -> Option<&'a str>) -> Vec<usize> {
    let texts = || (0..count).filter_map(|index| Some((index, text(index)?)));
    let hasher = FixedState::default();
    let mut marked: Vec<Hashed> = texts()
        .map(|(index, text)| Hashed::new(hasher.hash_one(text), index))
        .collect();
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

/// Half of a text's hash above its index, so that sorting these brings equal hashes together, in the order of
/// the list.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
struct Hashed(u64);

impl Hashed {
    const HALF: u32 = 32;

    /// A list has at most four million joints.
    fn new(hash: u64, index: usize) -> Self {
        let index = u32::try_from(index).unwrap_or(u32::MAX);
        Self((hash >> Self::HALF << Self::HALF) | u64::from(index))
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
