//! The flags that the journal raises: each by a planted trouble, none on an ordinary record.

use super::place::{CUT, LANDED, Place, RUN, kerfmark};

fn landed_with(events: &[&str]) -> Place {
    let place = Place::new();
    place.run_and_land();
    place.enter(events);
    place
}

fn has(place: &Place, flag: &str) -> bool {
    place.flags().iter().any(|it| it == flag)
}

#[test]
fn an_ordinary_record_raises_nothing_from_the_first_joint_to_the_survey() {
    // Of a job that signs no hold points: its cut needs no release.
    let roles = "[roles]\nprepared = [\"NK\"]\nchecked = [\"TM\"]\n";
    let place = Place::with(&super::place::JOB.replace(roles, ""));
    assert_eq!(place.flags(), Vec::<String>::new());
    for event in RUN.iter().chain(&LANDED).chain(&CUT) {
        place.enter(&[event]);
        let flags = place.flags();
        let expected: &[&str] = if event.contains("hull-moving") {
            &["stop hull-moving"]
        } else {
            &[]
        };
        assert_eq!(flags, expected, "{event}");
    }
    assert_eq!(place.status(), "cut");
}

#[test]
fn stick_ups_that_do_not_agree_with_a_joint() {
    let place = Place::new();
    place.enter(&RUN[..1]);
    // A-2 adds 12.100 m; its limit is 3.29 sqrt(2*2^2 + 1 + 0.25) = 10.006 mm, worked out by hand.
    let run = |after: &str| {
        format!(
            r#"{{"event":"joint-run","slot":"A","joint":"A-2","before":"0.800 m","after":"{after}"}}"#
        )
    };
    place.enter(&[&run("12.9100 m")]);
    assert!(!has(&place, "check stick-up-off"));
    place.enter(&[
        r#"{"event":"strike","strikes":2,"why":"misread"}"#,
        &run("12.911 m"),
    ]);
    assert!(has(&place, "check stick-up-off"));
    place.replace("job.toml", "strap = \"1 mm\"\n", "");
    assert!(
        !has(&place, "check stick-up-off"),
        "nothing is checked without the strap's u"
    );
}

#[test]
fn joints_run_in_another_order_stop_a_landed_string_and_void_its_planes() {
    let place = Place::new();
    let mut order = RUN.to_vec();
    let [four, five] = [RUN[3].replace("A-4", "A-5"), RUN[4].replace("A-5", "A-4")];
    order[3] = &four;
    order[4] = &five;
    place.enter(&order);
    assert!(
        !has(&place, "stop as-run-differs"),
        "while it hangs, it may be put right"
    );
    place.enter(&LANDED);
    assert!(has(&place, "stop as-run-differs"));
    let figures = place.figures();
    let marks = figures["slots"][0]["cut"]["marks"]
        .as_array()
        .expect("marks");
    let from: Vec<&str> = marks.iter().filter_map(|it| it["from"].as_str()).collect();
    assert_eq!(from, ["rotary", "top", "bench plate"]);
    let flags = figures["slots"][0]["flags"].to_string();
    assert!(
        flags.contains("differ first at joint 4: run A-5, listed A-4"),
        "{flags}"
    );
}

