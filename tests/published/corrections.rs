//! Corrections of measured lengths, against worked examples of taping and against formulas of drilling handbooks.

use super::beside::Printed;
use kerfmark::levels::{GRAVITY, HungString, pulled, sagged, standardised, warmed};

/// A foot in metres, a pound of force in newtons, an inch in metres (NIST SP 811).
const FOOT: f64 = 0.3048;
const POUND: f64 = 4.448_221_615_260_5;
const INCH: f64 = 0.0254;
/// Pounds a square inch, in pascals.
const PSI: f64 = POUND / (INCH * INCH);

/// Slides \"Taping Corrections\" (slideplayer.com/amp/13085605): all inputs and outputs printed there. Its figure of a normal
/// tension of 31 lb is wrong for its own inputs and is no check.
#[test]
fn tapes_of_a_lecture_come_out_as_printed() {
    let table = Printed::by("Taping Corrections, slides");
    let feet = |it: f64| it / FOOT;
    let length = 500.0 * FOOT;
    let corrected = length + standardised(length, 100.0, 100.02);
    table.number(
        "500.00 ft by a tape of 100.02 ft",
        "500.10",
        feet(corrected),
    );
    let by = warmed(368.50 * FOOT, (22.0 - 68.0) / 1.8, 6.5e-6 * 1.8);
    table.number("368.50 ft at 22 F: correction, ft", "-0.11", feet(by));
    table.number("368.50 ft at 22 F, ft", "368.39", 368.50 + feet(by));
    // A tape of 2.8 lb in 100 ft, in spans of this length.
    let weight = 0.028 * POUND / FOOT;
    let sag = |spans: &[(f64, f64)], pounds: f64| {
        let all = spans
            .iter()
            .map(|(length, span)| sagged(length * FOOT, span * FOOT, weight, pounds * POUND));
        feet(all.sum::<f64>())
    };
    let spans = [(300.0, 100.0), (48.75, 48.75)];
    table.number("sag at 12 lb, ft", "-0.71", sag(&spans, 12.0));
    table.number("sag at 18 lb, ft", "-0.31", sag(&spans, 18.0));
    let spans = [(300.0, 50.0), (48.75, 48.75)];
    table.number(
        "sag at 12 lb, spans of 50 ft, ft",
        "-0.20",
        sag(&spans, 12.0),
    );
    let by = pulled(100.0 * FOOT, 6.0 * POUND, 0.015 * INCH * INCH, 29e6 * PSI);
    table.number("pull of 6 lb more, ft", "0.0014", feet(by));
}

/// GEE 141, notes of module 2, and NPTEL 105107122, example 9-2: printed results.
#[test]
fn tapes_that_are_short_come_out_as_printed() {
    let table = Printed::by("GEE 141");
    let by = standardised(171.278, 30.0, 29.996);
    table.number(
        "171.278 m by a tape of 29.996 m: correction, m",
        "-0.023",
        by,
    );
    table.number("the same, m", "171.255", 171.278 + by);
    let table = Printed::by("NPTEL 9-2");
    let truly = 236.4 + standardised(236.4, 20.0, 19.94);
    let tape = 30.0 * truly / 240.5;
    table.number("the 30 m tape is too short by, m", "0.60", 30.0 - tape);
}

/// J. Mahun, open-access Surveying, taping, example (M1): inputs seen; its answers are pictures, so that the values beside are a
/// calculation of their own from those inputs.
#[test]
fn a_distance_with_four_corrections_comes_out() {
    let table = Printed::by("Mahun, four corrections (recalculated)");
    let length = 436.48;
    let by_length = standardised(length, 100.0, 100.004);
    table.number("length, ft", "0.01746", by_length);
    let warmth = warmed(length, 50.0 - 70.0, 6.5e-6);
    table.number("temperature, ft", "-0.05674", warmth);
    let pull = pulled(length, 15.0 - 23.0, 0.004, 2.9e7);
    table.number("pull, ft", "-0.03010", pull);
    let weight = 2.2 / 102.0;
    let sag = sagged(200.0, 100.0, weight, 15.0) + sagged(36.48, 36.48, weight, 15.0);
    table.number("sag, ft", "-0.17648", sag);
    let corrected = length + by_length + warmth + pull + sag;
    table.number("corrected, ft", "436.2341", corrected);
}

