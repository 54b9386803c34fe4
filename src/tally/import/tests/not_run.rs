//! Rows that may not be in the string.

use std::fmt::Write as _;

use super::*;
use crate::finding::{Code, RowSign};
use crate::tally::import::{NotRun, Problem, Question};
use crate::tally::review;

fn not_run(answer: NotRun) -> Options {
    Options {
        not_run: Some(answer),
        ..Options::default()
    }
}

/// The lines that a question names, each with its sign.
fn asked(text: &str) -> Vec<(u32, RowSign)> {
    let problems = read(text.as_bytes(), &Options::default()).err();
    let problems = problems.unwrap_or_default();
    let mut signs = Vec::new();
    for problem in &problems {
        match problem {
            Problem::Open(Question::RowsDoubted { rows, .. }) => {
                signs.extend(rows.iter().map(|row| (row.line, row.sign)));
            }
            other => panic!("{text}: {other}"),
        }
    }
    signs
}

fn word(word: &'static str, column: usize) -> RowSign {
    RowSign::Word { word, column }
}

fn status(says: &'static str, column: usize) -> RowSign {
    RowSign::Status { says, column }
}

#[test]
fn one_answer_settles_all_rows_that_a_question_names() {
    let text = "Jt,OAL (m),Grade,Remarks\n1,12.1,X,\n2,12.2,X,\"rejected, bent pin\"\n\
                3,12.3,laid out,\n4 (spare),12.4,X,\n5,,X,not run\n6,12.6,X,\n";
    let refused = refusal(text);
    assert_eq!(
        refused,
        "were these run? line 3 joint 2: `rejected` in column 4; line 4 joint 3: `laid out` in column 3; \
         line 5 joint 4 (spare): `spare` in column 1; line 6 joint 5: `not run` in column 4. \
         Leave them out with --not-run leave-out, or count them with --not-run count \
         (in a job: read = { not_run = \"...\" })"
    );
    let left = with(text, &not_run(NotRun::LeaveOut));
    assert_eq!(numbers_of(&left), ["1", "6"]);
    assert_eq!(
        skipped(&left),
        [
            (3, SkipReason::NotRun(word("rejected", 4))),
            (4, SkipReason::NotRun(word("laid out", 3))),
            (5, SkipReason::NotRun(word("spare", 1))),
            (6, SkipReason::NotRun(word("not run", 4))),
        ]
    );
    assert!(left.doubted.is_empty());
    let whole = text.replace("5,,X", "5,12.5,X");
    let counted = with(&whole, &not_run(NotRun::Count));
    assert_eq!(counted.joints.len(), 6);
    let string = PipeString::make_up(&counted, Pins::default());
    let flags = review(&counted, &string, Pins::default());
    let doubted: Vec<_> = flags
        .iter()
        .filter(|flag| flag.code == Code::RowsDoubted)
        .collect();
    assert_eq!(doubted.len(), 1);
    // Counted, a joint without a length is an error as ever.
    assert!(refusal_with(text, &not_run(NotRun::Count)).contains("joint 5 has no length"));
}

#[test]
fn every_word_is_a_sign_and_serials_are_none() {
    for sign in [
        "not run",
        "rejected",
        "reject",
        "rej",
        "laid out",
        "laid down",
        "L/D",
        "scrap",
        "spare",
        "backload",
        "returned",
        "void",
        "cancelled",
        "left on deck",
    ] {
        let text = format!("Jt,OAL (m),Remarks\n1,12.1,\n2,12.2,{sign}\n");
        assert_eq!(asked(&text).len(), 1, "{sign}");
        let text = format!("Jt,S/N,OAL (m)\n1,S1,12.1\n2,{sign},12.2\n");
        assert_eq!(asked(&text), [], "{sign}");
    }
    let fine = "Jt,Heat,S/N,OAL (m),Remarks\n1,rej,S1,12.1,\n2,void,S2,12.2,\"box cleaned, avoid impact\"\n";
    assert_eq!(asked(fine), []);
}

