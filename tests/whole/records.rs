//! All lists of one string by the program: what is named, what each choice moves, and the tally of record that follows
//! as text and as a workbook. All lists are invented.

use std::fs;
use std::path::Path;

use kerfmark::folder::{Book, now};
use kerfmark::measure::Length;
use kerfmark::tally::{Options, Pins, PipeString, Tally, read};

use crate::run::kerfmark;

fn decide(folder: &Path, by: &str, of: &str, joint: &str, choice: &str, note: &str) {
    decide_in(folder, "D", [by, of, joint, choice, note]);
}

fn decide_in(folder: &Path, slot: &str, [by, of, joint, choice, note]: [&str; 5]) {
    let event = serde_json::json!({
        "event": "decision", "by": by, "slot": slot, "of": of, "joint": joint, "choice": choice, "note": note,
    });
    let mut book = Book::open(folder).expect("a job");
    book.enter_text(&event.to_string(), None, now)
        .expect("a decision");
}

#[test]
fn reasons_are_kept_through_every_record_and_contradictions_write_none() {
    let place = crate::common::copies::copy_of("four-slots");
    let folder = place.path();
    decide(folder, "NK", "length", "D-04", "yard", "tape, twice");
    decide(folder, "NK", "place", "D-09", "record", "seen on deck");
    let write = |file: &str| kerfmark(folder, &["lists", ".", "--slot", "D", "--out", file]);
    let (status, said, error) = write("tallies/first.csv");
    assert_eq!((status, error.as_str()), (Some(0), ""));
    assert!(said.contains("12 joints, 1 not decided"), "{said}");
    let read = |file: &str| fs::read_to_string(folder.join(file)).expect("a record");
    let first = read("tallies/first.csv");
    assert!(first.contains("D-04,D4131,joint,12.303,0.152,"), "{first}");
    for reason in [
        ": tape, twice",
        ": seen on deck",
        "length: decided by NK at 20",
    ] {
        assert!(first.contains(reason), "{first}");
    }
    // Used as the tally of record, and another record made of it.
    let job =
        read("job.toml").replace("tally = \"tallies/d.csv\"", "tally = \"tallies/first.csv\"");
    fs::write(folder.join("job.toml"), job).expect("the job");
    decide(folder, "TM", "makeup-loss", "D-11", "yard", "gauge");
    let (status, ..) = write("tallies/second.csv");
    assert_eq!(status, Some(0));
    let second = read("tallies/second.csv");
    for reason in [": tape, twice", ": seen on deck", ": gauge"] {
        assert!(second.contains(reason), "{second}");
    }
    let (_, tally, _) = kerfmark(folder, &["tally", "tallies/second.csv", "--json"]);
    let tally: serde_json::Value = serde_json::from_str(&tally).expect("JSON");
    assert_eq!(tally["flags"], serde_json::json!([]));
    // Two persons who decide differently: no record, both named.
    decide(folder, "NK", "makeup-loss", "D-11", "record", "read again");
    let (status, said, error) = write("tallies/third.csv");
    assert_eq!((status, said.as_str()), (Some(1), ""));
    let contradicts = "decisions contradict each other: the makeup-loss of joint D-11";
    assert!(error.contains(contradicts), "{error}");
    assert!(!folder.join("tallies/third.csv").exists());
    let (status, all, _) = kerfmark(folder, &["lists", ".", "--slot", "D"]);
    assert_eq!(status, Some(1));
    assert!(
        all.contains("conflict") && all.contains("by NK") && all.contains("by TM"),
        "{all}"
    );
}

