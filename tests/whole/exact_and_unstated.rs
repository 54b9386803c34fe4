//! Networks in which readings are stated as exact, or not stated: what was found by an independent dense program. All is
//! invented.

use std::fs;
use std::path::Path;

use serde_json::Value;

use crate::run::kerfmark;
use crate::two_conductors::places;

const BASE: &str = "format = 1\n[job]\nunits = \"m\"\nsea_datum = \"LAT\"\n[site]\nmudline = -41.350\n[[hull]]\nname = \"drilling\"\n\
    rotary = 32.400\nstick_up_from = 0.620\n[pipe.main]\nod = \"30 in\"\nwall = \"1.5 in\"\n[[slot]]\nname = \"A\"\npipe = \"main\"\n\
    tally = \"a.csv\"\nstick_up = 1.050\n";
const DECK: &str = "[deck]\nelevation = 14.250\n";
const BENCH: &str = "[[bench]]\nname = \"bench\"\nelevation = 17.905\nuncertainty = \"1 mm\"\n";
const SHOULDER: &str = "running_joint = \"2\"\nshoulder_offset = 0.4\n";
const PIN_DOWN: &str = "joint,kind,length,makeup_loss\n1,shoe,12.115,\n2,,12.204,0.105\n3,,12.051,0.107\n4,,11.998,0.104\n";

fn job(text: &str, tally: &str, readings: &[&str]) -> tempfile::TempDir {
    let place = tempfile::tempdir().expect("a folder");
    let write = |file: &str, text: &str| fs::write(place.path().join(file), text).expect("a file");
    write("job.toml", text);
    write("a.csv", tally);
    write(
        "b.csv",
        &tally
            .replace('\n', "\nB")
            .trim_end_matches('B')
            .replace("Bjoint", "joint"),
    );
    write(
        "readings.csv",
        &format!("from,to,rise,sigma,how\n{}\n", readings.join("\n")),
    );
    place
}

fn json(folder: &Path, command: &str) -> Value {
    let (_, json, error) = kerfmark(folder, &[command, ".", "--json"]);
    assert_eq!(error, "");
    serde_json::from_str(&json).expect("JSON")
}

fn point<'a>(all: &'a Value, name: &str) -> &'a Value {
    let points = all["points"].as_array().expect("points");
    points
        .iter()
        .find(|it| it["name"] == name)
        .expect("a point")
}

#[test]
fn the_datum_stays_where_it_is_when_exact_readings_tie_a_taped_string_to_it() {
    let exact =
        "[uncertainty]\nstrap = 0\nconnection = 0\ntape_scale = 50\nstick_up = 0\nrotary = 0\n";
    let text = format!("{BASE}{BENCH}{DECK}{exact}");
    let all = json(
        job(&text, PIN_DOWN, &["A.shoe,A.top,48.040,3 mm,"]).path(),
        "levels",
    );
    for (name, elevation) in [("datum", 0.0), ("rotary@drilling", 32.4), ("A.top", 34.07)] {
        let point = point(&all, name);
        assert_eq!(point["elevation_m"], elevation, "{name}");
        assert_eq!(point["sigma_m"], 0.0, "{name}");
    }
    // The shoe hangs on a tape of 48.052 m by the tally, whose scale error the reading finds.
    let shoe = point(&all, "A.shoe");
    assert!(shoe["sigma_m"].as_f64().expect("a number") > 0.001);
}

#[test]
fn what_nothing_stated_ties_to_the_datum_still_agrees_in_itself_or_not() {
    let stated = "[uncertainty]\nstrap = \"1.5 mm\"\nconnection = \"0.5 mm\"\ntape_scale = 50\nstick_up = \"2 mm\"\n";
    let b = "[[slot]]\nname = \"B\"\npipe = \"main\"\ntally = \"b.csv\"\nstick_up = 0.940\n";
    let text = format!("{BASE}{b}{DECK}{stated}");
    let readings = ["A.top,B.top,0.390,1 mm,", "A.top,B.top,0.395,1 mm,"];
    let all = json(job(&text, PIN_DOWN, &readings).path(), "levels");
    assert_eq!(all["degrees_of_freedom"], 2);
    assert_ne!(all["suspects"], serde_json::json!([]));
    // It hangs on RT as read, and how well it is known is not known.
    assert_eq!(point(&all, "rotary@drilling")["elevation_m"], 32.4);
    for name in ["rotary@drilling", "A.top", "B.top"] {
        assert_eq!(point(&all, name)["sigma_m"], Value::Null, "{name}");
    }
    let found = json(job(&text, PIN_DOWN, &readings).path(), "figures");
    let codes: Vec<&str> = found["flags"]
        .as_array()
        .expect("flags")
        .iter()
        .map(|it| it["code"].as_str().expect("a code"))
        .collect();
    assert!(codes.contains(&"reading-suspect"), "{codes:?}");
    // The order of the rows is nothing to it.
    let turned = [readings[1], readings[0]];
    let turned = json(job(&text, PIN_DOWN, &turned).path(), "levels");
    assert_eq!(all["points"], turned["points"]);
}

