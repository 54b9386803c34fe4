//! What statements say of the readings beside a job, and what becomes of them when those change.

use super::place::{LANDED, Place, RUN};
use super::verdicts::{row, states};

/// The bench of the job.
const PLATE: &str = "elevation = 15\nuncertainty = \"1 mm\"";

/// A string that is landed and signed for, with a level reading of its top beside it.
fn landed_with_readings() -> Place {
    let place = Place::new();
    place.write(
        "readings.csv",
        "from,to,rise,sigma,remarks\nplate,A.top,7.001,2 mm,by level\n",
    );
    place.pass("tally-frozen");
    place.run_and_land();
    place.pass("landed");
    place
}

fn moved(place: &Place) -> Vec<String> {
    let of = row(place, "landed", "checked");
    let moved = of["moved"].as_array().expect("figures").iter();
    moved
        .map(|it| it["figure"].as_str().expect("a key").to_owned())
        .collect()
}

#[test]
fn a_statement_says_which_elevations_it_used_and_names_the_file_of_readings() {
    let place = landed_with_readings();
    let path = row(&place, "landed", "checked")["statement"].clone();
    let statement = place.read(path.as_str().expect("a path"));
    // By the chain 22.000 m with a variance of 13 mm2, by the bench mark 22.001 m with 5: 13/18 of the way.
    for line in [
        "  Elevations            by RT, stick-up and tally of this slot",
        "elevations = chain",
        "adjusted.top_m = 22.000722222 m",
    ] {
        assert!(
            statement.lines().any(|it| it == line),
            "{line}: {statement}"
        );
    }
    let mut lines = statement.lines();
    assert!(lines.any(|it| it.starts_with("readings.csv = ")));
}

#[test]
fn another_reading_lapses_what_it_moves_and_a_remark_lapses_nothing() {
    let place = landed_with_readings();
    let signed = states(&place).len();
    assert_eq!(states(&place), vec!["stands"; signed]);
    place.replace("readings.csv", "by level", "by level in the morning");
    let of = row(&place, "landed", "checked");
    assert_eq!(of["state"], "stands-text-changed");
    assert_eq!(of["changed"], serde_json::json!(["readings.csv"]));
    place.replace("readings.csv", "7.001", "7.002");
    assert_eq!(row(&place, "landed", "checked")["state"], "lapsed");
    let now = moved(&place);
    assert!(now.contains(&"adjusted.top_m".to_owned()), "{now:?}");
    assert!(!now.iter().any(|it| it.starts_with("cut.")), "{now:?}");
}

#[test]
fn cutting_by_the_other_elevations_lapses_what_was_signed() {
    let place = landed_with_readings();
    place.replace("job.toml", "[cut]", "[cut]\nelevations = \"adjusted\"");
    let now = moved(&place);
    for figure in ["elevations", "top_elevation_m"] {
        assert!(now.iter().any(|it| it == figure), "{figure}: {now:?}");
    }
}

#[test]
fn statements_from_before_readings_counted_say_nothing_of_them_and_stand() {
    let place = Place::signed_sample();
    place.write(
        "readings.csv",
        "from,to,rise,sigma\nplate,A.top,7.001,2 mm\n",
    );
    assert_eq!(states(&place), vec!["stands"; 10]);
    place.replace("job.toml", "[cut]", "[cut]\nelevations = \"adjusted\"");
    // When the tally was frozen nothing was landed: there was a plan alone.
    let mut expected = vec!["stands-text-changed"; 2];
    expected.extend(["lapsed"; 8]);
    assert_eq!(states(&place), expected);
}

