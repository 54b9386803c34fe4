//! The readings of a job in its figures: beside the chain, and in its place. The job is invented; its figures by all
//! readings were worked out by an independent dense least-squares program.

use std::fs;
use std::path::{Path, PathBuf};

use kerfmark::figures::of_inputs;
use kerfmark::folder::open;
use kerfmark::job::{Elevations, Uncertainty};
use kerfmark::journal::Inputs;
use kerfmark::measure::Length;
use kerfmark::report::figures_json;
use serde_json::{Value, json};

use crate::run::kerfmark;
use crate::two_conductors::{JOB, READINGS, job, places};

fn figures(folder: &Path) -> Value {
    let (_, json, error) = kerfmark(folder, &["figures", ".", "--json"]);
    assert_eq!(error, "");
    serde_json::from_str(&json).expect("JSON")
}

fn adjusted(text: &str) -> String {
    format!("{text}[cut]\nelevations = \"adjusted\"\n")
}

fn mark<'a>(slot: &'a Value, from: &str) -> &'a Value {
    let mut marks = slot["cut"]["marks"].as_array().expect("marks").iter();
    marks.find(|it| it["from"] == from).expect("a mark")
}

fn codes(flags: &Value) -> Vec<String> {
    let flags = flags.as_array().expect("flags").iter();
    flags
        .map(|it| it["code"].as_str().expect("a code").to_owned())
        .collect()
}

/// A slot without what only says which elevations are used.
fn without_the_other_way(mut slot: Value) -> Value {
    let keys = slot.as_object_mut().expect("a slot");
    keys.remove("adjusted");
    keys.remove("elevations");
    slot
}

#[test]
fn both_elevations_stand_side_by_side_with_their_limit_and_the_chain_stays_to_the_last_digit() {
    let with = figures(job(JOB, READINGS).path());
    let none = "from,to,rise,sigma\n";
    let without = figures(job(JOB, none).path());
    for (with, without) in
        [(0, 0), (1, 1)].map(|(one, other)| (&with["slots"][one], &without["slots"][other]))
    {
        assert_eq!(with["elevations"], "chain");
        assert_eq!(without["adjusted"], Value::Null);
        assert_eq!(
            without_the_other_way(with.clone()),
            without_the_other_way(without.clone())
        );
    }
    let a = &with["slots"][0]["adjusted"];
    let expected = [
        ("top_m", "34.069761"),
        ("top_uncertainty_m", "0.003266"),
        ("rotary_m", "39.102078"),
        ("rotary_uncertainty_m", "0.004030"),
        ("top_less_chain_m", "-0.000239"),
        ("top_limit_m", "0.011886"),
        ("rotary_less_chain_m", "0.002078"),
        ("rotary_limit_m", "0.007314"),
    ];
    for (key, value) in expected {
        // The sigmas of the example are rounded: U may be off by one in its last place.
        let found = a[key].as_f64().expect("a number");
        let value: f64 = value.parse().expect("a number");
        assert!((found - value).abs() < 1.6e-6, "{key}: {found} and {value}");
    }
    assert_eq!(
        places(&with["slots"][1]["adjusted"]["top_m"], 6),
        "33.957038"
    );
    assert_eq!(with["flags"], without["flags"]);
}

