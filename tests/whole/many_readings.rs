//! `sample-tallies/many-readings`, which is invented: sixty readings with a mistake of 0.100 m in line 21, and that mistake elsewhere.

use std::fs;
use std::path::Path;

use serde_json::Value;

use crate::common::copies::copy_of;
use crate::run::kerfmark;

/// The line of the planted mistake.
const PLANTED: usize = 21;

/// Adjusts a job: the JSON, and the text.
fn levels(folder: &Path) -> (Value, String) {
    let run = |arguments: &[&str]| {
        let (status, text, error) = kerfmark(folder, arguments);
        assert_eq!(status, Some(0), "{error}");
        text
    };
    (
        serde_json::from_str(&run(&["levels", ".", "--json"])).expect("JSON"),
        run(&["levels", "."]),
    )
}

/// Adds to the rise of a line of the readings, in millimetres.
fn shift(folder: &Path, line: usize, by: i64) {
    let file = folder.join("readings.csv");
    let text = fs::read_to_string(&file).expect("readings");
    let lines = text.lines().enumerate().map(|(at, row)| {
        let mut cells: Vec<String> = row.split(',').map(str::to_owned).collect();
        if at + 1 == line {
            let rise: f64 = cells[2].parse().expect("a rise");
            cells[2] = format!(
                "{:.3}",
                rise + f64::from(i32::try_from(by).expect("mm")) / 1e3
            );
        }
        cells.join(",") + "\n"
    });
    fs::write(&file, lines.collect::<String>()).expect("readings");
}

fn suspects(all: &Value) -> &Vec<Value> {
    all["suspects"].as_array().expect("suspects")
}

fn codes(all: &Value) -> Vec<&str> {
    let flags = all["flags"].as_array().expect("flags");
    flags.iter().filter_map(|it| it["code"].as_str()).collect()
}

#[test]
fn the_planted_mistake_is_found_named_and_its_size_estimated() {
    let sample = copy_of("many-readings");
    let (all, text) = levels(sample.path());
    let rows = all["readings"].as_array().expect("readings").iter();
    assert_eq!(rows.filter(|it| it["of"] == "file").count(), 60);
    let [found] = suspects(&all).as_slice() else {
        panic!("one suspect: {text}");
    };
    let named = &found["readings"][0];
    assert_eq!(
        (&named["line"], &named["from"], &named["to"]),
        (
            &PLANTED.into(),
            &"spider deck plate".into(),
            &"M.top".into()
        )
    );
    // Known to 1.5 mm like the readings that say so.
    let size = found["blunder_m"].as_f64().expect("a size");
    approx::assert_abs_diff_eq!(size, 0.100, epsilon = 0.004);
    let said = "line 21, spider deck plate to M.top: read 4.418 m; the other readings say 4.3198 m ± 1.2 mm, 98.2 mm less: READ IT AGAIN";
    assert!(text.contains(said), "{text}");
}

#[test]
fn without_it_nothing_is_suspected() {
    let sample = copy_of("many-readings");
    shift(sample.path(), PLANTED, -100);
    let (all, text) = levels(sample.path());
    assert!(suspects(&all).is_empty(), "{text}");
    assert_eq!(codes(&all), ["reading-unchecked"], "{text}");
    assert!(!text.contains("READ IT AGAIN"), "{text}");
}

#[test]
fn a_mistake_in_any_other_reading_is_named_first_where_it_can_be_seen() {
    let mut seen = 0;
    for line in 2..=61 {
        for by in [-100, 100] {
            let sample = copy_of("many-readings");
            shift(sample.path(), PLANTED, -100);
            shift(sample.path(), line, by);
            let (all, text) = levels(sample.path());
            let rows = all["readings"].as_array().expect("readings");
            let row = rows.iter().find(|it| it["line"] == line).expect("its row");
            // Half of what is planted: nothing is left to chance then, nor to how the others happen to lie.
            if row["detectable_m"].as_f64().expect("checked") > 0.05 {
                continue;
            }
            seen += 1;
            let first = &suspects(&all)[0];
            assert_eq!(first["readings"][0]["line"], line, "{by}: {text}");
            let size = first["blunder_m"].as_f64().expect("a size");
            let planted = if by < 0 { -0.1 } else { 0.1 };
            approx::assert_abs_diff_eq!(size, planted, epsilon = 0.015);
        }
    }
    // All but tide, air gap, camera and sonar, which are known to 15 mm and more.
    assert_eq!(seen, 2 * (60 - 8 - 8 - 4 - 3));
}

#[test]
fn a_stick_up_a_decimetre_too_long_is_named_with_its_size() {
    let sample = copy_of("many-readings");
    shift(sample.path(), PLANTED, -100);
    let file = sample.path().join("job.toml");
    let job = fs::read_to_string(&file).expect("the job");
    assert!(job.contains("stick_up = 1.208"));
    fs::write(&file, job.replace("stick_up = 1.208", "stick_up = 1.308")).expect("the job");
    let (all, text) = levels(sample.path());
    let first = &suspects(&all)[0];
    assert_eq!(first["readings"][0]["of"], "stick-up", "{text}");
    assert_eq!(first["readings"][0]["to"], "M.top", "{text}");
    let size = first["blunder_m"].as_f64().expect("a size");
    approx::assert_abs_diff_eq!(size, 0.100, epsilon = 0.006);
}

#[test]
fn a_mistake_in_a_reading_that_nothing_checks_is_said_to_be_uncheckable() {
    let sample = copy_of("many-readings");
    shift(sample.path(), PLANTED, -100);
    // The shoe joint hangs below all that was read again.
    let file = sample.path().join("tallies/k.csv");
    let tally = fs::read_to_string(&file).expect("a tally");
    let length = tally.lines().nth(1).and_then(|row| row.split(',').nth(3));
    let length = length.expect("the shoe joint's length").to_owned();
    let wrong: f64 = length.parse::<f64>().expect("a length") + 0.1;
    let tally = tally.replacen(&length, &format!("{wrong:.3}"), 1);
    fs::write(&file, tally).expect("a tally");
    let file = sample.path().join("readings.csv");
    let readings = fs::read_to_string(&file).expect("readings");
    let more = "mudline,base plate,1.100,5 mm,sonar,NK,,read once\n";
    fs::write(&file, readings + more).expect("readings");
    let (all, text) = levels(sample.path());
    assert!(suspects(&all).is_empty(), "{text}");
    for said in [
        "reading-unchecked: nothing checks these readings, a mistake in one would not be seen: tally K.shoe to K.shoulder",
        "line 62, mudline to base plate",
        "tally K.shoe to K.shoulder: read ",
        "line 62, mudline to base plate: read 1.100 m; nothing checks it",
    ] {
        assert!(text.contains(said), "{said}: {text}");
    }
}
