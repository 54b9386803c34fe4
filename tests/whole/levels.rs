//! Networks of readings against an independent dense solution, and what must hold of every network. All are invented.

use kerfmark::levels::{Adjusted, Network, NetworkError, Sigma, SuspectReading, adjust, suspects};
use kerfmark::measure::{Elevation, Length};
use nalgebra::{DMatrix, DVector};
use proptest::prelude::*;

use crate::common::laws::laws;

/// A reading: two points, the rise and the tape's length in tenths of a millimetre, sigma in tenths of a millimetre.
type Line = (usize, usize, i64, i64, u32);

fn tenths(value: i64) -> Length {
    Length::from_nm(value * 100_000)
}

fn name(point: usize) -> String {
    format!("P{point}")
}

/// Point 0 is fixed.
fn network(lines: &[Line], tape_ppm: Option<f64>) -> Network {
    let mut network = Network::new(tape_ppm.map(|it| it * 1e-6));
    network.fix(&name(0), Elevation::above_datum(Length::from_mm(12_345)));
    for (from, to, rise, tape, sigma) in lines {
        let sigma = f64::from(*sigma) * 1e-4;
        let sigma = Sigma::of_variance(Some(sigma * sigma));
        network.read(
            (&name(*from), &name(*to)),
            tenths(*rise),
            tenths(*tape),
            sigma,
        );
    }
    network
}

/// A dense solution by observation equations: elevations, their variances, residuals and redundancies of readings, and the scale.
struct Dense {
    elevations: Vec<f64>,
    variances: Vec<f64>,
    residuals: Vec<f64>,
    redundancies: Vec<f64>,
    scale: Option<(f64, f64)>,
}

fn dense(points: usize, lines: &[Line], tape_ppm: Option<f64>) -> Dense {
    let uses_tape = tape_ppm.filter(|_| lines.iter().any(|it| it.3 != 0));
    let unknowns = points - 1 + usize::from(uses_tape.is_some());
    let rows = lines.len() + usize::from(uses_tape.is_some());
    let mut design = DMatrix::zeros(rows, unknowns);
    let mut right = DVector::zeros(rows);
    let mut weights = DVector::zeros(rows);
    // The scale is counted in millionths, so that all unknowns are of one size.
    for (row, (from, to, rise, tape, sigma)) in lines.iter().enumerate() {
        if *to > 0 {
            design[(row, to - 1)] += 1.0;
        }
        if *from > 0 {
            design[(row, from - 1)] -= 1.0;
        }
        if uses_tape.is_some() {
            design[(row, points - 1)] = -tenths(*tape).real_metres() * 1e-6;
        }
        right[row] = tenths(*rise).real_metres();
        let sigma = f64::from(*sigma) * 1e-4;
        weights[row] = 1.0 / (sigma * sigma);
    }
    if let Some(ppm) = uses_tape {
        design[(rows - 1, points - 1)] = 1.0;
        weights[rows - 1] = 1.0 / (ppm * ppm);
    }
    let weighted = DMatrix::from_fn(rows, unknowns, |row, column| {
        design[(row, column)] * weights[row].sqrt()
    });
    let observed = DVector::from_fn(rows, |row, _| right[row] * weights[row].sqrt());
    let decomposed = weighted.clone().svd(true, true);
    let solution = decomposed.solve(&observed, 0.0).expect("a solution");
    let inverse = (weighted.transpose() * &weighted)
        .try_inverse()
        .expect("tied");
    let residuals = &design * &solution - &right;
    let adjusted = &design * &inverse * design.transpose();
    Dense {
        elevations: std::iter::once(0.0)
            .chain((0..points - 1).map(|at| solution[at]))
            .collect(),
        variances: std::iter::once(0.0)
            .chain((0..points - 1).map(|at| inverse[(at, at)]))
            .collect(),
        residuals: (0..lines.len()).map(|row| residuals[row]).collect(),
        redundancies: (0..lines.len())
            .map(|row| 1.0 - adjusted[(row, row)] * weights[row])
            .collect(),
        scale: uses_tape.map(|_| {
            let variance = inverse[(points - 1, points - 1)];
            (solution[points - 1] * 1e-6, variance * 1e-12)
        }),
    }
}

/// A tree that ties every point, and more lines between any two.
fn lines(points: usize) -> impl Strategy<Value = Vec<Line>> {
    let line = || {
        (
            -200_000..200_000_i64,
            prop_oneof![Just(0_i64), -150_000..150_000_i64],
            1..60_u32,
        )
    };
    let tree: Vec<_> = (1..points)
        .map(|to| {
            (0..to, line())
                .prop_map(move |(from, (rise, tape, sigma))| (from, to, rise, tape, sigma))
        })
        .collect();
    let more = prop::collection::vec(
        (0..points, 1..points, line()).prop_map(move |(from, on, (rise, tape, sigma))| {
            (from, (from + on) % points, rise, tape, sigma)
        }),
        0..2 * points,
    );
    (tree, more).prop_map(|(tree, more)| tree.into_iter().chain(more).collect())
}

