//! What the reader makes of the layouts that people write. `headings`, `order`, `numbers` and `rows` hold the
//! tests of those steps.

mod bounds;
mod headings;
mod not_run;
mod numbers;
mod order;
mod rows;

use super::*;
use crate::measure::{DecimalMark, Length, Unit};
use crate::tally::{Joint, Kind, Pins, PipeString, SkipReason, Tally};

fn mm(millimetres: i64) -> Length {
    Length::from_mm(millimetres)
}

fn with(text: &str, options: &Options) -> Tally {
    match read(text.as_bytes(), options) {
        Ok(tally) => tally,
        Err(problems) => panic!("{text}\n{}", sentences(&problems).join("\n")),
    }
}

fn tally(text: &str) -> Tally {
    with(text, &Options::default())
}

fn sentences(problems: &[Problem]) -> Vec<String> {
    problems.iter().map(ToString::to_string).collect()
}

fn refusal(text: &str) -> String {
    refusal_with(text, &Options::default())
}

fn refusal_with(text: &str, options: &Options) -> String {
    match read(text.as_bytes(), options) {
        Ok(tally) => panic!("{text}\nwas read as {:#?}", tally.joints),
        Err(problems) => sentences(&problems).join("\n"),
    }
}

fn units(unit: Unit) -> Options {
    Options {
        units: Some(unit),
        ..Options::default()
    }
}

/// Overall lengths, shoe first.
fn lengths(tally: &Tally) -> Vec<Length> {
    tally.joints.iter().filter_map(Joint::overall).collect()
}

fn losses(tally: &Tally) -> Vec<Option<Length>> {
    tally.joints.iter().map(|joint| joint.makeup_loss).collect()
}

fn numbers_of(tally: &Tally) -> Vec<&str> {
    tally
        .joints
        .iter()
        .map(|joint| joint.number.as_ref())
        .collect()
}

fn skipped(tally: &Tally) -> Vec<(u32, SkipReason)> {
    tally
        .skipped
        .iter()
        .map(|skipped| (skipped.line, skipped.why))
        .collect()
}

fn string_length(tally: &Tally) -> Length {
    PipeString::make_up(tally, Pins::default()).length
}

#[test]
fn the_plain_form_is_read_as_it_stands() {
    let tally = tally(
        "joint,serial,kind,length,makeup_loss,remarks\n\
         1,S-1,shoe,12.214 m,0 mm,\n2,S-2,,12.086 m,152 mm,\"dented, passed\"\n3,,top,40' 0\",,\n",
    );
    assert_eq!(lengths(&tally), [mm(12_214), mm(12_086), mm(12_192)]);
    assert_eq!(losses(&tally), [Some(mm(0)), Some(mm(152)), None]);
    let kinds: Vec<_> = tally.joints.iter().map(|joint| joint.kind).collect();
    assert_eq!(kinds, [Some(Kind::Shoe), None, Some(Kind::Top)]);
    assert_eq!(tally.joints[1].serial.as_deref(), Some("S-2"));
    assert_eq!(tally.joints[2].serial, None);
    assert_eq!(tally.joints[1].remarks(), Some("dented, passed"));
    assert_eq!(tally.unit, Unit::Metre);
    assert!(tally.skipped.is_empty() && !tally.order_assumed && !tally.effective_only);
    let lines: Vec<u32> = tally.joints.iter().map(|joint| joint.line).collect();
    assert_eq!(lines, [2, 3, 4]);
}

