//! Deciding between two lists: from the screen and from a file of decisions to a new tally of record,
//! without touching a source.

use std::fs;
use std::path::Path;
use std::process::{Command, Output};

use crate::common::decided::decided;
use crate::common::on_screen::{drawn, press};
use crossterm::event::KeyCode;
use kerfmark::figures;
use kerfmark::finding::{Code, Flag};
use kerfmark::folder::{self, Book, now};
use kerfmark::measure::{Length, LengthFormat, Unit};
use kerfmark::reconcile::{Decision, Stands, Topic, read_decisions};
use kerfmark::report::words;
use kerfmark::screens::{Effect, Screen, State};
use kerfmark::tally::{Options, Order, Pins, PipeString, read};

/// A copy of the sample whose slot D has a yard list that differs in three things.
pub fn sample() -> tempfile::TempDir {
    crate::common::copies::copy_of("four-slots")
}

pub fn open(folder: &Path) -> State {
    State::new(folder::open(folder).expect("a job that opens"), (80, 24))
}

pub fn reconcile_d(folder: &Path) -> State {
    let mut state = open(folder);
    press(&mut state, &[KeyCode::BackTab, KeyCode::Char('3')]);
    assert_eq!(state.screen, Screen::Reconcile);
    state.person = Some("NK".to_owned());
    state
}

pub fn decide(folder: &Path, effects: &[Effect]) {
    for effect in effects {
        let Effect::Decide { event, .. } = effect else {
            continue;
        };
        let mut book = Book::open(folder).expect("a job");
        book.enter_text(event, None, now)
            .expect("a decision on the disk");
    }
}

fn has_open(folder: &Path) -> bool {
    let figures = figures::of_inputs(&folder::open(folder).expect("a job that opens"));
    let flags = &figures.slots[3].flags;
    flags.iter().any(|flag| flag.code == Code::DifferenceOpen)
}

fn kerfmark(folder: &Path, arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_kerfmark"))
        .current_dir(folder)
        .args(arguments)
        .output()
        .expect("the program starts")
}

#[test]
fn a_flag_on_an_open_difference_leads_to_it_and_goes_when_all_is_decided() {
    let place = sample();
    let mut state = open(place.path());
    state.person = Some("NK".to_owned());
    // Four slots and two flags of B stand before it.
    press(&mut state, &[KeyCode::Down; 6]);
    press(&mut state, &[KeyCode::Enter]);
    assert_eq!(
        (state.screen, state.slot.as_str()),
        (Screen::Reconcile, "D")
    );
    assert!(has_open(place.path()));
    let effects = press(&mut state, &[KeyCode::Char('a')]);
    decide(place.path(), &effects);
    let effects = press(&mut state, &[KeyCode::Down, KeyCode::Char('b')]);
    decide(place.path(), &effects);
    assert!(has_open(place.path()));
    let effects = press(&mut state, &[KeyCode::Down, KeyCode::Char('b')]);
    decide(place.path(), &effects);
    assert!(!has_open(place.path()));
}

#[test]
fn only_what_moves_an_elevation_by_more_than_the_job_allows_is_flagged() {
    let place = sample();
    let file = place.path().join("job.toml");
    let text = fs::read_to_string(&file).expect("the job");
    // The pups in one order: what is left moves 0.270 m and 0.018 m.
    let yard = place.path().join("tallies/d-yard.csv");
    let list = fs::read_to_string(&yard).expect("a list");
    let pups = "D-10;D4170;3,109;0,152;pup\nD-09;D4164;3,088;0,151;pup\n";
    assert!(list.contains(pups));
    let in_order = "D-09;D4164;3,088;0,151;pup\nD-10;D4170;3,109;0,152;pup\n";
    fs::write(&yard, list.replace(pups, in_order)).expect("a change");
    let limit = |above: &str| {
        let reconcile = format!("{text}\n[reconcile]\nopen_above = \"{above}\"\n");
        fs::write(&file, reconcile).expect("a change");
        has_open(place.path())
    };
    assert!(limit("0.28 m"));
    assert!(!limit("0.3 m"));
    fs::write(
        &file,
        format!("{text}\n[reconcile]\nopen_above = \"-0.5 m\"\n"),
    )
    .expect("a change");
    let refused = folder::open(place.path()).expect_err("a negative limit");
    assert!(refused.to_string().contains("open_above"), "{refused}");
}

/// The sentence of a flag, in metres.
fn said(flag: Option<&Flag>) -> String {
    words::flag(flag.expect("a flag"), LengthFormat::new(Unit::Metre))
}

#[test]
fn a_list_that_cannot_be_read_is_said_and_the_figures_stand() {
    let place = sample();
    let list = place.path().join("tallies/d-yard.csv");
    fs::write(&list, "Jt No,OAL (m)\n1,12.x\n").expect("a change");
    let folder = folder::open(place.path()).expect("a job that opens");
    let figures = figures::of_inputs(&folder);
    let flags = &figures.slots[3].flags;
    let flag = flags.iter().find(|flag| flag.code == Code::ListUnreadable);
    assert!(said(flag).contains("line 2, column 2"), "{flags:?}");
    assert!(!has_open(place.path()));
    fs::remove_file(list).expect("gone");
    let state = reconcile_d(place.path());
    assert!(drawn(&state, (80, 24)).contains("yard cannot be read"));
}