fn above(all: &Adjusted, network: &Network, point: usize) -> f64 {
    let at = network.find(&name(point)).expect("a point");
    let fixed = Elevation::above_datum(Length::from_mm(12_345));
    (all.points[at].elevation - fixed).real_metres()
}

proptest! {
    #![proptest_config(laws())]

    /// The same as a dense solution, whatever the readings say.
    #[test]
    fn a_network_is_adjusted_as_a_dense_solution_has_it(
        (points, lines) in (2..14_usize).prop_flat_map(|points| (Just(points), lines(points))),
        tape in prop::option::of(1..200_u32),
    ) {
        let tape = tape.map(f64::from);
        // Without a stated scale, readings by tape take no part: all are made without.
        let lines: Vec<Line> = lines
            .into_iter()
            .map(|it| if tape.is_some() { it } else { (it.0, it.1, it.2, 0, it.4) })
            .collect();
        let net = network(&lines, tape);
        let all = adjust(&net).expect("a network that is tied");
        let expected = dense(points, &lines, tape);
        for point in 0..points {
            let at = net.find(&name(point)).expect("a point");
            let apart = (above(&all, &net, point) - expected.elevations[point]).abs();
            // The printed elevation is rounded to the nanometre.
            prop_assert!(apart < 1.5e-9 * (1.0 + expected.elevations[point].abs() / 10.0), "P{point}: {apart}");
            let variance = all.points[at].variance.expect("known");
            prop_assert!((variance.sqrt() - expected.variances[point].sqrt()).abs() < 1e-9);
        }
        for (found, (residual, redundancy)) in all
            .readings
            .iter()
            .zip(expected.residuals.iter().zip(&expected.redundancies))
        {
            prop_assert!((found.residual - residual).abs() < 3e-9);
            prop_assert!((found.redundancy.expect("known") - redundancy).abs() < 1e-8);
        }
        match (&all.tape, expected.scale) {
            (Some(found), Some((scale, variance))) => {
                prop_assert!((found.scale - scale).abs() < 1e-11);
                prop_assert!((found.variance.sqrt() - variance.sqrt()).abs() < 1e-11);
            }
            (found, expected) => prop_assert_eq!(found.is_some(), expected.is_some()),
        }
        // Redundancies add up to the degrees of freedom.
        let shares = all.readings.iter().filter_map(|it| it.redundancy);
        let tape = all.tape.iter().filter_map(|it| it.reading.redundancy);
        let sum: f64 = shares.chain(tape).sum();
        let freedom = u32::try_from(all.degrees_of_freedom).expect("few");
        prop_assert!((sum - f64::from(freedom)).abs() < 1e-6);
    }

    /// The order in which readings are listed changes nothing.
    #[test]
    fn the_order_of_readings_changes_no_elevation(
        lines in lines(9).prop_shuffle(),
        turned in any::<prop::sample::Index>(),
    ) {
        let mut other = lines.clone();
        other.rotate_left(turned.index(lines.len()));
        other.reverse();
        let (one, two) = (network(&lines, Some(50.0)), network(&other, Some(50.0)));
        let (first, second) = (adjust(&one).expect("tied"), adjust(&two).expect("tied"));
        for point in 0..9 {
            let apart = (above(&first, &one, point) - above(&second, &two, point)).abs();
            prop_assert!(apart < 2e-9, "P{point}: {apart}");
        }
    }

    /// Without redundancy it is the chain, to the nanometre, and nothing is checked.
    #[test]
    fn a_network_without_redundancy_is_the_exact_chain(
        steps in prop::collection::vec((0..1000_usize, any::<i32>(), -150_000..150_000_i64, 1..60_u32), 1..40),
    ) {
        let mut network = Network::new(Some(50e-6));
        let mut exact = vec![Length::from_mm(12_345)];
        network.fix(&name(0), Elevation::above_datum(exact[0]));
        for (step, (from, rise, tape, sigma)) in steps.iter().enumerate() {
            let (from, to) = (from % exact.len(), step + 1);
            // Odd nanometres, either way round.
            let rise = Length::from_nm(i64::from(*rise) * 7 + 1);
            let sigma = Sigma::of_variance(Some((f64::from(*sigma) * 1e-4).powi(2)));
            exact.push(exact[from] + rise);
            if sigma == Sigma::Exact || step % 2 == 0 {
                network.read((&name(from), &name(to)), rise, tenths(*tape), sigma);
            } else {
                network.read((&name(to), &name(from)), Length::ZERO - rise, tenths(-*tape), sigma);
            }
        }
        let all = adjust(&network).expect("tied");
        for (point, expected) in exact.iter().enumerate() {
            let at = network.find(&name(point)).expect("a point");
            prop_assert_eq!(all.points[at].elevation, Elevation::above_datum(*expected));
        }
        prop_assert!(all.readings.iter().all(|it| it.redundancy == Some(0.0) && it.w().is_none()));
        prop_assert_eq!(all.degrees_of_freedom, 0);
        prop_assert_eq!(all.bounds(), None);
    }
}

