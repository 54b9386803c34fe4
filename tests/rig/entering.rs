//! `kerfmark enter`: what is confirmed is on the disk, and what cannot be is refused with its line.

use std::fs;

use super::place::{LANDED, Place, RUN, kerfmark, text};

#[test]
fn each_event_is_confirmed_on_a_line_of_its_own_and_is_in_the_chain() {
    let place = Place::new();
    let path = place.root().to_string_lossy().into_owned();
    let output = kerfmark(&["enter", &path, "--by", "NK"], &RUN.join("\n"));
    assert_eq!(output.status.code(), Some(0));
    let journal = place.read("journal.jsonl");
    let hashes = journal.lines().map(|line| {
        let entry: serde_json::Value = serde_json::from_str(line).expect("JSON");
        (entry["seq"].clone(), entry["hash"].clone())
    });
    let confirmed: Vec<String> = hashes
        .map(|(seq, hash)| format!("{{\"seq\":{seq},\"hash\":{hash}}}"))
        .collect();
    assert_eq!(text(&output.stdout).lines().collect::<Vec<_>>(), confirmed);
    let figures = place.figures();
    assert_eq!(figures["journal"]["entries"], 6);
    let last: serde_json::Value =
        serde_json::from_str(journal.lines().last().expect("a line")).expect("JSON");
    assert_eq!(figures["journal"]["head"], last["hash"]);
    // A job without a journal says so.
    assert_eq!(Place::new().figures()["journal"], serde_json::Value::Null);
}

#[test]
fn an_event_that_cannot_be_is_refused_with_its_line_and_nothing_after_it_is_read() {
    let place = Place::new();
    let said = place.refused(&[
        RUN[0],
        RUN[1],
        r#"{"event":"joint-run","slot":"A","joint":"A-1"}"#,
    ]);
    assert!(
        said.contains(
            "standard input: line 3, column 41: joint `A-1` hangs in slot A already (entry 1)"
        ),
        "{said}"
    );
    let before = place.read("journal.jsonl");
    assert_eq!(before.lines().count(), 2);
    let path = place.root().to_string_lossy().into_owned();
    let events = [RUN[2], "{\"event\":\"note\"}", RUN[3]].join("\n");
    fs::write(place.root().join("events"), &events).expect("a file");
    let file = place.root().join("events").to_string_lossy().into_owned();
    let output = kerfmark(&["enter", &path, &file, "--by", "NK"], "");
    assert_eq!(output.status.code(), Some(2));
    assert_eq!(text(&output.stdout).lines().count(), 1);
    let said = text(&output.stderr);
    assert!(
        said.contains("events: line 2, column 1: `text` of note is missing"),
        "{said}"
    );
    assert_eq!(place.read("journal.jsonl").lines().count(), 3);
}

#[test]
fn a_torn_last_line_is_told_by_reading_and_moved_aside_by_the_next_entry() {
    let place = Place::new();
    place.enter(&RUN[..2]);
    let whole = place.read("journal.jsonl");
    place.write("journal.jsonl", &format!("{whole}{{\"seq\":3,\"at\""));
    assert!(place.flags().contains(&"check journal-torn".to_owned()));
    assert_eq!(place.verify()["journal"]["state"], "torn");
    assert_eq!(place.figures()["journal"]["entries"], 2);
    assert_eq!(
        place.read("journal.jsonl"),
        format!("{whole}{{\"seq\":3,\"at\"")
    );
    place.enter(&RUN[2..3]);
    assert_eq!(place.read("journal.torn"), "{\"seq\":3,\"at\"\n");
    assert!(place.read("journal.jsonl").starts_with(&whole));
    assert!(!place.flags().contains(&"check journal-torn".to_owned()));
}