#[test]
fn a_joint_of_the_pipe_on_deck_that_is_not_in_the_tally() {
    let place = Place::new();
    place.enter(&RUN);
    place.enter(&[r#"{"event":"joint-run","slot":"A","joint":"D-1"}"#]);
    place.enter(&LANDED);
    assert!(has(&place, "stop as-run-differs"));
}

#[test]
fn a_scribed_line_that_is_off() {
    let off = r#"{"event":"scribe","slot":"A","checked_by":"RS","marks":[{"from":"rotary","distance":"12.022 m","by":"NK"},{"from":"bench plate","distance":"1.000 m","by":"TM"}]}"#;
    let place = landed_with(&[off]);
    assert!(has(&place, "stop scribe-disagrees"));
    assert_eq!(place.status(), "stop");
    // From RT: U 7.3 mm, and the plate's 4.6 mm: together 8.6 mm; 8 mm apart passes both ways.
    let within = off.replace("12.022", "12.010");
    let place = landed_with(&[&within]);
    assert!(!has(&place, "stop scribe-disagrees"));
}

#[test]
fn readings_at_rest_that_move_the_top() {
    let again = |value: &str, state: &str| {
        format!(
            r#"{{"event":"stick-up","slot":"A","hull":"low","value":"{value}","state":"{state}"}}"#
        )
    };
    // 2 sqrt(2*2^2) = 5.66 mm.
    let place = landed_with(&[&again("1.405 m", "cemented")]);
    assert!(!has(&place, "check top-moved"));
    let place = landed_with(&[&again("1.394 m", "cemented")]);
    assert!(has(&place, "check top-moved"));
    assert!(
        place
            .refused(&[&again("1.394 mm", "floating")])
            .contains("`state` is floating")
    );
}

#[test]
fn the_journal_against_job_toml() {
    let place = Place::with(&super::place::JOB.replace("plan_top = 22", "stick_up = 1.41"));
    place.run_and_land();
    // 3.29 sqrt(2) 2 mm = 9.3 mm; 10 mm differ.
    assert!(has(&place, "check journal-disagrees"));
    place.replace("job.toml", "stick_up = 1.41", "stick_up = 1.409");
    assert!(!has(&place, "check journal-disagrees"));
    let moved = r#"{"event":"hull-position","hull":"high","rotary":"26.021 m","how":"air gap"}"#;
    let place = landed_with(&[moved]);
    let flags = place.flags();
    assert!(
        flags.contains(&"check journal-disagrees".to_owned()),
        "{flags:?}"
    );
    assert!(
        flags.contains(&"stop rotary-disagrees".to_owned()),
        "{flags:?}"
    );
    // The order's depth of the deck is that of the RT of job.toml.
    assert!(
        !flags.contains(&"stop deck-disagrees".to_owned()),
        "{flags:?}"
    );
}

#[test]
fn a_hull_that_moves_voids_what_is_measured_from_the_rig() {
    let place = landed_with(&[r#"{"event":"hull-moving","why":"storm"}"#]);
    assert_eq!(place.status(), "stop");
    let figures = place.figures();
    let marks = figures["slots"][0]["cut"]["marks"].to_string();
    assert!(!marks.contains("\"rotary\""), "{marks}");
    assert!(
        marks.contains("bench plate"),
        "a bench on the structure stays: {marks}"
    );
}

#[test]
fn a_reading_of_the_hung_string_counts_only_when_all_joints_hang() {
    let hung = r#"{"event":"stick-up","slot":"A","hull":"low","value":"1.400 m","state":"hung"}"#;
    let place = Place::new();
    place.enter(&RUN[..5]);
    place.enter(&[hung]);
    assert_eq!(place.status(), "planned");
    place.enter(&RUN[5..]);
    // Its time is before that of the reading; the string is whole.
    assert_eq!(place.status(), "check");
    assert!(has(&place, "check cut-from-hung-reading"));
}

#[test]
fn instruments_that_nobody_entered_or_that_are_past_their_day() {
    let read = |at: &str| {
        format!(
            r#"{{"event":"stick-up","slot":"A","hull":"low","value":"1.400 m","state":"cemented","instrument":"T-2","at":"{at}"}}"#
        )
    };
    let place = landed_with(&[&read("2026-05-01T23:59:59+01:00")]);
    assert!(has(&place, "check instrument-unstated"));
    place.enter(&[r#"{"event":"instrument","id":"T-2","what":"tape","due":"2026-05-01"}"#]);
    let flags = place.flags();
    assert!(
        !flags.iter().any(|it| it.contains("instrument")),
        "the day itself is good: {flags:?}"
    );
    place.enter(&[&read("2026-05-02T00:00:00+01:00")]);
    assert!(has(&place, "check instrument-expired"));
    place.enter(&[r#"{"event":"instrument","id":"T-2","what":"tape","due":"2026-06-01"}"#]);
    assert!(
        !has(&place, "check instrument-expired"),
        "it was calibrated again"
    );
}

#[test]
fn a_string_that_is_slacked_off_before_its_time() {
    let placed = r#"{"event":"placed","slot":"A","what":"grout","until":"2026-03-03T06:00:00+01:00","volume":"4.2 m3","at":"2026-03-02T04:00:00+01:00"}"#;
    let slack = |at: &str| {
        format!(
            r#"{{"event":"stick-up","slot":"A","hull":"low","value":"1.400 m","state":"slacked-off","at":"{at}"}}"#
        )
    };
    let place = landed_with(&[placed, &slack("2026-03-03T05:59:59+01:00")]);
    assert!(has(&place, "check slacked-off-early"));
    let place = landed_with(&[placed, &slack("2026-03-03T06:00:00+01:00")]);
    assert!(!has(&place, "check slacked-off-early"));
}

#[test]
fn a_cut_that_nobody_surveyed_never_reads_as_clear() {
    let place = landed_with(&CUT[..1]);
    assert_eq!(place.status(), "cut");
    let path = place.root().to_string_lossy().into_owned();
    let sheet = super::place::text(&kerfmark(&[&path], "").stdout);
    assert!(
        sheet.contains("SLOT A   CUT, NOT SURVEYED - DO NOT CUT AGAIN"),
        "{sheet}"
    );
    assert!(sheet.contains("NO MARKS"), "{sheet}");
    place.enter(&CUT[1..]);
    let sheet = super::place::text(&kerfmark(&[&path], "").stdout);
    assert!(
        sheet.contains("SLOT A   ALREADY CUT - DO NOT CUT AGAIN"),
        "{sheet}"
    );
}

#[test]
fn after_a_rough_cut_the_top_is_no_mark() {
    let place = landed_with(&[r#"{"event":"cut-made","slot":"A","cut":"rough"}"#]);
    let figures = place.figures();
    let marks = figures["slots"][0]["cut"]["marks"].to_string();
    assert!(
        !marks.contains("\"top\"") && marks.contains("\"rotary\""),
        "{marks}"
    );
    assert_eq!(place.status(), "clear");
}

#[test]
fn what_is_cropped_shortens_the_string_and_lowers_the_top_alone() {
    let crop = r#"{"event":"cropped","slot":"A","length":"0.250 m","why":"driven head"}"#;
    let place = landed_with(&[crop]);
    let figures = place.figures();
    let slot = &figures["slots"][0];
    assert_eq!(slot["string_length_m"].to_string(), "72.6");
    assert_eq!(slot["top_elevation_m"].to_string(), "21.75");
    assert_eq!(slot["shoe"]["elevation_m"].to_string(), "-50.85");
    assert_eq!(slot["cut"]["above_lower_plane_m"].to_string(), "4.25");
}

#[test]
fn a_clock_that_went_back_is_a_note() {
    let place = Place::new();
    place.enter(&RUN[..1]);
    // The same entry as if a clock that was ahead had written it.
    let journal = place.read("journal.jsonl");
    let entry: serde_json::Value = serde_json::from_str(&journal).expect("JSON");
    let entered = entry["entered"].as_str().expect("a text");
    let ahead = journal.replace(
        &format!("\"entered\":\"{entered}\""),
        "\"entered\":\"2999-01-01T00:00:00+00:00\"",
    );
    let body = ahead.split(",\"hash\"").next().expect("a body");
    let hash = kerfmark::journal::sha256(body.as_bytes());
    place.write("journal.jsonl", &format!("{body},\"hash\":\"{hash}\"}}\n"));
    place.enter(&RUN[1..2]);
    assert_eq!(place.flags(), ["note clock-back"]);
}

#[test]
fn entries_that_do_not_fit_the_job_any_more_are_named() {
    let place = Place::new();
    place.enter(&RUN);
    place.replace("tallies/a.csv", "A-4,", "A-44,");
    assert!(has(&place, "check entry-not-used"));
    let text = place.figures()["flags"].to_string();
    assert!(
        text.contains("entry 4: joint `A-4` is neither in the tally of slot A"),
        "{text}"
    );
}

#[test]
fn tops_surveyed_from_different_set_ups_do_not_share_their_benchmark() {
    let two = super::place::JOB.replace("[[bench]]", "[[slot]]\nname = \"B\"\npipe = \"main\"\ntally = \"tallies/b.csv\"\nstick_up = 1.4\nx = 3\n[[bench]]");
    let place = Place::with(&two);
    let tally = super::place::TALLY
        .replace("A-", "B-")
        .replace("S-", "U-")
        .replace("12.2", "12.3");
    place.write("tallies/b.csv", &tally);
    place.run_and_land();
    place.enter(&CUT);
    let of_b = |setup: &str| {
        CUT[2]
            .replace("\"slot\":\"A\"", "\"slot\":\"B\"")
            .replace("\"setup\":\"1\"", setup)
    };
    let spread = |place: &Place| {
        place.figures()["spread"]["uncertainty_m"]
            .as_f64()
            .expect("a number")
    };
    place.enter(&[&of_b("\"setup\":\"1\"")]);
    // w(2) = 2 sqrt 2 times 1 mm; with another set-up times sqrt(1 + 4) mm.
    assert!((spread(&place) - 0.002_828_427).abs() < 1e-9);
    place.enter(&[&of_b("\"setup\":\"2\"")]);
    assert!((spread(&place) - 0.006_324_555).abs() < 1e-9);
}

#[test]
fn a_blade_that_is_off_the_line_is_told_before_it_cuts() {
    let place = landed_with(&[]);
    let set = |offsets: [&str; 4]| {
        let readings: Vec<String> = offsets
            .iter()
            .zip([0, 90, 180, 270])
            .map(|(offset, azimuth)| {
                format!(r#"{{"azimuth":"{azimuth} deg","offset":"{offset}"}}"#)
            })
            .collect();
        let readings = readings.join(",");
        format!(r#"{{"event":"cutter-set","slot":"A","checked_by":"TM","readings":[{readings}]}}"#)
    };
    // Marks may be 5 mm apart: on the limit passes.
    place.enter(&[&set(["0 mm", "5 mm", "-5 mm", "1 mm"])]);
    assert!(!has(&place, "check blade-off-line"));
    place.enter(&[&set(["0 mm", "0 mm", "-5.1 mm", "0 mm"])]);
    // Below the line it stops the cut: what is cut too low cannot be mended.
    assert!(has(&place, "stop blade-off-line"));
    let sheet = kerfmark(&["figures", &place.root().to_string_lossy()], "");
    let sheet = super::place::text(&sheet.stdout);
    assert!(
        sheet.contains("a blade below the line cuts too low"),
        "{sheet}"
    );
    // For a rough cut the blade is set so far above the line, until that cut is made.
    place.enter(&[&set(["200 mm", "201 mm", "200 mm", "199 mm"])]);
    assert!(has(&place, "check blade-off-line"));
    place.replace(
        "job.toml",
        "kerf = \"6 mm\"",
        "kerf = \"6 mm\"\nrough_above = \"0.2 m\"",
    );
    assert!(!has(&place, "check blade-off-line"));
    place.enter(&[
        r#"{"event":"cut-made","slot":"A","cut":"rough"}"#,
        &set(["200 mm", "200 mm", "200 mm", "200 mm"]),
    ]);
    assert!(has(&place, "check blade-off-line"));
}