fn read(network: &mut Network, from: &str, to: &str, mm: i64, sigma: Sigma) {
    network.read((from, to), Length::from_mm(mm), Length::ZERO, sigma);
}

fn elevation(network: &Network, all: &Adjusted, name: &str) -> Length {
    let at = network.find(name).expect("a point");
    all.points[at].elevation - Elevation::above_datum(Length::ZERO)
}

const ONE: Sigma = Sigma::Of(1e-6);

#[test]
fn readings_that_are_exact_move_their_points_as_one_and_may_not_contradict() {
    let mut network = Network::new(None);
    network.fix("datum", Elevation::above_datum(Length::ZERO));
    read(&mut network, "datum", "A", 1000, ONE);
    read(&mut network, "A", "B", 500, Sigma::Exact);
    read(&mut network, "datum", "B", 1503, ONE);
    let all = adjust(&network).expect("tied");
    // Each way weighs as much: half of the 3 mm.
    assert_eq!(
        elevation(&network, &all, "A"),
        Length::from_nm(1_001_500_000)
    );
    assert_eq!(
        elevation(&network, &all, "B"),
        Length::from_nm(1_501_500_000)
    );
    assert_eq!(
        (all.readings[1].redundancy, all.readings[1].w()),
        (Some(0.0), None)
    );
    assert_eq!(all.degrees_of_freedom, 1);
    read(&mut network, "B", "A", -501, Sigma::Exact);
    let error = adjust(&network).expect_err("two exact ways");
    assert_eq!(
        error.to_string(),
        "two exact ways from B to A differ: -0.5 m and -0.501 m; one of them cannot be exact"
    );
}

#[test]
fn what_is_not_stated_takes_no_part_and_ties_a_point_where_nothing_else_does() {
    let mut network = Network::new(None);
    network.fix("datum", Elevation::above_datum(Length::ZERO));
    read(&mut network, "datum", "A", 1000, ONE);
    read(&mut network, "datum", "A", 1900, Sigma::NotStated);
    read(&mut network, "A", "B", 10, Sigma::NotStated);
    read(&mut network, "A", "B", 20, Sigma::NotStated);
    read(&mut network, "C", "B", 5, ONE);
    let all = adjust(&network).expect("tied");
    assert_eq!(elevation(&network, &all, "A"), Length::from_mm(1000));
    assert_eq!(elevation(&network, &all, "B"), Length::from_mm(1010));
    assert_eq!(elevation(&network, &all, "C"), Length::from_mm(1005));
    let sigma = |name: &str| all.points[network.find(name).expect("a point")].sigma();
    assert_eq!((sigma("B"), sigma("C")), (None, None));
    assert_eq!(all.readings[1].sigma, None);
    assert!((all.readings[1].residual + 0.9).abs() < 1e-12);
    read(&mut network, "X", "Y", 5, ONE);
    let untied = NetworkError::Untied(vec!["X".to_owned(), "Y".to_owned()]);
    assert_eq!(adjust(&network), Err(untied));
    assert_eq!(adjust(&Network::new(None)), Err(NetworkError::NothingFixed));
}

#[test]
fn two_readings_that_disagree_and_that_nothing_tells_apart_are_suspected_together() {
    let mut network = Network::new(None);
    network.fix("datum", Elevation::above_datum(Length::ZERO));
    read(&mut network, "datum", "A", 1000, ONE);
    read(&mut network, "datum", "A", 1100, ONE);
    let all = adjust(&network).expect("tied");
    let found = suspects(&network, &all).expect("a network");
    assert_eq!(found.len(), 1);
    let both = [0, 1].map(SuspectReading::Reading);
    assert_eq!(
        (found[0].readings.as_slice(), found[0].blunder),
        (both.as_slice(), None)
    );
    // A third one tells.
    read(&mut network, "datum", "A", 1001, ONE);
    let all = adjust(&network).expect("tied");
    let found = suspects(&network, &all).expect("a network");
    assert_eq!(found.len(), 1);
    assert_eq!(found[0].readings, [SuspectReading::Reading(1)]);
    assert!((found[0].blunder.expect("a size") - 0.0995).abs() < 1e-9);
}
