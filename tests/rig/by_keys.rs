//! A whole string in the screens of the real program, from its first joint to the final signature: by keys alone, in
//! a terminal of 80 x 24, with invented readings and throw-away keys.

use std::path::PathBuf;

use kerfmark::journal::EVENTS;

use super::place::{PASSPHRASE, Place, key};
use super::session::Session;
use super::verdicts::{row, ssh_keygen_agrees, states};

fn program() -> PathBuf {
    PathBuf::from(env!("CARGO_BIN_EXE_kerfmark"))
}

/// A form that is filled in by keys, shown once more, and entered.
fn enter(session: &mut Session, keys: &str, event: &str, seq: usize) {
    session.keys(keys);
    session.keys("\r");
    session.wait_for("Enter writes it");
    session.keys("\r");
    session.wait_for(&format!("entered: {event}, entry {seq}"));
}

/// Signs the next hold point as the person who enters.
fn sign(session: &mut Session, who: &str, hold: &str, role: &str, seq: usize) {
    session.keys("p");
    // The list follows the files: it is there before what was just entered is read again.
    session.wait_for("it lacks only signatures");
    if role == "checked" {
        session.wait_without("to be signed as prepared");
    }
    session.wait_for(&format!("to be signed as {role}"));
    session.keys("\r");
    session.wait_for("STATEMENT OF A HOLD POINT");
    // End, then on to the key.
    session.keys("\u{1b}[F");
    session.wait_for("S signs this statement with your key");
    session.keys("S");
    session.wait_for("File of your private key");
    session.keys(&format!("{}\r", key(who).display()));
    session.wait_for("Passphrase of");
    if who == "tm" {
        session.keys(PASSPHRASE);
    }
    session.keys("\r");
    session.wait_for(&format!("signed/A-{hold}-{role}-{seq}.txt"));
}

/// Opens the form of an event from the list of all.
fn event(session: &mut Session, name: &str) {
    session.keys("e");
    session.wait_for("Enter an event");
    let at = EVENTS
        .iter()
        .filter(|it| !it.by_program)
        .position(|it| it.name == name);
    session.keys(&"j".repeat(at.expect("an event")));
    session.keys("\r");
    session.wait_for(&name.to_uppercase());
}

/// Who enters changes from one to the next, by their initials: NK, RS, TM.
fn persons(session: &mut Session, initials: &[&str]) {
    for initials in initials {
        session.keys("i");
        session.wait_for(&format!("{initials} enters "));
    }
}

#[test]
fn a_string_is_run_landed_scribed_cut_and_signed_in_the_screens() {
    let place = Place::new();
    let mut session = Session::start(&program(), place.root(), false);
    session.wait_for("no flags");
    session.keys("6");
    session.wait_for("joints are run is not known");
    persons(&mut session, &["NK"]);
    sign(&mut session, "nk", "tally-frozen", "prepared", 1);
    persons(&mut session, &["RS", "TM"]);
    sign(&mut session, "tm", "tally-frozen", "checked", 2);
    persons(&mut session, &["NK"]);
    enter(&mut session, "a", "joint-run", 3);
    session.wait_for("1 OF 6 JOINTS RUN");
    let joints = [
        ("0.800", "12.901"),
        ("0.700", "12.899"),
        ("0.900", "12.951"),
        ("0.850", "13.001"),
        ("0.950", "13.199"),
    ];
    for (seq, (before, after)) in (4..).zip(joints) {
        enter(
            &mut session,
            &format!("a\t\t{before}\t{after}"),
            "joint-run",
            seq,
        );
        session.wait_for(&format!("{} OF 6 JOINTS RUN", seq - 2));
    }
    // The state is asked for once all joints hang.
    enter(&mut session, "s1.4\tlanded", "stick-up", 9);
    sign(&mut session, "nk", "landed", "prepared", 10);
    persons(&mut session, &["RS", "TM"]);
    sign(&mut session, "tm", "landed", "checked", 11);
    enter(
        &mut session,
        "Hto the height for the deck",
        "hull-moving",
        12,
    );
    session.wait_for("STOP");
    event(&mut session, "hull-position");
    // The position is a list; the reading, and how it was found.
    enter(
        &mut session,
        "\u{1b}[Zhigh\t26.003\tlevel to the plate",
        "hull-position",
        13,
    );
    event(&mut session, "scribe");
    enter(
        &mut session,
        "rotary\t12.002\tNK\tbench plate\t1.000\tTM\tRS",
        "scribe",
        14,
    );
    persons(&mut session, &["NK"]);
    sign(&mut session, "nk", "cut-release", "prepared", 15);
    persons(&mut session, &["RS", "TM"]);
    sign(&mut session, "tm", "cut-release", "checked", 16);
    event(&mut session, "cutter-set");
    let readings = "0\t0 mm\t90\t0.5 mm\t180\t0 mm\t270\t-0.5 mm\tRS";
    enter(&mut session, readings, "cutter-set", 17);
    persons(&mut session, &["NK"]);
    sign(&mut session, "nk", "off-cut-lift", "prepared", 18);
    persons(&mut session, &["RS", "TM"]);
    sign(&mut session, "tm", "off-cut-lift", "checked", 19);
    session.keys("5");
    session.wait_for("RELEASED");
    session.keys("6");
    event(&mut session, "cut-made");
    enter(&mut session, "", "cut-made", 20);
    session.keys("5");
    session.wait_for("CUT, NOT SURVEYED");
    event(&mut session, "instrument");
    enter(&mut session, "L-1\tlevel\t2099-12-31", "instrument", 21);
    event(&mut session, "as-cut");
    let rim = "14.001\t0\t14.0005\t90\t14.001\t180\t14.0015\t270\tL-1\tplate";
    enter(&mut session, rim, "as-cut", 22);
    persons(&mut session, &["NK"]);
    sign(&mut session, "nk", "final", "prepared", 23);
    persons(&mut session, &["RS", "TM"]);
    sign(&mut session, "tm", "final", "checked", 24);
    session.keys("q");
    assert_eq!(session.end(), 0);
    session.is_given_back();
    assert_eq!(states(&place), vec!["stands"; 10]);
    ssh_keygen_agrees(&place);
    what_rests_on_the_tally_lapses_with_a_digit_of_it(&place);
}

