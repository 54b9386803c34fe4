//! Levelling networks, adjusted, against published results to the printed digit.

use super::beside::Printed;
use kerfmark::levels::{Adjusted, LIMIT, Network, Sigma, SuspectReading, adjust, suspects};
use kerfmark::measure::{Elevation, Length};

fn metres(text: &str) -> Length {
    let (negative, text) = text
        .strip_prefix('-')
        .map_or((false, text), |it| (true, it));
    let (whole, places) = text.split_once('.').unwrap_or((text, ""));
    let nm: i64 = format!("{whole}{places:0<9}").parse().expect("a number");
    Length::from_nm(if negative { -nm } else { nm })
}

/// Points that are fixed, and lines of from, to, rise, sigma in metres.
fn network(fixed: &[(&str, &str)], lines: &[(&str, &str, &str, f64)]) -> Network {
    let mut network = Network::new(None);
    for (name, at) in fixed {
        network.fix(name, Elevation::above_datum(metres(at)));
    }
    for (from, to, rise, sigma) in lines {
        let sigma = Sigma::of_variance(Some(sigma * sigma));
        network.read((from, to), metres(rise), Length::ZERO, sigma);
    }
    network
}

fn adjusted(network: &Network) -> Adjusted {
    adjust(network).expect("a network that holds")
}

/// Elevations beside those that are printed.
fn points(table: &Printed, of: (&Network, &Adjusted), names: &[&str], printed: &[&str]) {
    for (name, printed) in names.iter().zip(printed) {
        let at = of.0.find(name).expect("a point");
        let elevation = of.1.points[at].elevation - Elevation::above_datum(Length::ZERO);
        table.number(
            &format!("elevation of {name}"),
            printed,
            elevation.real_metres(),
        );
    }
}

/// Standard deviations of points, in millimetres.
fn sigmas(of: (&Network, &Adjusted), names: &[&str]) -> Vec<f64> {
    let sigma = names
        .iter()
        .map(|it| of.1.points[of.0.find(it).expect("a point")].sigma());
    sigma.map(|it| it.expect("known") * 1000.0).collect()
}

/// Residuals in millimetres.
fn residuals(all: &Adjusted) -> impl Iterator<Item = f64> {
    all.readings.iter().map(|it| it.residual * 1000.0)
}

/// C. Ghilani, *Adjustment Computations*, the levelling network of seven lines (structure seen; observations and the
/// book's answers 105.150, 104.489, 106.197 from memory), weights 12 over miles.
#[test]
fn seven_lines_of_ghilani_weighted_and_unweighted() {
    let table = Printed::by("Ghilani, seven lines");
    let lines = [
        ("X", "A", "5.10", 4.0),
        ("A", "Y", "2.34", 3.0),
        ("Y", "C", "-1.25", 2.0),
        ("C", "X", "-6.13", 3.0),
        ("A", "B", "-0.68", 2.0),
        ("Y", "B", "-3.00", 2.0),
        ("B", "C", "1.70", 2.0),
    ];
    let fixed = [("X", "100.00"), ("Y", "107.50")];
    let weighted = lines.map(|(from, to, rise, miles)| (from, to, rise, (miles / 12.0_f64).sqrt()));
    let net = network(&fixed, &weighted);
    let all = adjusted(&net);
    points(
        &table,
        (&net, &all),
        &["A", "B", "C"],
        &["105.150", "104.489", "106.197"],
    );
    assert_eq!(all.degrees_of_freedom, 4);
    // The book prints 0.107 for the standard deviation of unit weight, and 0.05 without weights.
    let unit = (all.chi_square / 4.0).sqrt();
    table.number("standard deviation of unit weight", "0.107", unit);
    let plain = lines.map(|(from, to, rise, _)| (from, to, rise, 1.0));
    let net = network(&fixed, &plain);
    let all = adjusted(&net);
    let unit = (all.chi_square / 4.0).sqrt();
    table.number("the same, without weights", "0.05", unit);
    // A dense solution in numpy: 105.140952, 104.482857, 106.187619.
    points(
        &table,
        (&net, &all),
        &["A", "B", "C"],
        &["105.140952", "104.482857", "106.187619"],
    );
}

