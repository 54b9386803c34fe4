//! What becomes of signatures when files and entries change.

use super::place::{Place, kerfmark, text};
use super::verdicts::{row, ssh_keygen_agrees, ssh_keygen_agrees_that_it_is_bad, states};
use crate::common::on_screen::{drawn, press};
use crossterm::event::KeyCode;
use kerfmark::folder::open;
use kerfmark::report::changes;
use kerfmark::screens::{Action, Screen, State, update};

/// The first screen of the job and the one to cut by, in the smallest terminal.
fn on_screen(place: &Place) -> [String; 2] {
    let size = (80, 24);
    let mut state = State::new(open(place.root()).expect("a job"), size);
    let overview = drawn(&state, size);
    update(&mut state, Action::Go(Screen::Cut));
    [overview, drawn(&state, size)]
}

/// What the next hold point of the slot in front lacks, without the ends of lines.
fn next_hold(place: &Place) -> String {
    let size = (80, 24);
    let mut state = State::new(open(place.root()).expect("a job"), size);
    press(&mut state, &[KeyCode::Char('p')]);
    let shown = drawn(&state, size);
    shown.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn a_digit_of_the_tally_lapses_what_it_moves_and_a_comment_lapses_nothing() {
    let place = Place::released();
    let released = open(place.root()).expect("a job");
    let released = State::new(released, (80, 24));
    place.replace("tallies/a.csv", "ground seam", "ground seam, seen again");
    assert_eq!(states(&place), vec!["stands-text-changed"; 8]);
    let of = row(&place, "landed", "checked");
    assert_eq!(of["changed"], serde_json::json!(["tallies/a.csv"]));
    assert_eq!(of["moved"], serde_json::json!([]));
    // A-2 is 9 mm longer: all that lies below it moves, and the shoe; the target does not.
    place.replace("tallies/a.csv", "12.200", "12.209");
    assert_eq!(states(&place), vec!["lapsed"; 8]);
    let of = row(&place, "cut-release", "checked");
    let moved: Vec<String> = of["moved"]
        .as_array()
        .expect("figures")
        .iter()
        .map(|it| format!("{} {} {}", it["figure"], it["signed"], it["now"]).replace('"', ""))
        .collect();
    assert!(
        moved.contains(&"string_length_m 72.8500 m 72.8590 m".to_owned()),
        "{moved:?}"
    );
    assert!(
        moved.contains(&"shoe.elevation_m -50.8500 m -50.8590 m".to_owned()),
        "{moved:?}"
    );
    assert!(
        !moved.iter().any(|it| it.starts_with("cut.")),
        "the cut hangs on the top: {moved:?}"
    );
    let path = place.root().to_string_lossy().into_owned();
    assert_eq!(kerfmark(&["verify", &path], "").status.code(), Some(1));
    let sheet = text(&kerfmark(&[&path], "").stdout);
    assert!(
        sheet.contains(
            "SLOT A   FOR SCRIBING ONLY - NOT RELEASED\n! 8 SIGNATURES DO NOT STAND ANY MORE\n"
        ),
        "{sheet}"
    );
    let [overview, cut] = on_screen(&place);
    let fallen = "8 SIGNATURES DO NOT STAND ANY MORE";
    let whole = format!("{fallen}: slot A (p says why)");
    let lists = next_hold(&place);
    let why = "TM signed cut release as checked: LAPSED; moved: string_length_m: \
               signed 72.8500 m, now 72.8590 m; ";
    assert!(lists.contains(why), "{lists}");
    assert!(
        lists.contains(" more below"),
        "not all is in sight: {lists}"
    );
    let now = State::new(open(place.root()).expect("a job"), (80, 24));
    let (then, now) = (
        (&released.inputs, &released.figures),
        (&now.inputs, &now.figures),
    );
    let named = changes(released.show, then, now);
    assert!(named.contains(&format!("A: {fallen}")), "{named:?}");
    let state = "A: FOR SCRIBING ONLY - NOT RELEASED".to_owned();
    assert!(named.contains(&state), "{named:?}");
    let back = changes(released.show, now, then);
    let again = "A: all signatures stand again".to_owned();
    assert!(back.contains(&again), "{back:?}");
    assert!(
        back.iter()
            .any(|it| it.starts_with("A: RELEASED by NK, TM"))
    );
    assert!(overview.contains(&whole), "{overview}");
    // Below the state, and over none of it.
    let mut lines = cut.lines().skip_while(|line| !line.starts_with(" Slot A"));
    let state = lines.next().expect("the state");
    assert!(state.contains("FOR SCRIBING ONLY - NOT RELEASED   slip "));
    assert_eq!(lines.next().map(str::trim), Some(fallen), "{cut}");
    ssh_keygen_agrees(&place);
    place.replace("tallies/a.csv", "12.209", "12.200");
    place.replace("tallies/a.csv", ", seen again", "");
    assert_eq!(states(&place), vec!["stands"; 8]);
    let shown = on_screen(&place).concat();
    assert!(!shown.contains("STAND ANY MORE"), "{shown}");
}

#[test]
fn later_entries_lapse_nothing_and_a_strike_lapses_what_rested_on_it() {
    let place = Place::released();
    place.enter(&[
        r#"{"event":"note","text":"fog"}"#,
        r#"{"event":"stick-up","slot":"A","hull":"low","value":"1.402 m","state":"cemented"}"#,
    ]);
    assert_eq!(states(&place), vec!["stands"; 8]);
    // The landed reading was a misreading.
    place.enter(&[r#"{"event":"strike","strikes":10,"why":"misread"}"#]);
    let lapsed = |hold: &str| row(&place, hold, "checked")["state"] == "lapsed";
    assert!(!lapsed("tally-frozen"), "nothing was landed then");
    assert!(lapsed("landed") && lapsed("cut-release") && lapsed("off-cut-lift"));
}

#[test]
fn a_released_target_that_moves_stops_the_cut_until_it_is_released_again() {
    let place = Place::released();
    place.replace(
        "job.toml",
        "elevation = 14\nbelow_rotary = 12",
        "elevation = 14.001\nbelow_rotary = 11.999",
    );
    assert!(place.flags().contains(&"stop target-moved".to_owned()));
    assert_eq!(place.status(), "stop");
    let shown = on_screen(&place).concat();
    assert!(shown.contains("SIGNATURES DO NOT STAND"), "{shown}");
    // Signing all again is how a new target is released.
    for hold in ["tally-frozen", "landed", "cut-release"] {
        place.pass(hold);
    }
    assert!(!place.flags().contains(&"stop target-moved".to_owned()));
    assert_eq!(place.status(), "clear");
    // What was signed anew counts by its newest signature; the off-cut's lift was not.
    let [overview, _] = on_screen(&place);
    assert!(
        overview.contains(" 2 SIGNATURES DO NOT STAND"),
        "{overview}"
    );
}

#[test]
fn a_statement_that_was_altered_or_is_gone_counts_for_nothing() {
    let place = Place::released();
    let landed = "signed/A-landed-prepared-14.txt";
    let why = || {
        let verified = place.verify();
        let rows = verified["signatures"].as_array().expect("rows").iter();
        let mut of_entry = rows.filter(|it| it["entry"] == 14);
        let row = of_entry.next().expect("a row");
        assert_eq!(row["state"], "invalid");
        row["why"].as_str().expect("why").to_owned()
    };
    let whole = place.read(landed);
    place.write(landed, &whole.replace("14.0000 m", "14.1000 m"));
    assert_eq!(why(), "its statement was changed since it was signed");
    ssh_keygen_agrees_that_it_is_bad(&place, landed);
    place.write(landed, &whole);
    let signature = place.read(&format!("{landed}.sig"));
    let other = place.read("signed/A-tally-frozen-prepared-1.txt.sig");
    place.write(&format!("{landed}.sig"), &other);
    assert_eq!(why(), "the signature is not one of this statement");
    place.write(&format!("{landed}.sig"), "no signature");
    assert_eq!(why(), "what is beside it is not a signature of OpenSSH");
    std::fs::remove_file(place.root().join(format!("{landed}.sig"))).expect("a file");
    assert_eq!(why(), "there is no signature beside it");
    place.write(&format!("{landed}.sig"), &signature);
    std::fs::rename(place.root().join(landed), place.root().join("signed/x.txt")).expect("a file");
    assert_eq!(why(), "its statement is not in signed/");
    let verified = place.verify();
    let rows = verified["signatures"].as_array().expect("rows");
    assert_eq!(rows.len(), 9, "the stray statement is listed too");
    assert_eq!(rows[8]["why"], "the journal has no entry of it");
    std::fs::rename(place.root().join("signed/x.txt"), place.root().join(landed)).expect("a file");
    assert_eq!(states(&place), vec!["stands"; 8]);
    // The tail of the journal is cut off: what was signed with it is seen.
    let journal = place.read("journal.jsonl");
    let short: Vec<&str> = journal.lines().take(14).collect();
    place.write("journal.jsonl", &format!("{}\n", short.join("\n")));
    let verified = place.verify();
    assert_eq!(verified["journal"]["state"], "intact");
    let gone = verified["signatures"].as_array().expect("rows").iter();
    assert_eq!(
        gone.filter(|it| it["why"] == "the journal has no entry of it")
            .count(),
        5
    );
}

#[test]
fn who_may_sign_is_part_of_what_was_signed() {
    let place = Place::released();
    let signers = place.read("signers");
    place.write("signers", &format!("# who signs\n{signers}"));
    assert!(place.flags().contains(&"check signers-changed".to_owned()));
    assert_eq!(states(&place), vec!["stands"; 8], "the keys are the same");
    place.write("signers", &signers.lines().take(1).collect::<String>());
    let of = row(&place, "landed", "checked");
    assert_eq!(
        of["why"],
        "`signers` does not have this name for this program"
    );
    ssh_keygen_agrees(&place);
    place.write("signers", &signers);
    assert!(!place.flags().contains(&"check signers-changed".to_owned()));
    place.replace("job.toml", "checked = [\"TM\"]", "checked = [\"RS\"]");
    assert_eq!(
        row(&place, "landed", "checked")["why"],
        "the name does not hold this role"
    );
    assert!(place.flags().contains(&"check signers-changed".to_owned()));
}

#[test]
fn limits_and_the_joints_in_their_order_are_signed_too() {
    let place = Place::released();
    let limit = |place: &Place| states(place).iter().filter(|it| *it == "lapsed").count();
    // A wider tolerance after the release would make an unproven top one that is within.
    place.replace(
        "job.toml",
        "tolerance = \"15 mm\"",
        "tolerance = \"150 mm\"",
    );
    assert_eq!(limit(&place), 8);
    let moved = row(&place, "cut-release", "checked")["moved"].clone();
    assert!(
        moved.to_string().contains("signed.limits.tolerance_m"),
        "{moved}"
    );
    place.replace(
        "job.toml",
        "tolerance = \"150 mm\"",
        "tolerance = \"15 mm\"",
    );
    assert_eq!(limit(&place), 0);
    // Two rows swapped leave every sum as it is, and are another string; so is another serial.
    let tally = place.read("tallies/a.csv");
    let rows: Vec<&str> = tally.lines().collect();
    let swapped = [0, 1, 2, 3, 5, 4, 6].map(|row: usize| rows[row]).join("\n");
    place.write("tallies/a.csv", &format!("{swapped}\n"));
    assert_eq!(limit(&place), 8);
    place.write("tallies/a.csv", &tally.replace("S-16", "S-61"));
    assert_eq!(limit(&place), 8);
    let moved = row(&place, "tally-frozen", "prepared")["moved"].clone();
    assert!(
        moved.to_string().contains("signed.tally.joints_sha256"),
        "{moved}"
    );
    // A remark is none.
    place.write("tallies/a.csv", &tally.replace("ground seam", "ground"));
    assert_eq!(limit(&place), 0);
}