#[test]
fn a_column_that_asks_whether_a_joint_was_run_answers() {
    let column = |heading: &str, cells: [&str; 5]| {
        let mut text = format!("Jt,OAL (m),{heading}\n");
        for (at, cell) in cells.iter().enumerate() {
            let _ = writeln!(text, "{},12.{at},{cell}", at + 1);
        }
        asked(&text)
    };
    for heading in ["Run", "Run (Y/N)", "Status", "Used?", "Accept", "In/Out"] {
        let no = column(heading, ["yes", "yes", "No", "yes", "N"]);
        assert_eq!(no, [(4, status("no", 3)), (6, status("n", 3))], "{heading}");
    }
    assert_eq!(
        column("Status", ["ok", "ok", "rej", "ok", "ok"]),
        [(4, word("rej", 3))]
    );
    assert_eq!(
        column("In/Out", ["in", "in", "out", "in", "in"]),
        [(4, status("out", 3))]
    );
    // A cross, a dash or nothing where the others are filled otherwise.
    assert_eq!(
        column("Run", ["y", "x", "y", "-", ""]),
        [(3, status("x", 3)), (5, status("-", 3)), (6, status("", 3))]
    );
    assert_eq!(
        column("Run", ["y", "x", "y", "y", "y"]),
        [(3, status("x", 3))]
    );
    assert_eq!(
        column("Run", ["y", "-", "y", "y", "y"]),
        [(3, status("-", 3))]
    );
    assert_eq!(
        column("Run", ["x", "x", "", "x", "x"]),
        [(4, status("", 3))]
    );
    // A cross that ticks off, and a column that nobody filled in.
    assert_eq!(column("Run", ["x", "x", "x", "x", "x"]), []);
    assert_eq!(column("Run", ["", "", "", "", ""]), []);
    assert_eq!(column("Run", ["", "", "x", "", ""]), []);
    assert_eq!(column("Run length", ["y", "no", "y", "y", "y"]), []);
    // What follows the answer does not change it, and a remark that begins with the same word is none.
    for (no, says) in [
        ("No - bent pin", "no"),
        ("NO!", "no"),
        ("N*", "n"),
        ("On deck", "on deck"),
        ("fail", "fail"),
    ] {
        let asked = column("Acc/Rej", ["ok", no, "ok", "ok", "ok"]);
        assert_eq!(asked, [(3, status(says, 3))], "{no}");
    }
    let before = ["on deck"; 5];
    assert_eq!(column("Status", before), []);
    for fine in ["No defects", "n/a", "Nominal", "deck lift 2"] {
        assert_eq!(
            column("Status", ["ok", fine, "ok", "ok", "ok"]),
            [],
            "{fine}"
        );
    }
}

#[test]
fn a_line_of_text_that_names_joints_is_a_sign_of_each_of_them() {
    let text = |note: &str| format!("Jt,OAL (m),Remarks\n1,12.1,\n2,12.2,\n{note}\n3,12.3,\n");
    let named = |word, rows: &[u32]| -> Vec<(u32, RowSign)> {
        let sign = RowSign::Named { word, line: 4 };
        rows.iter().map(|row| (*row, sign)).collect()
    };
    for (note, rows) in [
        ("Jt 2 rejected", vec![3]),
        ("Note: joint 3 was rejected,,", vec![5]),
        ("\"Joints 1, 3 rejected\"", vec![2, 5]),
        (",,rejected by inspector", vec![3]),
        ("Note: joint 12 rejected", vec![]),
        ("No joints rejected", vec![]),
    ] {
        assert_eq!(asked(&text(note)), named("rejected", &rows), "{note}");
    }
    assert_eq!(
        refusal(&text("Joint 3 not run")).split(". Leave").next(),
        Some("were these run? line 5 joint 3: line 4 says `not run` of it")
    );
}

#[test]
fn rows_under_a_heading_of_joints_not_run_are_asked_about() {
    let text = "Jt,OAL (m)\n1,12.1\n2,12.2\n3,12.3\nTotal,36.6\n\nSpare joints on deck\n4,12.4\n5,12.5\n,24.9\nTotal,24.9\n";
    let expected = [4, 5].map(|joint: u32| (joint + 4, RowSign::Under(7)));
    assert_eq!(asked(text)[..2], expected);
    let left = with(text, &not_run(NotRun::LeaveOut));
    assert_eq!(numbers_of(&left), ["1", "2", "3"]);
    let string = PipeString::make_up(&left, Pins::default());
    let flags = review(&left, &string, Pins::default());
    assert!(
        flags.iter().all(|flag| flag.code == Code::LossMissing),
        "{flags:?}"
    );
    // Until another heading says that joints were run, and not for a remark on one of them.
    let again = "Jt,OAL (m)\nNot run:\n9,12.4\nJoints run\n1,12.1\n2,12.2\n";
    assert_eq!(asked(again), [(3, RowSign::Under(2))]);
    for note in [
        "Note: joint 9 was rejected",
        "No joints rejected",
        "1 rejected",
    ] {
        assert_eq!(
            asked(&format!("Jt,OAL (m)\n1,12.1\n{note}\n2,12.2\n")),
            [],
            "{note}"
        );
    }
}

#[test]
fn a_question_about_many_rows_says_how_many_more_there_are() {
    let mut text = "Jt,OAL (m),Remarks\n".to_owned();
    for joint in 1..=900 {
        let _ = writeln!(text, "{joint},12.1,rejected");
    }
    let said = refusal(&text);
    let first = said.lines().next().unwrap_or_default();
    assert!(first.len() < 4_096, "{}", first.len());
    assert!(first.contains("; and 8"), "{first}");
    assert!(
        first.ends_with("(in a job: read = { not_run = \"...\" })"),
        "{first}"
    );
}
