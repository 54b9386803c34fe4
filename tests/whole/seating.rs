//! A rigid deck on its tops, against an independent linear program on random decks, and cases worked by hand. All are invented.

use kerfmark::deck::{DeckTop, Seat, SeatState, best_fit, flatness, seat, trims};
use kerfmark::measure::Length;
use microlp::{ComparisonOp, OptimizationDirection, Problem, Variable};
use proptest::prelude::*;

use crate::common::laws::laws;

/// Places in millimetres, heights in hundredths of a millimetre.
fn top((x, y, z): (i64, i64, i64)) -> DeckTop {
    DeckTop {
        x: Length::from_mm(x),
        y: Length::from_mm(y),
        z: Length::from_nm(z * 10_000),
    }
}

fn tops(all: &[(i64, i64, i64)]) -> Vec<DeckTop> {
    all.iter().copied().map(top).collect()
}

fn at(x: i64, y: i64) -> (Length, Length) {
    (Length::from_mm(x), Length::from_mm(y))
}

/// Heights are counted in hundredths of a millimetre, far above what the program takes for equal.
const UNIT: f64 = 1e-5;

fn height(top: &DeckTop) -> f64 {
    top.z.real_metres() / UNIT
}

/// The plane of a linear program over `a + b x + c y`, in metres.
struct Program {
    problem: Problem,
    plane: [Variable; 3],
}

impl Program {
    fn new(cog: Option<(f64, f64)>) -> Self {
        let mut problem = Problem::new(OptimizationDirection::Minimize);
        let (x, y) = cog.unwrap_or_default();
        let lifted = f64::from(u8::from(cog.is_some()));
        let free = (f64::NEG_INFINITY, f64::INFINITY);
        let plane = [lifted, lifted * x, lifted * y].map(|cost| problem.add_var(cost, free));
        Self { problem, plane }
    }

    fn over(&self, top: &DeckTop) -> Vec<(Variable, f64)> {
        let [a, b, c] = self.plane;
        vec![(a, 1.0), (b, top.x.real_metres()), (c, top.y.real_metres())]
    }
}

/// How high the lowest plane over all tops is at the centre of gravity, by a linear program.
fn lifted(tops: &[DeckTop], cog: (Length, Length)) -> Option<(f64, Vec<f64>)> {
    let place = (cog.0.real_metres(), cog.1.real_metres());
    let mut program = Program::new(Some(place));
    for top in tops {
        let over = program.over(top);
        program
            .problem
            .add_constraint(over, ComparisonOp::Ge, height(top));
    }
    let solution = program.problem.solve().ok()?.into_solution().ok()?;
    let [a, b, c] = program.plane.map(|it| solution.var_value(it) * UNIT);
    let deck = tops
        .iter()
        .map(|top| a + b * top.x.real_metres() + c * top.y.real_metres());
    Some((solution.objective() * UNIT, deck.collect()))
}

/// The least greatest distance of a top from a plane, by a linear program.
fn flat(tops: &[DeckTop]) -> f64 {
    let mut program = Program::new(None);
    let most = program.problem.add_var(1.0, (0.0, f64::INFINITY));
    for top in tops {
        for (sign, op) in [(-1.0, ComparisonOp::Le), (1.0, ComparisonOp::Ge)] {
            let mut over = program.over(top);
            over.push((most, sign));
            program.problem.add_constraint(over, op, height(top));
        }
    }
    let solved = program.problem.solve().expect("a plane");
    solved.into_solution().expect("a plane").objective() * UNIT
}

/// The least total of trims, by a linear program.
fn trimmed(tops: &[DeckTop], within: f64) -> f64 {
    let mut program = Program::new(None);
    for top in tops {
        let trim = program.problem.add_var(1.0, (0.0, f64::INFINITY));
        for (off, op) in [(-within, ComparisonOp::Le), (within, ComparisonOp::Ge)] {
            // The plane less what is left of the top, at most so much either way.
            let mut over = program.over(top);
            over.push((trim, 1.0));
            let flip = match op {
                ComparisonOp::Le => ComparisonOp::Ge,
                _ => ComparisonOp::Le,
            };
            program
                .problem
                .add_constraint(over, flip, height(top) + off / UNIT);
        }
    }
    let solved = program.problem.solve().expect("trims");
    solved.into_solution().expect("trims").objective() * UNIT
}