#[test]
fn a_shoulder_is_its_plane_and_the_offset_whether_or_not_the_tape_is_stated() {
    let stated = "[uncertainty]\nstrap = \"1.5 mm\"\nconnection = \"0.5 mm\"\nstick_up = \"2 mm\"\nrotary = \"3 mm\"\n";
    let text = format!("{BASE}{SHOULDER}{DECK}{stated}");
    let readings = [
        "datum,A.shoulder,-1.466,3 mm,",
        "datum,A.plane@2,-1.766,3 mm,",
    ];
    let all = json(job(&text, PIN_DOWN, &readings).path(), "levels");
    let height = |name: &str| point(&all, name)["elevation_m"].as_f64().expect("a number");
    assert!((height("A.shoulder") - height("A.plane@2") - 0.4).abs() < 1e-9);
    assert_eq!(all["degrees_of_freedom"], 1);
    assert_ne!(all["suspects"], serde_json::json!([]));
}

#[test]
fn figures_and_levels_agree_where_a_part_of_the_string_would_be_stated_and_the_whole_is_not() {
    let stated = "[cut]\nelevations = \"adjusted\"\n[uncertainty]\nstrap = \"1.5 mm\"\ntape_scale = 500\nstick_up = \"2 mm\"\nrotary = \"3 mm\"\n";
    let pin_up = BASE.replace("wall = \"1.5 in\"\n", "wall = \"1.5 in\"\npin = \"up\"\n");
    let tally = "joint,kind,length,makeup_loss\n1,shoe,12.115,0.105\n2,,12.204,0.105\n3,,12.051,0.107\n4,,11.998,\n";
    let text = format!("{pin_up}{SHOULDER}{BENCH}{DECK}{stated}");
    let place = job(&text, tally, &["datum,bench,17.897,1 mm,tape"]);
    let (levels, figures) = (json(place.path(), "levels"), json(place.path(), "figures"));
    let slot = &figures["slots"][0];
    assert_eq!(slot["elevations"], "adjusted");
    assert_eq!(
        slot["shoulder"]["elevation_m"],
        point(&levels, "A.shoulder")["elevation_m"]
    );
    assert_eq!(
        slot["shoe"]["elevation_m"],
        point(&levels, "A.shoe")["elevation_m"]
    );
}

#[test]
fn the_frame_is_known_as_well_as_its_shoulder_is_without_a_tape() {
    let frame =
        "[frame]\nslot = \"A\"\nring_above_base = 38.800\nbase_above_mudline = [0.5, 1.5]\n";
    let stated = "[cut]\nelevations = \"adjusted\"\n[uncertainty]\nstrap = \"1.5 mm\"\nconnection = \"0.5 mm\"\nstick_up = \"2 mm\"\nrotary = \"3 mm\"\nmudline = \"30 mm\"\n";
    let text = format!("{BASE}{SHOULDER}{frame}{DECK}{stated}");
    let place = job(
        &text,
        PIN_DOWN,
        &["rotary@drilling,A.shoulder,-33.866,3 mm,"],
    );
    let figures = json(place.path(), "figures");
    // 2 sqrt(0.003^2 + 0.003^2 + 0.030^2).
    assert_eq!(places(&figures["frame"]["uncertainty_m"], 6), "0.060597");
}

#[test]
fn a_tie_with_the_tape_is_a_tie_and_every_output_names_all_of_it() {
    let stated = "[uncertainty]\nstrap = \"1.5 mm\"\nconnection = \"0.5 mm\"\ntape_scale = 50\nstick_up = \"2 mm\"\nrotary = \"3 mm\"\n";
    let by_tape = format!("{BASE}{DECK}{stated}");
    let all = json(
        job(&by_tape, PIN_DOWN, &["A.shoe,A.top,48.080,1 mm,tape"]).path(),
        "levels",
    );
    let first = all["suspects"][0]["readings"].as_array().expect("readings");
    assert_eq!(first.len(), 3, "{first:?}");
    let text = format!("{BASE}{DECK}[cut]\nelevations = \"adjusted\"\n{stated}");
    let figures = json(
        job(&text, PIN_DOWN, &["A.shoe,A.top,48.152,1 mm,"]).path(),
        "figures",
    );
    let flags = figures["flags"].as_array().expect("flags").iter();
    let unsound: Vec<&str> = flags
        .filter(|it| it["code"] == "adjusted-unsound")
        .map(|it| it["text"].as_str().expect("words"))
        .collect();
    let said = "read again: tally A.shoe to A.top or line 2, A.shoe to A.top or the scale of the tape (nothing tells which)";
    assert!(unsound[0].contains(said), "{unsound:?}");
}
