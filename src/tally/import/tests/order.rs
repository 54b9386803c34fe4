//! Which end of the page is the shoe.

use std::fmt::Write as _;

use super::*;
use crate::finding::Code;
use crate::tally::{FileNote, Order};

fn ordered(order: Order) -> Options {
    Options {
        order: Some(order),
        ..Options::default()
    }
}

#[test]
fn kinds_tell_the_order_before_anything_else() {
    let tally = tally("joint,kind,length (m)\nA,top,12.1\nB,,12.2\nC,shoe,12.3\n");
    assert_eq!(tally.order, Order::TopFirst);
    assert_eq!(numbers_of(&tally), ["C", "B", "A"]);
    assert!(!tally.order_assumed);
}

#[test]
fn a_running_total_that_falls_down_the_page_is_top_first() {
    let text = "Jt,OAL (m),Cum (m)\nA,12.1,36.6\nB,12.2,24.5\nC,12.3,12.3\n";
    assert_eq!(numbers_of(&tally(text)), ["C", "B", "A"]);
    let rising = "Jt,OAL (m),Cum (m)\nA,12.1,12.1\nB,12.2,24.3\nC,12.3,36.6\n";
    assert_eq!(numbers_of(&tally(rising)), ["A", "B", "C"]);
}

#[test]
fn numbers_that_fall_to_one_are_top_first() {
    assert_eq!(
        numbers_of(&tally("Jt,OAL (m)\n3,12.1\n2,12.2\n1,12.3\n")),
        ["1", "2", "3"]
    );
    assert_eq!(
        numbers_of(&tally("Jt,OAL (m)\nA-03,12.1\nA-02,12.2\nA-01,12.3\n")),
        ["A-01", "A-02", "A-03"]
    );
    let rising = tally("Jt,OAL (m)\n1,12.1\n2,12.2\n3,12.3\n");
    assert_eq!(
        (rising.order, rising.order_assumed),
        (Order::ShoeFirst, false)
    );
}

#[test]
fn marks_around_numbers_and_words_in_their_place_hide_no_order() {
    for numbers in [
        ["3.", "2.", "1."],
        ["(3)", "(2)", "(1)"],
        ["3:", "2:", "1:"],
    ] {
        let [first, second, third] = numbers;
        let text = format!("Jt,OAL (m)\n{first},12.1\n{second},12.2\n{third},12.3\n");
        assert_eq!(numbers_of(&tally(&text)), [third, second, first]);
    }
    let named = "Jt,OAL (m)\nRJ,12.1\n3,12.2\n2,12.3\n1,12.1\n";
    assert_eq!(numbers_of(&tally(named)), ["1", "2", "3", "RJ"]);
}

#[test]
fn a_remark_that_speaks_of_the_shoe_names_no_shoe_joint() {
    let of = |remark: &str| {
        read(
            format!("Jt,OAL (m),Remarks\nK,12.1,\nR,12.2,\nT,12.3,{remark}\n").as_bytes(),
            &Options::default(),
        )
    };
    for remark in [
        "no shoe",
        "distance to shoe",
        "shoe at 96.2",
        "not a shoe joint",
    ] {
        assert!(of(remark).is_ok(), "{remark}");
    }
    for remark in [
        "shoe",
        "Shoe joint",
        "float shoe fitted",
        "with shoe",
        "shoe joint no. 1",
        "shoe joint at the bottom",
    ] {
        assert!(of(remark).is_err(), "{remark}");
    }
}

#[test]
fn without_evidence_shoe_first_is_assumed_and_said() {
    assert!(tally("Jt,OAL (m)\nK,12.1\nR,12.2\n").order_assumed);
    assert!(tally("Jt,OAL (m)\n7,12.1\n4,12.2\n").order_assumed);
    // Numbers that rise from another number than 1 are no evidence either.
    assert!(tally("Jt,OAL (m)\n41,12.1\n42,12.2\n").order_assumed);
    // The plain form is shoe first by definition; units in brackets keep the form.
    assert!(!tally("joint,length (m)\nK,12.1\nR,12.2\n").order_assumed);
    assert!(!with("Jt,OAL (m)\nK,12.1\nR,12.2\n", &ordered(Order::TopFirst)).order_assumed);
}