#[test]
fn a_record_that_could_not_be_read_back_is_not_written() {
    let place = crate::common::copies::copy_of("four-slots");
    // A word by which the reader asks whether a joint was run, and the answer stands in the job alone.
    let change = |file: &str, from: &str, to: &str| {
        let path = place.path().join(file);
        let text = fs::read_to_string(&path).expect("a file");
        assert!(text.contains(from), "{text}");
        fs::write(&path, text.replace(from, to)).expect("a change");
    };
    change(
        "tallies/d.csv",
        "D4136,joint,12.288,0.151,",
        "D4136,joint,12.288,0.151,rejected",
    );
    let tally = "tally = \"tallies/d.csv\"";
    change(
        "job.toml",
        tally,
        &format!("{tally}\nread = {{ not_run = \"count\" }}"),
    );
    let arguments = ["lists", ".", "--slot", "D", "--out", "tallies/x.csv"];
    let (status, _, error) = kerfmark(place.path(), &arguments);
    assert_eq!(status, Some(2));
    assert!(
        error.contains("could not be read back, so it is not written"),
        "{error}"
    );
    assert!(!place.path().join("tallies/x.csv").exists());
}

#[test]
fn why_something_was_decided_is_not_taken_for_what_a_list_says_of_the_joint() {
    let place = crate::common::copies::copy_of("four-slots");
    let folder = place.path();
    let notes = [
        (
            "D-04",
            "length",
            "yard",
            "rejected by the yard; laid out, strapped again",
        ),
        ("D-09", "place", "yard", "not run before D-10"),
        (
            "D-11",
            "makeup-loss",
            "yard",
            "pin of the landing joint; shoe end gauged",
        ),
        ("D-12", "length", "record", "shoe"),
    ];
    for (joint, of, choice, note) in notes {
        decide(folder, "NK", of, joint, choice, note);
    }
    for out in ["tallies/x.csv", "tallies/x.xlsx"] {
        let (status, _, error) = kerfmark(folder, &["lists", ".", "--slot", "D", "--out", out]);
        assert_eq!((status, error.as_str()), (Some(0), ""), "{out}");
        let (status, tally, _) = kerfmark(folder, &["tally", out, "--json"]);
        assert_eq!(status, Some(0));
        let tally: serde_json::Value = serde_json::from_str(&tally).expect("JSON");
        assert_eq!(tally["flags"], serde_json::json!([]), "{out}");
        let bytes = fs::read(folder.join(out)).expect("a record");
        let tally = read(&bytes, &Options::default()).expect("a record that reads");
        let remarks = tally.joints[3].remarks().unwrap_or_default();
        assert!(
            remarks.contains("rejected by the yard, laid out"),
            "{remarks}"
        );
    }
}

/// What `lists --json` says of a slot.
fn lists(folder: &Path, slot: &str) -> serde_json::Value {
    let (_, json, error) = kerfmark(folder, &["lists", ".", "--slot", slot, "--json"]);
    assert_eq!(error, "");
    serde_json::from_str(&json).expect("JSON")
}

#[test]
fn the_ten_mistakes_of_the_sample_are_named_with_the_lists_that_hold_them_and_nothing_else_is() {
    let place = crate::common::copies::copy_of("three-lists");
    let all = lists(place.path(), "K");
    let mut found = Vec::new();
    for row in all["rows"].as_array().expect("rows") {
        for of in ["length", "makeup_loss", "presence", "place"] {
            let thing = &row[of];
            let text = |it: &serde_json::Value| it.as_str().unwrap_or_default().to_owned();
            if thing["state"] != "agreed" {
                let why = text(&thing["why"]);
                let list = why.split(' ').next().unwrap_or_default().to_owned();
                let joint = text(&row["joint"]);
                found.push(format!("{joint} {of} {} {list}", text(&thing["state"])));
            }
        }
    }
    assert_eq!(
        found,
        [
            "K-04 length majority record",
            "K-06 length majority yard",
            "K-07 makeup_loss majority record",
            "K-10 length majority strap",
            "K-12 presence majority record",
            "K-15 length majority strap",
            "K-99 presence majority strap",
            "K-18 presence majority yard",
            "K-20 place majority yard",
            "K-22 makeup_loss majority strap",
        ]
    );
    // Likely reasons of lengths and of losses.
    let (_, text, _) = kerfmark(place.path(), &["lists", ".", "--slot", "K"]);
    for reason in [
        "record 12.303 m (possible cause: two digits swapped)",
        "record 125.0 mm (possible cause: two digits swapped)",
        "strap 11.8354 m (possible cause: the make-up loss is taken off already)",
        "yard 12.5444 m (possible cause: a whole unit misread, or a burnt tape end)",
    ] {
        assert!(text.contains(reason), "{reason}: {text}");
    }
}

