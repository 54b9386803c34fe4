//! Blunders in readings, each of which must be told: in their file, in entries, in what is asked for. All is invented.

use std::fs;
use std::path::Path;

use serde_json::Value;

use crate::run::kerfmark;
use crate::two_conductors::{JOB, READINGS, job};

fn error_of(readings: &str) -> String {
    let place = job(JOB, readings);
    let (status, out, error) = kerfmark(place.path(), &["figures", "."]);
    assert_eq!((status, out.as_str()), (Some(2), ""), "{readings}");
    error
}

fn json(folder: &Path, command: &str) -> Value {
    let (_, json, error) = kerfmark(folder, &[command, ".", "--json"]);
    assert!(error.is_empty() || error.contains("is left out"), "{error}");
    serde_json::from_str(&json).expect("JSON")
}

fn codes(flags: &Value) -> Vec<&str> {
    let flags = flags.as_array().expect("flags").iter();
    flags
        .map(|it| it["code"].as_str().expect("a code"))
        .collect()
}

fn enter(folder: &Path, event: &str) -> (Option<i32>, String) {
    fs::write(folder.join("events.txt"), event).expect("events");
    let (status, _, error) = kerfmark(folder, &["enter", ".", "events.txt", "--by", "NK"]);
    (status, error)
}

const WRONG_STICK_UP: (&str, &str) = ("stick_up = 0.940", "stick_up = 1.040");

#[test]
fn lines_are_counted_as_a_person_counts_them_whatever_ends_them() {
    let lines = |text: &str| {
        let all = json(job(JOB, text).path(), "levels");
        let readings = all["readings"].as_array().expect("readings").iter();
        let lines = readings.filter_map(|it| it["line"].as_u64());
        lines.collect::<Vec<u64>>()
    };
    for end in ["\n", "\r\n", "\r"] {
        assert_eq!(
            lines(&READINGS.replace('\n', end)),
            [2, 3, 4, 5, 6],
            "{end:?}"
        );
    }
    let bad = READINGS
        .replace("16.051,2 mm", "16.051,far")
        .replace('\n', "\r\n");
    assert!(
        error_of(&bad).contains("line 4, column 4"),
        "{}",
        error_of(&bad)
    );
}

#[test]
fn what_a_file_of_readings_cannot_mean_is_told_with_its_line() {
    let with = |row: &str| error_of(&format!("{READINGS}{row}\nA.top,B.top,-0.113,1 mm,\n"));
    for (row, expected) in [
        (
            "A.top,B.top,-0.113,1 mm,\"by level",
            "line 7, column 5: a quote is opened here and not closed on its line",
        ),
        (
            "A.top,B.top,\"1,453\",1 mm,",
            "line 7, column 3: rise: `1,453` has a comma",
        ),
        (
            "A.top,B.top,1.453,2,",
            "line 7, column 1: sigma: 2 m is beyond 0.5 m: a reading that may be off by more is no reading; write \"2 mm\" if that is meant",
        ),
        (
            "foo,bar,1.453,2 mm,",
            "line 7: no reading ties these points to a fixed one: foo, bar; expected names of points that the job has",
        ),
    ] {
        let error = with(row);
        assert!(error.contains(expected), "{row}: {error}");
    }
    let semicolons = error_of("from;to;rise;sigma\nA.top;B.top;1;1 mm\n");
    assert!(
        semicolons.contains("expected commas between cells, not semicolons"),
        "{semicolons}"
    );
    let tabs = error_of("from\tto\trise\tsigma\nA.top\tB.top\t1\t1 mm\n");
    assert!(tabs.contains("not tabs"), "{tabs}");
    // A file alone may have what no reading of a rig is: weights of published networks are given so.
    let place = job(JOB, READINGS);
    fs::write(
        place.path().join("alone.csv"),
        "from,to,rise,sigma\nX,A,5.1,1\n",
    )
    .expect("a file");
    let (status, ..) = kerfmark(place.path(), &["levels", "alone.csv", "--fix", "X=100"]);
    assert_eq!(status, Some(0));
}

