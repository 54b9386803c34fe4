//! The deck's legs as they were surveyed, what shims and trims do to the cuts, and what was found when the deck was landed. All
//! is invented.

use std::fs;
use std::path::Path;

use serde_json::{Value, json};

use crate::run::kerfmark;
use crate::seat_of_jobs::{UNCERTAINTY, job, seat};

const PLACES: [&str; 4] = [
    "x = 0\ny = 0",
    "x = 4\ny = 0",
    "x = 4\ny = 4",
    "x = 0\ny = 4",
];

fn enter(folder: &Path, event: &str) {
    fs::write(folder.join("events.txt"), event).expect("an event");
    let (status, _, error) = kerfmark(folder, &["enter", ".", "events.txt", "--by", "NK"]);
    assert_eq!((status, error.as_str()), (Some(0), ""));
}

/// A square of tops in which B would stand 12 mm clear, with more keys for each slot.
fn square(more: [&str; 4]) -> tempfile::TempDir {
    let tops = ["14.012", "14.000", "14.000", "14.000"];
    let keys: Vec<String> = tops
        .iter()
        .zip(more)
        .map(|(top, more)| format!("as_cut = [{top}]\n{more}"))
        .collect();
    let names = ["A", "B", "C", "D"];
    let slots: Vec<(&str, &str, &str)> = names
        .iter()
        .zip(PLACES)
        .zip(&keys)
        .map(|((name, place), keys)| (*name, place, keys.as_str()))
        .collect();
    job(
        &slots,
        "cog = [1.5, 2.5]\nseat_within = \"2 mm\"",
        UNCERTAINTY,
    )
}

fn text(folder: &Path) -> String {
    kerfmark(folder, &["seat", "."]).1
}

fn gap(all: &Value, slot: usize) -> String {
    all["rests"][0]["slots"][slot]["gap_m"].to_string()
}

#[test]
fn a_leg_that_is_longer_than_designed_fills_a_gap() {
    let as_designed = square([""; 4]);
    let all = seat(as_designed.path(), 0);
    assert_eq!(gap(&all, 1), "0.012");
    assert_eq!(all["legs_as_designed"], json!(["A", "B", "C", "D"]));
    let surveyed = "leg_deviation = 0\nleg_uncertainty = \"1 mm\"";
    let longer = "leg_deviation = \"12 mm\"\nleg_uncertainty = \"1 mm\"";
    let built = square([surveyed, longer, surveyed, surveyed]);
    let all = seat(built.path(), 0);
    assert_eq!(gap(&all, 1), "0");
    assert_eq!(all["legs_as_designed"], json!([]));
    assert!(!text(built.path()).contains("LEGS AS DESIGNED"));
    let some = square([surveyed, longer, surveyed, ""]);
    assert!(text(some.path()).contains("LEGS AS DESIGNED, NOT SURVEYED at D:"));
    // A survey of the legs that is known no better than 1 mm each makes the chances worse.
    let chance = |folder: &Path| seat(folder, 0)["chance"]["gap_within"].as_f64();
    let sure = square([longer.replace("12 mm", "0").replace("1 mm", "0").as_str(); 4]);
    let unsure = square([longer.replace("12 mm", "0").as_str(); 4]);
    assert_eq!(chance(sure.path()), chance(as_designed.path()));
    assert!(chance(unsure.path()) != chance(sure.path()));
    let unstated = square(["leg_deviation = 0"; 4]);
    assert_eq!(chance(unstated.path()), None);
}

#[test]
fn a_trim_is_judged_at_the_top_and_not_at_the_leg() {
    // The leg at A is 12 mm longer and its top on target: to trim it by 4 mm takes the top 4 mm below, not up to it.
    let leg = "leg_deviation = \"12 mm\"\nleg_uncertainty = 0";
    let place = square([leg, "", "", ""]);
    let job_file = place.path().join("job.toml");
    let text = fs::read_to_string(&job_file).expect("the job");
    let text = text
        .replace("as_cut = [14.012]", "as_cut = [14.000]")
        .replace("tolerance = \"10 mm\"", "tolerance = \"1 mm\"");
    fs::write(&job_file, text).expect("the job");
    let all = seat(place.path(), 0);
    let codes: Vec<&str> = all["flags"]
        .as_array()
        .expect("flags")
        .iter()
        .map(|it| it["code"].as_str().expect("a code"))
        .collect();
    assert!(codes.contains(&"trim-outside"), "{codes:?}");
}