fn real_gaps(seat: &Seat, tops: &[DeckTop], rest: usize) -> Vec<f64> {
    let deck = seat.rests[rest].deck.iter().zip(tops);
    deck.map(|(deck, top)| (*deck - top.z).real_metres())
        .collect()
}

/// Tops and a centre of gravity, in millimetres.
type Deck = (Vec<(i64, i64, i64)>, (i64, i64));

/// Decks of 3 to 8 tops, with heights that are often equal, and a centre of gravity somewhere round them.
fn deck() -> impl Strategy<Value = Deck> {
    let place = || (0..8_i64).prop_map(|it| it * 1_500);
    let height = prop_oneof![0..3_i64, -900..900_i64];
    let tops = prop::collection::vec((place(), place(), height), 3..=8);
    let any_three = (
        any::<prop::sample::Index>(),
        any::<prop::sample::Index>(),
        any::<prop::sample::Index>(),
    );
    let cog = (0..5_u8, any_three, (-1_000..12_000_i64, -1_000..12_000_i64));
    (tops, cog).prop_map(|(mut tops, (kind, (one, two, three), anywhere))| {
        tops.sort_unstable();
        tops.dedup_by_key(|it| (it.0, it.1));
        // Over a top, over the middle between two, among three, or anywhere: the first ones exactly.
        let [a, b, c] = [one, two, three].map(|it| tops[it.index(tops.len())]);
        let cog = match kind {
            0 => (a.0, a.1),
            1 => (i64::midpoint(a.0, b.0), i64::midpoint(a.1, b.1)),
            2 | 3 => ((a.0 + b.0 + 2 * c.0) / 4, (a.1 + b.1 + 2 * c.1) / 4),
            _ => anywhere,
        };
        (tops, cog)
    })
}

/// What a seat must be, whatever the deck.
fn check(all: &[(i64, i64, i64)], cog: (i64, i64)) -> Result<(), TestCaseError> {
    let tops = tops(all);
    let cog = at(cog.0, cog.1);
    let found = seat(&tops, cog);
    let program = lifted(&tops, cog);
    match found.state {
        SeatState::Degenerate => prop_assert!(found.rests.is_empty() && found.margin.is_none()),
        // Outside the tops the plane tips without end.
        SeatState::Unstable => {
            prop_assert!(found.rests.is_empty());
            prop_assert!(found.margin.is_some_and(|it| it < 0.0));
            prop_assert!(program.is_none());
        }
        _ => {
            let (height, deck) = program.expect("a plane");
            for rest in 0..found.rests.len() {
                let gaps = real_gaps(&found, &tops, rest);
                prop_assert!(gaps.iter().all(|gap| *gap >= -1e-9), "{gaps:?}");
                for (at, gap) in gaps.iter().enumerate() {
                    prop_assert_eq!(found.rests[rest].contacts.contains(&at), gap.abs() < 1e-9);
                }
                // Each is as low at the centre of gravity as the program can get.
                let [first, ..] = found.rests[rest].contacts.as_slice() else {
                    unreachable!("contacts");
                };
                let (b, c) = found.rests[rest].slope;
                let from = &tops[*first];
                let here = from.z.real_metres()
                    + b * (cog.0 - from.x).real_metres()
                    + c * (cog.1 - from.y).real_metres();
                prop_assert!((here - height).abs() < 1e-8, "{here} {height}");
            }
            if found.state == SeatState::Stable {
                prop_assert_eq!(found.rests.len(), 1);
                for (gap, (deck, top)) in real_gaps(&found, &tops, 0)
                    .iter()
                    .zip(deck.iter().zip(&tops))
                {
                    let expected = deck - top.z.real_metres();
                    prop_assert!((gap - expected).abs() < 1e-7, "{gap} {expected}");
                }
            }
        }
    }
    let least = flatness(&tops);
    prop_assert!(
        (least - flat(&tops)).abs() < 1e-8,
        "{least} {}",
        flat(&tops)
    );
    let within = Length::from_mm(2);
    let found = trims(&tops, within).expect("few tops");
    let total: f64 = found.iter().sum();
    let expected = trimmed(&tops, within.real_metres());
    prop_assert!((total - expected).abs() < 1e-7, "{total} {expected}");
    let after: Vec<DeckTop> = tops
        .iter()
        .zip(&found)
        .map(|(top, trim)| DeckTop {
            z: top.z - Length::nearest_to_metres(*trim).expect("a length"),
            ..*top
        })
        .collect();
    prop_assert!(flatness(&after) <= within.real_metres() + 2e-9);
    Ok(())
}