#[test]
fn striking_an_entered_reading_lapses_what_was_signed_with_it() {
    let place = Place::new();
    place.pass("tally-frozen");
    place.run_and_land();
    let reading =
        r#"{"event":"reading","from":"plate","to":"A.top","rise":"7.001 m","sigma":"2 mm"}"#;
    place.enter(&[reading]);
    let seq = place.read("journal.jsonl").lines().count();
    place.pass("landed");
    assert_eq!(row(&place, "landed", "checked")["state"], "stands");
    let strike = format!(r#"{{"event":"strike","strikes":{seq},"why":"wrong lug"}}"#);
    place.enter(&[&strike]);
    assert_eq!(row(&place, "landed", "checked")["state"], "lapsed");
    assert!(moved(&place).contains(&"adjusted.top_m".to_owned()));
}

#[test]
fn a_reading_of_a_top_that_was_cropped_since_is_told() {
    let place = Place::new();
    place.enter(&RUN);
    place.enter(&LANDED[..2]);
    place.enter(&[
        r#"{"event":"reading","from":"plate","to":"A.top","rise":"7.001 m","sigma":"2 mm","at":"2026-03-01T04:00:00+01:00"}"#,
        r#"{"event":"reading","from":"plate","to":"A.shoulder","rise":"-42.000 m","sigma":"20 mm","at":"2026-03-01T04:00:00+01:00"}"#,
    ]);
    let told = |place: &Place| {
        let flags = place.figures()["flags"].clone();
        let mut flags = flags.as_array().expect("flags").iter();
        let flag = flags.find(|it| it["code"] == "reading-outdated");
        flag.map(|it| it["text"].as_str().expect("words").to_owned())
    };
    assert_eq!(told(&place), None);
    place.enter(&[
        r#"{"event":"cropped","slot":"A","length":"0.004 m","why":"edge","at":"2026-03-01T05:00:00+01:00"}"#,
    ]);
    let said = told(&place).expect("the top");
    assert!(
        said.contains("A.top") && !said.contains("A.shoulder"),
        "{said}"
    );
    place.enter(&[
        r#"{"event":"reading","from":"plate","to":"A.top","rise":"6.997 m","sigma":"2 mm","at":"2026-03-01T06:00:00+01:00"}"#,
    ]);
    assert_eq!(told(&place).expect("still").matches("A.top").count(), 1);
}

/// Cut by all readings, RT and the plate are found from the same: a line by both agrees with itself, and is held against what is stated
/// of each.
#[test]
fn two_marks_that_all_readings_tie_must_agree_as_they_are_stated_too() {
    let scribed = |rise: &str| {
        let place = Place::new();
        place.replace("job.toml", "[cut]", "[cut]\nelevations = \"adjusted\"");
        place.replace("job.toml", PLATE, &PLATE.replace("1 mm", "10 mm"));
        place.write(
            "readings.csv",
            &format!("from,to,rise,sigma\nplate,rotary@high,{rise},1 mm\n"),
        );
        place.enter(&RUN);
        place.enter(&LANDED[..4]);
        let figures = place.figures();
        let marks = figures["slots"][0]["cut"]["marks"].clone();
        let distance = |from: &str| {
            let mut marks = marks.as_array().expect("marks").iter();
            let mark = marks.find(|it| it["from"] == from).expect("the mark");
            mark["distance_m"].to_string()
        };
        place.enter(&[&format!(
            r#"{{"event":"scribe","slot":"A","checked_by":"RS","marks":[{{"from":"rotary","distance":"{} m","by":"NK"}},{{"from":"bench plate","distance":"{} m","by":"TM"}}],"at":"2026-03-02T03:00:00+01:00"}}"#,
            distance("rotary"),
            distance("bench plate")
        )]);
        let flags = place.figures()["slots"][0]["flags"].clone();
        let mut flags = flags.as_array().expect("flags").iter();
        let flag = flags.find(|it| it["code"] == "scribe-disagrees");
        flag.map(|it| it["text"].as_str().expect("words").to_owned())
    };
    // 30 mm apart, where 10 mm and 3 mm are stated.
    let said = scribed("10.973").expect("a stop");
    assert!(said.contains("as stated"), "{said}");
    assert_eq!(scribed("11.006"), None);
}
