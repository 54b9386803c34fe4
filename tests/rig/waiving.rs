//! Checks that are accepted as they are: for what they say, in its exact quantities.

use super::place::Place;

const WAIVER: &str =
    r#"{"event":"waiver","slot":"A","flag":"top-moved","why":"settled when slacked off"}"#;

fn again(value: &str) -> String {
    format!(
        r#"{{"event":"stick-up","slot":"A","hull":"low","value":"{value}","state":"cemented"}}"#
    )
}

fn waived(place: &Place) -> Option<u64> {
    let figures = place.figures();
    let flags = figures["slots"][0]["flags"].as_array().expect("flags");
    let flag = flags.iter().find(|it| it["code"] == "top-moved");
    flag.expect("the flag")["waived"].as_u64()
}

#[test]
fn a_waived_check_does_not_count_until_what_it_says_is_another() {
    let place = Place::new();
    place.run_and_land();
    place.enter(&[&again("1.394 m")]);
    assert_eq!((place.status().as_str(), waived(&place)), ("check", None));
    place.enter(&[WAIVER]);
    assert_eq!(
        (place.status().as_str(), waived(&place)),
        ("clear", Some(13))
    );
    // A comment in a file moves no quantity.
    place.replace("tallies/a.csv", "ground seam", "ground seam, seen by RS");
    assert_eq!(
        (place.status().as_str(), waived(&place)),
        ("clear", Some(13))
    );
    // Another reading is another matter.
    place.enter(&[&again("1.393 m")]);
    assert_eq!((place.status().as_str(), waived(&place)), ("check", None));
    place.enter(&[r#"{"event":"strike","strikes":14,"why":"misread"}"#]);
    assert_eq!(
        (place.status().as_str(), waived(&place)),
        ("clear", Some(13))
    );
    place.enter(&[r#"{"event":"strike","strikes":13,"why":"not agreed"}"#]);
    assert_eq!((place.status().as_str(), waived(&place)), ("check", None));
}

#[test]
fn only_a_check_that_is_raised_can_be_waived() {
    let place = Place::new();
    place.run_and_land();
    let said = place.refused(&[WAIVER]);
    assert!(
        said.contains("`flag`: `top-moved` is not raised for slot A; expected no waiver: nothing is to be checked there"),
        "{said}"
    );
    let stop = WAIVER.replace("top-moved", "too-short");
    let said = place.refused(&[&stop]);
    assert!(
        said.contains("too-short is a stop; expected a check"),
        "{said}"
    );
    let note = WAIVER.replace("top-moved", "no-stick-up");
    assert!(place.refused(&[&note]).contains("no-stick-up is a note"));
    place.enter(&[&again("1.394 m")]);
    let unknown = WAIVER.replace("top-moved", "top-mooved");
    let said = place.refused(&[&unknown]);
    assert!(
        said.contains("`top-mooved` is not raised for slot A; expected top-moved"),
        "{said}"
    );
}

#[test]
fn a_waiver_that_does_not_carry_what_it_accepts_holds_for_what_was_said_then() {
    let place = Place::new();
    place.run_and_land();
    place.enter(&[&again("1.394 m"), WAIVER]);
    // The same entry without the digest, as another program may write it.
    let journal = place.read("journal.jsonl");
    let (before, line) = journal.trim_end().rsplit_once('\n').expect("lines");
    let (start, rest) = line.split_once(",\"of\":\"").expect("a digest");
    let (_, end) = rest.split_once('"').expect("its end");
    let body = format!("{start}{}", end.split(",\"hash\"").next().expect("a body"));
    let hash = kerfmark::journal::sha256(body.as_bytes());
    place.write(
        "journal.jsonl",
        &format!("{before}\n{body},\"hash\":\"{hash}\"}}\n"),
    );
    assert_eq!(
        (place.status().as_str(), waived(&place)),
        ("clear", Some(13))
    );
    place.enter(&[&again("1.393 m")]);
    assert_eq!((place.status().as_str(), waived(&place)), ("check", None));
}

#[test]
fn a_check_of_the_job_is_waived_for_a_slot() {
    let place = Place::with(&super::place::JOB.replace("benchmark = \"2 mm\"", "benchmark = 0"));
    place.run_and_land();
    place.replace("job.toml", "strap = \"1 mm\"\n", "");
    assert_eq!(place.status(), "check");
    place.enter(&[&WAIVER.replace("top-moved", "uncertainty-missing")]);
    assert_eq!(place.status(), "clear");
    assert_eq!(place.figures()["flags"][0]["waived"].as_u64(), Some(12));
}
