//! Values, messages and laws of the exact quantities.

use std::fmt::Write as _;

use proptest::prelude::*;

use crate::laws::laws;

use super::*;

fn rules(bare: Unit) -> ParseOptions {
    ParseOptions {
        bare: Some(bare),
        ..ParseOptions::default()
    }
}

fn nm(text: &str, bare: Unit) -> i64 {
    match read_length(text, &rules(bare)) {
        Ok(reading) => reading.length.nm(),
        Err(error) => panic!("{text}: {error}"),
    }
}

#[test]
fn every_written_form_reads_exactly() {
    // 12.192 m = 40 ft exactly (NIST SP 811: 1 ft = 0.3048 m).
    for text in [
        "12.192 m",
        "12192 mm",
        "40.00 ft",
        "40'",
        "40' 0\"",
        "1219.2 cm",
        "12 192 mm",
        "40 ft",
        "480 in",
    ] {
        assert_eq!(nm(text, Unit::Metre), 12_192_000_000, "{text}");
    }
    assert_eq!(nm("12.192", Unit::Metre), 12_192_000_000);
    assert_eq!(nm("12,192", Unit::Millimetre), 12_192_000_000);
    // 39 ft 4 1/2 in = 472.5 in = 12.0015 m.
    for text in [
        "39'-4 1/2\"",
        "39 ft 4.5 in",
        "39-4½",
        "39'-4½\"",
        "39' 4 1/2",
        "39′ 4½″",
        "39 ft. 4 1/2 in.",
        "39’ 4 1/2”",
        "39'4.5\"",
        "39-4 1/2",
        "39–4½",
    ] {
        assert_eq!(nm(text, Unit::FootInch), 12_001_500_000, "{text}");
    }
    assert_eq!(
        nm("38'-7¼\"", Unit::FootInch),
        nm("38′ 7 1/4″", Unit::FootInch)
    );
    assert_eq!(nm("38' 7 1/4\"", Unit::Metre), 11_766_550_000);
    assert_eq!(nm("6\"", Unit::Metre), 152_400_000);
    assert_eq!(nm("1/64\"", Unit::Metre), 396_875);
    assert_eq!(nm("39", Unit::FootInch), 39 * 304_800_000);
    assert_eq!(nm("4 1/2", Unit::Inch), 114_300_000);
    assert_eq!(
        nm("39' 3/4\"", Unit::FootInch),
        39 * 304_800_000 + 19_050_000
    );
    assert_eq!(nm("0.01 ft", Unit::Metre), 3_048_000);
    assert_eq!(nm(".5", Unit::Metre), 500_000_000);
}

#[test]
fn inches_are_marked_by_two_apostrophes_too_and_joined_to_a_fraction_by_a_hyphen() {
    let whole = nm("38' 11 5/16\"", Unit::FootInch);
    for text in [
        "38' 11 5/16''",
        "38'-11-5/16\"",
        "38'-11-5/16''",
        "38\u{2019} 11-5/16\u{2019}\u{2019}",
        "38-11-5/16",
        "38ft11-5/16in",
        "38ft 11 5/16in",
        "38 ft11 5/16 in",
        "38ft-11-5/16",
    ] {
        assert_eq!(nm(text, Unit::FootInch), whole, "{text}");
    }
    assert_eq!(nm("6''", Unit::Metre), 152_400_000);
    assert_eq!(nm("39ft4.5in", Unit::Metre), nm("39' 4.5\"", Unit::Metre));
    for unit in [Unit::Inch, Unit::Metre] {
        assert_eq!(nm("11-5/16\"", unit), nm("11 5/16\"", unit));
    }
    assert_eq!(nm("11-5/16", Unit::Inch), nm("11 5/16\"", Unit::Inch));
    // Eleven feet, or eleven inches?
    for text in ["11-5/16", "11-5/16\""] {
        let error = read_length(text, &rules(Unit::FootInch)).expect_err(text);
        assert!(matches!(error, LengthError::HyphenFraction(_)), "{error}");
    }
}

#[test]
fn thousands_are_set_apart_by_marks_spaces_and_apostrophes() {
    for text in [
        "12,192",
        "12 192",
        "12\u{a0}192",
        "12\u{202f}192",
        "12\u{2009}192",
        "12'192",
        "12\u{2019}192",
    ] {
        assert_eq!(nm(text, Unit::Millimetre), 12_192_000_000, "{text}");
        assert_eq!(nm(&format!("{text}.5 mm"), Unit::Metre), 12_192_500_000);
    }
    assert_eq!(nm("1'234'567", Unit::Millimetre), 1_234_567_000_000);
    // Feet and inches stay what they are.
    assert_eq!(
        nm("38'007\"", Unit::FootInch),
        nm("38' 7\"", Unit::FootInch)
    );
    assert_eq!(nm("38'7", Unit::FootInch), nm("38' 7\"", Unit::FootInch));
}