/// A list of the sample's slot D besides the yard's.
fn with_strap(change: impl Fn(&str) -> String) -> tempfile::TempDir {
    let place = crate::common::copies::copy_of("four-slots");
    let folder = place.path();
    let tally = fs::read_to_string(folder.join("tallies/d.csv")).expect("a tally");
    fs::write(folder.join("tallies/d-strap.csv"), change(&tally)).expect("a list");
    let job = fs::read_to_string(folder.join("job.toml")).expect("the job");
    let yard = "yard = \"tallies/d-yard.csv\"";
    let both = format!("{yard}, strap = \"tallies/d-strap.csv\"");
    assert!(job.contains(yard), "{job}");
    fs::write(folder.join("job.toml"), job.replace(yard, &both)).expect("the job");
    place
}

#[test]
fn what_each_choice_would_move_is_said_before_it_is_made() {
    let place = with_strap(str::to_owned);
    let (_, text, _) = kerfmark(place.path(), &["lists", ".", "--slot", "D"]);
    // By hand: joint 4 lies below the shoulder that the plan fixes, 270 mm longer, joint 11 above it, 18 mm.
    for line in [
        "length by yard: string 270.0 mm longer; 4 make-up planes move, most 270.0 mm down; shoe 270.0 mm down",
        "makeup-loss by yard: string 18.0 mm longer; one make-up plane 18.0 mm up; top 18.0 mm up",
        "place by yard: 2 make-up planes move, most 2.957 m up",
    ] {
        assert!(text.contains(line), "{line}: {text}");
    }
    assert!(
        text.contains("by what stands: nothing of the string, the landing, the cut"),
        "{text}"
    );
    decide(place.path(), "NK", "length", "D-04", "yard", "taped");
    let (_, text, _) = kerfmark(place.path(), &["lists", ".", "--slot", "D"]);
    assert!(
        text.contains("by what stands: string 270.0 mm longer"),
        "{text}"
    );
}

#[test]
fn which_of_two_names_is_true_is_asked_and_both_are_kept() {
    let place = with_strap(|tally| tally.replace("D-08,", "D-8B,"));
    let folder = place.path();
    let text = || kerfmark(folder, &["lists", ".", "--slot", "D"]).1;
    let before = text();
    let asked = "number: majority: D-08 by record, yard; strap has it as D-8B";
    assert!(before.contains(asked), "{before}");
    // It is no thing of the string: nothing more is undecided for it.
    assert_eq!(lists(folder, "D")["open"], 0);
    let out = |file: &str| {
        let (status, _, error) = kerfmark(folder, &["lists", ".", "--slot", "D", "--out", file]);
        assert_eq!((status, error.as_str()), (Some(0), ""));
        fs::read_to_string(folder.join(file)).expect("a record")
    };
    let record = out("tallies/one.csv");
    assert!(record.contains("\nD-08,D4159,"), "{record}");
    assert!(record.contains("called D-8B in strap"), "{record}");
    decide(
        folder,
        "NK",
        "number",
        "D-08",
        "strap",
        "painted on the pipe",
    );
    assert!(
        text().contains("number: decided: D-8B by strap"),
        "{}",
        text()
    );
    let record = out("tallies/two.csv");
    assert!(record.contains("\nD-8B,D4159,"), "{record}");
    assert!(record.contains("called D-08 in record"), "{record}");
    assert!(record.contains(": painted on the pipe"), "{record}");
    // Two names against each other are open, and are asked.
    let place = with_strap(str::to_owned);
    let yard = place.path().join("tallies/d-yard.csv");
    fs::remove_file(yard).expect("a list");
    let strap = place.path().join("tallies/d-strap.csv");
    let text = fs::read_to_string(&strap).expect("a list");
    fs::write(&strap, text.replace("D-08,", "D-8B,")).expect("a list");
    let (_, text, _) = kerfmark(place.path(), &["lists", ".", "--slot", "D"]);
    assert!(
        text.contains("number: open: D-08 by record; strap has it as D-8B: which is true?"),
        "{text}"
    );
}

