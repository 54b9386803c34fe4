//! How uncertainties add and what they prove, against the examples of GUM (JCGM 100), NIST TN 1900 and JCGM 106.

use super::beside::Printed;
use kerfmark::figures::{Variance, probability_within};

/// JCGM 100:2008, H.1, the end gauge: the components in nanometres as the example rounds them; u(d) 9.7 seen in tests of another
/// program, 32 nm as published.
#[test]
fn the_components_of_an_end_gauge_add_in_quadrature() {
    let table = Printed::by("JCGM 100, H.1");
    let all = |parts: &[f64]| {
        let parts = parts.iter().map(|it| Variance::of_real(*it));
        parts.fold(Variance::ZERO, Variance::and).standard_nm()
    };
    table.number("u(d), nm", "9.7", all(&[5.8, 3.9, 6.7]));
    table.number("u_c(l), nm", "32", all(&[25.0, 9.7, 2.9, 16.6]));
    // u(l) times 2.92, the factor for 99 % with 16 degrees of freedom.
    table.number("U99, nm", "93", 2.92 * 32.0);
}

/// NIST TN 1900, example E13, thermal expansion: u(alpha) 1.8e-6 from its four inputs, by their sensitivities.
#[test]
fn the_terms_of_a_thermal_expansion_add_with_their_sensitivities() {
    let table = Printed::by("NIST TN 1900, E13");
    let (cold, warm) = (1.4999, 1.5021);
    let degrees = 373.10 - 288.15;
    let alpha = (warm - cold) / (cold * degrees);
    table.number("alpha, 1e-5", "1.73", alpha * 1e5);
    let sensitivities = [
        warm / (cold * cold * degrees) * 0.0001,
        1.0 / (cold * degrees) * 0.0002,
        alpha / degrees * 0.02,
        alpha / degrees * 0.05,
    ];
    let parts = sensitivities.map(|it| Variance::of_real(it * 1e9));
    let u = parts.into_iter().fold(Variance::ZERO, Variance::and);
    table.number("u(alpha), 1e-6", "1.8", u.standard_nm() / 1e3);
}

/// JCGM 106:2012, examples of one measured item (from memory): probability of conformity.
#[test]
fn the_probability_of_conformity_comes_out_as_printed() {
    let table = Printed::by("JCGM 106 (from memory)");
    // One limit is a tolerance that is far wider on its other side.
    let one_sided = |inside: f64, u: f64| {
        let far = 1e3 * u;
        probability_within(far - inside, far, u)
    };
    table.number("Zener diode, upper limit", "0.92", one_sided(0.07, 0.05));
    table.number("container, lower limit", "0.99", one_sided(19.7, 8.6));
    let middle = f64::midpoint(12.5, 16.3);
    let oil = probability_within(13.6 - middle, (16.3 - 12.5) / 2.0, 1.8);
    table.number("motor oil, two limits", "0.66", oil);
    for (z, printed) in [
        (0.841_621, "0.80"),
        (1.281_552, "0.90"),
        (1.644_854, "0.95"),
        (2.326_348, "0.99"),
        (3.090_232, "0.999"),
    ] {
        table.number(&format!("z {z:.2}"), printed, one_sided(z, 1.0));
    }
}

/// A test of another program for risks prints 0.01242 outside 9 to 11 of a normal distribution about 10 with 0.4.
#[test]
fn what_lies_outside_two_limits_comes_out_as_printed() {
    let table = Printed::by("suncal, tests of risk");
    let inside = probability_within(0.0, 1.0, 0.4);
    table.number("outside, in all", "0.01242", 1.0 - inside);
}
