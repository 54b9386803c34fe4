//! Corrections of measured lengths in a job: what they add, to which readings, and what they leave as it was. The job is
//! invented; what the terms themselves are checked against stands in `tests/published/corrections.rs`.

use std::path::Path;

use serde_json::Value;

use crate::run::kerfmark;
use crate::two_conductors::{JOB, READINGS, job};

fn json(folder: &Path, command: &str) -> Value {
    let (_, json, error) = kerfmark(folder, &[command, ".", "--json"]);
    assert_eq!(error, "");
    serde_json::from_str(&json).expect("JSON")
}

fn with(corrections: &str) -> String {
    format!("{JOB}\n{corrections}")
}

const WARM_TAPE: &str =
    "[[correction]]\non = \"tape\"\nkind = \"temperature\"\nat = 31\nstandard = 20\n";

/// Kind, points and value of each correction.
fn lines(all: &Value) -> Vec<(String, String, String)> {
    let lines = all["corrections"].as_array().expect("corrections").iter();
    let word = |it: &Value| it.as_str().expect("a word").to_owned();
    lines
        .map(|it| {
            let points = format!("{} {}", word(&it["from"]), word(&it["to"]));
            (word(&it["kind"]), points, it["value_m"].to_string())
        })
        .collect()
}

#[test]
fn a_warm_tape_lengthens_what_it_measured_and_nothing_else() {
    let place = job(&with(WARM_TAPE), READINGS);
    let all = json(place.path(), "levels");
    // -16.053 m x 11.6e-6 x 11 degrees.
    let expected = [("temperature", "B.top bench", "-0.002048363")];
    let found = lines(&all);
    let found: Vec<(&str, &str, &str)> = found
        .iter()
        .map(|(kind, points, value)| (kind.as_str(), points.as_str(), value.as_str()))
        .collect();
    assert_eq!(found, expected);
    // The reading stands as it was read.
    let readings = all["readings"].as_array().expect("readings").iter();
    let tape: Vec<&Value> = readings.filter(|it| it["line"] == 6).collect();
    assert_eq!(tape[0]["rise_m"].to_string(), "-16.053");
    // A reading corrected by hand comes to the same elevations, but for what its tape's scale acts on.
    let plain = json(job(JOB, READINGS).path(), "levels");
    assert_eq!(plain["corrections"], serde_json::json!([]));
    assert_ne!(plain["points"], all["points"]);
    let (_, text, _) = kerfmark(place.path(), &["levels", "."]);
    let said = "correction: line 6, B.top to bench: temperature -2.0 mm";
    assert!(text.contains(said), "{text}");
}

#[test]
fn corrections_of_a_reading_without_a_common_tape_are_those_made_by_hand() {
    let level = READINGS.replace("16.051,2 mm,", "16.051,2 mm,level");
    let asked =
        "[[correction]]\non = \"level\"\nkind = \"standard\"\nnominal = 4.000\nactual = 4.001\n";
    let corrected = json(job(&with(asked), &level).path(), "levels");
    let by_hand = level.replace("16.051,", "16.05501275,");
    let by_hand = json(job(JOB, &by_hand).path(), "levels");
    assert_eq!(corrected["points"], by_hand["points"]);
    assert_eq!(corrected["chi_square"], by_hand["chi_square"]);
    assert_eq!(lines(&corrected)[0].2, "0.00401275");
}

#[test]
fn corrections_of_a_tally_are_for_its_slots_alone_and_add_up_along_the_string() {
    let asked = "[[correction]]\non = \"tally\"\nslots = [\"A\"]\nkind = \"stretch\"\nfluid_density = 1025\n";
    let sum = |readings: &str| {
        let all = json(job(&with(asked), readings).path(), "levels");
        let lines = lines(&all);
        assert!(
            lines
                .iter()
                .all(|(kind, points, _)| kind == "stretch" && points.starts_with("A."))
        );
        let values = lines
            .iter()
            .map(|it| it.2.parse::<f64>().expect("a number"));
        (lines.len(), values.sum::<f64>())
    };
    let (parts, whole) = sum(READINGS);
    let (more, divided) = sum(&format!("{READINGS}A.plane@5,A.plane@6,12.081,50 mm,\n"));
    assert_eq!((parts, more), (2, 4));
    assert!((whole - divided).abs() < 4e-9, "{whole} and {divided}");
    // g L^2 (steel - 1.44 fluid) / (2 E), with the string's length of 72.121 m.
    let expected = 9.806_65 * 72.121_f64.powi(2) * (7850.0 - 1.44 * 1025.0) / (2.0 * 207e9);
    assert!((whole - expected).abs() < 2e-9, "{whole} and {expected}");
}

