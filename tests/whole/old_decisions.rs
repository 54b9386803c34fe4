//! Files of decisions: those from before the journal had them, and those of the command line.

use std::fs;
use std::path::Path;

use super::deciding::{NEXT, kerfmark, reconcile_d, sample, take};
use crate::common::decided::decided;
use crate::common::on_screen::press;
use kerfmark::figures;
use kerfmark::finding::Code;
use kerfmark::folder::{self, Book, now};
use kerfmark::measure::{Length, Unit};
use kerfmark::reconcile::{Decision, Stands, Topic, read_decisions};
use kerfmark::tally::{Options, Order, Pins, PipeString, read};

/// Decisions as they were kept before the journal had them.
fn old_file(folder: &Path, rows: &str) {
    fs::create_dir_all(folder.join("decisions")).expect("a folder");
    let text = format!("matter,joint,list,line,a,b,stands,note\n{rows}");
    fs::write(folder.join("decisions/D-yard.csv"), text).expect("a file");
}

#[test]
fn an_old_file_of_decisions_is_read_as_it_is_and_its_rows_are_taken_over_by_the_first_entry() {
    let place = sample();
    let rows = "length,D-04,a,5,12.033 m,12.303 m,12.034 m,\"tape, twice\"\nplace,D-09,a,10,,,b,\n";
    old_file(place.path(), rows);
    let kept = fs::read(place.path().join("decisions/D-yard.csv")).expect("a file");
    let decisions = || {
        let inputs = folder::open(place.path()).expect("a job that opens");
        let decisions = &inputs.lists[3][0].decisions;
        let known = |it: &Decision| Decision {
            row: 0,
            ..it.clone()
        };
        decisions.iter().map(known).collect::<Vec<_>>()
    };
    let before = decisions();
    assert_eq!(before.len(), 2);
    let mut book = Book::open(place.path()).expect("a job");
    let note = r#"{"event":"note","by":"NK","text":"x"}"#;
    let entry = book.enter_text(note, None, now).expect("an entry");
    assert_eq!(entry.seq, 3, "both rows come before it");
    let taken = [
        "length D-04 measured 12.034 m tape, twice",
        "place D-09 yard",
    ];
    assert_eq!(decided(place.path()), taken);
    let journal = fs::read_to_string(place.path().join("journal.jsonl")).expect("a journal");
    assert_eq!(journal.matches("\"by\":\"decisions file\"").count(), 2);
    // What they say is the same, and the file is as it was.
    let mut after = decisions();
    after.sort_by_key(|it| it.topic);
    assert_eq!(after, before);
    let file = fs::read(place.path().join("decisions/D-yard.csv")).expect("a file");
    assert_eq!(file, kept);
    // Only once; and a row that a program of old adds later follows.
    book.enter_text(note, None, now).expect("an entry");
    assert_eq!(decided(place.path()).len(), 2);
    old_file(place.path(), &format!("{rows}makeup-loss,D-11,a,12,,,a,\n"));
    let mut book = Book::open(place.path()).expect("a job");
    book.enter_text(note, None, now).expect("an entry");
    assert_eq!(decided(place.path())[2], "makeup-loss D-11 record");
    // A person who decides otherwise contradicts nobody.
    let other =
        r#"{"event":"decision","by":"NK","slot":"D","of":"length","joint":"D-04","choice":"yard"}"#;
    book.enter_text(other, None, now).expect("an entry");
    assert_eq!(decisions().len(), 3);
    let figures = figures::of_inputs(&folder::open(place.path()).expect("a job that opens"));
    let flags = &figures.slots[3].flags;
    assert!(flags.iter().all(|it| it.code != Code::DecisionsContradict));
    // Struck, a row has no effect and is not taken again.
    let strike = r#"{"event":"strike","by":"NK","strikes":2,"why":"x"}"#;
    book.enter_text(strike, None, now).expect("an entry");
    assert_eq!(decisions().len(), 2);
}

#[test]
fn an_entry_that_is_refused_takes_nothing_over() {
    let place = sample();
    old_file(place.path(), "place,D-09,a,10,,,b,\n");
    let mut book = Book::open(place.path()).expect("a job");
    let unknown =
        r#"{"event":"decision","by":"NK","slot":"D","of":"length","joint":"D-44","choice":"yard"}"#;
    let error = book
        .enter_text(unknown, None, now)
        .expect_err("no such joint");
    let said = error.to_string();
    assert!(
        said.contains("joint `D-44` is in no list of this string"),
        "{said}"
    );
    assert!(!place.path().join("journal.jsonl").exists());
}