/// IODP Proceedings, volume 336, table T5: stretch of 100 m of pipe by 1000 lb; E 30e6 psi.
#[test]
fn pipe_under_a_load_at_its_end_stretches_as_printed() {
    let table = Printed::by("IODP 336, table T5");
    for (area, printed) in [
        (3.009, "0.0011"),
        (4.962, "0.0007"),
        (5.449, "0.0006"),
        (7.854, "0.0004"),
    ] {
        let by = pulled(100.0, 1000.0 * POUND, area * INCH * INCH, 30e6 * PSI);
        table.number(&format!("{area} in2, m"), printed, by);
    }
}

/// *Casing/Tubing Design Manual* (October 2005), table 9-4: a string of 10,000 ft in air. Its own E and density were not seen: these are
/// 30e6 psi and 7850 kg/m3.
#[test]
fn a_string_hung_in_air_stretches_as_printed() {
    let table = Printed::by("Casing/Tubing Design Manual, table 9-4");
    let string = HungString {
        length: 10_000.0 * FOOT,
        steel: 7850.0,
        fluid: 0.0,
        young: 206.8427e9,
    };
    let by = string.stretched(0.0, string.length);
    table.number("self-weight stretch, m", "1.73", by);
    table.number("self-weight stretch, ft", "5.67", by / FOOT);
}

/// API RP 7G, free stretch of a string in mud (from memory): `e = L^2 / 9.625e7 (65.44 - 1.44 W)` inches, L in feet and W in pounds a
/// gallon. The formula here is derived, with its own constants: both agree within 0.15 %.
#[test]
fn a_string_hung_in_mud_stretches_as_the_handbook_formula_says() {
    let table = Printed::by("API RP 7G (from memory)");
    let gallon = 119.826_427;
    let length = 10_000.0 * FOOT;
    for (mud, printed) in [(0.0, 67.99), (8.55, 55.20), (10.0, 53.03), (12.0, 50.04)] {
        let handbook = 10_000.0_f64.powi(2) / 9.625e7 * (65.44 - 1.44 * mud);
        table.number(
            &format!("formula at {mud} ppg, in"),
            &format!("{printed:.2}"),
            handbook,
        );
        let string = HungString {
            length,
            steel: 65.5 * gallon,
            fluid: mud * gallon,
            young: 206.8427e9,
        };
        let by = string.stretched(0.0, length) / INCH;
        assert!((by / printed - 1.0).abs() < 0.0015, "{by} and {printed}");
    }
}

/// The parts of a string stretch by what the whole does, and the upper half in air by three times what the lower does.
#[test]
fn the_stretch_of_a_string_is_the_sum_of_its_parts() {
    let string = HungString {
        length: 122.6,
        steel: 7850.0,
        fluid: 1025.0,
        young: 207e9,
    };
    let whole = string.stretched(0.0, 122.6);
    let closed = GRAVITY * 122.6 * 122.6 * (7850.0 - 1.44 * 1025.0) / (2.0 * 207e9);
    assert!((whole - closed).abs() < 1e-12, "{whole} and {closed}");
    let parts = [(0.0, 12.3), (12.3, 60.0), (60.0, 122.6)];
    let sum: f64 = parts
        .iter()
        .map(|(from, to)| string.stretched(*from, *to))
        .sum();
    assert!((whole - sum).abs() < 1e-12);
    let air = HungString {
        fluid: 0.0,
        ..string
    };
    let (upper, lower) = (air.stretched(0.0, 61.3), air.stretched(61.3, 122.6));
    assert!((upper - 3.0 * lower).abs() < 1e-12);
}

/// Drilling handbooks: thermal rule of 0.83 in in 100 ft for 100 F (drillingformulas.com).
#[test]
fn a_string_that_warms_grows_as_printed() {
    let table = Printed::by("drillingformulas.com, temperature");
    let alpha = 0.83 * INCH / (100.0 * FOOT) / 100.0;
    let by = warmed(10_000.0 * FOOT, 147.5, alpha) / INCH;
    table.number("10,000 ft, 147.5 F warmer, in", "122.4", by);
}
