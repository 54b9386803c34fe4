//! What a hostile or hurried hand can do with the journal and its signatures: each of these once passed.

use std::thread;

use super::place::{CUT, LANDED, Place, RUN, kerfmark, key, text};

fn has(place: &Place, flag: &str) -> bool {
    place.flags().iter().any(|it| it == flag)
}

fn released() -> Place {
    let place = Place::new();
    place.pass("tally-frozen");
    place.run_and_land();
    for hold in ["landed", "cut-release", "off-cut-lift"] {
        place.pass(hold);
    }
    place
}

fn sheet(place: &Place) -> String {
    let path = place.root().to_string_lossy().into_owned();
    text(&kerfmark(&[&path], "").stdout)
}

#[test]
fn a_landed_string_of_which_every_joint_was_pulled_is_no_string() {
    let place = Place::new();
    place.run_and_land();
    for joint in ["A-6", "A-5", "A-4", "A-3", "A-2", "A-1"] {
        let pulled =
            format!(r#"{{"event":"joint-pulled","slot":"A","joint":"{joint}","why":"x"}}"#);
        place.enter(&[&pulled]);
        assert!(has(&place, "stop as-run-differs"), "{joint}");
    }
}

#[test]
fn one_person_signs_one_role_also_where_two_sign_at_once() {
    let job = super::place::JOB.replace("checked = [\"TM\"]", "checked = [\"TM\", \"NK\"]");
    let place = Place::with(&job);
    let statuses: Vec<_> = thread::scope(|scope| {
        let both = ["prepared", "checked"].map(|role| {
            let place = &place;
            scope.spawn(move || {
                place
                    .sign_with("tally-frozen", role, &key("nk"))
                    .status
                    .code()
            })
        });
        both.into_iter()
            .map(|it| it.join().expect("a status"))
            .collect()
    });
    let signed = statuses.iter().filter(|it| **it == Some(0)).count();
    assert_eq!(signed, 1, "{statuses:?}");
}

#[test]
fn a_statement_whose_entry_is_lost_is_never_overwritten_or_passed_over() {
    let place = Place::new();
    place.pass("tally-frozen");
    place.write("journal.jsonl", "");
    assert!(has(&place, "check statement-without-entry"));
    let before = place.read("signed/A-tally-frozen-prepared-1.txt");
    let output = place.sign("tally-frozen", "prepared");
    assert_eq!(output.status.code(), Some(2));
    let said = text(&output.stderr);
    assert!(
        said.contains("signed/A-tally-frozen-prepared-1.txt is there already"),
        "{said}"
    );
    assert_eq!(place.read("signed/A-tally-frozen-prepared-1.txt"), before);
    assert_eq!(place.read("journal.jsonl"), "");
}

#[test]
fn a_release_rests_on_its_scribed_line() {
    let place = released();
    assert!(sheet(&place).contains("RELEASED by NK, TM"));
    // A later line that does not do takes the release away; nothing that was signed lapses.
    let alone = r#"{"event":"scribe","slot":"A","checked_by":"NK","marks":[{"from":"rotary","distance":"12.003 m","by":"NK"}]}"#;
    place.enter(&[alone]);
    assert!(sheet(&place).contains("NOT RELEASED"));
    let place = released();
    // The line that was measured is struck: what was signed on it lapses.
    place.enter(&[r#"{"event":"strike","strikes":13,"why":"on the wrong pipe"}"#]);
    assert!(sheet(&place).contains("NOT RELEASED"));
    let verified = place.verify();
    let rows = verified["signatures"].as_array().expect("rows");
    let lapsed: Vec<&str> = rows
        .iter()
        .filter(|it| it["state"] == "lapsed")
        .filter_map(|it| it["hold"].as_str())
        .collect();
    assert!(lapsed.contains(&"cut-release"), "{verified}");
    assert!(!lapsed.contains(&"tally-frozen"), "{verified}");
}

#[test]
fn a_tally_that_lacks_a_joint_that_was_run_is_not_adopted() {
    let place = Place::new();
    place.run_and_land();
    let short = super::place::TALLY.replace("A-2,S-12,joint,12.200,0.100,\n", "");
    place.write("tallies/b.csv", &short);
    let digest = kerfmark::journal::sha256(short.as_bytes());
    let adopt = format!(
        r#"{{"event":"tally-of-record","slot":"A","file":"tallies/b.csv","sha256":"{digest}"}}"#
    );
    let said = place.refused(&[&adopt]);
    assert!(
        said.contains("entry 2 could not be with that tally of record"),
        "{said}"
    );
    // Taken out of the file by hand it stops the slot all the same.
    place.write("tallies/a.csv", &short);
    assert!(has(&place, "stop as-run-differs"));
}

#[test]
fn what_was_signed_before_another_tally_was_adopted_rests_on_that_of_its_time() {
    let place = Place::new();
    place.pass("tally-frozen");
    let other = super::place::TALLY.replace("12.350", "12.360");
    place.write("tallies/b.csv", &other);
    let digest = kerfmark::journal::sha256(other.as_bytes());
    place.enter(&[&format!(
        r#"{{"event":"tally-of-record","slot":"A","file":"tallies/b.csv","sha256":"{digest}"}}"#
    )]);
    assert_eq!(
        place.figures()["slots"][0]["string_length_m"].to_string(),
        "72.86"
    );
    let verified = place.verify();
    for row in verified["signatures"].as_array().expect("rows") {
        assert_eq!(row["state"], "stands", "{verified}");
    }
    // Joints of the new one cannot be left without it.
    place.enter(&RUN[..1]);
    place.write("tallies/c.csv", &other.replace("A-2", "E-2"));
    let digest = kerfmark::journal::sha256(place.read("tallies/c.csv").as_bytes());
    place.enter(&[
        &format!(
            r#"{{"event":"tally-of-record","slot":"A","file":"tallies/c.csv","sha256":"{digest}"}}"#
        ),
        r#"{"event":"joint-run","slot":"A","joint":"E-2"}"#,
    ]);
    let said = place.refused(&[r#"{"event":"strike","strikes":5,"why":"x"}"#]);
    assert!(
        said.contains("entry 6 could not be with that tally"),
        "{said}"
    );
}

#[test]
fn of_several_placed_the_latest_time_guards_the_release() {
    let place = Place::new();
    place.pass("tally-frozen");
    place.run_and_land();
    place.enter(&[
        r#"{"event":"placed","slot":"A","what":"cement","until":"2026-03-03T12:00:00+01:00","at":"2026-03-01T04:00:00+01:00"}"#,
        r#"{"event":"placed","slot":"A","what":"grout","until":"2026-03-01T02:00:00+01:00","at":"2026-03-01T05:00:00+01:00"}"#,
    ]);
    place.pass("landed");
    let output = place.sign("cut-release", "prepared");
    assert!(
        text(&output.stdout).contains("from 2026-03-03T12:00:00+01:00 on"),
        "{}",
        text(&output.stdout)
    );
}

#[test]
fn what_is_cropped_counts_in_what_hangs_and_when_it_is_run_again() {
    let place = Place::new();
    place.enter(&RUN);
    place.enter(&[
        r#"{"event":"cropped","slot":"A","length":"1 m","why":"head"}"#,
        r#"{"event":"stick-up","slot":"A","hull":"low","value":"1.4 m","state":"hung"}"#,
    ]);
    let running = place.figures()["slots"][0]["running"].clone();
    for (figure, value) in [
        ("hanging_m", "71.85"),
        ("to_run_m", "0"),
        ("shoe_elevation_m", "-49.85"),
    ] {
        assert_eq!(running[figure].to_string(), value, "{figure}: {running}");
    }
    place.enter(&[
        r#"{"event":"joint-pulled","slot":"A","joint":"A-6","why":"x"}"#,
        r#"{"event":"joint-run","slot":"A","joint":"A-6","before":"0.7 m","after":"11.95 m"}"#,
    ]);
    assert!(!has(&place, "check stick-up-off"), "{:?}", place.flags());
}

#[test]
fn a_hull_that_moved_since_does_not_move_an_older_reading() {
    let place = Place::new();
    place.run_and_land();
    let top = |place: &Place| place.figures()["slots"][0]["top_elevation_m"].to_string();
    place.enter(&[
        r#"{"event":"hull-moving","why":"jacked 15 mm"}"#,
        r#"{"event":"hull-position","hull":"low","rotary":"20.015 m","how":"level"}"#,
    ]);
    assert_eq!(top(&place), "22");
    // The true reading from there gives the same top.
    place.enter(&[
        r#"{"event":"stick-up","slot":"A","hull":"low","value":"1.385 m","state":"cemented"}"#,
    ]);
    assert_eq!(top(&place), "22");
    assert!(!has(&place, "check top-moved"), "{:?}", place.flags());
    // A correction of an RT without a move between does move what was read from it.
    let place = Place::new();
    place.enter(&RUN);
    place.enter(&LANDED[..2]);
    place.enter(&[r#"{"event":"hull-position","hull":"low","rotary":"20.015 m","how":"level"}"#]);
    assert_eq!(top(&place), "22.015");
}

#[test]
fn lines_of_signers_count_as_openssh_reads_them() {
    let place = Place::new();
    place.pass("tally-frozen");
    let signers = place.read("signers");
    for (from, to) in [
        (" namespaces", "\tNAMESPACES"),
        ("\"kerfmark\"", "\"other,kerf*\""),
        ("NK ", "TM2,N* "),
    ] {
        let changed = signers.replace(from, to);
        assert_ne!(changed, signers);
        place.write("signers", &changed);
        let verified = place.verify();
        for row in verified["signatures"].as_array().expect("rows") {
            assert_eq!(row["state"], "stands", "{to}: {verified}");
        }
    }
}

#[test]
fn a_decision_names_a_list_of_the_string_or_a_value_that_was_measured() {
    let place = Place::with(&super::place::JOB.replace(
        "plan_top = 22",
        "plan_top = 22\nlists = { yard = \"tallies/a.csv\" }",
    ));
    let decide = |by: &str, of: &str, choice: &str, rest: &str| {
        format!(
            r#"{{"event":"decision","by":"{by}","slot":"A","of":"{of}","joint":"A-2","choice":"{choice}"{rest}}}"#
        )
    };
    for (of, choice, said) in [
        (
            "length",
            "nolist",
            "`choice` is `nolist`, which the job does not have; expected yard, record",
        ),
        ("length", "measured", "`value` of decision is missing"),
        (
            "presence",
            "measured",
            "only a length or a make-up loss can be measured",
        ),
    ] {
        let found = place.refused(&[&decide("NK", of, choice, "")]);
        assert!(found.contains(said), "{found}");
    }
    place.enter(&[
        &decide("NK", "length", "yard", ""),
        &decide("TM", "length", "record", ""),
    ]);
    assert!(has(&place, "stop decisions-contradict"));
    // One's own later decision replaces the earlier one; open clears it for all.
    place.enter(&[&decide("TM", "length", "yard", "")]);
    assert!(!has(&place, "stop decisions-contradict"));
    place.enter(&[&decide("TM", "length", "measured", r#","value":"12.2 m""#)]);
    assert!(has(&place, "stop decisions-contradict"));
    place.enter(&[&decide("NK", "length", "open", "")]);
    assert!(!has(&place, "stop decisions-contradict"));
}

#[test]
fn what_cannot_be_once_the_final_cut_is_made() {
    let place = Place::new();
    place.run_and_land();
    place.enter(&CUT[..1]);
    // Made without a release in a job that signs them.
    assert!(has(&place, "check cut-not-released"));
    for event in [
        CUT[0].to_owned(),
        CUT[0].replace("final", "rough"),
        r#"{"event":"cropped","slot":"A","length":"1 m","why":"x"}"#.to_owned(),
        r#"{"event":"joint-pulled","slot":"A","joint":"A-6","why":"x"}"#.to_owned(),
    ] {
        let event = event.replace(",\"at\":\"2026-03-02T06:00:00+01:00\"", "");
        let said = place.refused(&[&event]);
        assert!(said.contains("slot A is cut (entry 12)"), "{said}");
    }
}

#[test]
fn what_the_job_does_not_allow_is_named_with_its_column() {
    let place = Place::new();
    let said = place.refused(&[
        r#"{"event":"stick-up","slot":"A","hull":"mid","value":"1 m","state":"landed"}"#,
    ]);
    assert!(
        said.contains("standard input: line 1, column 39: `hull` is `mid`"),
        "{said}"
    );
    let said = place.refused(&[r#"{"event":"note","text":"x","at":"2026-03-01T03:00:00+25:00"}"#]);
    assert!(
        said.contains("column 33: `at` is 2026-03-01T03:00:00+25:00"),
        "{said}"
    );
    let said = place.refused(&[r#"{"event":"note","text":"x","source":null}"#]);
    assert_eq!(said.matches("`source`").count(), 1, "{said}");
    std::fs::create_dir(place.root().join("journal.jsonl")).expect("a folder");
    let said = place.refused(&[RUN[0]]);
    assert!(
        said.contains("journal.jsonl: is a folder; expected a file"),
        "{said}"
    );
}