#[test]
fn every_synonym_of_the_trade_names_its_column() {
    for joint in [
        "Jt", "Jt No", "Jt. No.", "No.", "JOINT", "Joint #", "joint_no", "#",
    ] {
        for length in [
            "OAL",
            "Overall length",
            "Length",
            "O.A.L.",
            "Length (overall)",
        ] {
            let text = format!("{joint},{length},MUL\n1,12.1,0.1\n2,12.2,0.1\n");
            let tally = with(&text, &units(Unit::Metre));
            assert_eq!(
                lengths(&tally),
                [mm(12_100), mm(12_200)],
                "{joint} {length}"
            );
        }
    }
    for loss in [
        "MUL",
        "Make-up",
        "M/U loss",
        "Makeup loss",
        "makeup_loss",
        "Make up loss",
    ] {
        let text = format!("Jt,OAL,{loss}\n1,12.1,0.1\n2,12.2,0.1\n");
        assert_eq!(
            losses(&with(&text, &units(Unit::Metre)))[1],
            Some(mm(100)),
            "{loss}"
        );
    }
    for serial in ["Serial", "S/N", "Serial No", "Heat", "Heat No."] {
        let text = format!("Jt,{serial},OAL (m)\n1,K7,12.1\n2,K8,12.2\n");
        assert_eq!(
            tally(&text).joints[1].serial.as_deref(),
            Some("K8"),
            "{serial}"
        );
    }
    for effective in ["Eff. length", "Net", "Effective length", "Eff"] {
        let text = format!("Jt,{effective} (m)\n1,12.1\n2,12.2\n");
        assert!(tally(&text).effective_only, "{effective}");
    }
    for running in ["Cum.", "Cumulative", "Running total", "Total"] {
        let text = format!("Jt,OAL (m),{running}\n1,12.1,12.1\n2,12.2,24.3\n");
        assert_eq!(tally(&text).claims.len(), 2, "{running}");
    }
}

#[test]
fn the_better_of_two_names_is_taken() {
    let tally = tally("No.,Joint,Heat,Serial,OAL (m)\n7,A-1,H1,S1,12.1\n8,A-2,H1,S2,12.2\n");
    assert_eq!(numbers_of(&tally), ["A-1", "A-2"]);
    assert_eq!(tally.joints[0].serial.as_deref(), Some("S1"));
    let used: Vec<_> = tally.columns.iter().map(|column| column.used_as).collect();
    assert_eq!(
        used,
        [None, Some("joint"), None, Some("serial"), Some("length")]
    );
}

#[test]
fn units_are_taken_from_the_heading_in_every_form() {
    for heading in [
        "Length (m)",
        "Length [m]",
        "Length, m",
        "Length m",
        "LENGTH(M)",
        "length_m",
        "Length in metres",
        "Length/m",
        "Length (measured) (m)",
        "Length (meters)",
    ] {
        let text = format!("Jt,\"{heading}\"\n1,12.1\n2,12.2\n");
        assert_eq!(tally(&text).unit, Unit::Metre, "{heading}");
    }
    let in_feet = tally("Jt,OAL (ft),MUL (in)\n1,40.00,6\n2,39.50,6\n");
    assert_eq!(in_feet.unit, Unit::Foot);
    assert_eq!(losses(&in_feet)[1], Some(Length::from_nm(152_400_000)));
}

#[test]
fn a_row_of_units_under_the_header_gives_the_units() {
    for row in ["-,ft,in,t", ",(ft),(in),", "No.,[ft],[in],kg/m", "#,Ft,In,"] {
        let text = format!("Jt,OAL,MUL,Mass\n{row}\n1,40.00,6,1\n2,39.50,6,1\n");
        let tally = tally(&text);
        assert_eq!(tally.unit, Unit::Foot, "{row}");
        assert_eq!(
            losses(&tally)[0],
            Some(Length::from_nm(152_400_000)),
            "{row}"
        );
        assert!(tally.skipped.is_empty(), "{row}");
    }
}

#[test]
fn the_unit_may_stand_in_a_line_above_the_table() {
    let tally = tally("Tally of string A\nAll lengths in feet\nJt,OAL\n1,40.00\n2,39.50\n");
    assert_eq!(tally.unit, Unit::Foot);
    assert_eq!(
        skipped(&tally),
        [(1, SkipReason::AboveTable), (2, SkipReason::AboveTable)]
    );
}

#[test]
fn figures_above_the_table_are_no_header() {
    let tally = tally("Joints,2,Length,24.3\n\nJoint,Length (m)\n1,12.1\n2,12.2\n");
    assert_eq!(string_length(&tally), mm(24_300));
    assert_eq!(
        skipped(&tally),
        [(1, SkipReason::AboveTable), (2, SkipReason::BlankLines(1))]
    );
}