#[test]
fn a_stated_order_answers_a_conflict_of_totals_and_numbers() {
    let text = "Jt,OAL (m),Cum (m)\n1,12.1,36.6\n2,12.2,24.5\n3,12.3,12.3\n";
    let refused = refusal(text);
    assert!(
        refused.contains("which end is the shoe?") && refused.contains("--order"),
        "{refused}"
    );
    assert!(
        refused.contains("falls down the page") && refused.contains("rise from 1 to 3"),
        "{refused}"
    );
    assert_eq!(
        numbers_of(&with(text, &ordered(Order::TopFirst))),
        ["3", "2", "1"]
    );
    assert_eq!(
        numbers_of(&with(text, &ordered(Order::ShoeFirst))),
        ["1", "2", "3"]
    );
}

#[test]
fn kinds_against_numbers_are_a_question() {
    let text = "Jt,Kind,OAL (m)\n1,top,12.1\n2,,12.2\n3,shoe,12.3\n";
    let refused = refusal(text);
    assert!(
        refused.contains("the top joint is on line 2")
            || refused.contains("the shoe joint is on line 4"),
        "{refused}"
    );
    assert!(refused.contains("--order"), "{refused}");
    assert_eq!(
        numbers_of(&with(text, &ordered(Order::TopFirst))),
        ["3", "2", "1"]
    );
}

#[test]
fn a_stated_order_settles_any_conflict_kinds_included_and_says_so() {
    let text = "joint,kind,length (m)\n1,shoe,12.1\n2,,12.2\n3,top,12.3\n";
    let stated = with(text, &ordered(Order::TopFirst));
    assert_eq!(numbers_of(&stated), ["3", "2", "1"]);
    assert_eq!(
        stated.notes,
        [FileNote::OrderAgainstKinds {
            said: "the shoe joint is on line 2".to_owned()
        }]
    );
    assert_eq!(with(text, &ordered(Order::ShoeFirst)).notes, []);
    // Kinds that contradict each other are settled too.
    let both = "joint,kind,length (m)\n1,shoe,12.1\n2,,12.2\n3,,12.3\nL1,landing,9\n";
    let both = both.replace("1,shoe", "1,top");
    assert!(refusal(&both).contains("the kinds contradict each other"));
    for (order, numbers) in [
        (Order::ShoeFirst, ["1", "2", "3", "L1"]),
        (Order::TopFirst, ["3", "2", "1", "L1"]),
    ] {
        assert_eq!(numbers_of(&with(&both, &ordered(order))), numbers);
    }
}

#[test]
fn landing_rows_at_the_other_end_of_a_page_of_stated_order_stand_on_top() {
    let text =
        "Jt,Kind,OAL (m),Cum (m)\nL1,landing,9.0,\n1,,12.1,12.1\n2,,12.2,24.3\n3,,12.3,36.6\n";
    let refused = refusal(text);
    assert!(
        refused.contains("landing joints are on line 2, but the running total rises"),
        "{refused}"
    );
    let stated = with(text, &ordered(Order::ShoeFirst));
    assert_eq!(numbers_of(&stated), ["1", "2", "3", "L1"]);
    let string = PipeString::make_up(&stated, Pins::default());
    let flags = crate::tally::review(&stated, &string, Pins::default());
    assert!(
        flags.iter().all(|flag| flag.code == Code::LossMissing),
        "the running totals are those of the same joints: {flags:?}"
    );
}

#[test]
fn a_blank_loss_at_one_end_alone_against_the_joint_numbers_is_a_question() {
    let table = |losses: [&str; 4]| {
        let mut text = "Jt,OAL (m),MUL (m)\n".to_owned();
        for (at, loss) in losses.iter().enumerate() {
            let _ = writeln!(text, "{},12.{at},{loss}", at + 1);
        }
        text
    };
    for last in ["", "0", "0.000", "-"] {
        let text = table(["0.15", "0.15", "0.15", last]);
        assert_eq!(
            refusal(&text),
            "which end is the shoe? the joint numbers rise from 1 to 4, but the joint on line 5 alone has no make-up \
             loss, as the shoe joint has none (with --pin up it is the top joint); state it with --order shoe-first or \
             --order top-first (in a job: read = { order = \"...\" })"
        );
        for order in [Order::ShoeFirst, Order::TopFirst] {
            assert_eq!(with(&text, &ordered(order)).joints.len(), 4);
        }
        let up = Options {
            pins_up: true,
            ..Options::default()
        };
        assert_eq!(with(&text, &up).order, Order::ShoeFirst);
    }
    for fine in [
        ["", "0.15", "0.15", "0.15"],
        ["0", "0.15", "0.15", "0.15"],
        ["", "0.15", "0.15", ""],
        ["0.15", "0.15", "", "0.15"],
        ["0.15", "0.15", "0.15", "0.15"],
        ["", "", "", ""],
    ] {
        assert_eq!(tally(&table(fine)).order, Order::ShoeFirst, "{fine:?}");
    }
    // Kinds outrank it.
    let kinds = "Jt,Kind,OAL (m),MUL (m)\n1,shoe,12.1,0.15\n2,,12.2,0.15\n3,,12.3,\n";
    assert_eq!(tally(kinds).order, Order::ShoeFirst);
}

