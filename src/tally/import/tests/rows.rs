//! Totals, page heads, notes: recognised, listed, never summed.

use std::fmt::Write as _;

use super::*;
use crate::finding::Code;
use crate::tally::Order;
use crate::tally::SkipReason;
use crate::tally::review;

fn disagreement(text: &str) -> Option<String> {
    let tally = tally(text);
    let string = PipeString::make_up(&tally, Pins::default());
    review(&tally, &string, Pins::default())
        .into_iter()
        .find(|flag| flag.code == Code::TotalDisagrees)
        .map(|flag| {
            crate::report::words::flag(
                &flag,
                crate::measure::LengthFormat::new(crate::measure::Unit::Metre),
            )
        })
}

const PAGES: &str = "Jt,OAL (m),MUL (m),Cum (m),Remarks\n\
    1,12.100,,12.100,\n\
    2,12.200,0.150,24.150,\n\
    Page total,24.300,0.150,24.150,\n\
    Carried forward,,,24.150,\n\
    Page 2 of 2,,,,\n\
    Jt,OAL (m),MUL (m),Cum (m),Remarks\n\
    Brought forward,,,24.150,\n\
    3,12.300,0.150,36.300,\n\
    4,12.400,0.150,48.550,\n\
    Sub-total,24.700,0.300,24.400,\n\
    Total,49.000,0.450,48.550,\n\
    Average,12.250,,,\n\
    No. of joints,4,,,\n\
    \"Note: tape 3, read at 18 C\",,,,\n\
    Strapped by K and L,,,,\n";

#[test]
fn totals_are_recognised_and_not_summed() {
    let tally = tally(PAGES);
    assert_eq!(tally.joints.len(), 4);
    assert_eq!(string_length(&tally), mm(48_550));
    let total = SkipReason::Total(true);
    let forward = SkipReason::CarryForward(true);
    let summary = SkipReason::Summary;
    let note = SkipReason::Note;
    assert_eq!(
        skipped(&tally),
        [
            (4, total),
            (5, forward),
            (6, SkipReason::PageHead),
            (7, SkipReason::HeaderAgain),
            (8, forward),
            (11, total),
            (12, total),
            (13, summary),
            (14, summary),
            (15, note),
            (16, note),
        ]
    );
    assert_eq!(disagreement(PAGES), None);
}

#[test]
fn each_wrong_total_is_found() {
    for (right, wrong, line) in [
        ("Page total,24.300", "Page total,24.310", 4),
        ("Carried forward,,,24.150", "Carried forward,,,24.250", 5),
        ("Brought forward,,,24.150", "Brought forward,,,24.300", 8),
        ("36.300,", "36.310,", 9),
        ("Sub-total,24.700,0.300", "Sub-total,24.700,0.450", 11),
        ("Total,49.000", "Total,48.910", 12),
    ] {
        assert!(PAGES.contains(right));
        // The last place is spelled out, so that the wrong figure departs from every honest sum.
        let text = PAGES.replacen(right, wrong, 1);
        let found = disagreement(&text);
        if (right, line) == ("Sub-total,24.700,0.300", 11) {
            // 0.450 is the sum of all losses so far, which a subtotal may mean.
            assert_eq!(found, None);
            continue;
        }
        let found = found.unwrap_or_else(|| panic!("{wrong} passes"));
        assert!(found.starts_with(&format!("line {line}: ")), "{found}");
    }
}

/// Six joints listed from the top, their running totals counting from the bottom, on three pages:
/// the cells of the carry-forwards under the lengths, the losses and the running totals.
fn falling([first, second, third, fourth]: [&str; 4]) -> String {
    format!(
        "Jt,OAL (m),MUL (m),Cum (m)\n\
        6,12.600,0.150,73.350\n\
        5,12.500,0.150,60.900\n\
        Carried forward,{first}\n\
        Brought forward,{second}\n\
        4,12.400,0.150,48.550\n\
        3,12.300,0.150,36.300\n\
        Carried forward,{third}\n\
        Brought forward,{fourth}\n\
        2,12.200,0.150,24.150\n\
        1,12.100,,12.100\n"
    )
}