#[test]
fn a_heading_and_a_row_of_units_that_differ_are_a_problem() {
    let refused = refusal("Jt,OAL (m)\n,ft\n1,40.0\n2,39.5\n");
    assert!(
        refused.contains("line 2, column 2 (OAL (m)): the unit is ft here, but m"),
        "{refused}"
    );
}

#[test]
fn units_that_change_on_a_later_page_are_a_problem() {
    let refused = refusal("Jt,OAL (m)\n1,12.1\n2,12.2\nJt,OAL (ft)\n3,40.0\n");
    assert!(
        refused.contains("line 4, column 2 (OAL (m)): the unit is ft here, but m"),
        "{refused}"
    );
    let refused = refusal("Jt,OAL\n,m\n1,12.1\n2,12.2\nJt,OAL\n,ft\n3,40.0\n");
    assert!(refused.contains("line 6, column 2"), "{refused}");
}

#[test]
fn feet_and_inches_in_two_columns_are_one_length() {
    let expected = [
        Length::from_nm(12_001_500_000),
        Length::from_nm(11_887_200_000),
    ];
    for header in [
        "Jt,Length (ft),Length (in)",
        "Jt,Feet,Inches",
        "Jt,Length (ft),(in)",
    ] {
        let text = format!("{header}\n1,39,4 1/2\n2,39,\n");
        assert_eq!(lengths(&tally(&text)), expected, "{header}");
    }
    let with_units_row = tally("Jt,Length,,MUL\n,ft,in,in\n1,39,4.5,6\n2,39,0,6\n");
    assert_eq!(lengths(&with_units_row), expected);
    assert_eq!(with_units_row.unit, Unit::FootInch);
    let with_marks = tally("Jt,Feet,Inches\n1,39',\"4 1/2\"\"\"\n2,39',\"0\"\"\"\n");
    assert_eq!(lengths(&with_marks), expected);
    let refused = refusal("Jt,Feet,Inches\n1,39,13\n2,39,0\n");
    assert!(refused.contains("12 inches or more"), "{refused}");
}

#[test]
fn a_column_with_a_name_of_its_own_is_not_the_inches_of_its_neighbour() {
    let tally = tally("Jt,Length (ft),Wall (in)\n1,40,1.5\n2,39,1.5\n");
    assert_eq!(
        lengths(&tally),
        [
            Length::from_nm(40 * 304_800_000),
            Length::from_nm(39 * 304_800_000)
        ]
    );
}

#[test]
fn overall_and_effective_lengths_together_give_the_loss() {
    let tally =
        tally("Jt,OAL (m),Eff. length (m)\n1,12.100,12.100\n2,12.200,12.050\n3,12.300,12.148\n");
    assert_eq!(losses(&tally), [Some(mm(0)), Some(mm(150)), Some(mm(152))]);
    assert!(!tally.effective_only);
    assert_eq!(string_length(&tally), mm(36_298));
}

#[test]
fn effective_lengths_alone_are_summed_as_they_are() {
    let tally = tally("Jt,Net (m)\n1,12.100\n2,12.050\n3,12.148\n");
    assert!(tally.effective_only && tally.joints.iter().all(|joint| joint.overall().is_none()));
    assert_eq!(string_length(&tally), mm(36_298));
    let stated = with(
        "Jt,Length (m)\n1,12.100\n2,12.050\n",
        &Options {
            length: Some(LengthColumn::Effective),
            ..Options::default()
        },
    );
    assert!(stated.effective_only);
}

#[test]
fn a_length_that_may_be_either_is_a_question_that_names_the_option() {
    let refused = refusal("Jt,Tally length (m)\n1,12.1\n2,12.2\n");
    assert!(
        refused.contains("--length overall or --length effective"),
        "{refused}"
    );
    // A running total that adds up the lengths beside losses: effective lengths, or losses forgotten.
    let refused = refusal(
        "Jt,Length (m),MUL (m),Cum (m)\n1,12.1,0.15,12.1\n2,12.2,0.15,24.3\n3,12.3,0.15,36.6\n",
    );
    assert!(refused.contains("--length"), "{refused}");
    let conflict = refusal_with(
        "Jt,OAL (m)\n1,12.1\n2,12.2\n",
        &Options {
            length: Some(LengthColumn::Effective),
            ..Options::default()
        },
    );
    assert!(
        conflict.contains("says overall length, the option says effective"),
        "{conflict}"
    );
}

