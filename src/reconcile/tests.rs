//! Laws of aligning and bridging, and the mistakes one by one.

use proptest::prelude::*;

use crate::laws::laws;

use super::edits::{PossiblePlaces, fewest_edits, longest_run};
use super::index::Names;
use super::partners::long;
use crate::tally::{Options, Tally, read};

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
            let long = pairs.iter().map(|(one, other)| (long(*one), long(*other)));
            let pairs: Vec<(usize, usize)> = long.collect();
            prop_assert_eq!(pairs.len(), most);
            prop_assert!(rises(&pairs));
            prop_assert!(pairs.iter().all(|(one, other)| a[*one] == b[*other]));
        }
    }
}

/// A list of joints that all have one number, each with its serial where there is one.
fn of_one_number(serial: impl Fn(usize) -> String) -> Tally {
    let row = |at: usize| format!("7,{},12.{:03}\n", serial(at), at % 1_000);
    let rows: String = (0..3_000).map(row).collect();
    let text = format!("joint,serial,length (m)\n{rows}");
    read(text.as_bytes(), &Options::default()).expect("a list")
}

#[test]
fn where_all_joints_have_one_number_each_has_one_place_at_most() {
    let places = |a: &Tally, b: &Tally| {
        let places = Names::of(&a.joints).in_other(&Names::of(&b.joints));
        let all = (0..a.joints.len()).map(|at| places.of(at).collect());
        all.collect::<Vec<Vec<usize>>>()
    };
    let bare = of_one_number(|_| String::new());
    let expected: Vec<Vec<usize>> = (0..3_000).map(|at| vec![at]).collect();
    let none: Vec<Vec<usize>> = vec![Vec::new(); 3_000];
    // Neither nine million places nor none.
    assert_eq!(places(&bare, &bare), expected);
    let [a, b] = ["a", "b"].map(|list| of_one_number(|at| format!("{list}-{at}")));
    assert_eq!(places(&a, &b), none);
    assert_eq!(places(&a, &a), expected);
    assert_eq!(places(&bare, &a), expected);
}
