//! `kerfmark seat`: how an invented deck sits on its tops.

use std::fmt::Write as _;
use std::fs;
use std::path::Path;

use serde_json::{Value, json};

use crate::run::kerfmark;

const JOINTS: &str = "joint,length (m),makeup_loss (m),kind\n1,12.115,,shoe\n2,12.204,0.105,top\n";

/// Slots of a name, a place, and the elevations of their finished tops.
pub fn job(slots: &[(&str, &str, &str)], deck: &str, more: &str) -> tempfile::TempDir {
    let place = tempfile::tempdir().expect("a folder");
    let mut text = String::from(
        "format = 1\n[job]\nunits = \"m\"\nsea_datum = \"LAT\"\n[site]\nmudline = -30.0\n[[hull]]\nname = \"h\"\n\
         rotary = 30.0\nstick_up_from = 0.6\n[pipe.main]\nod = \"30 in\"\nwall = \"1 in\"\n",
    );
    for (name, at, tops) in slots {
        let tally = format!("{name}.csv");
        writeln!(
            text,
            "[[slot]]\nname = \"{name}\"\npipe = \"main\"\ntally = \"{tally}\"\nstick_up = 1.0\n{at}\n{tops}"
        )
        .expect("a String takes all text");
        let joints = JOINTS
            .replace("\n1,", &format!("\n{name}1,"))
            .replace("\n2,", &format!("\n{name}2,"));
        fs::write(place.path().join(tally), joints).expect("a tally");
    }
    writeln!(text, "[deck]\nelevation = 14.0\n{deck}\n{more}").expect("a String takes all text");
    fs::write(place.path().join("job.toml"), text).expect("the job");
    place
}

pub const UNCERTAINTY: &str = "[cut]\ntolerance = \"10 mm\"\nspread = \"6 mm\"\n[uncertainty]\nas_cut = \"1 mm\"\nbenchmark = \"2 mm\"\n\
    stick_up = \"2 mm\"\nrotary = \"3 mm\"\ntape_scale = 50\nstrap = \"1 mm\"\nconnection = \"1 mm\"\n";

pub fn seat(folder: &Path, status: i32) -> Value {
    let (found, json, error) = kerfmark(folder, &["seat", ".", "--json"]);
    assert_eq!((found, error.as_str()), (Some(status), ""));
    serde_json::from_str(&json).expect("JSON")
}

const SQUARE: [(&str, &str, &str); 4] = [
    ("A", "x = 0\ny = 0", "as_cut = [14.012]"),
    ("B", "x = 4\ny = 0", "as_cut = [14.000]"),
    ("C", "x = 4\ny = 4", "as_cut = [14.000]"),
    ("D", "x = 0\ny = 4", ""),
];

#[test]
fn a_deck_is_seated_on_tops_as_cut_and_on_targets_where_they_are_not() {
    let place = job(
        &SQUARE,
        "cog = [1.5, 2.5]\nseat_within = \"2 mm\"",
        UNCERTAINTY,
    );
    let all = seat(place.path(), 0);
    assert_eq!(all["state"], "stable");
    let rest = &all["rests"][0];
    assert_eq!(rest["contacts"], json!(["A", "C", "D"]));
    let b = &rest["slots"][1];
    // By the identity of a rectangle: 12 mm.
    assert_eq!(
        (b["gap_m"].to_string(), b["deck_m"].to_string()),
        ("0.012".to_owned(), "14.012".to_owned())
    );
    assert_eq!(rest["slots"][3]["source"], "target");
    // Rising 12 mm over 4 m towards A: the plane falls along y, about x.
    let tilt = |key: &str| rest[key].as_f64().expect("a number");
    assert!((tilt("tilt_x_deg") + (0.003_f64).atan().to_degrees()).abs() < 1e-9);
    assert!(tilt("tilt_y_deg").abs() < 1e-9);
    assert_eq!(all["flatness_m"].to_string(), "0.003");
    assert_eq!(all["cog_margin_m"].to_string(), "1.5");
    let residuals: Vec<String> = all["best_fit"]["residuals_m"]
        .as_array()
        .expect("residuals")
        .iter()
        .map(Value::to_string)
        .collect();
    assert_eq!(residuals, ["0.003", "-0.003", "0.003", "-0.003"]);
    // The square's diagonals differ by 12 mm, 8 may stay: 4 mm come off, A and C alike.
    assert_eq!(
        all["trims"],
        json!([{"slot": "A", "trim_m": 0.002}, {"slot": "C", "trim_m": 0.002}])
    );
    assert_eq!(all["trims_total_m"].to_string(), "0.004");
    assert_eq!(all["after"]["flatness_m"].to_string(), "0.002");
    assert_eq!(all["flags"][0]["code"], "gap-outside");
    let (_, text, _) = kerfmark(place.path(), &["seat", "."]);
    for line in [
        "seat: STABLE",
        "LEGS AS DESIGNED, NOT SURVEYED",
        "  B: top 14.000 m (as-cut), gap 12.0 mm, the shim that it needs",
        "trims: the least that bring all tops within the limit: A 2.0 mm, C 2.0 mm (in all 4.0 mm)",
        // All within 2 mm of one plane, and still 8 mm where the diagonals differ by that.
        "after these trims: rests on A, C, D; widest gap 8.0 mm at B",
        "how the deck bends, swings or is set down is not in these figures",
        "CAUTION",
    ] {
        assert!(text.contains(line), "{line}: {text}");
    }
}