#[test]
fn a_shoe_joint_in_the_remarks_against_the_joint_numbers_is_a_question() {
    let text = "Jt,OAL (m),Remarks\n1,12.1,\n2,12.2,\n3,12.3,Shoe joint\n";
    let refused = refusal(text);
    assert!(
        refused.contains("the joint numbers rise from 1 to 3, but line 4 names the shoe"),
        "{refused}"
    );
    assert_eq!(with(text, &ordered(Order::TopFirst)).joints.len(), 3);
    let fine = "Jt,OAL (m),Remarks\n1,12.1,float shoe\n2,12.2,\n3,12.3,\n";
    assert_eq!(tally(fine).order, Order::ShoeFirst);
    // Nothing else tells, and shoe first would be wrong.
    let untold = refusal("Jt,OAL (m),Remarks\nK,12.1,\nM,12.2,\nP,12.3,shoe\n");
    assert_eq!(
        untold,
        "which end is the shoe? line 4 names the shoe, and nothing else tells; state it with --order shoe-first or \
         --order top-first (in a job: read = { order = \"...\" })"
    );
}

#[test]
fn kinds_where_they_cannot_be_name_their_cell() {
    let middle = refusal("joint,kind,length (m)\n1,,12.1\n2,shoe,12.2\n3,,12.3\n");
    assert!(
        middle.starts_with("line 3, column 2 (kind): kind shoe is in the middle"),
        "{middle}"
    );
    let twice = refusal("joint,kind,length (m)\n1,shoe,12.1\n2,,12.2\n3,shoe,12.3\n");
    assert!(
        twice.starts_with("line 4, column 2 (kind): a second joint of kind shoe"),
        "{twice}"
    );
    let same_end = refusal("joint,kind,length (m)\n1,shoe,12.1\n2,landing,12.2\n3,,12.3\n");
    assert!(
        same_end.starts_with("line 3, column 2 (kind): landing joints are among"),
        "{same_end}"
    );
}

#[test]
fn landing_joints_stand_above_the_conductor_and_out_of_its_length() {
    let text = "joint,kind,length (m),makeup_loss (mm)\n1,shoe,12.1,\n2,top,12.2,150\nL1,landing,9.0,100\nL2,landing,1.5,0\n";
    let shoe_first = tally(text);
    assert_eq!(shoe_first.conductor_joints(), 2);
    let string = PipeString::make_up(&shoe_first, Pins::default());
    assert_eq!(
        (string.length, string.landing_length),
        (mm(24_150), mm(10_400))
    );
    let mut lines: Vec<&str> = text.lines().collect();
    lines[1..].reverse();
    let top_first = tally(&lines.join("\n"));
    assert_eq!(numbers_of(&top_first), numbers_of(&shoe_first));
    assert_eq!(
        PipeString::make_up(&top_first, Pins::default()).landing_length,
        mm(10_400)
    );
}

#[test]
fn pins_up_give_the_top_joint_its_whole_length() {
    let text = "joint,kind,length (m),makeup_loss (mm)\n1,shoe,12.1,150\n2,,12.2,151\n3,top,12.3,152\nL1,landing,9.0,100\nL2,landing,1.5,90\n";
    let tally = tally(text);
    let up = Pins {
        up: true,
        nominal_loss: None,
    };
    let string = PipeString::make_up(&tally, up);
    // Below the top each loses its own loss, the top joint none: 36.600 - 0.150 - 0.151.
    assert_eq!(string.length, mm(36_299));
    // The landing string loses the top joint's pin, and all but its topmost piece their own.
    assert_eq!(string.landing_length, mm(10_500 - 152 - 100));
    assert_eq!(string.open_end(), 4);
}

#[test]
fn a_nominal_loss_stands_for_a_blank_one() {
    let tally = tally("joint,length (m),makeup_loss (m)\n1,12.1,\n2,12.2,\n3,12.3,0.100\n");
    let pins = Pins {
        up: false,
        nominal_loss: Some(mm(152)),
    };
    assert_eq!(
        PipeString::make_up(&tally, pins).length,
        mm(36_600 - 152 - 100)
    );
}
