//! `kerfmark levels`: the readings of a job and of a file alone. The job is invented; its network was worked out by an
//! independent dense least-squares program, whose figures are given to the digit to which that printed them.

use std::fs;
use std::path::Path;

use serde_json::Value;

use crate::run::kerfmark;
use crate::two_conductors::{JOB, READINGS, job, places};

fn levels(folder: &Path) -> Value {
    let (status, json, error) = kerfmark(folder, &["levels", ".", "--json"]);
    assert_eq!((status, error.as_str()), (Some(0), ""));
    serde_json::from_str(&json).expect("JSON")
}

fn point<'a>(all: &'a Value, name: &str) -> &'a Value {
    let points = all["points"].as_array().expect("points");
    let mut points = points.iter();
    points.find(|it| it["name"] == name).expect("a point")
}

fn reading<'a>(all: &'a Value, of: &str, to: &str) -> &'a Value {
    let readings = all["readings"].as_array().expect("readings");
    let mut readings = readings.iter();
    let found = readings.find(|it| it["of"] == of && it["to"] == to);
    found.expect("a reading")
}

#[test]
fn the_readings_of_a_job_come_out_as_a_dense_program_has_them() {
    let place = job(JOB, READINGS);
    let all = levels(place.path());
    assert_eq!(all["degrees_of_freedom"], 5);
    assert_eq!(places(&all["chi_square"]["value"], 6), "2.758397");
    let tape = &all["tape"];
    assert_eq!(places(&tape["ppm"], 3), "-14.779");
    assert_eq!(places(&tape["sigma_ppm"], 3), "46.113");
    assert_eq!(places(&tape["redundancy"], 6), "0.149419");
    assert_eq!(places(&tape["w"], 6), "-0.764648");
    let expected = [
        ("rotary@drilling", "32.398002", "0.001640"),
        ("rotary@deck landing", "39.102078", "0.002015"),
        ("A.top", "34.069761", "0.001633"),
        ("B.top", "33.957038", "0.001404"),
        ("A.shoulder", "-12.586829", "0.003943"),
    ];
    for (name, elevation, sigma) in expected {
        let point = point(&all, name);
        assert_eq!(places(&point["elevation_m"], 6), elevation, "{name}");
        assert_eq!(places(&point["sigma_m"], 6), sigma, "{name}");
    }
    // What the others say of RT after the hull was raised.
    let rotary = reading(&all, "rotary", "rotary@deck landing");
    assert_eq!(places(&rotary["others_m"], 6), "39.103785");
    assert_eq!(places(&rotary["others_sigma_m"], 6), "0.002719");
    assert_eq!(all["suspects"], serde_json::json!([]));
    assert_eq!(all["chi_square"]["passed"], true);
    // Planes that readings name divide the tally, and change nothing.
    let named = format!("{READINGS}A.plane@5,A.plane@6,12.081,50 mm,\n");
    let divided = levels(job(JOB, &named).path());
    assert_eq!(divided["degrees_of_freedom"], 6);
    let tallies = divided["readings"].as_array().expect("readings").iter();
    let of_a = tallies.filter(|it| {
        it["of"] == "tally" && it["from"].as_str().is_some_and(|it| it.starts_with("A."))
    });
    assert_eq!(of_a.count(), 4);
}

#[test]
fn a_stick_up_a_decimetre_too_long_is_named_first_with_its_size() {
    let place = job(
        &JOB.replace("stick_up = 0.940", "stick_up = 1.040"),
        READINGS,
    );
    let all = levels(place.path());
    let first = &all["suspects"][0];
    assert_eq!(first["readings"][0]["to"], "B.top");
    assert_eq!(first["readings"][0]["of"], "stick-up");
    assert_eq!(places(&first["blunder_m"], 6), "0.101881");
    let stick_up = reading(&all, "stick-up", "B.top");
    assert_eq!(places(&stick_up["w"], 3), "-36.450");
    let (_, text, _) = kerfmark(place.path(), &["levels", "."]);
    let said = "stick-up of B at drilling: read 1.040 m; the other readings say 0.9381 m ± 3.9 mm, 101.9 mm less: READ IT AGAIN";
    assert!(text.contains(said), "{text}");
    assert_eq!(
        text.matches("READ IT AGAIN").count(),
        all["suspects"].as_array().map_or(0, Vec::len),
        "{text}"
    );
}