#[test]
fn a_list_that_numbers_joints_its_own_way_is_asked_nothing() {
    let place = with_strap(|tally| tally.replace("D-", "7"));
    let (_, text, _) = kerfmark(place.path(), &["lists", ".", "--slot", "D"]);
    assert!(
        text.contains("note: strap numbers joints its own way"),
        "{text}"
    );
    assert!(!text.contains("number:"), "{text}");
    // Nor where numbers are the same to people.
    let place = with_strap(|tally| tally.replace("D-0", "D").replace("D-", "d "));
    let (_, text, _) = kerfmark(place.path(), &["lists", ".", "--slot", "D"]);
    assert!(
        !text.contains("number") && !text.contains("its own way"),
        "{text}"
    );
}

#[test]
fn a_decision_on_a_joint_whose_number_another_list_gives_to_its_neighbour_is_of_that_joint() {
    // The strap has the numbers of D-05 and D-06 exchanged; the serials say which is which.
    let place = with_strap(|tally| {
        let tally = tally.replace("D-05,", "X,").replace("D-06,", "D-05,");
        tally.replace("X,", "D-06,").replace("12.239,", "12.339,")
    });
    let folder = place.path();
    decide(folder, "NK", "length", "D-06", "strap", "taped again");
    decide(folder, "NK", "presence", "D-05", "record", "on deck");
    let all = lists(folder, "D");
    let row = |serial: &str| {
        let rows = all["rows"].as_array().expect("rows");
        let mut rows = rows.iter();
        rows.find(|row| row["serial"] == serial)
            .expect("a row")
            .clone()
    };
    assert_eq!(row("D4144")["length"]["state"], "decided");
    assert_eq!(row("D4144")["length"]["stands_m"].to_string(), "12.339");
    assert_eq!(row("D4144")["presence"]["state"], "agreed");
    assert_eq!(row("D4136")["length"]["state"], "agreed");
    assert_eq!(row("D4136")["presence"]["state"], "decided");
}

/// The cells of a sheet of a workbook, as an independent reader has them.
fn sheet(bytes: &[u8], name: &str) -> Vec<Vec<String>> {
    use calamine::Reader as _;
    let cursor = std::io::Cursor::new(bytes.to_vec());
    let mut book: calamine::Xlsx<_> = calamine::open_workbook_from_rs(cursor).expect("a workbook");
    let range = book.worksheet_range(name).expect("a sheet");
    let rows = range.rows();
    rows.map(|row| row.iter().map(ToString::to_string).collect())
        .collect()
}