#[test]
fn marks_by_all_readings_come_out_as_a_dense_program_has_them() {
    let of = |text: &str| figures(job(text, READINGS).path())["slots"][0].clone();
    let by_chain = of(JOB);
    let by_all = of(&adjusted(JOB));
    assert_eq!(by_all["elevations"], "adjusted");
    assert_eq!(by_all["basis"], "read");
    let expected = [
        ("rotary", "24.850000", "0.007627", "24.852078", "0.005952"),
        ("top", "19.820000", "0.009298", "19.819761", "0.005287"),
        (
            "lower-plane",
            "4.249000",
            "0.010317",
            "4.249023",
            "0.006880",
        ),
    ];
    for (from, chain, u_chain, all, u_all) in expected {
        let (one, other) = (mark(&by_chain, from), mark(&by_all, from));
        assert_eq!(places(&one["distance_m"], 6), chain, "{from}");
        assert_eq!(places(&one["uncertainty_m"], 6), u_chain, "{from}");
        assert_eq!(places(&other["distance_m"], 6), all, "{from}");
        assert_eq!(places(&other["uncertainty_m"], 6), u_all, "{from}");
        assert_eq!(one["rests_on"], other["rests_on"], "{from}");
    }
    assert_eq!(places(&by_all["top_elevation_m"], 6), "34.069761");
    assert_eq!(places(&by_all["shoulder"]["elevation_m"], 6), "-12.586829");
    assert_eq!(places(&by_all["cut"]["below_rotary_m"], 6), "24.852078");
    for key in ["string_length_m", "stick_up_m", "landing_length_m"] {
        assert_eq!(by_all[key], by_chain[key], "{key}");
    }
    for key in ["target_m", "as_cut"] {
        assert_eq!(by_all["cut"][key], by_chain["cut"][key], "{key}");
    }
    // What follows from them does so exactly.
    let metres = |value: &Value| value.as_f64().expect("a number");
    let offcut = metres(&by_all["top_elevation_m"]) - 14.250;
    assert!((metres(&by_all["cut"]["offcut_length_m"]) - offcut).abs() < 1e-9);
    let at = metres(&by_all["shoulder"]["elevation_m"]);
    let above = metres(&by_all["shoulder"]["above_deck_m"]);
    assert!((above - (at - 14.250)).abs() < 1e-9);
}

#[test]
fn without_further_readings_all_readings_are_the_chain_with_every_u() {
    let (text, all) = (JOB.to_owned(), adjusted(JOB));
    let none = "from,to,rise,sigma\n";
    let (by_chain, by_all) = (
        figures(job(&text, none).path()),
        figures(job(&all, none).path()),
    );
    for at in 0..2 {
        let (one, other) = (&by_chain["slots"][at], &by_all["slots"][at]);
        assert_eq!(other["elevations"], "adjusted");
        assert_eq!(
            without_the_other_way(one.clone()),
            without_the_other_way(other.clone())
        );
    }
}

/// Every job in a folder and below it.
fn jobs(folder: &Path, found: &mut Vec<PathBuf>) {
    if folder.join("job.toml").exists() {
        found.push(folder.to_owned());
        return;
    }
    let inside = fs::read_dir(folder).expect("a folder");
    let mut inside: Vec<PathBuf> = inside.map(|it| it.expect("a file").path()).collect();
    inside.sort();
    for folder in inside.iter().filter(|it| it.is_dir()) {
        jobs(folder, found);
    }
}

#[test]
fn every_job_without_further_readings_has_one_and_the_same_figures_either_way() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut all = Vec::new();
    for folder in ["sample-tallies", "tests/fixtures/ordinary/jobs"] {
        jobs(&root.join(folder), &mut all);
    }
    let mut slots = 0;
    for folder in &all {
        let mut inputs = open(folder).expect("a job");
        inputs.readings.clear();
        let of = |inputs: &Inputs| -> Value {
            let json = figures_json(inputs, &of_inputs(inputs)).expect("JSON");
            serde_json::from_str(&json).expect("JSON")
        };
        // As the job states its uncertainties, and with each of them left out or exact, and all exact.
        let stated = inputs.stated.uncertainty.clone();
        for change in &CHANGES {
            inputs.stated.uncertainty = stated.clone();
            change(&mut inputs.stated.uncertainty);
            inputs.stated.cut.elevations = Elevations::Chain;
            inputs.set_journal(inputs.journal.clone());
            let by_chain = of(&inputs);
            inputs.stated.cut.elevations = Elevations::Adjusted;
            inputs.set_journal(inputs.journal.clone());
            let by_all = of(&inputs);
            slots += same_but_for_what_is_used(folder, &by_chain, &by_all);
        }
    }
    assert!(slots > 400, "{slots} slots in {} jobs", all.len());
}

/// What a job may leave out or state as exact.
const CHANGES: [fn(&mut Uncertainty); 10] = [
    |_| {},
    |it| it.strap = None,
    |it| it.connection = None,
    |it| it.tape_scale = None,
    |it| it.stick_up = None,
    |it| it.rotary = None,
    |it| it.strap = Some(Length::ZERO),
    |it| it.connection = Some(Length::ZERO),
    |it| it.tape_scale = Some(0.0),
    |it| {
        let exact = Some(Length::ZERO);
        (it.strap, it.connection, it.stick_up, it.rotary) = (exact, exact, exact, exact);
    },
];