#[test]
fn entries_that_no_reading_can_be_are_refused() {
    let place = job(JOB, READINGS);
    let reading = |to: &str, sigma: &str| {
        format!(
            r#"{{"event":"reading","from":"A.top","to":"{to}","rise":"-0.113 m","sigma":"{sigma}"}}"#
        )
    };
    for (event, expected) in [
        (reading("B.top", "0 mm"), "sigma"),
        (reading("B.top", "2 m"), "2 mm"),
        (reading("A.top", "1 mm"), "is read from itself"),
        (
            r#"{"event":"deck-landed","slots":[{"slot":"A","gap":"3 m"},{"slot":"A","gap":"0 m"}]}"#.to_owned(),
            "slot A stands twice",
        ),
    ] {
        let (status, error) = enter(place.path(), &event);
        assert_eq!(status, Some(2), "{event}");
        assert!(error.contains(expected), "{event}: {error}");
    }
}

#[test]
fn levels_leaves_an_entry_out_that_nothing_ties_as_figures_do_and_says_so() {
    let place = job(JOB, READINGS);
    let before = json(place.path(), "levels");
    let event = r#"{"event":"reading","from":"gauge","to":"lamp","rise":"1 m","sigma":"1 mm"}"#;
    assert_eq!(enter(place.path(), event).0, Some(0));
    let after = json(place.path(), "levels");
    assert_eq!(before["points"], after["points"]);
    let (_, _, error) = kerfmark(place.path(), &["levels", "."]);
    assert!(
        error.contains("entry 1 is left out: no reading ties gauge and lamp"),
        "{error}"
    );
}

#[test]
fn a_correction_that_corrects_nothing_is_flagged_and_not_claimed() {
    let asked = "[[correction]]\non = \"rod\"\nkind = \"temperature\"\nat = 5\nstandard = 20\n";
    let text = format!("{JOB}{asked}[cut]\nelevations = \"adjusted\"\n");
    let place = job(&text, READINGS);
    assert!(codes(&json(place.path(), "figures")["flags"]).contains(&"correction-idle"));
    let (_, sheet, _) = kerfmark(place.path(), &["."]);
    let words = sheet.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        words.contains("No temperature or stretch correction applied."),
        "{words}"
    );
    assert!(!words.contains("Corrected before"), "{words}");
    // The word for the tape is one word, however it is written, for its scale and for corrections alike.
    let tape = asked.replace("rod", "Tape");
    let written = READINGS.replace(",tape\n", ",TAPE\n");
    let all = json(job(&format!("{JOB}{tape}"), &written).path(), "levels");
    assert_eq!(all["corrections"].as_array().map(Vec::len), Some(1));
    assert!(all["tape"]["w"].is_number(), "{}", all["tape"]);
    let twice = format!("{JOB}{asked}{asked}");
    let (status, _, error) = kerfmark(job(&twice, READINGS).path(), &["levels", "."]);
    assert_eq!(status, Some(2));
    assert!(
        error.contains("its readings would be corrected twice"),
        "{error}"
    );
}

#[test]
fn a_stick_up_that_is_far_off_is_told_where_nothing_says_how_far_it_may_be() {
    let text = JOB
        .replace(WRONG_STICK_UP.0, "stick_up = 1.440")
        .replace("stick_up = \"2 mm\"\n", "");
    let found = json(job(&text, READINGS).path(), "figures");
    assert!(
        codes(&found["slots"][1]["flags"]).contains(&"adjusted-far"),
        "{}",
        found["slots"][1]["flags"]
    );
    assert_eq!(found["slots"][1]["adjusted"]["top_limit_m"], Value::Null);
}

#[test]
fn a_finished_top_that_other_readings_put_elsewhere_is_flagged_in_its_slot() {
    let text = JOB.replace(
        "stick_up = 0.940",
        "as_cut = [14.251, 14.249, 14.252, 14.250]\nstick_up = 0.940",
    );
    let good = format!("{READINGS}bench,B.cut,-3.655,1 mm,level\n");
    let wrong = format!("{READINGS}bench,B.cut,-3.755,1 mm,level\n");
    let flags = |readings: &str| {
        let found = json(job(&text, readings).path(), "figures");
        codes(&found["slots"][1]["flags"]).contains(&"as-cut-disagrees")
    };
    assert!(flags(&wrong) && !flags(&good));
}

#[test]
fn a_cut_by_all_readings_that_has_none_says_so_where_the_marks_are() {
    let text = format!("{JOB}[cut]\nelevations = \"adjusted\"\n");
    let place = job(&text, "from,to,rise,sigma\n");
    let (_, sheet, _) = kerfmark(place.path(), &["."]);
    let words = sheet.split_whitespace().collect::<Vec<_>>().join(" ");
    assert_eq!(
        words.matches("NONE REACHES THIS SLOT").count(),
        2,
        "{words}"
    );
}