proptest! {
    #![proptest_config(laws())]

    /// The same contacts, gaps, flatness and total of trims as a linear program has.
    #[test]
    fn a_deck_seats_as_a_linear_program_has_it((all, cog) in deck()) {
        check(&all, cog)?;
    }
}

/// The same on ten thousand decks: `DECKS=10000 cargo test --release --test whole seating -- --nocapture`.
#[test]
fn many_decks_seat_as_a_linear_program_has_it() {
    let Ok(count) = std::env::var("DECKS") else {
        return;
    };
    let mut runner = proptest::test_runner::TestRunner::new(proptest::test_runner::Config {
        cases: count.parse().expect("a number"),
        failure_persistence: None,
        rng_seed: proptest::test_runner::RngSeed::Fixed(20_261_127),
        ..proptest::test_runner::Config::default()
    });
    let states = std::cell::RefCell::new(std::collections::BTreeMap::new());
    runner
        .run(&deck(), |(all, cog)| {
            let state = seat(&tops(&all), at(cog.0, cog.1)).state.word();
            *states.borrow_mut().entry(state).or_insert(0) += 1;
            check(&all, cog)
        })
        .expect("as the program has it");
    println!("decks: {count}: {:?}", states.borrow());
}

/// A square of 4 m with the first corner 4 mm high: the identity of a rectangle says that the gap at the fourth is
/// `z1 - z2 + z3 - z4` (no published example was found).
const SQUARE: [(i64, i64, i64); 4] = [(0, 0, 400), (4000, 0, 0), (4000, 4000, 0), (0, 4000, 0)];

fn contacts(seat: &Seat) -> Vec<Vec<usize>> {
    seat.rests.iter().map(|it| it.contacts.clone()).collect()
}

#[test]
fn a_square_with_one_corner_high_rests_on_three_and_rocks_over_its_diagonal() {
    let all = tops(&SQUARE);
    let found = seat(&all, at(1500, 2500));
    assert_eq!(
        (found.state, contacts(&found)),
        (SeatState::Stable, vec![vec![0, 2, 3]])
    );
    let gaps = real_gaps(&found, &all, 0);
    assert_eq!(gaps, [0.0, 0.004, 0.0, 0.0]);
    assert!((found.margin.expect("inside") - 1.5).abs() < 1e-12);
    // Over the diagonal between its two high corners it tips either way.
    let found = seat(&all, at(2000, 2000));
    assert_eq!(found.state, SeatState::Rocks);
    assert_eq!(contacts(&found), [vec![0, 1, 2], vec![0, 2, 3]]);
    // On the other diagonal it lies on one side of the first.
    let found = seat(&all, at(3000, 1000));
    assert_eq!(
        (found.state, contacts(&found)),
        (SeatState::Stable, vec![vec![0, 1, 2]])
    );
    assert!((flatness(&all) - 0.001).abs() < 1e-12);
    let fit = best_fit(&all).expect("a plane");
    let residuals: Vec<f64> = fit
        .residuals
        .iter()
        .map(|it| (it * 1e6).round() / 1e6)
        .collect();
    assert_eq!(residuals, [0.001, -0.001, 0.001, -0.001]);
}

