//! Two tallies of one string: planted differences are found, and the bridge leaves nothing over. All
//! lists are invented.

use std::fmt::Write as _;

use crate::common::laws::laws;
use crate::common::lists::{Row, length, metres, rows, tally, tally_of};
use kerfmark::measure::{Length, LengthFormat, Unit};
use kerfmark::reconcile::{Aligned, Bridge, Cause, bridge, read_decisions};
use kerfmark::report::words;
use kerfmark::tally::{Options, Pins, Tally, read};
use proptest::prelude::*;
use similar::{Algorithm, DiffTag, capture_diff_slices};

fn bridged(a: &Tally, b: &Tally) -> Bridge {
    let bridge = bridge(a, b, Pins::default());
    assert_eq!(bridge.remainder(), Length::ZERO, "{:#?}", bridge.lines);
    assert_eq!(bridge.difference(), length(b) - length(a));
    bridge
}

/// The causes of a bridge with their joints, in order.
fn causes(bridge: &Bridge) -> Vec<(Cause, &str)> {
    let lines = bridge.lines.iter();
    lines
        .map(|line| (line.cause, line.joint.as_str()))
        .collect()
}

/// What a line of the bridge says in metres.
fn words_of(bridge: &Bridge, at: usize) -> String {
    words::bridge_line(&bridge.lines[at], LengthFormat::new(Unit::Metre))
}

fn without_serials(rows: &[Row]) -> Vec<Row> {
    let bare = |row: &Row| Row {
        serial: None,
        ..row.clone()
    };
    rows.iter().map(bare).collect()
}

fn renumbered(rows: &[Row]) -> Vec<Row> {
    let rows = rows.iter().enumerate();
    rows.map(|(at, row)| Row {
        number: (at + 1).to_string(),
        ..row.clone()
    })
    .collect()
}

#[test]
fn a_joint_missing_is_one_line_with_serials_and_without() {
    let a = rows(12);
    let mut b = a.clone();
    b.remove(5);
    let expected = [(Cause::OnlyInA, "6")];
    assert_eq!(causes(&bridged(&tally(&a), &tally(&b))), expected);
    // Renumbered and without serials: the lengths tell.
    let b = renumbered(&without_serials(&b));
    assert_eq!(causes(&bridged(&tally(&a), &tally(&b))), expected);
}

#[test]
fn a_shoe_joint_missing_is_its_overall_length_and_its_neighbours_loss() {
    let a = rows(12);
    let b = a[1..].to_vec();
    let bridge = bridged(&tally(&a), &tally(&b));
    assert_eq!(
        causes(&bridge),
        [(Cause::OnlyInA, "1"), (Cause::OpenEnd, "2")]
    );
    assert_eq!(bridge.lines[0].effect, -Length::from_mm(a[0].mm));
    assert_eq!(
        bridge.lines[1].effect,
        Length::from_mm(a[1].loss.expect("one"))
    );
}

#[test]
fn an_extra_joint_is_one_line() {
    let a = rows(12);
    let mut b = a.clone();
    let mut extra = a[3].clone();
    (extra.number, extra.serial, extra.mm) = ("4A".to_owned(), Some("S9001".to_owned()), 3_048);
    b.insert(4, extra);
    let bridge = bridged(&tally(&a), &tally(&b));
    assert_eq!(causes(&bridge), [(Cause::OnlyInB, "4A")]);
    // Everything above it stands higher by what it adds.
    assert!(
        bridge
            .planes
            .iter()
            .all(|plane| plane.by == bridge.lines[0].effect)
    );
    assert_eq!(bridge.planes.len(), 8);
}

#[test]
fn two_neighbours_swapped_are_one_joint_moved_and_one_plane() {
    let a = rows(12);
    let mut b = a.clone();
    b.swap(6, 7);
    for b in [b.clone(), renumbered(&without_serials(&b))] {
        let bridge = bridged(&tally(&a), &tally(&b));
        assert_eq!(bridge.difference(), Length::ZERO);
        assert_eq!(bridge.lines.len(), 1, "{:#?}", bridge.lines);
        assert_eq!(bridge.lines[0].cause, Cause::Order);
        // Both joints start elsewhere; the planes below and above both stay.
        assert_eq!(bridge.planes.len(), 2);
    }
}

