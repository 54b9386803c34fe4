//! Laws of aligning and bridging, and the mistakes one by one.

use proptest::prelude::*;

use crate::laws::laws;

use super::edits::{PossiblePlaces, fewest_edits, longest_run};

/// The most pairs that do not cross, by trying all: the textbook recurrence.
fn most_pairs(a: &[u8], b: &[u8]) -> usize {
    let mut row = vec![0_usize; b.len() + 1];
    for one in a {
        let mut corner = 0;
        for (place, other) in b.iter().enumerate() {
            let above = row[place + 1];
            row[place + 1] = if one == other {
                corner + 1
            } else {
                row[place].max(above)
            };
            corner = above;
        }
    }
    row[b.len()]
}

fn rises(pairs: &[(usize, usize)]) -> bool {
    pairs
        .windows(2)
        .all(|pair| pair[0].0 < pair[1].0 && pair[0].1 < pair[1].1)
}

proptest! {
    #![proptest_config(laws())]

    #[test]
    fn runs_and_edits_keep_as_many_pairs_as_can_be(
        a in prop::collection::vec(0_u8..6, 0..30),
        b in prop::collection::vec(0_u8..6, 0..30)
    ) {
        let most = most_pairs(&a, &b);
        let mut candidates = PossiblePlaces::default();
        for one in &a {
            candidates.add((0..b.len()).filter(|place| b[*place] == *one));
        }
        let run = longest_run(&candidates);
        let edits = fewest_edits((a.len(), b.len()), |one, other| a[one] == b[other]);
        for pairs in [run, edits.expect("short lists")] {
            prop_assert_eq!(pairs.len(), most);
            prop_assert!(rises(&pairs));
            prop_assert!(pairs.iter().all(|(one, other)| a[*one] == b[*other]));
        }
    }
}