#[test]
fn finished_tops_share_the_height_reference_of_their_survey() {
    let cut = JOB
        .replacen(
            "stick_up_hull = \"drilling\"\n",
            "stick_up_hull = \"drilling\"\nas_cut = [14.2505]\n",
            1,
        )
        .replace(
            "stick_up = 0.940\n",
            "stick_up = 0.940\nas_cut = [14.2532]\n",
        );
    let readings = format!("{READINGS}A.cut,B.cut,0.0012,0.5 mm,\n");
    let all = levels(job(&cut, &readings).path());
    assert_eq!(places(&point(&all, "A.cut")["elevation_m"], 6), "14.251167");
    assert_eq!(places(&point(&all, "B.cut")["elevation_m"], 6), "14.252533");
    assert_eq!(places(&point(&all, "A.cut")["sigma_m"], 6), "0.002134");
    assert_eq!(places(&point(&all, "survey")["sigma_m"], 6), "0.002000");
}

#[test]
fn without_further_readings_it_is_the_chain_and_nothing_is_checked() {
    let place = job(JOB, "from,to,rise,sigma\n");
    let all = levels(place.path());
    assert_eq!(all["degrees_of_freedom"], 0);
    assert_eq!(all["chi_square"]["passed"], Value::Null);
    for (name, elevation, sigma) in [
        ("A.top", "34.07", "0.003964"),
        ("B.top", "33.96", "0.003606"),
        ("A.shoulder", "-12.587", "0.005772"),
    ] {
        let point = point(&all, name);
        assert_eq!(point["elevation_m"].to_string(), elevation);
        assert_eq!(places(&point["sigma_m"], 6), sigma, "{name}");
    }
    let codes: Vec<&Value> = all["flags"]
        .as_array()
        .expect("flags")
        .iter()
        .map(|it| &it["code"])
        .collect();
    assert_eq!(codes, ["reading-unchecked"]);
    // The figures of the chain are the same to the digit.
    let (_, figures, _) = kerfmark(place.path(), &["figures", ".", "--json"]);
    let figures: Value = serde_json::from_str(&figures).expect("JSON");
    assert_eq!(
        figures["slots"][0]["top_elevation_m"],
        point(&all, "A.top")["elevation_m"]
    );
    let shoulder = &figures["slots"][0]["shoulder"]["elevation_m"];
    assert_eq!(*shoulder, point(&all, "A.shoulder")["elevation_m"]);
}

#[test]
fn what_is_not_stated_takes_no_part_and_is_said() {
    let unstated = JOB
        .replace("rotary = \"3 mm\"\n", "")
        .replace("tape_scale = 50\n", "");
    let place = job(&unstated, READINGS);
    let all = levels(place.path());
    let rotary = reading(&all, "rotary", "rotary@drilling");
    assert_eq!(
        (&rotary["sigma_m"], &rotary["w"], &rotary["redundancy"]),
        (&Value::Null, &Value::Null, &Value::Null)
    );
    // The scale of a tape that nothing states takes no part either.
    assert_eq!(all["tape"]["sigma_ppm"], Value::Null);
    let (_, text, _) = kerfmark(place.path(), &["levels", "."]);
    assert!(
        text.contains(
            "RT at drilling: read 32.400 m; how well it is known is not stated: it takes no part"
        ),
        "{text}"
    );
    // The shoe hangs on the tally alone, whose tape is not stated.
    assert_eq!(point(&all, "A.shoe")["sigma_m"], Value::Null);
}