#[test]
fn a_moved_block_counts_each_of_its_joints_once() {
    let a = rows(20);
    let mut b = a.clone();
    let block: Vec<Row> = b.drain(4..7).collect();
    b.splice(12..12, block);
    let bridge = bridged(&tally(&a), &tally(&b));
    let expected = [
        (Cause::Order, "5"),
        (Cause::Order, "6"),
        (Cause::Order, "7"),
    ];
    assert_eq!(causes(&bridge), expected);
    assert_eq!(bridge.alignment.cost(), 3);
}

#[test]
fn swapped_digits_are_a_length_with_its_likely_reason() {
    let mut a = rows(12);
    a[8].mm = 12_381;
    let mut b = a.clone();
    b[8].mm = 12_318;
    for b in [b.clone(), without_serials(&b)] {
        let bridge = bridged(&tally(&a), &tally(&b));
        assert_eq!(causes(&bridge), [(Cause::Length, "9")]);
        assert_eq!(bridge.lines[0].effect, Length::from_mm(-63));
        let text = words_of(&bridge, 0);
        assert!(text.contains("two digits swapped"), "{text}");
        assert!(
            text.contains("joint 9 is shorter in B by 63.0 mm"),
            "{text}"
        );
    }
}

#[test]
fn a_difference_without_a_reason_says_so() {
    let a = rows(12);
    let mut b = a.clone();
    b[8].mm += 237;
    let bridge = bridged(&tally(&a), &tally(&b));
    assert!(
        words_of(&bridge, 0).ends_with("no known mistake"),
        "{}",
        words_of(&bridge, 0)
    );
}

#[test]
fn a_joint_listed_twice_is_called_so() {
    let a = rows(12);
    let mut b = a.clone();
    b.insert(9, a[4].clone());
    for (a, b) in [
        (a.clone(), b.clone()),
        (without_serials(&a), without_serials(&b)),
    ] {
        let bridge = bridged(&tally(&a), &tally(&b));
        assert_eq!(causes(&bridge), [(Cause::ListedTwice, "5")]);
    }
}

#[test]
fn a_loss_left_out_is_a_loss_that_differs() {
    let a = rows(12);
    let mut b = a.clone();
    b[5].loss = None;
    let bridge = bridged(&tally(&a), &tally(&b));
    assert_eq!(causes(&bridge), [(Cause::MakeupLoss, "6")]);
    assert_eq!(
        bridge.lines[0].effect,
        Length::from_mm(a[5].loss.expect("one"))
    );
    assert!(words_of(&bridge, 0).contains("blank, none deducted"));
}

#[test]
fn a_list_in_feet_agrees_with_one_in_metres_but_for_what_the_units_round() {
    let a = without_serials(&rows(12));
    let mut feet = "Jt No,OAL (ft),MUL (m)\n".to_owned();
    for (at, row) in a.iter().enumerate() {
        // Hundredths of a foot, rounded, of all but the sixth joint, which B lacks.
        let hundredths = (row.mm * 1_000 + 1_524) / 3_048;
        if at != 5 {
            let number = if at < 5 { at + 1 } else { at };
            let loss = metres(row.loss.expect("one"));
            let _ = writeln!(
                feet,
                "{number},{}.{:02},{loss}",
                hundredths / 100,
                hundredths % 100
            );
        }
    }
    let bridge = bridged(&tally(&a), &tally_of(&feet));
    assert!(causes(&bridge).contains(&(Cause::OnlyInA, "6")));
    let alone = |cause: &Cause| matches!(cause, Cause::OnlyInA | Cause::OnlyInB | Cause::Order);
    assert_eq!(
        causes(&bridge)
            .iter()
            .filter(|(cause, _)| alone(cause))
            .count(),
        1
    );
    for (at, line) in bridge.lines.iter().enumerate() {
        let said = words_of(&bridge, at);
        assert!(
            line.cause != Cause::Length || said.ends_with("no more than the two units round"),
            "{said}"
        );
    }
}