#[test]
fn an_old_decision_that_was_cut_off_is_flagged_and_blocks_no_other() {
    let place = sample();
    for piece in ["place,D-09,a,10,,", "length,D-04,a,5,12.033 m,12.303 m,b,"] {
        old_file(
            place.path(),
            &format!("makeup-loss,D-11,a,12,,,a,\n{piece}"),
        );
        let inputs = folder::open(place.path()).expect("a job that opens");
        assert_eq!(inputs.lists[3][0].decisions.len(), 1);
        let figures = figures::of_inputs(&inputs);
        let mut flags = figures.slots[3].flags.iter();
        let flag = flags.find(|flag| flag.code == Code::ListUnreadable);
        let text = format!("{:?}", flag.expect("a flag"));
        assert!(text.contains("line 3 has no line end"), "{text}");
        let mut state = reconcile_d(place.path());
        press(&mut state, &NEXT);
        let effects = take(&mut state, "yard");
        assert_eq!(effects.len(), 1, "{:?}", state.message());
    }
}

#[test]
fn a_row_that_is_no_decision_is_told_with_its_place() {
    let refused = |row: &str| {
        let text = format!("matter,joint,list,line,a,b,stands,note\n{row}\n");
        let problems = read_decisions(&text, Unit::Metre).expect_err(row);
        problems[0].to_string()
    };
    let mut all = String::new();
    for row in [
        "lenght,7,a,8,,,a,",
        "length,,a,8,,,a,",
        "length,7,a,eight,,,a,",
        "length,7,c,8,,,a,",
        "length,7,a,8,,,12.x,by tape",
        "length,7,a,8,,,12.192,",
        "length,7,a,8,,,48,by tape",
        "place,7,a,8,,,12.192,by tape",
        "length,7,a,8,,,a,b,c",
        "length,7,a,8,12.x,,a,",
    ] {
        all.push_str(&refused(row));
        all.push('\n');
    }
    let header = read_decisions("joint,stands\n", Unit::Metre).expect_err("another header");
    all.push_str(&header[0].to_string());
    insta::assert_snapshot!(all);
}

#[test]
fn a_row_of_decisions_reads_as_it_is_written() {
    let text = "matter,joint,list,line,a,b,stands,note\nlength,\"A,7\",a,8,12.034 m,,12.0015 m,\"tape, \"\"twice\"\"\"\n";
    let read = read_decisions(text, Unit::Foot).expect("decisions");
    let expected = Decision {
        topic: Topic::Length,
        joint: "A,7".to_owned(),
        in_b: false,
        line: 8,
        said: [Some(Length::from_mm(12_034)), None],
        stands: Stands::Measured(Length::from_nm(12_001_500_000)),
        note: "tape, \"twice\"".to_owned(),
        row: 2,
    };
    assert_eq!(read, [expected]);
}

#[test]
fn decisions_in_a_file_make_the_tally_of_record() {
    let place = sample();
    let folder = place.path();
    let sources = ["tallies/d.csv", "tallies/d-yard.csv"];
    let before = sources.map(|file| fs::read(folder.join(file)).expect("a source"));
    let [a, b] = sources;
    let listed = kerfmark(folder, &["reconcile", a, b, "--units", "m", "--to-decide"]);
    let rows = String::from_utf8(listed.stdout).expect("text");
    assert_eq!(rows.lines().count(), 4, "{rows}");
    let decided: Vec<String> = rows
        .lines()
        .map(|row| match row.split(',').collect::<Vec<_>>().as_slice() {
            ["length", joint, list, line, a, b, ..] => {
                format!("length,{joint},{list},{line},{a},{b},12.034 m,steel tape")
            }
            ["place", joint, list, line, ..] => {
                format!("place,{joint},{list},{line},,,b,seen on deck")
            }
            ["makeup-loss", joint, list, line, a, b, ..] => {
                format!("makeup-loss,{joint},{list},{line},{a},{b},a,")
            }
            _ => row.to_owned(),
        })
        .collect();
    fs::write(folder.join("decided.csv"), decided.join("\n")).expect("a file");
    for out in ["record.csv", "record.xlsx"] {
        let done = kerfmark(
            folder,
            &[
                "reconcile",
                a,
                b,
                "--units",
                "m",
                "--decisions",
                "decided.csv",
                "--out",
                out,
            ],
        );
        let said = String::from_utf8_lossy(&done.stderr).into_owned();
        assert_eq!(done.status.code(), Some(0), "{said}");
        assert!(said.contains("12 joints, 0 not decided"), "{said}");
    }
    let bytes = fs::read(folder.join("record.csv")).expect("the record");
    let record = read(&bytes, &Options::default()).expect("a record that reads");
    assert_eq!(
        (record.order, record.order_assumed),
        (Order::ShoeFirst, false)
    );
    let numbers: Vec<&str> = record.joints.iter().map(|it| it.number.as_str()).collect();
    assert_eq!(numbers[7..10], ["D-08", "D-10", "D-09"]);
    assert_eq!(record.joints[3].overall(), Some(Length::from_mm(12_034)));
    assert_eq!(record.joints[10].makeup_loss, Some(Length::from_mm(153)));
    // The sum by hand: the sample's 125.581 m, and 1 mm more in D-04.
    let length = PipeString::make_up(&record, Pins::default()).length;
    assert_eq!(length, Length::from_mm(125_582));
    // The workbook holds the same record to the nanometre.
    let workbook = fs::read(folder.join("record.xlsx")).expect("the workbook");
    let workbook = read(&workbook, &Options::default()).expect("a record that reads");
    let figures = |tally: &kerfmark::tally::Tally| -> Vec<_> {
        let joints = tally.joints.iter();
        joints
            .map(|joint| (joint.number.clone(), joint.overall(), joint.makeup_loss))
            .collect()
    };
    assert_eq!(figures(&workbook), figures(&record));
    let text = String::from_utf8(bytes).expect("text");
    assert!(text.contains("length: measured again,steel tape"), "{text}");
    assert!(
        text.contains("place: tallies/d-yard.csv,seen on deck"),
        "{text}"
    );
    // No file is overwritten, and no source is touched.
    let again = kerfmark(
        folder,
        &["reconcile", a, b, "--units", "m", "--out", "record.csv"],
    );
    assert_eq!(again.status.code(), Some(2));
    let after = sources.map(|file| fs::read(folder.join(file)).expect("a source"));
    assert_eq!(before, after);
}