#[test]
fn below_rt_follows_by_hand_from_the_rt_beside_it() {
    let text = format!("{JOB}[cut]\nelevations = \"adjusted\"\n");
    let place = job(&text, READINGS);
    let (_, sheet, _) = kerfmark(place.path(), &["."]);
    let words = sheet.split_whitespace().collect::<Vec<_>>().join(" ");
    // 39.1021 less 14.250.
    assert!(words.contains("is 24.8521 m"), "{words}");
    let rotary = "RT 39.1021 m (128' 3 7/16\") at hull position deck landing (by all readings; as stated 39.100 m";
    assert!(words.contains(rotary), "{words}");
}

#[test]
fn a_name_that_was_meant_otherwise_is_doubted_and_a_name_of_its_own_is_not() {
    let said = |name: &str| {
        let readings = format!("{READINGS}bench,{name},1.000,1 mm,\n");
        let found = json(job(JOB, &readings).path(), "figures");
        let mut flags = found["flags"].as_array().expect("flags").iter();
        let flag = flags.find(|it| it["code"] == "point-doubted");
        flag.map(|it| it["text"].as_str().expect("words").to_owned())
    };
    for (name, meant) in [
        ("a.Top", "(is A.top meant?)"),
        ("A top", "(is A.top meant?)"),
        ("A_top", "(is A.top meant?)"),
        ("A.shouldr", "(is A.shoulder meant?)"),
        ("RT", "RT"),
        ("RT at drilling", "RT at drilling"),
        ("B. top", "(is B.top meant?)"),
        ("rotary@deck  landing", "(is rotary@deck landing meant?)"),
        ("rotary@drlling", "rotary@drlling"),
        ("rotary", "rotary"),
        ("A.plane@99", "A.plane@99"),
        ("Z.top", "Z.top"),
    ] {
        let said = said(name).unwrap_or_else(|| panic!("{name}"));
        assert!(said.contains(meant), "{name}: {said}");
    }
    // Names that differ by where a sign stands between digits, or that are signs alone.
    let own = "bench,P1-1,1.000,1 mm,\nP1-1,P11,1.000,1 mm,\nP11,+,1.000,1 mm,\n+,=,1.000,1 mm,\n";
    let found = json(job(JOB, &format!("{READINGS}{own}")).path(), "figures");
    assert!(!codes(&found["flags"]).contains(&"point-doubted"));
    for name in [
        "beacon",
        "lug 1",
        "A.plane@5",
        "A.lug",
        "sea@1",
        "A.cut",
        "mudline",
    ] {
        assert_eq!(said(name), None, "{name}");
    }
}

#[test]
fn readings_that_stand_twice_are_told_and_readings_that_came_out_alike_are_not() {
    let said = |rows: &str| {
        let readings = format!("from,to,rise,sigma,time\n{rows}");
        let found = json(job(JOB, &readings).path(), "levels");
        let mut flags = found["flags"].as_array().expect("flags").iter();
        let flag = flags.find(|it| it["code"] == "reading-repeated");
        flag.map(|it| it["text"].as_str().expect("words").to_owned())
    };
    let row = |at: &str| format!("A.top,B.top,-0.110,1 mm,{at}\n");
    let twice = said(&format!("{0}{1}{0}", row("2026-03-01 03:05"), row("03:06")));
    let twice = twice.expect("the same at the same time");
    assert!(twice.contains("line 4 as line 2"), "{twice}");
    // Read twice a day, with the same result.
    assert_eq!(said(&format!("{0}{0}", row("2026-03-01"))), None);
    assert_eq!(said(&format!("{0}{0}", row(""))), None);
    assert_eq!(said(&row("").repeat(9)), None);
    // A round of levels, pasted twice; and one that was gone twice, with one reading that differs.
    let round = |first: &str| {
        let rows = (1..6).map(|at| format!("x{},x{at},0.10{at},1 mm,\n", at - 1));
        format!("A.top,x0,{first},1 mm,\n{}", rows.collect::<String>())
    };
    let pasted = said(&format!("{0}{0}", round("0.250"))).expect("pasted");
    assert!(pasted.contains("line 8 as line 2"), "{pasted}");
    assert_eq!(said(&format!("{}{}", round("0.250"), round("0.251"))), None);
}