#[test]
fn a_changed_line_stops_every_slot_and_nothing_more_is_entered() {
    let place = Place::new();
    place.run_and_land();
    let whole = place.read("journal.jsonl");
    place.write("journal.jsonl", &whole.replacen("1.400 m", "1.500 m", 1));
    let output = kerfmark(&["figures", &place.root().to_string_lossy(), "--json"], "");
    assert_eq!(output.status.code(), Some(1));
    assert!(place.flags().contains(&"stop journal-broken".to_owned()));
    assert_eq!(place.status(), "stop");
    let verified = place.verify();
    assert_eq!(verified["journal"]["state"], "broken");
    let said = place.refused(&[r#"{"event":"note","text":"x"}"#]);
    assert!(
        said.contains("journal.jsonl, line 8: it was changed since it was written"),
        "{said}"
    );
}

#[test]
fn an_unreadable_job_enters_nothing() {
    let place = Place::new();
    place.replace("job.toml", "format = 1", "format = 2");
    let said = place.refused(&[RUN[0]]);
    assert!(said.contains("job.toml: line 2"), "{said}");
    assert!(!place.root().join("journal.jsonl").exists());
}

#[test]
fn an_adopted_tally_is_the_tally_of_record_from_then_on() {
    let place = Place::new();
    let other = place.read("tallies/a.csv").replace("12.350", "12.360");
    place.write("tallies/record.csv", &other);
    let digest = kerfmark::journal::sha256(other.as_bytes());
    let adopt = |digest: &str| {
        format!(
            r#"{{"event":"tally-of-record","slot":"A","file":"tallies/record.csv","sha256":"{digest}"}}"#
        )
    };
    let said = place.refused(&[&adopt(&"0".repeat(64))]);
    assert!(said.contains("it is another file than was meant"), "{said}");
    let length = |place: &Place| place.figures()["slots"][0]["string_length_m"].to_string();
    assert_eq!(length(&place), "72.85");
    // The next event of the same run is checked against the new tally.
    place.enter(&[&adopt(&digest), RUN[0]]);
    assert_eq!(length(&place), "72.86");
    place.write("tallies/record.csv", &other.replace("12.360", "12.370"));
    assert!(place.flags().contains(&"check tally-changed".to_owned()));
}

#[test]
fn what_the_journal_says_is_in_force_over_job_toml() {
    let place = Place::new();
    assert_eq!(place.status(), "planned");
    place.enter(&RUN);
    place.enter(&LANDED[..2]);
    let figures = place.figures();
    let slot = &figures["slots"][0];
    assert_eq!(slot["basis"], "read");
    assert_eq!(slot["top_elevation_m"].to_string(), "22");
    assert_eq!(slot["shoe"]["elevation_m"].to_string(), "-50.85");
    assert_eq!(slot["cut"]["status"], "clear");
    place.enter(&LANDED[2..4]);
    let figures = place.figures();
    assert_eq!(figures["cut_hull"]["rotary_m"].to_string(), "26.003");
    assert_eq!(
        figures["slots"][0]["cut"]["below_rotary_m"].to_string(),
        "12.003"
    );
}

#[test]
fn a_handover_lists_what_is_open() {
    let handover = r#"{"event":"handover","to":"TM","text":"rain since two"}"#;
    let place = Place::new();
    place.enter(&RUN);
    place.enter(&[
        r#"{"event":"stick-up","slot":"A","hull":"low","value":"1.400 m","state":"landed"}"#,
        r#"{"event":"stick-up","slot":"A","hull":"low","value":"1.450 m","state":"landed"}"#,
        r#"{"event":"hull-moving","why":"to the height for the deck"}"#,
        handover,
    ]);
    let last = place
        .read("journal.jsonl")
        .lines()
        .last()
        .map(str::to_owned);
    let last: serde_json::Value = serde_json::from_str(&last.expect("a line")).expect("JSON");
    let open = last["open"].as_str().expect("open");
    assert!(open.starts_with("A: "), "{open}");
    for item in [
        "check top-moved",
        "next tally-frozen",
        "job: ",
        "stop hull-moving",
        "one-person stick-up NK",
    ] {
        assert!(open.contains(item), "{item}: {open}");
    }
    // The one who takes over confirms it, and nobody else.
    let confirmed = handover.replace("\"text\"", "\"confirmed_by\":\"RS\",\"text\"");
    let said = place.refused(&[&confirmed]);
    assert!(
        said.contains("`confirmed_by` is `RS`; expected `TM`, who takes over"),
        "{said}"
    );
    place.enter(&[&confirmed.replace("RS", "TM")]);
    // What is said by hand stands.
    place.enter(&[r#"{"event":"handover","to":"TM","text":"-","open":"the pump"}"#]);
    let whole = place.read("journal.jsonl");
    assert_eq!(whole.matches("\"open\":\"the pump\"").count(), 1);
    // Where nothing is open, nothing is listed.
    let place = Place::signed_sample();
    place.enter(&[handover]);
    assert!(!place.read("journal.jsonl").contains("\"open\""));
}

#[test]
fn what_was_run_is_a_list_of_the_slot_like_any_other() {
    let place = Place::new();
    let lists = |place: &Place| place.figures()["slots"][0]["lists"].clone();
    assert_eq!(lists(&place), serde_json::Value::Null, "nothing was run");
    let fourth =
        r#"{"event":"joint-run","slot":"A","joint":"A-4","at":"2026-03-01T01:40:00+01:00"}"#;
    let third =
        r#"{"event":"joint-run","slot":"A","joint":"A-3","at":"2026-03-01T02:00:00+01:00"}"#;
    place.enter(&[RUN[0], RUN[1], fourth, third, RUN[4], RUN[5]]);
    let all = lists(&place);
    assert_eq!(all[0]["list"], "as-run");
    assert_eq!(all[0]["file"], "journal.jsonl");
    assert_eq!(
        all[0]["difference_m"].to_string(),
        "0",
        "the same joints in another order"
    );
    assert_eq!(all[0]["differences"], 1, "{all}");
    // While it is run a short list is no news, and what it differs by is no flag of lists.
    assert_eq!(place.flags(), Vec::<String>::new());
    // Its order can be decided for, by its name.
    place.enter(&[
        r#"{"event":"decision","slot":"A","of":"place","joint":"A-3","choice":"as-run","note":"seen by two"}"#,
    ]);
    let journal = place.read("journal.jsonl");
    let made_of = r#""made_of":[{"list":"record","line":4},{"list":"as-run","line":4}]"#;
    assert!(journal.contains(made_of), "{journal}");
    assert_eq!(lists(&place)[0]["not_decided"], 0);
}
