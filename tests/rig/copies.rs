//! A second folder on a stick or a share: what is entered goes there too, nothing waits for it, and it catches up.

use std::fs;
use std::path::PathBuf;
use std::process::{Command, Output};
use std::time::{Duration, Instant};

use kerfmark::folder::copy_of;

use super::place::{Place, RUN, text};
use super::session::{PATIENCE, Session};

/// Runs the program with a settings file that names this folder.
fn enter(place: &Place, settings: &str, events: &[&str]) -> Output {
    place.write("events", &events.join("\n"));
    place.write("../settings.toml", settings);
    Command::new(env!("CARGO_BIN_EXE_kerfmark"))
        .args(["enter", "--by", "NK"])
        .arg(place.root())
        .arg(place.root().join("events"))
        .env("KERFMARK_SETTINGS", place.root().join("../settings.toml"))
        .output()
        .expect("the program")
}

/// A job in a folder of its own, so that beside it there is room for a stick.
fn job_and_stick() -> (Place, PathBuf, String) {
    let place = Place::inside("job");
    let stick = place.root().join("../stick");
    let settings = format!("copy_to = \"{}\"\n", stick.display());
    (place, stick, settings)
}

#[test]
fn what_is_entered_goes_to_the_second_folder_too_and_catches_up_when_it_is_back() {
    let (place, stick, settings) = job_and_stick();
    let output = enter(&place, &settings, &RUN[..1]);
    assert_eq!(output.status.code(), Some(0), "nothing waits for the stick");
    let said = text(&output.stderr);
    assert!(
        said.contains("COPY BEHIND") && said.contains("is away"),
        "{said}"
    );
    fs::create_dir(&stick).expect("a folder");
    let output = enter(&place, &settings, &RUN[1..3]);
    assert_eq!(text(&output.stderr), "");
    let copy = copy_of(place.root(), &stick);
    for file in ["journal.jsonl", "job.toml", "tallies/a.csv", "signers"] {
        let there = fs::read_to_string(copy.join(file)).expect("a copy");
        assert_eq!(there, place.read(file), "{file}");
    }
    assert_eq!(place.read("journal.jsonl").lines().count(), 3);
    // The copy opens as the job does.
    assert!(kerfmark::folder::open(&copy).is_ok());
}

#[test]
fn a_job_that_is_named_from_within_its_folder_is_copied_whole() {
    let (place, stick, settings) = job_and_stick();
    fs::create_dir(&stick).expect("a folder");
    place.write("../settings.toml", &settings);
    for (job, event) in ["job.toml", "."].into_iter().zip(RUN) {
        place.write("events", event);
        let output = Command::new(env!("CARGO_BIN_EXE_kerfmark"))
            .args(["enter", "--by", "NK", job, "events"])
            .current_dir(place.root())
            .env("KERFMARK_SETTINGS", place.root().join("../settings.toml"))
            .output()
            .expect("the program");
        assert_eq!(text(&output.stderr), "");
        let copy = copy_of(place.root(), &stick);
        for file in ["journal.jsonl", "job.toml", "tallies/a.csv", "signers"] {
            let there = fs::read_to_string(copy.join(file)).expect("a copy");
            assert_eq!(there, place.read(file), "{file} of {job}");
        }
        fs::remove_dir_all(copy).expect("a copy");
    }
}

#[test]
fn settings_that_cannot_be_read_are_told_and_keep_nobody_from_entering() {
    let (place, _, _) = job_and_stick();
    let output = enter(&place, "copy_too = \"/x\"\n", &RUN[..1]);
    assert_eq!(output.status.code(), Some(0));
    let said = text(&output.stderr);
    assert!(
        said.contains("settings.toml: line 1, column 1: unknown field `copy_too`"),
        "{said}"
    );
    assert!(
        said.contains("expected one of `copy_to`, `theme`"),
        "{said}"
    );
}

#[test]
fn a_window_shows_that_the_copy_is_behind_until_it_has_caught_up() {
    let (place, stick, settings) = job_and_stick();
    let file = place.root().join("../settings.toml");
    fs::write(&file, settings).expect("settings");
    let program = PathBuf::from(env!("CARGO_BIN_EXE_kerfmark"));
    let mut session = Session::with_settings(&program, place.root(), false, &file);
    session.wait_for("COPY BEHIND");
    session.keys("6");
    session.wait_for("joints are run is not known");
    session.keys("i");
    session.wait_for("NK enters ");
    session.keys("a\r\r");
    session.wait_for("1 OF 6 JOINTS RUN");
    fs::create_dir(&stick).expect("a folder");
    session.keys("a\r\r");
    session.wait_for("2 OF 6 JOINTS RUN");
    session.wait_without("COPY BEHIND");
    let copy = copy_of(place.root(), &stick).join("journal.jsonl");
    let until = Instant::now() + PATIENCE;
    while fs::read_to_string(&copy).ok() != Some(place.read("journal.jsonl")) {
        assert!(Instant::now() < until, "the second entry was not copied");
        session.take(Duration::from_millis(20));
    }
    session.keys("q");
    assert_eq!(session.end(), 0);
}
