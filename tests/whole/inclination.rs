//! A conductor whose inclination was surveyed: lengths along it become heights, and its marks are measured along it. The jobs are
//! invented.

use std::path::Path;

use serde_json::Value;

use crate::run::kerfmark;
use crate::two_conductors::{JOB, READINGS, job, places};

fn figures(folder: &Path) -> Value {
    let (_, json, error) = kerfmark(folder, &["figures", ".", "--json"]);
    assert_eq!(error, "");
    serde_json::from_str(&json).expect("JSON")
}

fn leaning(degrees: &str) -> String {
    JOB.replace(
        "name = \"A\"\n",
        &format!("name = \"A\"\ninclination = {degrees}\n"),
    )
}

fn number(value: &Value) -> f64 {
    value.as_f64().expect("a number")
}

fn mark(slot: &Value, from: &str) -> f64 {
    let mut marks = slot["cut"]["marks"].as_array().expect("marks").iter();
    let mark = marks.find(|it| it["from"] == from).expect("a mark");
    number(&mark["distance_m"])
}

#[test]
fn one_degree_over_fifty_metres_is_seven_millimetres_and_a_half() {
    let none = "from,to,rise,sigma\n";
    let upright = figures(job(JOB, none).path());
    let leans = figures(job(&leaning("1"), none).path());
    let cosine = 1.0_f64.to_radians().cos();
    assert_eq!(format!("{:.1}", 50_000.0 * (1.0 - cosine)), "7.6");
    let (one, other) = (&upright["slots"][0], &leans["slots"][0]);
    // The landing joint of 9.250 m and the string of 72.121 m.
    let top = 32.4 + 0.62 + 10.3 - 9.25 * cosine;
    assert_eq!(places(&other["top_elevation_m"], 9), format!("{top:.9}"));
    let shoe = number(&other["top_elevation_m"]) - 72.121 * cosine;
    assert_eq!(
        places(&other["shoe"]["elevation_m"], 8),
        format!("{shoe:.8}")
    );
    // The shoulder is 46.657 m below the top along the string, as it is upright.
    let along = number(&one["top_elevation_m"]) - number(&one["shoulder"]["elevation_m"]);
    let shoulder = number(&other["top_elevation_m"]) - along * cosine;
    assert_eq!(
        places(&other["shoulder"]["elevation_m"], 8),
        format!("{shoulder:.8}")
    );
    // Marks on the string are measured along it; from RT and from a bench plumb.
    let plumb = number(&other["top_elevation_m"]) - 14.25;
    assert!((mark(other, "top") - plumb / cosine).abs() < 2e-9);
    assert_eq!(
        places(&other["cut"]["offcut_length_m"], 8),
        format!("{:.8}", mark(other, "top"))
    );
    for from in ["rotary", "bench bench"] {
        assert!(
            (mark(one, from) - mark(other, from)).abs() < 1e-12,
            "{from}"
        );
    }
    // Between the planes of the joint lies its effective length, along it.
    let joint = mark(other, "lower-plane") + number(&other["cut"]["below_upper_plane_m"]);
    assert!((joint - 12.081).abs() < 3e-9, "{joint}");
    assert_eq!(one["string_length_m"], other["string_length_m"]);
    assert_eq!(upright["slots"][1], leans["slots"][1]);
}

#[test]
fn an_inclination_is_said_and_one_that_is_not_stated_too() {
    let none = "from,to,rise,sigma\n";
    let sheet = |text: &str| {
        let place = job(text, none);
        let (_, sheet, _) = kerfmark(place.path(), &["."]);
        sheet.split_whitespace().collect::<Vec<_>>().join(" ")
    };
    assert!(sheet(JOB).contains("Every conductor is taken as upright."));
    let leans = sheet(&leaning("\"0.5 deg\""));
    assert!(
        leans.contains("Inclination counts: A 0.5 deg; the others are taken as upright."),
        "{leans}"
    );
    let (_, text, _) = kerfmark(job(&leaning("1"), none).path(), &["figures", ".", "--how"]);
    assert!(
        text.contains("length less height, by the inclination"),
        "{text}"
    );
}

#[test]
fn all_readings_of_a_leaning_string_are_its_chain_too() {
    let none = "from,to,rise,sigma\n";
    let by_all = format!("{}[cut]\nelevations = \"adjusted\"\n", leaning("2.5"));
    let (one, other) = (
        figures(job(&leaning("2.5"), none).path()),
        figures(job(&by_all, none).path()),
    );
    for key in ["top_elevation_m", "shoe", "shoulder"] {
        assert_eq!(one["slots"][0][key], other["slots"][0][key], "{key}");
    }
    for from in ["rotary", "lower-plane", "top"] {
        assert!((mark(&one["slots"][0], from) - mark(&other["slots"][0], from)).abs() < 1e-12);
    }
    // With further readings the two differ by no more than without the inclination.
    let found = figures(job(&leaning("2.5"), READINGS).path());
    assert_ne!(found["slots"][0]["adjusted"], Value::Null);
}