/// Whether two values are the same, real ones but for the last of nine decimals.
fn is_same(one: &Value, other: &Value) -> bool {
    match (one, other) {
        (Value::Object(one), Value::Object(other)) => {
            let mut keys = one.iter();
            one.len() == other.len()
                && keys.all(|(key, value)| other.get(key).is_some_and(|it| is_same(value, it)))
        }
        (Value::Array(one), Value::Array(other)) => {
            let mut both = one.iter().zip(other);
            one.len() == other.len() && both.all(|(one, other)| is_same(one, other))
        }
        (Value::Number(one), Value::Number(other)) => {
            let both = one.as_f64().zip(other.as_f64());
            both.is_some_and(|(one, other)| (one - other).abs() < 1.5e-9)
        }
        _ => one == other,
    }
}

/// Compares the slots of a job either way, and gives how many.
fn same_but_for_what_is_used(folder: &Path, by_chain: &Value, by_all: &Value) -> usize {
    let both = [by_chain, by_all].map(|it| it["slots"].as_array().expect("slots"));
    for (one, other) in both[0].iter().zip(both[1]) {
        let used = if other["basis"] == "read" {
            "adjusted"
        } else {
            "chain"
        };
        assert_eq!(other["elevations"], used);
        // What was signed for the one is not signed for the other.
        let of = |slot: &Value| {
            let mut slot = without_the_other_way(slot.clone());
            slot.as_object_mut().expect("a slot").remove("running");
            slot
        };
        let (one, other) = (of(one), of(other));
        for (key, value) in one.as_object().expect("a slot") {
            let is_same = is_same(value, &other[key]);
            assert!(
                is_same,
                "{}: {key}: {value}, {}",
                folder.display(),
                other[key]
            );
        }
    }
    assert_eq!(by_chain["flags"], by_all["flags"], "{}", folder.display());
    both[0].len()
}

#[test]
fn a_stick_up_that_is_wrong_is_named_in_its_slot_and_nothing_is_cut_by_all_readings_then() {
    let wrong = JOB.replace("stick_up = 0.940", "stick_up = 1.040");
    let by_chain = figures(job(&wrong, READINGS).path());
    assert_eq!(
        codes(&by_chain["flags"]),
        ["reading-suspect", "variance-outside"]
    );
    let b = &by_chain["slots"][1];
    assert_eq!(codes(&b["flags"])[0], "adjusted-disagrees");
    assert_eq!(b["cut"]["status"], "check");
    let said = b["flags"][0]["text"].as_str().expect("words");
    insta::assert_snapshot!(said);
    let (_, sheet, _) = kerfmark(job(&wrong, READINGS).path(), &["."]);
    let words = sheet.split_whitespace().collect::<Vec<_>>().join(" ");
    let doubt = "Among all readings one is to be read again first: stick-up of B at drilling.";
    assert_eq!(words.matches(doubt).count(), 2, "{words}");
    let place = job(&adjusted(&wrong), READINGS);
    let by_all = figures(place.path());
    let flags = codes(&by_all["flags"]);
    assert_eq!(
        flags,
        ["adjusted-unsound", "reading-suspect", "variance-outside"]
    );
    for slot in by_all["slots"].as_array().expect("slots") {
        assert_eq!(slot["cut"]["status"], "stop");
    }
    let (status, sheet, _) = kerfmark(place.path(), &["."]);
    assert_eq!(status, Some(1));
    assert!(
        sheet.contains("adjusted-unsound") && !sheet.contains("Marks, nearest first"),
        "{sheet}"
    );
    insta::assert_snapshot!(by_all["flags"][0]["text"].as_str().expect("words"));
}

#[test]
fn the_sheet_says_which_elevations_its_marks_use_and_what_the_other_way_says() {
    let line = |text: &str, readings: &str| {
        let place = job(text, readings);
        let (_, sheet, _) = kerfmark(place.path(), &["."]);
        let words = sheet.split_whitespace().collect::<Vec<_>>().join(" ");
        let from = words.find("Elevations: ");
        from.map(|from| {
            let rest = &words[from..];
            rest[..rest.find("). ").map_or(rest.len(), |at| at + 2)].to_owned()
        })
    };
    insta::assert_snapshot!(line(JOB, READINGS).expect("a line"));
    insta::assert_snapshot!(line(&adjusted(JOB), READINGS).expect("a line"));
    assert_eq!(line(JOB, "from,to,rise,sigma\n"), None);
}