/// C. Ghilani, *Adjustment Computations*, example 12.1, weights 1/sigma² (inputs and A seen in lecture slides; the
/// book's B 448.1087, C 453.4685, D 444.9436 from memory; the rest a dense solution in numpy).
#[test]
fn six_lines_of_ghilani_with_standard_deviations() {
    let table = Printed::by("Ghilani 12.1");
    let lines = [
        ("A", "B", "10.509", 0.006),
        ("B", "C", "5.360", 0.004),
        ("C", "D", "-8.523", 0.005),
        ("D", "A", "-7.348", 0.003),
        ("B", "D", "-3.167", 0.004),
        ("A", "C", "15.881", 0.012),
    ];
    let net = network(&[("A", "437.596")], &lines);
    let all = adjusted(&net);
    points(
        &table,
        (&net, &all),
        &["B", "C", "D"],
        &["448.1087", "453.4685", "444.9436"],
    );
    points(
        &table,
        (&net, &all),
        &["B", "C", "D"],
        &["448.108712", "453.468468", "444.943605"],
    );
    let expected = ["3.712", "-0.244", "-1.862", "0.395", "1.894", "-8.532"];
    table.numbers("residual, mm", &expected, residuals(&all));
    table.number("chi-square", "1.272123", all.chi_square);
    let w = [
        "0.764447",
        "-0.106252",
        "-0.522013",
        "0.303650",
        "0.719739",
        "-0.755300",
    ];
    let readings = || all.readings.iter();
    table.numbers("w", &w, readings().map(|it| it.w().expect("checked")));
    let r = [
        "0.654869", "0.329448", "0.509175", "0.187705", "0.432621", "0.886182",
    ];
    let redundancy = readings().map(|it| it.redundancy.expect("known"));
    table.numbers("redundancy", &r, redundancy);
    let detectable = ["30.64", "28.80", "28.95", "28.61", "25.13", "52.67"];
    let found = readings().map(|it| it.detectable().expect("checked") * 1000.0);
    table.numbers("least mistake found, mm", &detectable, found);
    let names = ["B", "C", "D"];
    let expected = ["3.525", "4.048", "2.704"];
    table.numbers(
        "sigma of B, C, D, mm",
        &expected,
        sigmas((&net, &all), &names),
    );
    assert_eq!(suspects(&net, &all), Ok(Vec::new()));
}

/// The same network with 0.050 m too much in its first line: the blunder is named and its size told (dense solution in numpy).
#[test]
fn a_blunder_in_the_six_lines_is_named_first_and_its_size_told() {
    let table = Printed::by("Ghilani 12.1 with a blunder");
    let lines = [
        ("A", "B", "10.559", 0.006),
        ("B", "C", "5.360", 0.004),
        ("C", "D", "-8.523", 0.005),
        ("D", "A", "-7.348", 0.003),
        ("B", "D", "-3.167", 0.004),
        ("A", "C", "15.881", 0.012),
    ];
    let net = network(&[("A", "437.596")], &lines);
    let all = adjusted(&net);
    table.number("chi-square", "36.438804", all.chi_square);
    table.number(
        "w of line 1",
        "-5.979219",
        all.readings[0].w().expect("checked"),
    );
    // Two lie beyond the limit, and only the first is one.
    let beyond = all
        .readings
        .iter()
        .filter_map(kerfmark::levels::AdjustedReading::w);
    assert_eq!(beyond.filter(|w| w.abs() > LIMIT).count(), 2);
    let found = suspects(&net, &all).expect("a network");
    assert_eq!(found.len(), 1);
    assert_eq!(found[0].readings, [SuspectReading::Reading(0)]);
    let size = found[0].blunder.expect("a size");
    table.number("blunder in line 1, 0.050 m seeded", "0.04433", size);
    let without = found[0].chi_square_without.expect("known");
    table.number("chi-square without it", "0.687743", without);
}

/// The data-snooping example of `OSGeoLabBp`, tutorials, `data_processing/level_net.rst`: input and output as printed there.
/// Its standard deviations are 0.7 mm a kilometre, not a root of one.
#[test]
fn a_network_of_six_lines_with_printed_output() {
    let table = Printed::by("OSGeoLabBp");
    let lines = [
        ("1", "2", "-0.749", 1.1),
        ("1", "3", "-1.274", 1.8),
        ("1", "4", "-2.890", 1.4),
        ("2", "3", "-0.530", 1.5),
        ("2", "4", "-2.141", 1.9),
        ("3", "4", "-1.614", 0.9),
    ];
    let lines = lines.map(|(from, to, rise, length)| (from, to, rise, 0.0007 * length));
    let net = network(&[("4", "101.345")], &lines);
    let all = adjusted(&net);
    points(
        &table,
        (&net, &all),
        &["1", "2", "3"],
        &["104.2350", "103.4868", "102.9588"],
    );
    let expected = ["0.81", "-2.18", "0.00", "2.01", "-0.81", "0.18"];
    table.numbers("residual, mm", &expected, residuals(&all));
    table.number("chi-square", "8.217", all.chi_square);
    let scale = (all.chi_square / 3.0).sqrt();
    table.number("standard deviation of unit weight", "1.65", scale);
    let w = all
        .readings
        .iter()
        .map(|it| it.w().unwrap_or_default().abs());
    table.numbers(
        "test of a reading",
        &["1.9", "2.1", "0.0", "2.6", "0.7", "0.6"],
        w,
    );
    let r = all
        .readings
        .iter()
        .map(|it| it.redundancy.unwrap_or_default());
    table.numbers("redundancy", &["0.3", "0.7", "0.5", "0.5", "0.7", "0.2"], r);
    // With the printed scale of 1.65: 1.13, 1.19, 0.91 mm.
    // The second is 1.191, printed as 1.19; the first 1.134.
    let sigma = sigmas((&net, &all), &["1", "2", "3"]);
    let sigma = sigma.into_iter().map(|it| it * scale);
    table.numbers("sigma, mm", &["1.13", "1.19", "0.91"], sigma);
}