#[test]
fn where_running_totals_fall_carry_forwards_are_the_sum_so_far_or_the_rest() {
    for (first, second) in [
        // The sums so far, under the running totals and under the lengths, net and overall.
        (",,24.800", ",,49.200"),
        ("24.800,,", "49.200,,"),
        ("25.100,0.300,24.800", "49.800,0.600,49.200"),
        // The rest.
        (",,48.550", ",,24.150"),
        ("48.550,,", "24.150,,"),
        ("49.000,0.450,48.550", "24.300,0.150,24.150"),
        // Lengths and losses summed down the page, beside running totals of the rest.
        ("25.100,0.300,48.550", "49.800,0.600,24.150"),
    ] {
        let text = falling([first, first, second, second]);
        assert_eq!(disagreement(&text), None, "{first} {second}");
    }
}

#[test]
fn where_running_totals_fall_one_column_does_not_carry_both() {
    let (so_far, rest) = ([",,24.800", ",,49.200"], [",,48.550", ",,24.150"]);
    for (cells, line, computed) in [
        ([rest[0], so_far[0], rest[1], rest[1]], 5, "48.550"),
        ([so_far[0], so_far[0], rest[1], so_far[1]], 8, "49.200"),
        // As many of either: the first decides.
        ([so_far[0], so_far[0], rest[1], rest[1]], 8, "49.200"),
        ([rest[0], rest[0], so_far[1], so_far[1]], 8, "24.150"),
    ] {
        let found = disagreement(&falling(cells)).unwrap_or_else(|| panic!("{cells:?} passes"));
        assert!(
            found.starts_with(&format!("line {line}: carry-forward "))
                && found.contains(&format!("the joints give {computed} m")),
            "{found}"
        );
    }
    // Nor is the rest of the lengths a sum of losses.
    let cells = [",48.550,", ",48.550,", ",24.150,", ",24.150,"];
    let found = disagreement(&falling(cells)).expect("no sum of losses");
    assert!(found.starts_with("line 4: carry-forward "), "{found}");
}

#[test]
fn where_running_totals_rise_a_carry_forward_is_never_the_rest() {
    let rest = PAGES
        .replacen("Carried forward,,,24.150", "Carried forward,,,24.400", 1)
        .replacen("Brought forward,,,24.150", "Brought forward,,,24.400", 1);
    let found = disagreement(&rest).expect("the rest");
    assert!(found.starts_with("line 5: carry-forward "), "{found}");
}

#[test]
fn a_total_may_round_by_half_its_last_place_for_each_term() {
    // Three lengths of 12.004, 12.004, 12.004 make 36.012; to the centimetre each could be 12.00.
    let text = |total: &str| format!("Jt,OAL (m)\n1,12.004\n2,12.004\n3,12.004\nTotal,{total}\n");
    assert_eq!(disagreement(&text("36.00")), None);
    assert_eq!(disagreement(&text("36.02")), None);
    assert!(disagreement(&text("36.03")).is_some());
    // A grand total after page totals sums every page, and its terms are all of them.
    let pages = |total: &str| {
        format!(
            "Jt,OAL (m)\n1,12.004\n2,12.004\nPage total,24.008\n3,12.004\n4,12.004\nPage total,24.008\nTotal,{total}\n"
        )
    };
    assert_eq!(disagreement(&pages("48.00")), None);
    assert!(disagreement(&pages("48.04")).is_some());
}

#[test]
fn the_flag_names_the_first_line_and_counts_the_rest() {
    let text = "Jt,OAL (m),MUL (m),Cum (m)\n1,12.1,,12.200\n2,12.2,0.1,24.300\n3,12.3,0.1,36.500\nTotal,99.0,,\n";
    let found = disagreement(text).expect("three wrong figures");
    assert!(
        found.starts_with("line 2: running total 12.200 m is written, the joints give 12.100 m"),
        "{found}"
    );
    assert!(found.ends_with("3 more figures disagree"), "{found}");
}

