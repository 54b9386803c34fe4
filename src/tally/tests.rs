//! Each flag of a tally raised, and not raised just inside its limit.

use std::fmt::Write as _;

use super::*;
use crate::finding::{Code, Flag, Place};
use crate::measure::Length;

fn of(text: &str) -> Tally {
    match read(text.as_bytes(), &Options::default()) {
        Ok(tally) => tally,
        Err(problems) => panic!("{text}\n{problems:#?}"),
    }
}

fn flags_with(text: &str, pins: Pins) -> Vec<Flag> {
    let tally = of(text);
    let string = PipeString::make_up(&tally, pins);
    review(&tally, &string, pins)
}

fn flags(text: &str) -> Vec<Flag> {
    flags_with(text, Pins::default())
}

fn codes(text: &str) -> Vec<Code> {
    flags(text).iter().map(|flag| flag.code).collect()
}

fn text_of(text: &str, code: Code) -> Option<String> {
    flags(text)
        .into_iter()
        .find(|flag| flag.code == code)
        .map(|flag| {
            crate::report::words::flag(
                &flag,
                crate::measure::LengthFormat::new(crate::measure::Unit::Metre),
            )
        })
}

/// Rows of number, kind, length and loss, in the plain form.
fn listed(rows: &[(&str, &str, &str, &str)]) -> String {
    let mut text = "joint,kind,length (m),makeup_loss (mm)\n".to_owned();
    for (number, kind, length, loss) in rows {
        let _ = writeln!(text, "{number},{kind},{length},{loss}");
    }
    text
}

/// Five ordinary joints above a shoe joint; the last one as given.
fn last(length: &str, loss: &str) -> String {
    let mut rows = vec![("1", "shoe", "12.0", "0")];
    rows.extend(["2", "3", "4", "5"].map(|number| (number, "joint", "12.0", "150")));
    rows.push(("6", "", length, loss));
    listed(&rows)
}

#[test]
fn a_sound_tally_raises_nothing() {
    assert_eq!(codes(&last("12.0", "150")), []);
}

#[test]
fn a_length_outside_half_to_one_and_a_half_of_the_median_stands_out() {
    for (length, found) in [
        ("18.000", false),
        ("18.001", true),
        ("6.000", false),
        ("5.999", true),
    ] {
        let expected: &[Code] = if found { &[Code::LengthOutlier] } else { &[] };
        assert_eq!(codes(&last(length, "150")), expected, "{length}");
    }
    let text = text_of(&last("5.9", "150"), Code::LengthOutlier);
    assert_eq!(
        text.as_deref(),
        Some(
            "less than half or more than one and a half times the median length of 12.000 m: 6 (line 7)"
        )
    );
}

#[test]
fn the_median_of_an_even_number_lies_between_the_two_in_the_middle() {
    // 5.5, 10, 10, 12, 12, 12: the median is 11 only if both middle values count; half of it is 5.5.
    let rows = |low| {
        let mut text = "joint,length (m),makeup_loss (mm)\n".to_owned();
        for (number, length) in [
            (1, "10.0"),
            (2, "10.0"),
            (3, "12.0"),
            (4, "12.0"),
            (5, "12.0"),
            (6, low),
        ] {
            let _ = writeln!(text, "{number},{length},0");
        }
        text
    };
    assert_eq!(codes(&rows("5.500")), []);
    assert_eq!(codes(&rows("5.499")), [Code::LengthOutlier]);
}

#[test]
fn only_ordinary_joints_are_judged_and_only_from_five_up() {
    for kind in ["pup", "top", "running"] {
        let rows = last("2.0", "150").replace("\n6,,", &format!("\n6,{kind},"));
        assert_eq!(codes(&rows), [], "{kind}");
    }
    let four = listed(&[
        ("1", "", "12.0", "0"),
        ("2", "", "12.0", "150"),
        ("3", "", "12.0", "150"),
        ("4", "", "2.0", "150"),
    ]);
    assert_eq!(codes(&four), []);
}

#[test]
fn a_loss_more_than_25_mm_from_the_median_stands_out() {
    for (loss, found) in [
        ("175", false),
        ("175.1", true),
        ("125", false),
        ("124.9", true),
        ("0", true),
    ] {
        let expected: &[Code] = if found { &[Code::LossOutlier] } else { &[] };
        assert_eq!(codes(&last("12.0", loss)), expected, "{loss}");
    }
    // A blank loss is missing, not far off; and the loss at the open end is not judged beside the rest.
    assert_eq!(codes(&last("12.0", "")), [Code::LossMissing]);
    let open = last("12.0", "150").replace("1,shoe,12.0,0", "1,joint,12.0,0");
    assert_eq!(codes(&open), []);
}

#[test]
fn a_missing_loss_is_named_unless_a_nominal_one_stands_for_it() {
    let text = listed(&[
        ("1", "", "12.0", ""),
        ("2", "", "12.0", ""),
        ("3", "", "12.0", "150"),
    ]);
    let found = text_of(&text, Code::LossMissing);
    assert_eq!(
        found.as_deref(),
        Some("no make-up loss is given, and none is deducted, for 2 (line 3)")
    );
    let nominal = Pins {
        up: false,
        nominal_loss: Some(Length::from_mm(150)),
    };
    assert_eq!(flags_with(&text, nominal), []);
}