#[test]
fn the_workbook_of_a_record_says_who_decided_what_and_its_bridge_ends_at_the_total_of_the_record() {
    let place = crate::common::copies::copy_of("three-lists");
    let folder = place.path();
    let decide = |by: &str, of: &str, joint: &str, choice: &str, note: &str| {
        decide_in(folder, "K", [by, of, joint, choice, note]);
    };
    decide("NK", "length", "K-04", "yard", "taped again on deck");
    decide("RS", "makeup-loss", "K-07", "strap", "gauged");
    decide("RS", "presence", "K-99", "strap", "it was run, I saw it");
    let (status, said, error) = kerfmark(
        folder,
        &["lists", ".", "--slot", "K", "--out", "tallies/r.xlsx"],
    );
    assert_eq!((status, error.as_str()), (Some(0), ""), "{said}");
    let bytes = fs::read(folder.join("tallies/r.xlsx")).expect("a workbook");
    let record = read(&bytes, &Options::default()).expect("a record that reads");
    let length = |tally: &Tally| PipeString::make_up(tally, Pins::default()).length;
    // The same as the text of the record says.
    let (status, ..) = kerfmark(
        folder,
        &["lists", ".", "--slot", "K", "--out", "tallies/r.csv"],
    );
    assert_eq!(status, Some(0));
    let text = fs::read(folder.join("tallies/r.csv")).expect("a record");
    let text = read(&text, &Options::default()).expect("a record that reads");
    assert_eq!(length(&record), length(&text));
    assert_eq!(record.joints.len(), 25);
    // The bridge begins at the tally of record that was, and ends at this one.
    let before = fs::read(folder.join("tallies/k.csv")).expect("a tally");
    let before = read(&before, &Options::default()).expect("a tally that reads");
    let bridge = sheet(&bytes, "Bridge");
    let number = |cell: &String| cell.parse::<f64>().expect("a number");
    let is = |metres: f64, length: Length| (metres - length.real_metres()).abs() < 5e-10;
    let last = bridge.iter().position(|row| row[0] == "B").expect("an end");
    assert!(is(number(&bridge[1][3]), length(&before)), "{bridge:?}");
    assert!(is(number(&bridge[last][3]), length(&record)), "{bridge:?}");
    assert_eq!(bridge[last][4], "this record");
    let sum: f64 = bridge[2..last].iter().map(|row| number(&row[2])).sum();
    assert!(is(sum, length(&record) - length(&before)), "{sum}");
    assert_eq!(bridge[last + 1][3].parse::<f64>(), Ok(0.0));
    // Each decision with its person, its time and its reason.
    let decisions = sheet(&bytes, "Decisions");
    let of = |joint: &str| decisions.iter().find(|row| row[0] == joint).expect("a row");
    let said = |joint: &str| {
        let row = of(joint);
        [1, 2, 4, 5, 7].map(|at| row[at].clone())
    };
    assert_eq!(
        said("K-04"),
        ["length", "decided", "yard", "NK", "taped again on deck"]
    );
    assert_eq!(
        said("K-07"),
        ["makeup-loss", "decided", "strap", "RS", "gauged"]
    );
    assert_eq!(
        said("K-99"),
        ["presence", "decided", "strap", "RS", "it was run, I saw it"]
    );
    assert_eq!(
        said("K-06"),
        ["length", "majority", "record, strap", "", ""]
    );
    assert!(of("K-04")[6].starts_with("20"), "{:?}", of("K-04"));
    let says = sheet(&bytes, "What each list says");
    let row = says.iter().find(|row| row[0] == "K-12").expect("a row");
    assert_eq!((row[1].as_str(), row[3].as_str()), ("", "12.048744"));
    // It reads back without a question, a flag or a doubt.
    let (status, tally, error) = kerfmark(folder, &["tally", "tallies/r.xlsx", "--json"]);
    assert_eq!((status, error.as_str()), (Some(0), ""));
    let tally: serde_json::Value = serde_json::from_str(&tally).expect("JSON");
    assert_eq!(tally["flags"], serde_json::json!([]));
}

#[test]
fn a_file_name_with_control_characters_is_copied_into_a_record_as_their_codes() {
    let place = crate::common::copies::copy_of("three-lists");
    let folder = place.path();
    let strap = folder.join("tallies/k-strap.csv");
    fs::rename(strap, folder.join("tallies/k-\u{1b}[31m.csv")).expect("a list");
    let job = fs::read_to_string(folder.join("job.toml")).expect("the job");
    let job = job.replace("k-strap.csv", "k-\\u001b[31m.csv");
    fs::write(folder.join("job.toml"), job).expect("the job");
    for out in ["tallies/r.csv", "tallies/r.xlsx"] {
        let (status, _, error) = kerfmark(folder, &["lists", ".", "--slot", "K", "--out", out]);
        assert_eq!((status, error.as_str()), (Some(0), ""), "{out}");
    }
    let record = fs::read_to_string(folder.join("tallies/r.csv")).expect("a record");
    assert!(
        record.contains("strap (tallies/k-\\u{1b}[31m.csv)"),
        "{record}"
    );
}