#[test]
fn decisions_that_cannot_be_read_are_flagged_and_no_row_is_added_to_them() {
    let place = sample();
    fs::create_dir(place.path().join("decisions")).expect("a folder");
    let file = place.path().join("decisions/D-yard.csv");
    let text = "matter,joint,list,line,a,b,stands,note\nlength,D-04,a,5,,,c,\n";
    fs::write(&file, text).expect("a file");
    let figures = figures::of_inputs(&folder::open(place.path()).expect("a job that opens"));
    let flags = &figures.slots[3].flags;
    let flag = flags.iter().find(|flag| flag.code == Code::ListUnreadable);
    let text = said(flag);
    assert!(text.contains("D-yard.csv: line 2, column 7"), "{text}");
    let mut state = reconcile_d(place.path());
    assert!(press(&mut state, &[KeyCode::Char('a')]).is_empty());
    let said = state.message().unwrap_or_default();
    assert!(
        said.starts_with("correct the decisions file first"),
        "{said}"
    );
}

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
fn decisions_of_two_persons_that_contradict_each_other_stop_the_slot_until_one_gives_way() {
    let place = sample();
    let mut book = Book::open(place.path()).expect("a job");
    let mut enter = |by: &str, choice: &str| {
        let event = format!(
            r#"{{"event":"decision","by":"{by}","slot":"D","of":"length","joint":"D-04","choice":"{choice}"}}"#
        );
        book.enter_text(&event, None, now).expect("an entry");
        let figures = figures::of_inputs(&folder::open(place.path()).expect("a job that opens"));
        let mut flags = figures.slots[3].flags.iter();
        flags.any(|it| it.code == Code::DecisionsContradict)
    };
    assert!(!enter("NK", "yard"));
    assert!(!enter("NK", "record"), "one person may think again");
    assert!(enter("TM", "yard"));
    assert!(!enter("TM", "record"));
    assert!(enter("TM", "yard"));
    assert!(!enter("NK", "open"), "it is open again for everyone");
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
        let effects = press(&mut state, &[KeyCode::Down, KeyCode::Char('b')]);
        assert_eq!(effects.len(), 1, "{:?}", state.message());
    }
}

#[test]
fn a_decision_that_the_tally_of_record_does_not_follow_is_flagged_until_it_does() {
    let place = sample();
    let codes = |folder: &Path| -> Vec<Code> {
        let figures = figures::of_inputs(&folder::open(folder).expect("a job that opens"));
        figures.slots[3]
            .flags
            .iter()
            .map(|flag| flag.code)
            .collect()
    };
    let mut state = reconcile_d(place.path());
    for key in ['b', 'a', 'a'] {
        let effects = press(&mut state, &[KeyCode::Char(key), KeyCode::Down]);
        decide(place.path(), &effects);
    }
    assert_eq!(codes(place.path()), [Code::DecisionNotFollowed]);
    let tally = place.path().join("tallies/d.csv");
    let text = fs::read_to_string(&tally).expect("a tally");
    fs::write(&tally, text.replace("12.033,", "12.303,")).expect("a change");
    assert!(codes(place.path()).is_empty());
}

#[test]
fn small_differences_of_one_sign_are_flagged_for_what_they_move_together() {
    let place = sample();
    let tally = fs::read_to_string(place.path().join("tallies/d.csv")).expect("a tally");
    // Every joint 1 mm longer, as by a tape's scale: none alone is above 5 mm.
    let longer: Vec<String> = tally
        .lines()
        .map(|line| {
            let mut cells: Vec<String> = line.split(',').map(str::to_owned).collect();
            if let Ok(metres) = cells[3].replace('.', "").parse::<i64>() {
                cells[3] = format!("{}.{:03}", (metres + 1) / 1000, (metres + 1) % 1000);
            }
            cells.join(",")
        })
        .collect();
    fs::write(place.path().join("tallies/d-yard.csv"), longer.join("\n")).expect("a change");
    let figures = figures::of_inputs(&folder::open(place.path()).expect("a job that opens"));
    let flags = &figures.slots[3].flags;
    let flag = flags.iter().find(|flag| flag.code == Code::DifferenceOpen);
    let text = said(flag);
    assert!(
        text.contains("12 small ones that move a make-up plane by 12.0 mm together"),
        "{text}"
    );
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
    assert_eq!(record.joints[3].overall, Some(Length::from_mm(12_034)));
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
            .map(|joint| (joint.number.clone(), joint.overall, joint.makeup_loss))
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
    assert_eq!(tally.joints[3].overall, Some(Length::from_mm(12_303)));
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

#[test]
fn a_decision_holds_for_the_figures_it_was_made_of_and_for_the_record_that_came_of_it() {
    let place = sample();
    let mut state = reconcile_d(place.path());
    for key in ['b', 'a', 'a'] {
        let effects = press(&mut state, &[KeyCode::Char(key), KeyCode::Down]);
        decide(place.path(), &effects);
    }
    assert!(!has_open(place.path()));
    let tally = place.path().join("tallies/d.csv");
    let text = fs::read_to_string(&tally).expect("a tally");
    // The tally of record says by now what was decided; a line more moves the rows below it.
    fs::write(
        &tally,
        format!("Strap of D,,,,,\n{text}").replace("12.033,", "12.303,"),
    )
    .expect("a change");
    assert!(!has_open(place.path()));
    // The yard sends another list: what it says now, nobody has decided on.
    let yard = place.path().join("tallies/d-yard.csv");
    let text = fs::read_to_string(&yard).expect("a list");
    fs::write(&yard, text.replace("0,135", "0,173")).expect("a change");
    assert!(has_open(place.path()));
}