#[test]
fn a_total_of_masses_is_no_total_of_lengths() {
    let text = "Jt,OAL (m),Mass (t)\n1,12.1,8.2\n2,12.2,8.3\nTotal,24.3,16.5\n";
    assert_eq!(disagreement(text), None);
}

#[test]
fn a_total_that_cannot_be_checked_says_so() {
    let tally = tally("Jt,OAL (m)\n1,12.1\n2,12.2\nTotal: see page 4,\n");
    assert_eq!(skipped(&tally), [(4, SkipReason::Total(false))]);
}

#[test]
fn a_total_may_do_without_a_label_if_it_is_the_sum() {
    let tally = tally("Jt,OAL (m)\n1,12.1\n2,12.2\n,24.3\n");
    assert_eq!(skipped(&tally), [(4, SkipReason::UnlabelledTotal)]);
    let page = super::tally("Jt,OAL (m)\n1,12.1\n2,12.2\nPage 1,24.3\n");
    assert_eq!(page.joints.len(), 2);
    let refused = refusal("Jt,OAL (m)\n1,12.1\n2,12.2\n,12.4\n");
    assert!(
        refused.contains("line 4, column 1 (Jt): the length column holds `12.4`"),
        "{refused}"
    );
}

#[test]
fn totals_without_labels_are_known_throughout_a_long_list() {
    // Joints of 4.0001 m, a loss of 0.15 m each, and after every tenth what they add up to: those of
    // the page or all so far, with the losses or without.
    let list = |total: fn(i64) -> i64| {
        let mut text = String::from("Jt,OAL (m),MUL (m)\n");
        for joint in 1..=20_000 {
            let _ = writeln!(text, "{joint},4.0001,0.1500");
            if joint % 10 == 0 {
                let total = Length::from_nm(total(joint) * 100_000);
                let _ = writeln!(text, ",{},", total.exact_metres());
            }
        }
        text
    };
    let ways: [fn(i64) -> i64; 4] = [
        |_| 400_010,
        |_| 385_010,
        |joint| joint * 40_001,
        |joint| joint * 38_501,
    ];
    for total in ways {
        let tally = tally(&list(total));
        assert_eq!((tally.joints.len(), tally.skipped.len()), (20_000, 2_000));
        let net = Length::from_nm(3_850_100_000);
        assert_eq!(string_length(&tally), net.times(20_000) + mm(150));
    }
    // Nor does the length of the list let a wrong one pass.
    let wrong = list(ways[0]) + "20001,4.0001,0.1500\n20002,4.0001,0.1500\n,8.0004,\n";
    assert_eq!(
        refusal(&wrong),
        "line 22004, column 1 (Jt): the length column holds `8.0004`, but there is no joint number \
         beside it; expected one, or a word such as total"
    );
}

#[test]
fn every_label_of_a_total_is_known() {
    for label in [
        "Total",
        "TOTAL LENGTH",
        "Sub total",
        "Subtotal p. 1",
        "Sum",
        "Sum page 1",
        "Σ",
        "TTL",
        "Page total",
        "C/F",
        "B/F",
        "c/fwd",
        "Carry-forward",
        "Carried over",
        "Brought forward",
        "From previous page",
    ] {
        let tally = tally(&format!("Jt,OAL (m)\n1,12.1\n2,12.2\n{label},24.3\n"));
        assert_eq!(tally.joints.len(), 2, "{label}");
        assert_eq!(tally.claims.len(), 1, "{label}");
    }
}