#[test]
fn a_deck_that_would_fall_stops_and_one_that_rocks_has_two_rests() {
    let place = job(&SQUARE, "cog = [4.5, 2.0]", UNCERTAINTY);
    let all = seat(place.path(), 1);
    assert_eq!(
        (&all["state"], &all["rests"], &all["chance"]),
        (&json!("unstable"), &json!([]), &Value::Null)
    );
    assert_eq!(all["cog_margin_m"].to_string(), "-0.5");
    assert!(all["flatness_m"].is_number() && all["trims"].is_array());
    let place = job(&SQUARE, "cog = [2.0, 2.0]", UNCERTAINTY);
    let all = seat(place.path(), 0);
    assert_eq!(all["state"], "rocks");
    assert_eq!(all["rests"].as_array().map(Vec::len), Some(2));
    let place = job(&SQUARE[..2], "cog = [2.0, 0.0]", UNCERTAINTY);
    let all = seat(place.path(), 0);
    assert_eq!(
        (&all["state"], &all["best_fit"], &all["chance"]),
        (&json!("degenerate"), &Value::Null, &Value::Null)
    );
}

#[test]
fn what_a_seat_needs_is_asked_for_by_name() {
    let refused = |slots: &[(&str, &str, &str)], deck: &str| {
        let place = job(slots, deck, UNCERTAINTY);
        let (status, text, error) = kerfmark(place.path(), &["seat", "."]);
        assert_eq!((status, text.as_str()), (Some(2), ""));
        error
    };
    assert!(refused(&SQUARE, "").contains("deck.cog is missing"));
    let mut slots = SQUARE;
    slots[1].1 = "x = 4";
    slots[3].1 = "";
    let error = refused(&slots, "cog = [2, 2]");
    assert!(
        error.contains("x and y of these slots are missing in job.toml: B, D"),
        "{error}"
    );
    slots = SQUARE;
    slots[2].1 = "x = 4\ny = 0";
    let error = refused(&slots, "cog = [2, 2]");
    assert!(error.contains("slots B and C are at one place"), "{error}");
}

#[test]
fn a_trim_that_takes_a_top_below_its_target_by_more_than_the_tolerance_is_flagged() {
    let mut slots = SQUARE;
    slots[0].2 = "as_cut = [13.995]";
    slots[2].2 = "as_cut = [14.030]";
    slots[1].2 = "as_cut = [13.982]";
    let place = job(
        &slots,
        "cog = [1.5, 2.5]\nseat_within = \"1 mm\"",
        UNCERTAINTY,
    );
    let all = seat(place.path(), 0);
    let flags = all["flags"].as_array().expect("flags").clone();
    let trims = all["trims"].as_array().expect("trims").clone();
    // By hand: the diagonals differ by 61 mm less 4; what comes off A below the target of 14.000 is told.
    let total: f64 = trims.iter().filter_map(|it| it["trim_m"].as_f64()).sum();
    assert!((total - 0.043 + 0.004).abs() < 1e-9, "{trims:?}");
    assert!(flags.iter().any(|it| it["code"] == "gap-outside"));
    let outside = flags.iter().any(|it| it["code"] == "trim-outside");
    let a = trims
        .iter()
        .find(|it| it["slot"] == "A")
        .and_then(|it| it["trim_m"].as_f64());
    assert_eq!(
        outside,
        a.is_some_and(|trim| 13.995 - trim < 13.990 - 1e-12),
        "{flags:?} {trims:?}"
    );
}