#[test]
fn an_elevation_that_no_further_reading_reaches_is_not_shown_as_agreeing_with_all() {
    let tops = "from,to,rise,sigma,how\nA.top,B.top,-0.113,1 mm,\n";
    for text in [JOB.to_owned(), adjusted(JOB)] {
        let (_, sheet, _) = kerfmark(job(&text, tops).path(), &["."]);
        let words = sheet.split_whitespace().collect::<Vec<_>>().join(" ");
        let said = "RT at deck landing 39.100 m (NO FURTHER READING REACHES IT)";
        assert!(words.contains(said), "{words}");
    }
}

#[test]
fn slots_that_no_further_reading_reaches_have_nothing_beside_their_chain() {
    let readings = "from,to,rise,sigma\nbench,somewhere,1.000,1 mm\n";
    let all = figures(job(JOB, readings).path());
    for slot in all["slots"].as_array().expect("slots") {
        assert_eq!(slot["adjusted"], Value::Null);
    }
    // A reading of RT at the cut's hull position reaches every slot; of a planned one RT alone.
    let planned = JOB.replace(
        "stick_up = 0.940\nstick_up_hull = \"drilling\"",
        "plan_top = 33.9",
    );
    let readings = "from,to,rise,sigma\nbench,rotary@deck landing,21.195,1 mm\n";
    let all = figures(job(&adjusted(&planned), readings).path());
    let [a, b] = [&all["slots"][0], &all["slots"][1]];
    assert_eq!(
        (&a["elevations"], &b["elevations"]),
        (&json!("adjusted"), &json!("chain"))
    );
    assert_eq!(b["adjusted"]["top_m"], Value::Null);
    assert_eq!(b["adjusted"]["rotary_m"], a["adjusted"]["rotary_m"]);
    assert_eq!(b["cut"]["below_rotary_m"], json!(24.85));
}

#[test]
fn readings_that_cannot_be_are_an_error_of_every_command_and_change_nothing() {
    for (row, expected) in [
        ("nowhere,elsewhere,1.0,1 mm", "no reading ties these points"),
        ("A.top,B.top,far,1 mm", "line 2, column 3"),
    ] {
        let place = job(JOB, &format!("from,to,rise,sigma\n{row}\n"));
        for command in [
            &["figures", "."][..],
            &["."],
            &["levels", "."],
            &["enter", "."],
        ] {
            let (status, out, error) = kerfmark(place.path(), command);
            assert_eq!((status, out.as_str()), (Some(2), ""), "{command:?}");
            assert!(
                error.contains("readings.csv") && error.contains(expected),
                "{error}"
            );
        }
        assert_eq!(fs::read_dir(place.path()).expect("a folder").count(), 4);
    }
}

/// Enters events, one a line.
fn enter(folder: &Path, events: &[&str]) -> (Option<i32>, String) {
    fs::write(folder.join("events.txt"), events.join("\n")).expect("events");
    let (status, _, error) = kerfmark(folder, &["enter", ".", "events.txt", "--by", "NK"]);
    (status, error)
}