#[test]
fn a_remark_beside_a_figure_is_a_question_not_a_joint() {
    let refused = refusal("Jt,OAL (m)\n1,12.1\n2,12.2\nStick-up,1.120\n");
    assert!(
        refused.starts_with("line 4, column 1 (Jt): is `Stick-up` a joint, or a remark?"),
        "{refused}"
    );
    // With a kind, a serial or a loss it is a joint; so are names of the trade.
    for row in [
        "Shoe joint,,12.3",
        "Pup,,1.5",
        "K,,12.3",
        "Stub end,pup,1.5",
        "Jt No 3,,12.3",
    ] {
        let text = format!("Jt,Kind,OAL (m)\n7,,12.1\n8,,12.2\n{row}\n");
        let stated = Options {
            order: Some(Order::ShoeFirst),
            ..Options::default()
        };
        assert_eq!(with(&text, &stated).joints.len(), 3, "{row}");
    }
    // A list may name all its joints in words.
    assert_eq!(
        tally("Jt,OAL (m)\nalpha,12.1\nbravo,12.2\n").joints.len(),
        2
    );
}

#[test]
fn notes_with_separators_are_notes() {
    let tally = tally(
        "Jt,Serial,OAL (m)\n1,S1,12.1\n2,S2,12.2\nNote: tape 3, read at 18 C, by K\nStrapped by K, checked by L\n",
    );
    assert_eq!(
        skipped(&tally),
        [(4, SkipReason::Note), (5, SkipReason::Note)]
    );
}

#[test]
fn titles_repeat_on_every_page() {
    let tally =
        tally("String A,Yard\nJt,OAL (m)\n1,12.1\n2,12.2\n\x0CString A,Yard\nJt,OAL (m)\n3,12.3\n");
    assert_eq!(
        skipped(&tally),
        [
            (1, SkipReason::AboveTable),
            (5, SkipReason::TitleAgain),
            (6, SkipReason::HeaderAgain)
        ]
    );
}

#[test]
fn another_table_below_is_a_problem() {
    let refused =
        refusal("Jt,OAL (m),MUL (m)\n1,12.1,0.1\n2,12.2,0.1\nJt,MUL (m),OAL (m)\n3,0.1,12.3\n");
    assert!(refused.contains("line 4: another header"), "{refused}");
}

#[test]
fn a_header_of_two_lines_is_read() {
    let tally = tally("Joint,Overall,Make-up\nNo.,length,loss\n,m,m\n1,12.1,0.1\n2,12.2,0.1\n");
    assert_eq!(tally.joints.len(), 2);
}

#[test]
fn a_joint_without_a_length_is_an_error() {
    let refused = refusal("Jt,OAL (m)\n1,12.1\n2,\n3,12.3\n");
    assert!(
        refused.contains("line 3, column 2 (OAL (m)): joint 2 has no length"),
        "{refused}"
    );
}

#[test]
fn rows_between_header_and_units_are_listed() {
    let tally = tally("Jt,OAL\n,\n,m\n1,12.1\n2,12.2\n");
    assert_eq!(skipped(&tally), [(2, SkipReason::BlankRow)]);
}

#[test]
fn lengths_of_the_string_below_the_table_are_no_joints() {
    let text = "Jt,OAL (m),MUL (m)\n1,12.1,0\n2,12.2,0.15\nString length,71.818,\nLess stick up,2.0,\nNet length,69.818,\n";
    let tally = tally(text);
    assert_eq!(numbers_of(&tally), ["1", "2"]);
    assert!(
        skipped(&tally)
            .iter()
            .all(|(_, why)| *why == SkipReason::Summary)
    );
}

#[test]
fn cells_that_say_there_is_nothing_to_say_are_blank() {
    for nothing in ["-", "n/a", "N/A", "na", "nil", "None"] {
        let tally = tally(&format!(
            "Jt,Kind,OAL (m),MUL (m)\n1,{nothing},12.1,{nothing}\n2,joint,12.2,0.15\n"
        ));
        assert_eq!(losses(&tally), [None, Some(mm(150))], "{nothing}");
        assert_eq!(tally.notes, [], "{nothing}");
    }
}