/// The range of three normal values of one standard deviation is within 3.31 of it in 95 of 100 cases (tables of the
/// studentized range with infinite degrees of freedom, printed in statistics handbooks: 2.77, 3.31, 3.63).
#[test]
fn the_chance_of_three_tops_is_that_of_the_printed_range_and_the_same_for_a_seed() {
    let slots: Vec<_> = SQUARE[..3]
        .iter()
        .map(|it| (it.0, it.1, "as_cut = [14.000]"))
        .collect();
    let stated = UNCERTAINTY.replace("spread = \"6 mm\"", "spread = \"3.31 mm\"");
    let place = job(&slots, "cog = [2.5, 1.0]", &stated);
    let all = seat(place.path(), 0);
    let level = all["chance"]["level_within"].as_f64().expect("a share");
    // Four standard errors of a share of 0.95 in 10,000 draws.
    assert!(
        (level - 0.95).abs() < 4.0 * (0.95_f64 * 0.05 / 10_000.0).sqrt(),
        "{level}"
    );
    // Three tops leave no gap.
    assert_eq!(all["chance"]["gap_within"].to_string(), "1");
    let json = |seed: &str| kerfmark(place.path(), &["seat", ".", "--json", "--seed", seed]).1;
    assert_eq!(json("7"), json("7"));
    assert_ne!(json("7"), json("8"));
    // What is not stated is no number.
    let without = stated.replace("as_cut = \"1 mm\"\n", "");
    let all = seat(job(&slots, "cog = [2.5, 1.0]", &without).path(), 0);
    assert_eq!(all["chance"]["level_within"], Value::Null);
    assert_eq!(all["chance"]["draws"], 10_000);
}

/// By hand: on two tops of one height with its centre of gravity over the line between them, a deck comes down on the next one,
/// here with a slope that no error of 1 mm takes away; and what rocks over a diagonal rests either way.
#[test]
fn the_chance_is_that_of_every_plane_on_which_the_deck_may_rest() {
    let chance = |tops: [&str; 4], cog: &str| {
        let slots: Vec<_> = SQUARE
            .iter()
            .zip(tops)
            .map(|(it, top)| (it.0, it.1, format!("as_cut = [{top}]")))
            .collect();
        let slots: Vec<_> = slots.iter().map(|it| (it.0, it.1, it.2.as_str())).collect();
        let deck = format!("cog = {cog}\nseat_within = \"4 mm\"");
        let sure = UNCERTAINTY.replace("as_cut = \"1 mm\"", "as_cut = \"0.2 mm\"");
        let all = seat(job(&slots, &deck, &sure).path(), 0);
        ["level_within", "gap_within"].map(|key| all["chance"][key].to_string())
    };
    // Over the edge from A to B, with the one or the other of the far tops 10 mm high.
    for tops in [
        ["14.000", "14.000", "14.000", "14.010"],
        ["14.000", "14.000", "14.010", "14.000"],
    ] {
        assert_eq!(chance(tops, "[2, 0]"), ["0", "0"], "{tops:?}");
        assert_eq!(chance(tops, "[2, 0.000001]"), ["0", "0"], "{tops:?}");
    }
    assert_eq!(chance(["14.000"; 4], "[2, 0]")[0], "1");
    // Over the diagonal: 2 mm from level on the one side, 12 mm on the other, in whichever order the slots stand.
    for tops in [
        ["14.000", "13.999", "14.000", "13.994"],
        ["14.000", "13.994", "14.000", "13.999"],
    ] {
        assert_eq!(chance(tops, "[2, 2]")[0], "0", "{tops:?}");
    }
    assert_eq!(chance(["14.000"; 4], "[2, 2]"), ["1", "1"]);
}