/// G. Strang and K. Borre, *Linear Algebra, Geodesy and GPS*: a network of five lines, its statistics as printed by the
/// program in rplstoday.com, "How would you adjust this leveling data": 4.636, redundancy 3, bounds of the factor 0.268 and 1.765.
#[test]
fn five_lines_of_strang_and_borre_with_printed_statistics() {
    let table = Printed::by("Strang and Borre");
    let lines = [
        ("A", "E", "0.732", 970.0),
        ("A", "F", "1.978", 1002.0),
        ("B", "E", "0.420", 1070.0),
        ("C", "F", "0.988", 1110.0),
        ("E", "F", "1.258", 890.0),
    ];
    let lines = lines.map(|(from, to, rise, metres): (_, _, _, f64)| {
        (from, to, rise, 0.006 * (metres / 1000.0).sqrt())
    });
    let fixed = [("A", "10.021"), ("B", "10.321"), ("C", "11.002")];
    let net = network(&fixed, &lines);
    let all = adjusted(&net);
    assert_eq!(all.degrees_of_freedom, 3);
    table.number("chi-square", "4.636", all.chi_square);
    let factor = |chi_square: f64| (chi_square / 3.0).sqrt();
    table.number("factor", "1.243", factor(all.chi_square));
    let bounds = all.bounds().expect("redundancy");
    table.number("lower bound of the factor", "0.268", factor(bounds.lower));
    table.number("upper bound of the factor", "1.765", factor(bounds.upper));
    points(
        &table,
        (&net, &all),
        &["E", "F"],
        &["10.744503", "11.997620"],
    );
}

/// A loop run twice, with the output of a program for geodesy as its page prints it (vrmapper.com, a levelling line
/// with one fixed mark): 998.77513, 997.93325, 999.27487, m0 5.42 mm, [pvv] 146.625.
#[test]
fn a_loop_run_twice_with_printed_output() {
    let table = Printed::by("loop, vrmapper.com");
    let lines = [
        ("1a", "4", "-1.225", 0.005),
        ("4", "3", "-0.848", 0.005),
        ("3", "2", "1.342", 0.005),
        ("2", "1a", "0.720", 0.005),
        ("1a", "2", "-0.724", 0.005),
        ("2", "3", "-1.335", 0.005),
        ("3", "4", "0.842", 0.005),
        ("4", "1a", "1.231", 0.005),
    ];
    let net = network(&[("1a", "1000.000")], &lines);
    let all = adjusted(&net);
    // The first is 998.775125 and the last 999.274875: printed half up and half to even.
    points(
        &table,
        (&net, &all),
        &["4", "3", "2"],
        &["998.775125", "997.933250", "999.274875"],
    );
    let pvv = all.chi_square * 25.0;
    table.number("[pvv]", "146.625", pvv);
    table.number("m0, mm", "5.42", (pvv / 5.0).sqrt());
    let sigma = sigmas((&net, &all), &["4", "3", "2"]);
    table.numbers("sigma, mm", &["3.1", "3.5", "3.1"], sigma);
    let (at, largest) = all
        .readings
        .iter()
        .map(|it| it.w().unwrap_or_default().abs())
        .enumerate()
        .max_by(|one, other| one.1.total_cmp(&other.1))
        .expect("a reading");
    assert_eq!(at + 1, 6);
    table.number("largest test, of line 6", "1.68", largest);
}

/// E. Mikhail and F. Ackermann, *Observations and Least Squares* (1976), table 7-1 and example 7.4 (data seen in a public
/// copy; the solution a dense one in numpy), weights 1 over tenths of kilometres.
#[test]
fn eight_lines_of_mikhail_and_ackermann() {
    let table = Printed::by("Mikhail and Ackermann");
    let lines = [
        ("A", "B", "25.42", 18.1),
        ("B", "C", "10.34", 9.4),
        ("C", "A", "-35.20", 14.2),
        ("B", "D", "-15.54", 17.6),
        ("D", "E", "21.32", 13.5),
        ("E", "C", "4.82", 9.9),
        ("E", "A", "-31.02", 13.8),
        ("C", "D", "-26.11", 14.0),
    ];
    let lines =
        lines.map(|(from, to, rise, km): (_, _, _, f64)| (from, to, rise, (0.1 * km).sqrt()));
    let net = network(&[("A", "800")], &lines);
    let all = adjusted(&net);
    points(
        &table,
        (&net, &all),
        &["B", "C", "D", "E"],
        &["825.220624", "835.535430", "809.533928", "830.846029"],
    );
    table.number("chi-square", "0.161714", all.chi_square);
}