#[test]
fn a_decision_on_something_that_does_not_differ_is_refused() {
    let place = sample();
    fs::write(
        place.path().join("d.csv"),
        "matter,joint,list,line,a,b,stands,note\nlength,D-05,a,6,,,b,\n",
    )
    .expect("a file");
    let files = ["tallies/d.csv", "tallies/d-yard.csv"];
    let done = kerfmark(
        place.path(),
        &[
            "reconcile",
            files[0],
            files[1],
            "--units",
            "m",
            "--decisions",
            "d.csv",
            "--out",
            "r.csv",
        ],
    );
    assert_eq!(done.status.code(), Some(2));
    let said = String::from_utf8_lossy(&done.stderr).into_owned();
    assert!(
        said.contains("the length of joint D-05 (line 6) is no difference"),
        "{said}"
    );
    assert!(!place.path().join("r.csv").exists());
}

#[test]
fn the_later_of_two_rows_on_one_difference_stands_on_the_command_line_too() {
    let place = sample();
    let folder = place.path();
    let [a, b] = ["tallies/d.csv", "tallies/d-yard.csv"];
    // First A, then a value that was measured again, then B.
    old_file(
        folder,
        "length,D-04,a,5,12.033 m,12.303 m,a,\nlength,D-04,a,5,12.033 m,12.303 m,12.034 m,tape\nlength,D-04,a,5,12.033 m,12.303 m,b,\n",
    );
    let file = folder.join("decisions/D-yard.csv");
    let text = fs::read_to_string(&file).expect("decisions");
    let arguments = ["reconcile", a, b, "--units", "m", "--decisions"];
    let record = |file: &str, out: &str| {
        let mut all = arguments.to_vec();
        all.extend([file, "--out", out]);
        kerfmark(folder, &all)
    };
    let done = record("decisions/D-yard.csv", "record.csv");
    let said = String::from_utf8_lossy(&done.stderr).into_owned();
    assert_eq!(done.status.code(), Some(0), "{said}");
    let bytes = fs::read(folder.join("record.csv")).expect("the record");
    let tally = read(&bytes, &Options::default()).expect("a record that reads");
    assert_eq!(tally.joints[3].overall(), Some(Length::from_mm(12_303)));
    // What belongs to no difference is refused, wherever it stands.
    let first = text.lines().next().expect("a header");
    let stray = "length,D-05,a,6,,,b,";
    let rest: Vec<&str> = text.lines().skip(1).collect();
    let with_stray = format!("{first}\n{stray}\n{}\n", rest.join("\n"));
    fs::write(folder.join("stray.csv"), with_stray).expect("a file");
    let done = record("stray.csv", "other.csv");
    let said = String::from_utf8_lossy(&done.stderr).into_owned();
    assert_eq!(done.status.code(), Some(2), "{said}");
    assert!(said.contains("joint D-05 (line 6)"), "{said}");
}
