//! What joints are called in the lists of one string.

use std::collections::{HashMap, HashSet};

use super::NamedList;
use super::merge::Merged;
use crate::reconcile::align::plain_serial;

/// For each number the first list that has it.
pub(super) fn first_with<'a>(lists: &'a [NamedList<'a>]) -> HashMap<&'a str, usize> {
    let mut first = HashMap::new();
    for (list, named) in lists.iter().enumerate() {
        for joint in &named.tally.joints {
            first.entry(joint.number.as_str()).or_insert(list);
        }
    }
    first
}

/// For each list whether most of the joints that it shares with the first have another number there.
pub(super) fn numbers_apart(lists: &[NamedList<'_>], merged: &[Merged]) -> Vec<bool> {
    let number = |of: &Merged, list: usize| {
        let index = of.at.get(list).copied().flatten()?;
        let joint = lists.get(list)?.tally.joints.get(index)?;
        Some(joint.number.as_str())
    };
    let is_apart = |list: usize| {
        let both = merged.iter();
        let both = both.filter_map(|row| Some((number(row, 0)?, number(row, list)?)));
        let (same, other): (Vec<_>, Vec<_>) =
            both.partition(|(first, here)| is_same_number(first, here));
        other.len() > same.len()
    };
    (0..lists.len()).map(is_apart).collect()
}

/// For each list whether most of its joints have serials, as those of the first do, and none is in that.
pub(super) fn serials_apart(lists: &[NamedList<'_>]) -> Vec<bool> {
    let serials = |list: &NamedList<'_>| -> HashSet<String> {
        let joints = list.tally.joints.iter();
        joints
            .filter_map(|it| it.serial.as_deref())
            .map(plain_serial)
            .collect()
    };
    let most =
        |list: &NamedList<'_>, found: &HashSet<String>| 2 * found.len() > list.tally.joints.len();
    let Some(first) = lists.first() else {
        return Vec::new();
    };
    let known = serials(first);
    let is_apart = |list: &NamedList<'_>| {
        let own = serials(list);
        most(first, &known) && most(list, &own) && known.is_disjoint(&own)
    };
    lists.iter().map(is_apart).collect()
}

/// Whether two numbers are one to people.
pub(super) fn is_same_number(one: &str, other: &str) -> bool {
    one == other || plain_number(one) == plain_number(other)
}

/// A number as people tell it from another: without what separates letters from digits, and zeros before a digit.
fn plain_number(number: &str) -> String {
    let mut plain = String::new();
    for letter in number.chars().filter(|it| it.is_alphanumeric()) {
        if plain.ends_with('0') && letter.is_ascii_digit() {
            let before = plain.strip_suffix('0').unwrap_or_default();
            if !before.ends_with(|it: char| it.is_ascii_digit()) {
                plain.pop();
            }
        }
        plain.extend(letter.to_lowercase());
    }
    plain
}

#[cfg(test)]
mod tests {
    use super::is_same_number;

    #[test]
    fn a_number_is_the_same_however_it_is_written() {
        for (one, other) in [
            ("A-07", "A7"),
            ("A-07", "a 7"),
            ("007", "7"),
            ("A-10", "A10"),
            ("0", "00"),
        ] {
            assert!(is_same_number(one, other), "{one} {other}");
        }
        for (one, other) in [
            ("A-07", "A-70"),
            ("A-07", "B-07"),
            ("7", "7A"),
            ("10", "1"),
            ("1-01", "1-1-0"),
        ] {
            assert!(!is_same_number(one, other), "{one} {other}");
        }
    }
}