/// One digit of a joint above the cut is another: what rests on the string's length lapses, and the figures that
/// moved are named. A comment moves nothing.
fn what_rests_on_the_tally_lapses_with_a_digit_of_it(place: &Place) {
    place.replace("tallies/a.csv", "12.100", "12.101");
    assert_eq!(states(place), vec!["lapsed"; 10]);
    let row = row(place, "final", "checked");
    let moved = row["moved"].as_array().expect("a list").iter();
    let moved: Vec<&str> = moved.filter_map(|it| it["figure"].as_str()).collect();
    assert!(moved.contains(&"string_length_m"), "{moved:?}");
    assert!(moved.contains(&"shoe.elevation_m"), "{moved:?}");
    assert!(
        !moved.iter().any(|it| it.starts_with("cut.target")),
        "{moved:?}"
    );
    ssh_keygen_agrees(place);
    place.replace("tallies/a.csv", "12.101", "12.100");
    assert_eq!(states(place), vec!["stands"; 10]);
    place.replace("job.toml", "format = 1", "# a comment\nformat = 1");
    assert_eq!(states(place), vec!["stands-text-changed"; 10]);
    ssh_keygen_agrees(place);
}

#[test]
fn what_keeps_a_statement_from_being_signed_is_said_and_nothing_is_written() {
    let place = Place::new();
    let mut session = Session::start(&program(), place.root(), false);
    session.wait_for("no flags");
    session.keys("p");
    session.wait_for("to be signed as prepared by NK");
    session.keys("\r");
    session.wait_for("who signs?");
    persons(&mut session, &["NK"]);
    session.keys("\r");
    session.wait_for("STATEMENT OF A HOLD POINT");
    // Enter reads on: nothing is signed before the end was seen.
    session.wait_for("Nothing is signed before its end");
    session.keys("S");
    session.wait_for("Enter reads on");
    // One Enter too many signs nothing.
    session.keys("\r\r\r\r\r\r\r\r\r\r\r\r");
    session.wait_for("S signs this statement");
    session.keys("S");
    session.wait_for("File of your private key");
    session.keys(&format!("{}\r", key("tm").display()));
    session.wait_for("Passphrase of");
    session.keys("not this one\r");
    session.wait_for("the passphrase is not that of this key");
    assert!(!session.parser.screen().contents().contains("not this one"));
    session.keys(&format!("{PASSPHRASE}\r"));
    session.wait_for("this is the key of TM, and NK signs");
    // Back to the file, to the statement, and on paper instead.
    session.keys("\u{1b}");
    session.wait_for("Enter alone:");
    session.keys("\u{1b}");
    session.wait_for("P: on paper instead");
    assert!(
        !place.root().join("journal.jsonl").exists(),
        "nothing is signed"
    );
    session.keys("P\u{1b}[F");
    session.wait_for("S records it as signed on paper");
    session.keys("S");
    session.wait_for("entry 1: signed on paper");
    session.keys("q");
    assert_eq!(session.end(), 0);
    assert_eq!(states(&place), ["stands"]);
    assert!(place.read("journal.jsonl").contains("\"paper\":true"));
}