#[test]
fn a_loss_at_the_open_end_is_named_unless_zero_or_blank() {
    let rows = |first, second| listed(&[("1", "", "12.0", first), ("2", "", "12.0", second)]);
    let found = text_of(&rows("150", "150"), Code::LossOnOpenEnd).expect("a flag");
    assert!(
        found.starts_with("joint 1 (line 2) has a make-up loss of 150.0 mm"),
        "{found}"
    );
    assert_eq!(codes(&rows("0", "150")), []);
    assert_eq!(codes(&rows("", "150")), []);
    let up = Pins {
        up: true,
        nominal_loss: None,
    };
    let flags = flags_with(&rows("150", "150"), up);
    assert_eq!((flags.len(), &flags[0].place), (1, &Place::Joint(1)));
    assert_eq!(flags_with(&rows("150", "0"), up), []);
}

#[test]
fn pins_up_with_a_landing_string_the_open_end_is_its_topmost_piece() {
    let up = Pins {
        up: true,
        nominal_loss: None,
    };
    let text = listed(&[
        ("1", "", "12.0", "150"),
        ("2", "", "12.0", "150"),
        ("L1", "landing", "9.0", "100"),
    ]);
    let flags = flags_with(&text, up);
    assert_eq!(
        (flags[0].code, &flags[0].place),
        (Code::LossOnOpenEnd, &Place::Joint(2))
    );
}

#[test]
fn a_gap_is_found_only_where_the_numbers_run_in_order() {
    let rows = |numbers: [&str; 4]| listed(&numbers.map(|number| (number, "", "12.0", "0")));
    assert_eq!(
        text_of(&rows(["1", "2", "4", "5"]), Code::GapInNumbers).as_deref(),
        Some("the numbers go from 2 (line 3) to 4 (line 4): is a joint left out?")
    );
    assert_eq!(
        codes(&rows(["A-1", "A-2", "A-3", "A-9"])),
        [Code::GapInNumbers]
    );
    for numbers in [
        ["1", "2", "3", "4"],
        ["7", "8", "9", "10"],
        ["3", "1", "2", "9"],
        ["A1", "B3", "C5", "D9"],
        ["x", "1", "3", "5"],
    ] {
        assert_eq!(codes(&rows(numbers)), [], "{numbers:?}");
    }
    // Listed from the top, the gap is told in the order of the page.
    assert_eq!(
        text_of(&rows(["5", "4", "2", "1"]), Code::GapInNumbers).as_deref(),
        Some("the numbers go from 4 (line 3) to 2 (line 4): is a joint left out?")
    );
}

#[test]
fn landing_joints_have_numbers_of_their_own() {
    let text = listed(&[
        ("1", "", "12.0", "0"),
        ("2", "", "12.0", "0"),
        ("7", "landing", "9.0", "0"),
    ]);
    assert_eq!(codes(&text), []);
}

#[test]
fn what_stands_twice_is_named_with_every_place() {
    let text = "joint,serial,length (m),makeup_loss (m)\n1,S1,12.0,0\n2,S2,12.0,0\n2,S3,12.0,0\n4,S1,12.0,0\n";
    let said: Vec<(Code, String)> = flags(text)
        .into_iter()
        .map(|flag| {
            let text = crate::report::words::flag(
                &flag,
                crate::measure::LengthFormat::new(crate::measure::Unit::Metre),
            );
            (flag.code, text)
        })
        .collect();
    assert_eq!(
        said,
        [
            (
                Code::DuplicateJoint,
                "joint number 2 occurs more than once: 2 (line 3), 2 (line 4)".to_owned()
            ),
            (
                Code::DuplicateSerial,
                "serial S1 occurs more than once: 1 (line 2), 4 (line 5)".to_owned()
            ),
        ]
    );
    // Blank serials are not one serial.
    assert_eq!(
        codes("joint,serial,length (m),makeup_loss (m)\n1,,12.0,0\n2,,12.0,0\n"),
        []
    );
}

#[test]
fn a_long_list_of_places_is_cut_short() {
    let mut text = "joint,length (m)\n".to_owned();
    for joint in 1..=10 {
        let _ = writeln!(text, "{joint},12.0");
    }
    let found = text_of(&text, Code::LossMissing).expect("a flag");
    assert!(found.ends_with("7 (line 8) and 3 more"), "{found}");
}

#[test]
fn what_the_file_leaves_open_is_said() {
    let assumed = text_of(
        "Jt,OAL (m),MUL (m)\nK,12.0,0\nR,12.0,0\n",
        Code::OrderAssumed,
    )
    .expect("a flag");
    assert!(assumed.contains("--order"), "{assumed}");
    assert_eq!(
        codes("joint,eff (m)\n1,12.0\n2,12.0\n"),
        [Code::EffectiveOnly]
    );
}

#[test]
fn a_wrong_effective_length_is_found_and_a_rounded_one_is_not() {
    let rows = |effective: &str| {
        format!("Jt,OAL (m),MUL (m),Net (m)\n1,12.000,0,12.000\n2,12.000,0.1524,{effective}\n")
    };
    assert_eq!(codes(&rows("11.848")), []);
    assert_eq!(codes(&rows("11.847")), [Code::TotalDisagrees]);
}

#[test]
fn running_totals_that_forgot_the_losses_say_so() {
    let text = "Jt,OAL (m),MUL (m),Cum (m)\n1,12.000,0,12.000\n2,12.000,0.150,24.000\n3,12.000,0.150,36.000\n";
    let found = text_of(text, Code::TotalDisagrees).expect("a flag");
    assert!(
        found.contains("the make-up losses may not have been deducted"),
        "{found}"
    );
}