#[test]
fn an_entered_reading_counts_like_one_of_the_file_and_one_that_is_tied_to_nothing_is_told() {
    let none = "from,to,rise,sigma\n";
    let rows = "from,to,rise,sigma\nA.top,B.top,-0.113,1 mm\n";
    let written = figures(job(JOB, rows).path());
    let place = job(JOB, none);
    let reading = |from: &str, to: &str, rise: &str| {
        format!(
            r#"{{"event":"reading","from":"{from}","to":"{to}","rise":"{rise}","sigma":"1 mm"}}"#
        )
    };
    let entered = enter(place.path(), &[&reading("A.top", "B.top", "-0.113 m")]);
    assert_eq!(entered, (Some(0), String::new()));
    let found = figures(place.path());
    assert_ne!(found["slots"][0]["adjusted"], Value::Null);
    for at in 0..2 {
        assert_eq!(
            found["slots"][at]["adjusted"],
            written["slots"][at]["adjusted"]
        );
    }
    // Two readings of marks that nothing ties yet: the figures stand, and both are named.
    let first = reading("gauge", "beacon", "1 m");
    let second = reading("beacon", "lamp", "2 m");
    assert_eq!(enter(place.path(), &[&first, &second]).0, Some(0));
    let loose = figures(place.path());
    assert_eq!(loose["slots"][0]["adjusted"], found["slots"][0]["adjusted"]);
    let flag = loose["flags"].as_array().expect("flags").iter();
    let flag = flag.filter(|it| it["code"] == "entry-not-used");
    let said: Vec<&str> = flag.map(|it| it["text"].as_str().expect("words")).collect();
    assert_eq!(said.len(), 1);
    for part in ["entry 2", "entry 3", "gauge, beacon", "beacon, lamp"] {
        assert!(said[0].contains(part), "{part}: {said:?}");
    }
    // Once one of them is tied, all are.
    let tied = reading("datum", "lamp", "12 m");
    assert_eq!(enter(place.path(), &[&tied]).0, Some(0));
    assert!(!codes(&figures(place.path())["flags"]).contains(&"entry-not-used".to_owned()));
}

#[test]
fn a_wrong_reading_that_was_entered_can_be_struck_though_nothing_can_be_adjusted_with_it() {
    // Stick-ups that are stated as exact, from RT that is: the second contradicts the first.
    let exact = JOB
        .replace("stick_up = \"2 mm\"", "stick_up = 0")
        .replace("rotary = \"3 mm\"", "rotary = 0");
    let rows = "from,to,rise,sigma\nA.top,B.top,-0.113,1 mm\n";
    let place = job(&exact, rows);
    let read = |hull: &str, value: &str| {
        format!(
            r#"{{"event":"stick-up","slot":"B","hull":"{hull}","value":"{value}","state":"landed"}}"#
        )
    };
    let both = [
        read("drilling", "0.940 m"),
        read("deck landing", "-5.100 m"),
    ];
    assert_eq!(enter(place.path(), &[&both[0], &both[1]]).0, Some(0));
    let found = figures(place.path());
    assert!(
        codes(&found["flags"]).contains(&"readings-contradict".to_owned()),
        "{}",
        found["flags"]
    );
    assert_eq!(found["slots"][0]["adjusted"], Value::Null);
    let strike = r#"{"event":"strike","strikes":2,"why":"read from the wrong hull position"}"#;
    assert_eq!(enter(place.path(), &[strike]).0, Some(0));
    let found = figures(place.path());
    assert_ne!(found["slots"][0]["adjusted"], Value::Null);
}

#[test]
fn a_reading_without_its_own_standard_deviation_has_that_of_its_instrument() {
    let none = "from,to,rise,sigma\n";
    let place = job(JOB, none);
    let reading =
        r#"{"event":"reading","from":"A.top","to":"B.top","rise":"-0.113 m","instrument":"N-1"}"#;
    let (status, error) = enter(place.path(), &[reading]);
    assert_eq!(status, Some(2));
    assert!(
        error.contains("no entry states that of the instrument N-1"),
        "{error}"
    );
    let plain = r#"{"event":"reading","from":"A.top","to":"B.top","rise":"-0.113 m"}"#;
    assert!(enter(place.path(), &[plain]).1.contains("sigma is missing"));
    let instrument =
        r#"{"event":"instrument","id":"N-1","what":"level","due":"2099-01-01","sigma":"1 mm"}"#;
    assert_eq!(
        enter(place.path(), &[instrument, reading]),
        (Some(0), String::new())
    );
    let by_instrument = figures(place.path());
    let rows = "from,to,rise,sigma\nA.top,B.top,-0.113,1 mm\n";
    let stated = figures(job(JOB, rows).path());
    assert_eq!(
        by_instrument["slots"][0]["adjusted"],
        stated["slots"][0]["adjusted"]
    );
    // The entry that states it is needed by the reading.
    let strike = r#"{"event":"strike","strikes":1,"why":"another instrument"}"#;
    let (status, error) = enter(place.path(), &[strike]);
    assert_eq!(status, Some(2), "{error}");
}
