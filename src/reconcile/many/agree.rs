//! Which of several readings agree, and whether they are enough.

/// How far lists agree on something of a joint.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum State {
    /// All that have it do.
    Agreed,
    /// More than half of those that have it do.
    Majority,
    /// Neither, and nobody has decided.
    Open,
    /// Someone has decided.
    Decided,
    /// Two persons have decided differently.
    Conflict,
}

impl State {
    /// The word in JSON.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Agreed => "agreed",
            Self::Majority => "majority",
            Self::Open => "open",
            Self::Decided => "decided",
            Self::Conflict => "conflict",
        }
    }
}

/// Above so many readings only those of which every pair agrees are told to agree: the groups of more are too
/// many to go through.
const MOST_GROUPED: usize = 12;

/// The readings that agree, by their indices, and how far. `agree` compares two of them, `witness` says which
/// witness a reading is of: several of one count once.
pub(super) fn agreement(
    readings: usize,
    agree: impl Fn(usize, usize) -> bool,
    witness: impl Fn(usize) -> usize,
) -> (State, Vec<usize>) {
    let all: Vec<usize> = (0..readings).collect();
    let is_group = |group: &[usize]| {
        group.iter().enumerate().all(|(at, one)| {
            let others = group.iter().skip(at + 1);
            others.into_iter().all(|other| agree(*one, *other))
        })
    };
    if is_group(&all) {
        return (State::Agreed, all);
    }
    if readings > MOST_GROUPED {
        return (State::Open, Vec::new());
    }
    let votes = |group: &[usize]| {
        let mut witnesses: Vec<usize> = group.iter().map(|it| witness(*it)).collect();
        witnesses.sort_unstable();
        witnesses.dedup();
        witnesses.len()
    };
    // The largest groups by their witnesses; a group within another is none of its own.
    let mut largest: Vec<Vec<usize>> = Vec::new();
    let mut most = 0;
    for chosen in 1_u32..(1 << readings) {
        let group: Vec<usize> = all
            .iter()
            .copied()
            .filter(|at| chosen & (1 << at) != 0)
            .collect();
        let count = votes(&group);
        if count < most || !is_group(&group) {
            continue;
        }
        if count > most {
            (most, largest) = (count, Vec::new());
        }
        let holds = |other: &Vec<usize>, group: &[usize]| group.iter().all(|it| other.contains(it));
        largest.retain(|other| !other.iter().all(|it| group.contains(it)));
        if !largest.iter().any(|other| holds(other, &group)) {
            largest.push(group);
        }
    }
    match largest.as_slice() {
        [group] if 2 * most > votes(&all) => (State::Majority, group.clone()),
        _ => (State::Open, Vec::new()),
    }
}

#[cfg(test)]
mod tests {
    use super::{State, agreement};

    fn of(values: &[i32], within: i32, witnesses: &[usize]) -> (State, Vec<usize>) {
        agreement(
            values.len(),
            |one, other| (values[one] - values[other]).abs() <= within,
            |at| witnesses[at],
        )
    }

    #[test]
    fn a_group_agrees_where_every_pair_does() {
        assert_eq!(
            of(&[5, 5, 5], 0, &[0, 1, 2]),
            (State::Agreed, vec![0, 1, 2])
        );
        assert_eq!(of(&[5, 5, 9], 0, &[0, 1, 2]), (State::Majority, vec![0, 1]));
        assert_eq!(of(&[5, 9], 0, &[0, 1]).0, State::Open);
        assert_eq!(of(&[5, 5, 9, 9], 0, &[0, 1, 2, 3]).0, State::Open);
        assert_eq!(of(&[7], 0, &[0]), (State::Agreed, vec![0]));
        // Not transitive: 1 agrees with 2 and 2 with 3, which are two largest groups.
        assert_eq!(of(&[1, 2, 3], 1, &[0, 1, 2]).0, State::Open);
        assert_eq!(of(&[1, 2, 3, 2], 1, &[0, 1, 2, 3]).0, State::Open);
        assert_eq!(
            of(&[1, 1, 2, 9], 1, &[0, 1, 2, 3]),
            (State::Majority, vec![0, 1, 2])
        );
    }

    #[test]
    fn lists_of_one_witness_count_once() {
        assert_eq!(of(&[5, 9, 9], 0, &[0, 1, 1]).0, State::Open);
        assert_eq!(
            of(&[5, 5, 9, 9], 0, &[0, 1, 2, 2]),
            (State::Majority, vec![0, 1])
        );
        assert_eq!(of(&[5, 5], 0, &[0, 0]).0, State::Agreed);
    }
}