#[test]
fn a_loss_left_out_or_taken_twice_is_named_as_such() {
    let place = with_strap(|tally| {
        let tally = tally.replace(
            "D-03,D4122,joint,12.003,0.152,",
            "D-03,D4122,joint,12.003,0.000,",
        );
        tally.replace(
            "D-05,D4136,joint,12.288,0.151,",
            "D-05,D4136,joint,12.288,0.302,",
        )
    });
    let (_, text, _) = kerfmark(place.path(), &["lists", ".", "--slot", "D"]);
    for reason in [
        "strap 0.0 mm (possible cause: make-up loss not deducted)",
        "strap 302.0 mm (possible cause: make-up loss deducted twice)",
    ] {
        assert!(text.contains(reason), "{reason}: {text}");
    }
}

/// The number of a thing of a row by the JSON of `lists`.
fn row_of<'a>(all: &'a serde_json::Value, joint: &str) -> &'a serde_json::Value {
    let rows = all["rows"].as_array().expect("rows");
    let mut rows = rows.iter();
    rows.find(|row| row["joint"] == joint).expect("a row")
}

#[test]
fn a_list_that_cannot_be_read_is_named_beside_those_that_can() {
    let place = crate::common::copies::copy_of("four-slots");
    fs::write(
        place.path().join("tallies/d-yard.csv"),
        "Jt No,OAL (m)\n1,12.x\n",
    )
    .expect("a list");
    let (_, text, _) = kerfmark(place.path(), &["lists", ".", "--slot", "D"]);
    assert!(
        text.contains("list: yard: tallies/d-yard.csv: CANNOT BE READ: "),
        "{text}"
    );
    assert!(
        text.contains("only one list can be read: nothing is compared"),
        "{text}"
    );
    let all = lists(place.path(), "D");
    assert_eq!(all["unreadable"][0]["name"], "yard");
    let why = all["unreadable"][0]["why"].as_str().unwrap_or_default();
    assert!(why.contains("line 2, column 2"), "{why}");
}

#[test]
fn serials_are_the_same_whatever_their_case_and_what_separates_their_digits() {
    for (from, to) in [("D4", "d4"), (",D4", ",D 4"), (",D4", ",D-4")] {
        let place = with_strap(|tally| tally.replace(from, to).replace("12.239,", "12.509,"));
        let all = lists(place.path(), "D");
        assert_eq!(all["rows"].as_array().map(Vec::len), Some(12), "{to}");
        assert_eq!(row_of(&all, "D-06")["length"]["state"], "majority", "{to}");
    }
    let place = with_strap(|tally| tally.replace(",D4", ",X9"));
    let (_, text, _) = kerfmark(place.path(), &["lists", ".", "--slot", "D"]);
    assert!(
        text.contains("note: no serial of strap is in the tally of record"),
        "{text}"
    );
}

#[test]
fn a_list_without_losses_says_nothing_of_them() {
    // Two lists without a column of losses, and a nominal one that is mistyped.
    let place = with_strap(|tally| {
        let rows = tally.lines().map(|line| {
            let cells: Vec<&str> = line.split(',').collect();
            format!("{}\n", cells[..4].join(","))
        });
        rows.collect()
    });
    let yard = place.path().join("tallies/d-yard.csv");
    let strap = fs::read(place.path().join("tallies/d-strap.csv")).expect("a list");
    fs::write(yard, strap).expect("a list");
    let job = fs::read_to_string(place.path().join("job.toml")).expect("the job");
    let job = job.replace("makeup_loss = \"152 mm\"", "makeup_loss = \"106 mm\"");
    fs::write(place.path().join("job.toml"), job).expect("the job");
    let all = lists(place.path(), "D");
    let rows = all["rows"].as_array().expect("rows");
    assert!(
        rows.iter()
            .all(|row| row["makeup_loss"]["state"] == "agreed")
    );
    assert_eq!(
        row_of(&all, "D-05")["makeup_loss"]["stands_m"].to_string(),
        "0.151"
    );
}

#[test]
fn what_a_choice_moves_is_told_against_the_tally_in_use() {
    let place = with_strap(|tally| tally.replace("12.033,", "12.303,"));
    let (_, text, _) = kerfmark(place.path(), &["lists", ".", "--slot", "D"]);
    // Two lists stand against the tally of record, whose 12.033 m every figure rests on.
    assert!(
        text.contains("length: majority: 12.303 m by strap, yard; record 12.033 m"),
        "{text}"
    );
    assert!(
        text.contains("length by strap or yard: string 270.0 mm longer"),
        "{text}"
    );
    assert!(
        text.contains("by what stands: string 270.0 mm longer"),
        "{text}"
    );
}