#[test]
fn the_chain_stays_as_read_and_the_cut_follows_where_it_goes_by_all_readings() {
    let plain = json(job(JOB, READINGS).path(), "figures");
    let warm = "[[correction]]\non = \"tally\"\nkind = \"temperature\"\nat = 4\nstandard = 20\n";
    let by_chain = json(job(&with(warm), READINGS).path(), "figures");
    for at in 0..2 {
        let (one, other) = (&plain["slots"][at], &by_chain["slots"][at]);
        for key in [
            "top_elevation_m",
            "shoe",
            "shoulder",
            "cut",
            "string_length_m",
        ] {
            assert_eq!(one[key], other[key], "{key}");
        }
    }
    let adjusted = |text: &str| format!("{text}\n[cut]\nelevations = \"adjusted\"\n");
    let shoe = |text: &str| {
        let all = json(job(text, READINGS).path(), "figures");
        let shoe = all["slots"][0]["shoe"]["elevation_m"].as_f64();
        shoe.expect("a shoe")
    };
    // 72.121 m of pipe that is 16 degrees colder are 13.4 mm shorter, and the shoe hangs so much higher.
    let higher = shoe(&adjusted(&with(warm))) - shoe(&adjusted(JOB));
    assert!((higher - 0.0134).abs() < 0.0005, "{higher}");
}

#[test]
fn every_output_says_which_corrections_it_holds() {
    let sheet = |text: &str| {
        let place = job(text, READINGS);
        let (_, sheet, _) = kerfmark(place.path(), &["."]);
        sheet.split_whitespace().collect::<Vec<_>>().join(" ")
    };
    let none = "No temperature or stretch correction applied";
    assert!(sheet(JOB).contains(none));
    let by_chain = sheet(&with(WARM_TAPE));
    assert!(
        by_chain.contains("Corrections (temperature) are in the elevations by all readings alone"),
        "{by_chain}"
    );
    let by_all = format!("{}\n[cut]\nelevations = \"adjusted\"\n", with(WARM_TAPE));
    let by_all = sheet(&by_all);
    assert!(
        by_all.contains("Corrected before all readings were adjusted: temperature")
            && !by_all.contains(none),
        "{by_all}"
    );
}

#[test]
fn a_correction_that_is_for_no_reading_is_told() {
    let asked = WARM_TAPE.replace("\"tape\"", "\"tpae\"");
    let place = job(&with(&asked), READINGS);
    let (_, text, _) = kerfmark(place.path(), &["levels", "."]);
    assert!(
        text.contains("A CORRECTION ON tpae CORRECTS NOTHING"),
        "{text}"
    );
}

#[test]
fn corrections_that_cannot_be_are_errors_with_their_place() {
    let of = |keys: &str| {
        let place = job(&with(&format!("[[correction]]\n{keys}\n")), READINGS);
        let (status, _, error) = kerfmark(place.path(), &["levels", "."]);
        assert_eq!(status, Some(2), "{keys}");
        error.replace("./job.toml: ", "").replace("error: ", "")
    };
    let all = [
        "kind = \"sag\"",
        "on = \"tape\"",
        "on = \"tape\"\nkind = \"warmth\"",
        "on = \"tape\"\nkind = \"standard\"\nnominal = 30\nactual = 30.6",
        "on = \"tape\"\nkind = \"standard\"\nnominal = 30\nactual = 30.006\nat = 3",
        "on = \"tape\"\nkind = \"temperature\"\nat = 310\nstandard = 20",
        "on = \"tape\"\nkind = \"temperature\"\nat = \"31 F\"\nstandard = -5",
        "on = \"tape\"\nkind = \"temperature\"\nat = 31\nstandard = 20\nalpha = 11.6",
        "on = \"tape\"\nkind = \"pull\"\nat = \"15 lbf\"\nstandard = -3\narea = \"0.004 in2\"",
        "on = \"tape\"\nkind = \"stretch\"\nfluid_density = 1025",
        "on = \"tape\"\nslots = [\"A\"]\nkind = \"stretch\"",
        "on = \"tape\"\nkind = \"sag\"\nmass_per_metre = 0.02\npull = 50\nspan = 0",
    ];
    let told: Vec<String> = all.map(|keys| format!("{keys}\n  {}", of(keys))).into();
    insta::assert_snapshot!(told.join("\n"));
}

#[test]
fn what_corrections_may_be_is_read_with_units_signs_and_exponents() {
    let asked = "[[correction]]\non = \"tape\"\nkind = \"temperature\"\nat = -4.5\nstandard = \"20 C\"\nalpha = 1.24e-5\n\
        [[correction]]\non = \"tape\"\nkind = \"pull\"\nat = \"15 lbf\"\nstandard = 50\narea = \"0.004 in2\"\n\
        [[correction]]\non = \"tape\"\nkind = \"sag\"\nmass_per_metre = \"0.013 lb/ft\"\npull = 50\nspan = \"10 m\"\n";
    let all = json(job(&with(asked), READINGS).path(), "levels");
    let found = lines(&all);
    let kinds: Vec<&str> = found.iter().map(|it| it.0.as_str()).collect();
    assert_eq!(kinds, ["temperature", "pull", "sag"]);
    let value = |at: usize| found[at].2.parse::<f64>().expect("a number");
    assert!((value(0) - -16.053 * 1.24e-5 * -24.5).abs() < 1e-9);
    let force = 15.0 * 4.448_221_615_260_5 - 50.0;
    assert!((value(1) - -16.053 * force / (0.004 * 645.16e-6 * 207e9)).abs() < 1e-9);
    let weight: f64 = 0.013 * 0.453_592_37 / 0.3048 * 9.806_65;
    assert!((value(2) - 16.053 * (weight * 10.0 / 50.0).powi(2) / 24.0).abs() < 1e-9);
}
