//! Possible causes where a string does not close as it is run and landed: worked out by hand from the invented
//! tally of `sample-tallies/one-night`.

use super::place::{JOB, Place, kerfmark, text};

/// The planned shoulder is where a top at 22.000 m puts it: A-3 to A-6 add 12.2 + 12.05 + 12.15 + 12.25 =
/// 48.65 m, and the shoulder is 1 m above the lower plane of A-3.
fn planned_by_shoulder() -> Place {
    Place::with(&JOB.replace("plan_top = 22", "plan_shoulder = -25.65"))
}

fn run(place: &Place, joints: &[&str]) {
    let event = |joint: &&str| format!(r#"{{"event":"joint-run","slot":"A","joint":"{joint}"}}"#);
    let events: Vec<String> = joints.iter().map(event).collect();
    place.enter(&events.iter().map(String::as_str).collect::<Vec<_>>());
}

fn stick_up(value: &str, state: &str) -> String {
    format!(r#"{{"event":"stick-up","slot":"A","hull":"low","value":"{value}","state":"{state}"}}"#)
}

fn misclosure(place: &Place) -> serde_json::Value {
    place.figures()["slots"][0]["running"]["misclosure"].clone()
}

fn causes(found: &serde_json::Value) -> Vec<(String, String, String)> {
    let words = |it: &serde_json::Value| it.as_str().unwrap_or_default().to_owned();
    let suspects = found["suspects"].as_array().expect("a list");
    let cause = |it: &serde_json::Value| {
        let joint = words(&it["joints"][0]);
        (words(&it["mistake"]), joint, it["left_m"].to_string())
    };
    suspects.iter().map(cause).collect()
}

#[test]
fn a_joint_left_out_of_the_running_list_is_named_when_the_string_lands() {
    let place = planned_by_shoulder();
    run(&place, &["A-1", "A-2", "A-3", "A-5", "A-6"]);
    assert_eq!(
        misclosure(&place),
        serde_json::Value::Null,
        "nothing is measured yet"
    );
    place.enter(&[&stick_up("1.4 m", "landed")]);
    let found = misclosure(&place);
    assert_eq!(found["of"], "stick-up");
    assert_eq!(found["entry"], 6);
    // Top at 20.6 + 1.4 = 22; from the plane of A-3 at -26.65 that is 48.65 m, and 36.6 m were entered.
    assert_eq!(found["off_m"].to_string(), "12.05");
    let causes = causes(&found);
    let left_out = (
        "joint-left-out".to_owned(),
        "A-4".to_owned(),
        "0".to_owned(),
    );
    assert_eq!(causes[0], left_out, "{causes:?}");
    assert_eq!(causes.len(), 3);
    assert!(found["by_chance"].as_f64().expect("a number") > 0.0);
    // With the joint entered in its place the string closes.
    place.enter(&[
        r#"{"event":"joint-pulled","slot":"A","joint":"A-6","why":"to enter A-4"}"#,
        r#"{"event":"joint-pulled","slot":"A","joint":"A-5","why":"to enter A-4"}"#,
    ]);
    run(&place, &["A-4", "A-5", "A-6"]);
    place.enter(&[&stick_up("1.4 m", "landed")]);
    assert_eq!(misclosure(&place), serde_json::Value::Null);
}

#[test]
fn a_string_that_is_merely_lowered_has_no_cause_to_look_for() {
    let place = planned_by_shoulder();
    place.enter(&[
        r#"{"event":"joint-run","slot":"A","joint":"A-1"}"#,
        r#"{"event":"joint-run","slot":"A","joint":"A-2","before":"1.2 m","after":"13.301 m"}"#,
        &stick_up("1.1 m", "hung"),
        r#"{"event":"joint-run","slot":"A","joint":"A-3","before":"1.1 m","after":"13.299 m"}"#,
        &stick_up("0.4 m", "hung"),
    ]);
    assert_eq!(misclosure(&place), serde_json::Value::Null);
}

#[test]
fn another_joint_run_than_was_entered_is_named_by_its_stick_ups() {
    let place = planned_by_shoulder();
    run(&place, &["A-1", "A-2", "A-3"]);
    // A-4 adds 12.05 m, A-5 adds 12.15 m.
    place.enter(&[
        r#"{"event":"joint-run","slot":"A","joint":"A-4","before":"1.0 m","after":"13.148 m"}"#,
    ]);
    let found = misclosure(&place);
    assert_eq!(
        (&found["of"], &found["joint"]),
        (&"joint-run".into(), &"A-4".into())
    );
    assert_eq!(found["off_m"].to_string(), "0.098");
    let causes = causes(&found);
    let other = (
        "other-joint".to_owned(),
        "A-5".to_owned(),
        "-0.002".to_owned(),
    );
    assert!(causes.contains(&other), "{causes:?}");
    // No mistake in another joint would explain it.
    let joints: Vec<&str> = causes.iter().map(|(_, joint, _)| joint.as_str()).collect();
    assert!(
        !joints.iter().any(|it| ["A-1", "A-2", "A-3"].contains(it)),
        "{causes:?}"
    );
    // The screens say the same.
    let path = place.root().to_string_lossy().into_owned();
    let said = text(&kerfmark(&["figures", &path], "").stdout);
    assert!(said.contains("stick-up-off"), "{said}");
}