#[test]
fn the_unit_option_fills_only_what_is_blank_and_may_not_contradict() {
    let text = "Jt,OAL,MUL (mm)\n1,40.0,152\n2,39.5,152\n";
    let tally = with(text, &units(Unit::Foot));
    assert_eq!((tally.unit, losses(&tally)[1]), (Unit::Foot, Some(mm(152))));
    let refused = refusal(text);
    assert!(
        refused.contains("line 2, column 2 (OAL): in which unit") && refused.contains("--units"),
        "{refused}"
    );
    assert_eq!(
        refused.lines().count(),
        1,
        "one question a column: {refused}"
    );
    let conflict = refusal_with("Jt,OAL (m)\n1,12.1\n2,12.2\n", &units(Unit::Foot));
    assert!(
        conflict.contains("the file says m, the option says ft"),
        "{conflict}"
    );
}

#[test]
fn in_a_job_the_jobs_unit_comes_last() {
    let job = Options {
        job_units: Some(Unit::Foot),
        ..Options::default()
    };
    assert_eq!(with("Jt,OAL\n1,40\n2,39\n", &job).unit, Unit::Foot);
    assert_eq!(with("Jt,OAL (m)\n1,12.1\n2,12.2\n", &job).unit, Unit::Metre);
    let answered = Options {
        units: Some(Unit::Metre),
        ..job
    };
    assert_eq!(
        with("Jt,OAL\n1,12.1\n2,12.2\n", &answered).unit,
        Unit::Metre
    );
}

#[test]
fn long_losses_in_a_borrowed_unit_are_a_question() {
    let refused = refusal("Jt,OAL (ft),MUL\n1,40.0,6\n2,39.5,6\n");
    assert!(
        refused.contains("make-up losses such as `6` are too long or too short in ft"),
        "{refused}"
    );
    let confirmed = with("Jt,OAL (ft),MUL\n1,40.0,6\n2,39.5,6\n", &units(Unit::Foot));
    assert_eq!(
        losses(&confirmed)[0],
        Some(Length::from_nm(6 * 304_800_000))
    );
}

#[test]
fn losses_without_a_unit_take_the_jobs_unless_the_lengths_are_in_the_other_system() {
    let job = |unit| Options {
        job_units: Some(unit),
        ..Options::default()
    };
    let text = "joint,length (mm),makeup_loss\n1,12100,0\n2,12200,0.152\n3,12150,0.151\n";
    let read = with(text, &job(Unit::Metre));
    assert_eq!(
        read.joints[1].makeup_loss,
        Some(crate::measure::Length::from_mm(152))
    );
    let feet = "joint,length (ft),makeup_loss\n1,40.00,0\n2,39.50,0.50\n3,39.70,0.50\n";
    let refused = refusal_with(feet, &job(Unit::Metre));
    assert!(refused.contains("in which unit"), "{refused}");
    let answered = Options {
        units: Some(Unit::Foot),
        ..job(Unit::Metre)
    };
    assert_eq!(
        with(feet, &answered).joints[1].makeup_loss,
        Some(crate::measure::Length::from_nm(152_400_000))
    );
}

#[test]
fn a_serial_that_says_nothing_is_none() {
    let tally = tally(
        "joint,serial,length (m)\n1,N/A,12.1\n2,-,12.2\n3,n/a,12.3\n4,none,12.4\n5,N/A,12.5\n6,NA-7,12.6\n",
    );
    let serials: Vec<_> = tally.joints.iter().map(|it| it.serial.as_deref()).collect();
    assert_eq!(serials, [None, None, None, None, None, Some("NA-7")]);
}