#[test]
fn equal_tops_all_bear_and_edges_corners_and_lines_are_told() {
    let level = SQUARE.map(|(x, y, _)| (x, y, 700));
    let all = tops(&level);
    let found = seat(&all, at(2000, 2000));
    assert_eq!(
        (found.state, contacts(&found)),
        (SeatState::Stable, vec![vec![0, 1, 2, 3]])
    );
    for (cog, state) in [
        ((2000, 0), SeatState::Marginal),
        ((4000, 4000), SeatState::Marginal),
        ((4001, 2000), SeatState::Unstable),
    ] {
        assert_eq!(seat(&all, at(cog.0, cog.1)).state, state, "{cog:?}");
    }
    assert!((seat(&all, at(5000, 2000)).margin.expect("an outline") + 1.0).abs() < 1e-12);
    // A contact inside the others, high: it tips on it every way.
    let mut with_middle = level.to_vec();
    with_middle.push((2000, 2000, 900));
    let all = tops(&with_middle);
    let found = seat(&all, at(2000, 2000));
    assert_eq!(found.state, SeatState::Rocks);
    assert_eq!(
        contacts(&found),
        [vec![0, 1, 4], vec![0, 3, 4], vec![1, 2, 4], vec![2, 3, 4]]
    );
    // Over a corner: the first in the order of contacts.
    let found = seat(&tops(&SQUARE), at(0, 0));
    assert_eq!(
        (found.state, contacts(&found)),
        (SeatState::Marginal, vec![vec![0, 1, 2]])
    );
    // In one line, and under three.
    let line = tops(&[(0, 0, 0), (1000, 1000, 500), (3000, 3000, 0)]);
    let found = seat(&line, at(1000, 1000));
    assert_eq!((found.state, found.rests.len()), (SeatState::Degenerate, 0));
    // Half of what the middle one stands over the line between the others.
    assert!((flatness(&line) - 0.0025).abs() < 1e-12);
    assert_eq!(best_fit(&line), None);
    assert_eq!(
        seat(&tops(&SQUARE[..2]), at(1, 1)).state,
        SeatState::Degenerate
    );
    assert!(flatness(&tops(&SQUARE[..2])).abs() < 1e-12);
}

/// Five points with their least-squares plane in fractions (data from a published problem, the answer worked out in
/// fractions by hand): `z = 158/15 - 7/3 x + 56/15 y`, residuals 2/3, -6/5, 6/5, 4/15, -14/15.
#[test]
fn a_plane_fits_five_points_as_fractions_have_it() {
    let points = [(0, -3, 0), (4, 0, 0), (3, -1, 1), (1, -2, 1), (-1, -4, -3)];
    let metres = |it: i64| Length::from_mm(it * 1000);
    let all: Vec<DeckTop> = points
        .iter()
        .map(|(x, y, z)| DeckTop {
            x: metres(*x),
            y: metres(*y),
            z: metres(*z),
        })
        .collect();
    let fit = best_fit(&all).expect("a plane");
    for (found, expected) in [
        (fit.a, 158.0 / 15.0),
        (fit.b, -7.0 / 3.0),
        (fit.c, 56.0 / 15.0),
    ] {
        assert!((found - expected).abs() < 1e-12, "{found} {expected}");
    }
    let expected = [2.0 / 3.0, -6.0 / 5.0, 6.0 / 5.0, 4.0 / 15.0, -14.0 / 15.0];
    for (found, expected) in fit.residuals.iter().zip(expected) {
        assert!((found - expected).abs() < 1e-12, "{found} {expected}");
    }
}

#[test]
fn of_trims_with_the_least_total_the_greatest_is_least() {
    // Four level tops and a fifth in the middle 10 mm high, to 2 mm of one plane: it alone is trimmed, by 6 mm.
    let mut all = SQUARE.map(|(x, y, _)| (x, y, 0)).to_vec();
    all.push((2000, 2000, 1000));
    let found = trims(&tops(&all), Length::from_mm(2)).expect("few tops");
    let rounded: Vec<f64> = found.iter().map(|it| (it * 1e9).round() / 1e9).collect();
    assert_eq!(rounded, [0.0, 0.0, 0.0, 0.0, 0.006]);
    // Opposite corners both 8 mm high: 12 mm in all bring the square to 1 mm, shared by both alike.
    let all = tops(&[(0, 0, 800), (4000, 0, 0), (4000, 4000, 800), (0, 4000, 0)]);
    let found = trims(&all, Length::from_mm(1)).expect("few tops");
    let rounded: Vec<f64> = found.iter().map(|it| (it * 1e9).round() / 1e9).collect();
    assert_eq!(rounded, [0.006, 0.0, 0.006, 0.0]);
    assert_eq!(trims(&all, Length::from_mm(4)), Some(vec![0.0; 4]));
}