#[test]
fn a_list_from_the_top_is_the_same_string() {
    let a = rows(12);
    let mut lines: Vec<String> = a.iter().map(Row::cells).collect();
    lines.reverse();
    let top_first = tally_of(&format!(
        "joint,serial,length (m),makeup_loss (m)\n{}\n",
        lines.join("\n")
    ));
    assert!(bridged(&tally(&a), &top_first).lines.is_empty());
}

#[test]
fn effective_lengths_alone_are_compared_with_what_the_other_list_adds() {
    let a = rows(12);
    let mut effective = "Jt No,S/N,Eff. length (m)\n".to_owned();
    for (at, row) in a.iter().enumerate() {
        let loss = if at == 0 { 0 } else { row.loss.expect("one") };
        let mm = row.mm - loss + if at == 7 { 30 } else { 0 };
        let _ = writeln!(
            effective,
            "{},{},{}",
            row.number,
            row.serial.as_deref().expect("one"),
            metres(mm)
        );
    }
    let bridge = bridged(&tally(&a), &tally_of(&effective));
    assert_eq!(causes(&bridge), [(Cause::Length, "8")]);
    assert_eq!(bridge.lines[0].effect, Length::from_mm(30));
}

#[test]
fn a_list_that_is_a_part_of_the_other_leaves_the_joints_not_yet_run() {
    let a = rows(20);
    let bridge = bridged(&tally(&a), &tally(&a[..14]));
    let left: Vec<&str> = bridge
        .lines
        .iter()
        .map(|line| line.joint.as_str())
        .collect();
    assert_eq!(left, ["15", "16", "17", "18", "19", "20"]);
    assert!(bridge.lines.iter().all(|line| line.cause == Cause::OnlyInA));
    assert!(bridge.planes.is_empty());
}

/// One edit of a list.
#[derive(Clone, Debug)]
enum Edit {
    Delete(usize),
    Insert(usize, i64),
    Move(usize, usize),
    Change(usize, i64),
    Loss(usize, i64),
}

fn edits() -> impl Strategy<Value = Vec<Edit>> {
    let at = 0_usize..60;
    let edit = prop_oneof![
        at.clone().prop_map(Edit::Delete),
        (at.clone(), 900_i64..13_000).prop_map(|(at, mm)| Edit::Insert(at, mm)),
        (at.clone(), at.clone()).prop_map(|(from, to)| Edit::Move(from, to)),
        (at.clone(), -500_i64..500).prop_map(|(at, by)| Edit::Change(at, by)),
        (at, 100_i64..200).prop_map(|(at, mm)| Edit::Loss(at, mm)),
    ];
    prop::collection::vec(edit, 0..12)
}

/// The list after the edits, and how many joints they inserted, deleted or moved.
fn edited(rows: &[Row], edits: &[Edit]) -> (Vec<Row>, usize) {
    let mut rows = rows.to_vec();
    let mut cost = 0;
    for (count, edit) in edits.iter().enumerate() {
        let last = rows.len() - 1;
        match edit {
            Edit::Delete(at) if last > 1 => {
                rows.remove(*at.min(&last));
                cost += 1;
            }
            Edit::Insert(at, mm) => {
                let row = Row {
                    number: format!("N{count}"),
                    serial: Some(format!("T{count:03}")),
                    mm: *mm,
                    loss: Some(152),
                };
                rows.insert(*at.min(&last), row);
                cost += 1;
            }
            Edit::Move(from, to) => {
                let row = rows.remove(*from.min(&last));
                rows.insert(*to.min(&last), row);
                cost += 1;
            }
            Edit::Change(at, by) => {
                let row = &mut rows[*at.min(&last)];
                row.mm = (row.mm + by).max(700);
            }
            Edit::Loss(at, mm) => rows[*at.min(&last)].loss = Some(*mm),
            Edit::Delete(_) => {}
        }
    }
    (rows, cost)
}