#[test]
fn one_sign_holds_for_the_whole() {
    assert_eq!(nm("-1' 6\"", Unit::FootInch), -457_200_000);
    assert_eq!(nm("\u{2212}0.420", Unit::Metre), -420_000_000);
    assert_eq!(nm("+0.420", Unit::Metre), 420_000_000);
    assert_eq!(nm("-1'-6\"", Unit::FootInch), -457_200_000);
    assert!(read_length("--1", &rules(Unit::Metre)).is_err());
    assert!(read_length("- -1", &rules(Unit::Metre)).is_err());
}

#[test]
fn decimal_comma_and_thousands() {
    let comma = ParseOptions {
        bare: Some(Unit::Metre),
        decimal: DecimalMark::Comma,
    };
    let read = |text: &str| read_length(text, &comma).map(|r| r.length.nm());
    assert_eq!(read("12,192"), Ok(12_192_000_000));
    assert_eq!(read("1.234,5 mm"), Ok(1_234_500_000));
    assert!(matches!(read("12.19"), Err(LengthError::Grouping { .. })));
    assert_eq!(nm("1,234.5 mm", Unit::Metre), 1_234_500_000);
    assert!(read_length("0,152", &rules(Unit::Millimetre)).is_err());
}

#[test]
fn the_last_place_that_was_written_is_known() {
    let place = |text: &str| read_length(text, &rules(Unit::Metre)).map(|r| r.last_place.nm());
    assert_eq!(place("12.190"), Ok(1_000_000));
    assert_eq!(place("12"), Ok(1_000_000_000));
    assert_eq!(place("40.25 ft"), Ok(3_048_000));
    assert_eq!(place("38' 7 1/4\""), Ok(6_350_000));
}

#[test]
fn what_is_no_length_says_why() {
    let mut messages = String::new();
    for (text, bare) in [
        ("", Some(Unit::Metre)),
        ("abc", Some(Unit::Metre)),
        ("12.192", None),
        ("39.5", Some(Unit::FootInch)),
        ("12 yd", Some(Unit::Metre)),
        ("39' 12\"", Some(Unit::FootInch)),
        ("39' 4 1/3\"", Some(Unit::FootInch)),
        ("39' 4 5/4\"", Some(Unit::FootInch)),
        ("12.1234567891", Some(Unit::Metre)),
        ("1e3", Some(Unit::Metre)),
        ("1E+3", Some(Unit::Metre)),
        ("inf", Some(Unit::Metre)),
        ("NaN", Some(Unit::Metre)),
        ("12,19", Some(Unit::Metre)),
        ("200000", Some(Unit::Metre)),
        ("39.5' 6\"", Some(Unit::FootInch)),
        ("39 1/2", Some(Unit::FootInch)),
        ("12..3", Some(Unit::Metre)),
        ("12.", Some(Unit::Metre)),
        ("1' 2' 3\"", Some(Unit::FootInch)),
    ] {
        let rules = ParseOptions {
            bare,
            ..ParseOptions::default()
        };
        let error = read_length(text, &rules).expect_err(text);
        let _ = writeln!(messages, "{text:?}: {error}");
    }
    insta::assert_snapshot!(messages);
}

#[test]
fn figures_round_once_half_away_from_zero() {
    let metres = LengthFormat::new(Unit::Metre);
    // The tenth of a millimetre stands where there is one, so that what is on paper adds up.
    assert_eq!(metres.number(Length::from_nm(14_251_500_000)), "14.2515");
    assert_eq!(metres.number(Length::from_nm(14_251_550_000)), "14.2516");
    assert_eq!(metres.number(Length::from_nm(-14_251_550_000)), "-14.2516");
    assert_eq!(metres.number(Length::from_nm(14_251_960_000)), "14.252");
    assert_eq!(metres.number(Length::from_nm(-40_000)), "0.000");
    assert_eq!(metres.signed(Length::ZERO), "+0.000");
    assert_eq!(metres.small(Length::from_nm(1_450_000)), "1.5 mm");
    assert_eq!(metres.difference(Length::from_mm(-999)), "-999.0 mm");
    assert_eq!(metres.difference(Length::from_mm(10_400)), "+10.400 m");
    let feet_inches = LengthFormat::new(Unit::FootInch);
    assert_eq!(
        feet_inches.number(Length::from_nm(12_001_500_000)),
        "39' 4 1/2\""
    );
    assert_eq!(
        feet_inches.number(Length::from_nm(-12_191_999_999)),
        "-40' 0\""
    );
    assert_eq!(feet_inches.number(Length::from_nm(-1)), "0' 0\"");
}