#[test]
fn shims_leave_the_cuts_and_trims_change_them() {
    let place = square([""; 4]);
    let all = seat(place.path(), 0);
    let remedies = &all["remedies"];
    let row = |of: &str, slot: usize| {
        let row = &remedies[of][slot];
        let texts = ["by_m", "deviation_m"].map(|key| row[key].to_string());
        (texts[0].clone(), texts[1].clone(), row["state"].clone())
    };
    let is = |by: &str, deviation: &str, state: &str| {
        (by.to_owned(), deviation.to_owned(), json!(state))
    };
    // A is 12 mm too high, beyond 10 mm by less than its U of 4.5 mm.
    assert_eq!(row("shims", 0), is("0", "0.012", "unproven"));
    assert_eq!(row("shims", 1), is("0.012", "0", "within"));
    // 2 mm off A and C bring A to its limit.
    assert_eq!(row("trims", 0), is("0.002", "0.01", "unproven"));
    assert_eq!(row("trims", 2), is("0.002", "-0.002", "within"));
    assert_eq!(remedies["shims_spread_m"].to_string(), "0.012");
    assert_eq!(remedies["trims_spread_m"].to_string(), "0.012");
    let text = text(place.path());
    for line in [
        "with shims (B 12.0 mm) the cuts stay: A +12.0 mm (unproven), B +0.0 mm (within), C +0.0 mm (within), D +0.0 mm (within); spread 12.0 mm (outside)",
        "with trims the cuts become: A +10.0 mm (unproven), B +0.0 mm (within), C -2.0 mm (within), D +0.0 mm (within); spread 12.0 mm (outside)",
    ] {
        assert!(text.contains(line), "{line}: {text}");
    }
}

#[test]
fn a_deck_that_landed_otherwise_than_its_tops_say_is_told() {
    let place = square([""; 4]);
    let land = |gap: &str| {
        let event = format!(
            r#"{{"event":"deck-landed","slots":[{{"slot":"B","gap":"{gap}","shim":"12 mm"}},{{"slot":"D","gap":"0 mm"}}]}}"#
        );
        enter(place.path(), &event);
    };
    land("11 mm");
    let all = seat(place.path(), 0);
    assert_eq!(all["landed"][0]["agrees"], json!(true));
    // Four tops of 1 mm each: the sum of the squares of the weights is 3 beside its own.
    assert_eq!(
        all["landed"][0]["limit_m"]
            .as_f64()
            .map(|it| format!("{it:.6}")),
        Some("0.006581".to_owned())
    );
    assert!(
        text(place.path()).contains(
            "landed: B: gap 11.0 mm found, shim 12.0 mm set; by the tops 12.0 mm: agrees"
        )
    );
    land("2 mm");
    let all = seat(place.path(), 0);
    assert_eq!(all["landed"][0]["agrees"], json!(false));
    let flags = all["flags"].as_array().expect("flags").iter();
    let said: Vec<&str> = flags
        .filter(|it| it["code"] == "landed-otherwise")
        .map(|it| it["text"].as_str().expect("words"))
        .collect();
    assert_eq!(
        said,
        [
            "the deck landed otherwise than its tops say, one of the figures is wrong: B found 2.0 mm, by the tops 12.0 mm, by chance at most 6.6 mm apart"
        ]
    );
}

#[test]
fn a_deck_on_tops_of_one_plane_may_leave_a_gap_at_any_of_them_by_chance() {
    let slots = ["A", "B", "C", "D"].into_iter().zip(PLACES);
    let slots: Vec<_> = slots
        .map(|(name, at)| (name, at, "as_cut = [14.000]"))
        .collect();
    let sure = UNCERTAINTY.replace("as_cut = \"1 mm\"", "as_cut = \"0.4 mm\"");
    let place = job(&slots, "cog = [1.5, 2.5]\nseat_within = \"4 mm\"", &sure);
    let event =
        r#"{"event":"deck-landed","slots":[{"slot":"A","gap":"2 mm"},{"slot":"B","gap":"3 mm"}]}"#;
    enter(place.path(), event);
    let landed = seat(place.path(), 0)["landed"].clone();
    // The gap at a corner of a square is a + c - b - d: 3.2905 of 0.4 mm times 2.
    for (at, agrees) in [(0, true), (1, false)] {
        let limit = landed[at]["limit_m"].as_f64().expect("a limit");
        assert_eq!(format!("{limit:.5}"), "0.00263");
        assert_eq!(landed[at]["agrees"], json!(agrees), "{at}");
    }
}

#[test]
fn tops_surveyed_from_two_height_references_do_not_share_their_error() {
    let slots = ["A", "B", "C", "D"].into_iter().zip(PLACES);
    let slots: Vec<_> = slots.map(|(name, at)| (name, at, "")).collect();
    let sure = UNCERTAINTY.replace("as_cut = \"1 mm\"", "as_cut = \"0.001 mm\"");
    let chance = |setups: [&str; 4]| {
        let place = job(&slots, "cog = [1.5, 2.5]\nseat_within = \"4 mm\"", &sure);
        for (slot, setup) in ["A", "B", "C", "D"].into_iter().zip(setups) {
            let event = format!(
                r#"{{"event":"as-cut","slot":"{slot}","readings":[{{"elevation":"14.000 m"}}],"instrument":"L1","reference":"lug","setup":"{setup}"}}"#
            );
            enter(place.path(), &event);
        }
        let event = r#"{"event":"deck-landed","slots":[{"slot":"A","gap":"3 mm"}]}"#;
        enter(place.path(), event);
        let all = seat(place.path(), 0);
        let agrees = all["landed"][0]["agrees"].clone();
        assert_eq!(agrees, json!(setups.contains(&"other")), "{setups:?}");
        all["chance"]["gap_within"].as_f64().expect("a share")
    };
    approx::assert_relative_eq!(chance(["one"; 4]), 1.0);
    // 2 mm each: the gap is twice the difference of the two, which is within 2 mm in 52.05 of 100 cases.
    let two = chance(["one", "other", "one", "other"]);
    assert!((two - 0.5205).abs() < 0.02, "{two}");
}