proptest! {
    #![proptest_config(laws())]

    #[test]
    fn any_edits_leave_no_remainder_and_cost_no_more_than_they_did(edits in edits()) {
        let a = rows(40);
        let (b, cost) = edited(&a, &edits);
        let (one, other) = (tally(&a), tally(&b));
        let found = bridge(&one, &other, Pins::default());
        prop_assert_eq!(found.remainder(), Length::ZERO);
        prop_assert!(found.alignment.cost() <= cost, "{:#?}", found.lines);
        // The way back is as long, and its lines undo these.
        let back = bridge(&other, &one, Pins::default());
        prop_assert_eq!(back.remainder(), Length::ZERO);
        prop_assert_eq!(back.difference(), -found.difference());
        prop_assert_eq!(back.alignment.cost(), found.alignment.cost());
        // Each joint stands in one step, and each step is of joints that are there.
        let of_a = found.alignment.joints.iter().filter(|step| !matches!(step, Aligned::OnlyB { .. }));
        prop_assert_eq!(of_a.count(), a.len());
    }

    #[test]
    fn without_serials_and_renumbered_there_is_no_remainder_either(edits in edits(), up in any::<bool>()) {
        let a = without_serials(&rows(40));
        let (b, _) = edited(&a, &edits);
        let b = renumbered(&without_serials(&b));
        let pins = Pins { up, nominal_loss: None };
        let found = bridge(&tally(&a), &tally(&b), pins);
        prop_assert_eq!(found.remainder(), Length::ZERO);
    }

    #[test]
    fn by_serials_as_many_joints_stay_in_order_as_an_independent_diff_keeps(edits in edits()) {
        let a = rows(40);
        let (b, _) = edited(&a, &edits);
        let serials = |rows: &[Row]| -> Vec<String> {
            rows.iter().map(|row| row.serial.clone().expect("one")).collect()
        };
        let kept: usize = capture_diff_slices(Algorithm::Myers, &serials(&a), &serials(&b))
            .iter()
            .filter(|op| op.tag() == DiffTag::Equal)
            .map(|op| op.old_range().len())
            .sum();
        let found = bridge(&tally(&a), &tally(&b), Pins::default());
        let steps = found.alignment.joints.iter();
        let stay = steps.filter(|step| matches!(step, Aligned::Both { moved: false, .. })).count();
        prop_assert_eq!(stay, kept);
    }
}

const DECISIONS: &str = "matter,joint,list,line,a,b,stands,note\n";

fn problems_of(rows: &str) -> Vec<String> {
    match read_decisions(&format!("{DECISIONS}{rows}"), Unit::Metre) {
        Ok(decisions) => panic!("{rows} was read: {decisions:#?}"),
        Err(problems) => problems.iter().map(ToString::to_string).collect(),
    }
}

#[test]
fn an_unclosed_quote_in_a_file_of_decisions_is_an_error_with_its_line() {
    // The decision on D-11 would be a part of the note on D-04, and nobody would hear of it.
    let swallowed = "length,D-03,a,4,,,b,\n\
         length,D-04,a,5,,,a,\"seen on deck\n\
         makeup-loss,D-11,a,12,,,a,\n";
    for rows in [
        swallowed,
        "length,D-03,a,4,,,b,\nlength,D-04,a,5,,,a,\"seen on deck",
        "length,D-03,a,4,,,b,\nlength,D-04,a,5,,,a,\"seen \"\"on\"\" deck\n\n",
        // The quote of a later note closes it.
        "length,D-03,a,4,,,b,\n\
         length,D-04,a,5,,,a,\"seen on deck\n\
         makeup-loss,D-11,a,12,,,a,\"by tape\"\n",
        // Another quote closes it, and what follows is read as a row.
        "length,D-03,a,4,,,b,\n\
         length,D-04,a,5,,,a,\"seen on deck\r\n\
         makeup-loss,D-11,a,12,,,a,\"\r\n\
         length,D-12,a,13,,,b,\r\n",
    ] {
        let problems = problems_of(rows);
        assert!(
            problems
                .iter()
                .any(|said| said.starts_with("line 3, column 8 (note): ") && said.contains("quote")),
            "{rows}: {problems:?}"
        );
    }
    // Quotes that hold commas, quotes and a second line of a note are no such thing.
    let fine = "length,D-04,a,5,,,a,\"seen, on \"\"deck\"\"\nby two people\"\n";
    let decisions = read_decisions(&format!("{DECISIONS}{fine}"), Unit::Metre).expect("decisions");
    assert_eq!(decisions.len(), 1);
}