#[test]
fn a_length_that_may_be_missing_takes_no_more_room() {
    assert_eq!(size_of::<Option<Length>>(), size_of::<i64>());
    assert_eq!(Length::default(), Length::ZERO);
    assert_eq!(format!("{:?}", Length::from_mm(-1)), "Length(-1000000)");
    assert_eq!(Length::from_nm(i64::MIN).nm(), i64::MIN + 1);
}

proptest! {
    #![proptest_config(laws())]

    #[test]
    fn a_sum_is_the_same_in_any_order(
        pair in prop::collection::vec(-30_000_000_000_i64..30_000_000_000, 0..200)
            .prop_flat_map(|v| (Just(v.clone()), Just(v).prop_shuffle()))
    ) {
        let sum = |v: &[i64]| v.iter().map(|nm| Length::from_nm(*nm)).sum::<Length>();
        prop_assert_eq!(sum(&pair.0), sum(&pair.1));
    }

    #[test]
    fn lengths_are_ordered_as_their_nanometres(a in i64::MIN + 1..=i64::MAX, b in i64::MIN + 1..=i64::MAX) {
        let (one, other) = (Length::from_nm(a), Length::from_nm(b));
        prop_assert_eq!((one.nm(), other.nm()), (a, b));
        prop_assert_eq!(one.cmp(&other), a.cmp(&b));
        prop_assert_eq!(one.is_negative(), a < 0);
    }

    #[test]
    fn what_is_printed_in_full_reads_back_to_the_same_value(
        nm in -100_000_000_000_000_i64..=100_000_000_000_000,
        unit in prop::sample::select(vec![Unit::Metre, Unit::Millimetre, Unit::Foot, Unit::Inch, Unit::FootInch]),
        other in prop::sample::select(vec![Unit::Metre, Unit::Foot, Unit::FootInch]),
    ) {
        let length = Length::from_nm(nm);
        let reading = read_length(&length.exact(unit), &rules(other));
        prop_assert_eq!(reading.map(|r| r.length), Ok(length));
    }

    #[test]
    fn tape_readings_print_and_read_in_their_own_unit(
        sixty_fourths in 0_i64..100_000, hundredths in 0_i64..20_000
    ) {
        let tape = Length::from_nm(sixty_fourths * 396_875);
        prop_assert!(!tape.exact(Unit::FootInch).ends_with('m'));
        let strap = Length::from_nm(hundredths * 3_048_000);
        prop_assert!(strap.exact(Unit::Foot).ends_with("ft"));
        prop_assert_eq!(read_length(&strap.exact(Unit::Foot), &rules(Unit::Metre)).map(|r| r.length), Ok(strap));
    }

    #[test]
    fn metres_for_machines_have_at_most_nine_decimals_and_no_exponent(nm in any::<i64>()) {
        let text = Length::from_nm(nm).exact_metres();
        let body = text.strip_prefix('-').unwrap_or(&text);
        let decimals = body.split_once('.').map_or("", |(_, d)| d);
        prop_assert!(decimals.len() <= 9 && !decimals.ends_with('0'));
        prop_assert!(body.bytes().all(|b| b.is_ascii_digit() || b == b'.'));
    }

    #[test]
    fn no_text_makes_the_reader_panic(text in "\\PC{0,24}", feet in "[-0-9'\" /.,½emft]{0,16}") {
        for bare in [None, Some(Unit::Metre), Some(Unit::FootInch), Some(Unit::Inch)] {
            for decimal in [DecimalMark::Point, DecimalMark::Comma] {
                let _ = read_length(&text, &ParseOptions { bare, decimal });
                let _ = read_length(&feet, &ParseOptions { bare, decimal });
            }
        }
    }

    #[test]
    fn an_elevation_moves_and_returns(a in -1_000_000_000_i64..1_000_000_000, by in -1_000_000_000_i64..1_000_000_000) {
        let (point, by) = (Elevation::above_datum(Length::from_nm(a)), Length::from_nm(by));
        prop_assert_eq!(point + by - by, point);
        prop_assert_eq!((point + by) - point, by);
        prop_assert_eq!(point.at_depth(point.depth_of(point - by)), point - by);
    }
}