#[test]
fn a_decision_for_a_third_list_settles_what_is_flagged_of_the_others() {
    let place = crate::common::copies::copy_of("three-lists");
    let folder = place.path();
    let codes = || {
        let (_, json, _) = kerfmark(folder, &["figures", ".", "--json"]);
        let figures: serde_json::Value = serde_json::from_str(&json).expect("JSON");
        let flags = figures["slots"][0]["flags"]
            .as_array()
            .expect("flags")
            .clone();
        let words = |flag: &serde_json::Value| {
            let text = |key: &str| flag[key].as_str().unwrap_or_default().to_owned();
            (text("code"), text("text"))
        };
        flags.iter().map(words).collect::<Vec<_>>()
    };
    for (of, joint, choice) in [
        ("length", "K-04", "strap"),
        ("makeup-loss", "K-07", "yard"),
        ("presence", "K-12", "strap"),
    ] {
        decide_in(folder, "K", ["NK", of, joint, choice, "seen"]);
    }
    let flags = codes();
    assert!(
        flags.iter().all(|(code, _)| code != "difference-open"),
        "{flags:?}"
    );
    let followed = flags
        .iter()
        .find(|(code, _)| code == "decision-not-followed");
    let (_, text) = followed.expect("the tally of record is as it was");
    for part in [
        "strap: length of joint K-04, presence of joint K-12",
        "yard: makeup-loss of joint K-07",
    ] {
        assert!(text.contains(part), "{text}");
    }
}

#[test]
fn a_decided_exchange_of_two_joints_stays_decided_once_it_is_used_and_what_is_left_out_is_told() {
    let place = with_strap(str::to_owned);
    let folder = place.path();
    decide(folder, "NK", "place", "D-09", "yard", "seen on deck");
    decide(folder, "NK", "length", "D-04", "yard", "taped");
    decide(folder, "NK", "makeup-loss", "D-11", "yard", "gauged");
    // The strap has a joint more, which was rejected: it is decided that it is not in the string.
    let strap = folder.join("tallies/d-strap.csv");
    let text = fs::read_to_string(&strap).expect("a list");
    let more = "D-99,D4999,joint,12.001,0.152,\nD-12,";
    fs::write(&strap, text.replace("D-12,", more)).expect("a list");
    decide(
        folder,
        "RS",
        "presence",
        "D-99",
        "record",
        "rejected; laid out",
    );
    let (status, _, error) = kerfmark(
        folder,
        &["lists", ".", "--slot", "D", "--out", "tallies/r.csv"],
    );
    assert_eq!((status, error.as_str()), (Some(0), ""));
    let record = fs::read_to_string(folder.join("tallies/r.csv")).expect("a record");
    let order: Vec<&str> = record.lines().filter_map(|it| it.get(..4)).collect();
    assert_eq!(order[8..11], ["D-08", "D-10", "D-09"]);
    let left_out = record
        .lines()
        .find(|line| line.contains("without D-99, serial D4999"));
    let left_out = left_out.expect("a line");
    assert!(
        left_out.contains("presence: decided by RS at 20"),
        "{left_out}"
    );
    assert!(left_out.contains("rejected, laid out"), "{left_out}");
    let job = fs::read_to_string(folder.join("job.toml")).expect("the job");
    let job = job.replace("tally = \"tallies/d.csv\"", "tally = \"tallies/r.csv\"");
    fs::write(folder.join("job.toml"), job).expect("the job");
    let all = lists(folder, "D");
    assert_eq!(all["open"], 0);
    let rows = all["rows"].as_array().expect("rows");
    let places = rows.iter().map(|row| &row["place"]["state"]);
    let apart: Vec<&serde_json::Value> = places.filter(|it| **it != "agreed").collect();
    assert!(apart.iter().all(|it| **it == "decided"), "{apart:?}");
}