#[test]
fn a_message_on_decisions_repeats_at_most_eighty_characters_of_a_cell() {
    let long = "z".repeat(5_000);
    for column in 0..8 {
        let mut cells = ["length", "D-04", "a", "5", "12 m", "12 m", "a", "a note"];
        cells[column] = &long;
        let row = cells.join(",");
        let headed = read_decisions(&format!("{long},{row}"), Unit::Metre);
        let mut problems = headed.expect_err("no header");
        // A joint and a note may be called anything.
        if let Err(others) = read_decisions(&format!("{DECISIONS}{row},{long}\n"), Unit::Metre) {
            problems.extend(others);
        }
        if column != 1 && column != 7 {
            let others = read_decisions(&format!("{DECISIONS}{row}\n"), Unit::Metre);
            problems.extend(others.expect_err("no decision"));
        }
        for problem in problems {
            let said = problem.to_string();
            assert!(said.len() < 4096 && !said.contains(&long[..81]), "{said}");
        }
    }
}

#[test]
fn what_differs_is_said_in_the_unit_asked_for() {
    let a = rows(12);
    let mut b = a.clone();
    b[8].mm += 3_048;
    b[5].loss = Some(305);
    let found = bridge(&tally(&a), &tally(&b), Pins::default());
    for (unit, length, loss) in [
        (Unit::Metre, "3.048 m", "305.0 mm"),
        (Unit::FootInch, "10' 0\"", "12.008 in"),
    ] {
        let format = LengthFormat::new(unit);
        let said: Vec<String> = found
            .lines
            .iter()
            .map(|line| words::bridge_line(line, format))
            .collect();
        assert!(said.iter().any(|it| it.contains(length)), "{said:?}");
        assert!(said.iter().any(|it| it.contains(loss)), "{said:?}");
    }
}

/// Contract 5: readings of different last places agree within half their sum, a foot too much is a foot too much
/// to within rounding, and what rounding makes is one line.
#[test]
fn what_is_only_rounding_is_one_line_and_reasons_allow_for_it() {
    let metres =
        "joint,length (m),makeup_loss\n1,12.115,\n2,12.034,0.152\n3,12.201,0.152\n4,11.902,0.152\n";
    // In sixteenths of an inch; joint 3 a foot too long, joint 4 as another joint.
    let feet = "joint,length (ft-in),makeup_loss\n1,39'-9\",\n2,39'-5 3/4\",6\"\n3,41'-0 3/8\",6\"\n4,39'-9 9/16\",6\"\n";
    let options = |unit| Options {
        units: Some(unit),
        ..Options::default()
    };
    let a = read(metres.as_bytes(), &Options::default()).expect("a list");
    let b = read(feet.as_bytes(), &options(Unit::FootInch)).expect("a list");
    let found = bridge(&a, &b, Pins::default());
    assert_eq!(found.remainder(), Length::ZERO);
    let causes: Vec<(&str, &str)> = found
        .lines
        .iter()
        .map(|line| (line.cause.name(), line.joint.as_str()))
        .collect();
    assert_eq!(causes, [("length", "3"), ("length", "4"), ("rounding", "")]);
    let text = |at: usize| words::bridge_line(&found.lines[at], LengthFormat::new(Unit::Metre));
    assert!(text(0).contains("a whole unit misread in B"), "{}", text(0));
    assert!(
        text(2).starts_with("4 joints differ by no more"),
        "{}",
        text(2)
    );
    // The other way round it says the same, with its sign turned.
    let back = bridge(&b, &a, Pins::default());
    assert_eq!(back.lines[2].effect, -found.lines[2].effect);
    // Of equal last places a millimetre is a difference.
    let other = metres.replace("12.034", "12.035");
    let c = read(other.as_bytes(), &Options::default()).expect("a list");
    assert_eq!(bridge(&a, &c, Pins::default()).lines.len(), 1);
}
