//! Masses and areas of pipe against printed tables. The source stands beside each number; `from
//! memory` is said of those that were recalled and not seen in a source.

use approx::assert_abs_diff_eq;
use kerfmark::figures::steel::{plain_end_mass_per_metre, steel_area};
use kerfmark::measure::{Length, ParseOptions, read_length};

/// 1 lb/ft = 0.45359237 kg / 0.3048 m, exactly (NIST SP 811, Appendix B, from memory).
const POUND_PER_FOOT: f64 = 0.453_592_37 / 0.3048;

/// Square metres in a square inch (25.4 mm squared).
const SQUARE_INCH: f64 = 0.0254 * 0.0254;

const STEEL: f64 = 7850.0;

fn length(text: &str) -> Length {
    read_length(text, &ParseOptions::default())
        .expect(text)
        .length
}

/// Pounds a foot of a pipe whose diameter and wall are given in inches.
fn pounds_per_foot(od: &str, wall: &str) -> f64 {
    let (od, wall) = (length(&format!("{od} in")), length(&format!("{wall} in")));
    plain_end_mass_per_metre(od, wall, STEEL) / POUND_PER_FOOT
}

#[test]
fn the_factor_of_the_plain_end_formula_is_steel_at_7850() {
    // API 5L / ISO 3183 and ASME B36.10M: 0.0246615 (D - t) t kg/m, the factor from memory.
    let one = plain_end_mass_per_metre(length("2 mm"), length("1 mm"), STEEL);
    assert_abs_diff_eq!(one, 0.024_661_5, epsilon = 5e-8);
}

#[test]
fn masses_follow_a_statutes_table_but_for_its_older_constant() {
    // Illinois Administrative Code, title 35, part 604, subpart O, Table A, plain ends (calculated).
    // The table was made with 10.68 (D - t) t lb/ft; 7850 kg/m3 makes that factor 10.69144, and the
    // program follows the density.
    for (od, wall, printed) in [
        ("20", "0.375", 78.60),
        ("22", "0.500", 114.81),
        ("24", "0.500", 125.49),
        ("26", "0.500", 136.17),
        ("28", "0.500", 146.85),
        ("30", "0.500", 157.53),
        ("32", "0.500", 168.21),
        ("34", "0.500", 178.89),
        ("36", "0.500", 189.57),
        // US Army Corps EI 02C097 (1 July 1997), Table B-1, in UFC 3-220-01A, row PP12-3/4.
        ("12.75", "0.375", 49.56),
        ("12.75", "0.500", 65.42),
    ] {
        let with_the_older_constant = pounds_per_foot(od, wall) * 10.68 / 10.691_436;
        assert_abs_diff_eq!(with_the_older_constant, printed, epsilon = 0.005_1);
    }
}

#[test]
fn areas_follow_the_same_table_of_piles() {
    // US Army Corps EI 02C097, Table B-1, row PP12-3/4: 14.6 and 19.2 square inches.
    for (wall, printed) in [("0.375 in", 14.6), ("0.5 in", 19.2)] {
        let area = steel_area(length("12.75 in"), length(wall)) / SQUARE_INCH;
        assert_abs_diff_eq!(area, printed, epsilon = 0.05);
    }
}

#[test]
fn masses_of_conductor_sizes_follow_the_formula_in_inches() {
    // 10.69 (D - t) t lb/ft, computed apart from this program with numpy.
    for (od, wall, by_formula) in [
        ("20", "0.5", 104.23),
        ("20", "1", 203.11),
        ("24", "1", 245.87),
        ("26", "1.25", 330.72),
        ("30", "1", 310.01),
        ("30", "1.5", 457.00),
        ("30", "2", 598.64),
        ("36", "1.5", 553.21),
        ("36", "2", 726.92),
    ] {
        // 10.69 is 10.69144 rounded: they part by 0.0135 %.
        assert_abs_diff_eq!(
            pounds_per_foot(od, wall),
            by_formula,
            epsilon = by_formula * 1.4e-4 + 0.005
        );
    }
}

#[test]
fn masses_of_tabulated_sizes_follow_asme_b36_10m() {
    // kg/m as tabulated, from memory; the metric diameters of NPS 24, 26 and 36 are rounded ones.
    for (od, wall, tabulated) in [
        ("508 mm", "9.53 mm", 117.15),
        ("508 mm", "20.62 mm", 247.84),
        ("508 mm", "26.19 mm", 311.19),
        ("508 mm", "38.10 mm", 441.52),
        ("610 mm", "9.53 mm", 141.12),
        ("610 mm", "12.70 mm", 187.07),
        ("610 mm", "30.96 mm", 442.11),
        ("660 mm", "12.70 mm", 202.74),
        ("762 mm", "9.53 mm", 176.85),
        ("762 mm", "12.70 mm", 234.68),
        ("762 mm", "15.88 mm", 292.20),
        ("914 mm", "12.70 mm", 282.29),
        ("914 mm", "19.05 mm", 420.45),
    ] {
        let mass = plain_end_mass_per_metre(length(od), length(wall), STEEL);
        assert_abs_diff_eq!(mass, tabulated, epsilon = 0.005_1);
    }
    // In inches 36 x 0.5 is another pipe than 914 x 12.70 mm.
    let mass = plain_end_mass_per_metre(length("36 in"), length("0.5 in"), STEEL);
    assert_abs_diff_eq!(mass, 282.41, epsilon = 0.005_1);
}

#[test]
fn every_size_of_asme_b36_10m_follows_the_formula() {
    // Diameters and walls from the Python package fluids; tests/fixtures/pipe_sizes.py writes them.
    let table = include_str!("../fixtures/pipe-sizes.csv");
    let mut rows = 0;
    for row in table.lines().skip(1) {
        let cells: Vec<&str> = row.split(',').collect();
        let [_, _, od_text, wall_text] = cells.as_slice() else {
            unreachable!("a row of four cells: {row}")
        };
        let (od, wall): (f64, f64) = (od_text.parse().expect(row), wall_text.parse().expect(row));
        let mass = plain_end_mass_per_metre(
            length(&format!("{od_text} mm")),
            length(&format!("{wall_text} mm")),
            STEEL,
        );
        let by_formula = 0.024_661_5 * (od - wall) * wall;
        assert_abs_diff_eq!(mass, by_formula, epsilon = by_formula * 1e-6);
        rows += 1;
    }
    assert!(rows > 150, "{rows} sizes");
}