#[test]
fn a_bad_file_of_readings_is_told_with_every_place() {
    let rows =
        "from,to,rise,sigma\nA.top,B.top,0.1,1 mm\n,B.top,x,0\nC,C,1,2 mm,3\nA,B,20 km,6 m\n";
    let place = job(JOB, rows);
    let (status, text, error) = kerfmark(place.path(), &["levels", "."]);
    assert_eq!((status, text.as_str()), (Some(2), ""));
    let told: Vec<&str> = error.lines().collect();
    for (line, part) in [
        "line 3, column 1: no point is named in from; expected its name",
        "line 3, column 3: rise: ",
        "line 3, column 4: sigma: ",
        "line 4, column 5: `3` is one cell too many",
        "line 4, column 2: `C` is read from itself",
        "line 5, column 3: rise: ",
        "line 5, column 4: sigma: ",
    ]
    .iter()
    .enumerate()
    {
        assert!(
            told.iter().any(|it| it.contains(part)),
            "{line} {part}: {error}"
        );
    }
    let headings = job(JOB, "from,to,rise,rise,sgma\n");
    let (_, _, error) = kerfmark(headings.path(), &["levels", "."]);
    for part in [
        "readings.csv: line 1, column 4: `rise` is no heading, or occurs twice",
        "line 1, column 5: `sgma` is no heading",
        "the column sigma is missing; expected from, to, rise, sigma",
    ] {
        assert!(error.contains(part), "{error}");
    }
    let untied = job(JOB, "from,to,rise,sigma\nA.tp,B.tp,0.1,1 mm\n");
    let (status, _, error) = kerfmark(untied.path(), &["levels", "."]);
    assert_eq!(status, Some(2));
    assert!(
        error.contains("no reading ties these points to a fixed one: A.tp, B.tp"),
        "{error}"
    );
}

#[test]
fn a_file_of_readings_alone_needs_a_point_that_is_fixed() {
    let place = tempfile::tempdir().expect("a folder");
    let rows = "from,to,rise,sigma,time,how,by,remarks\nA,B,10.509,6 mm,,level,NK,\"wet, windy\"\nB,A,-10.507,6 mm,,tape,,\n";
    fs::write(place.path().join("r.csv"), rows).expect("a file");
    let (status, _, error) = kerfmark(place.path(), &["levels", "r.csv"]);
    assert_eq!(status, Some(2));
    assert!(error.contains("no point is fixed"), "{error}");
    let (status, json, _) = kerfmark(
        place.path(),
        &["levels", "r.csv", "--fix", "A=437.596", "--json"],
    );
    assert_eq!(status, Some(0));
    let all: Value = serde_json::from_str(&json).expect("JSON");
    assert_eq!(point(&all, "B")["elevation_m"].to_string(), "448.104");
    // In a file alone no tape has a scale that anyone stated.
    assert_eq!(
        (&all["tape"], &all["degrees_of_freedom"]),
        (&Value::Null, &1.into())
    );
    for wrong in ["A", "=1", "A=x"] {
        let (status, _, error) = kerfmark(place.path(), &["levels", "r.csv", "--fix", wrong]);
        assert_eq!(status, Some(2), "{wrong}");
        assert!(error.contains("--fix "), "{error}");
    }
}

#[test]
fn a_chi_square_of_any_size_is_said_as_it_is() {
    let place = tempfile::tempdir().expect("a folder");
    // Two readings of one rise that differ by 20 m: (20 m)^2 / (2 sigma^2), worked by hand.
    for (sigma, expected) in [
        ("0.1 mm", "chi-square 20000000000.000, in 95"),
        ("1 mm", "chi-square 200000000.000, in 95"),
        ("0.000001 mm", "chi-square more than 9000000000000, in 95"),
    ] {
        let rows = format!("from,to,rise,sigma\nA,B,10,{sigma}\nA,B,-10,{sigma}\n");
        fs::write(place.path().join("r.csv"), rows).expect("a file");
        let (_, text, _) = kerfmark(place.path(), &["levels", "r.csv", "--fix", "A=0"]);
        assert!(text.contains(expected), "{sigma}: {text}");
    }
}
