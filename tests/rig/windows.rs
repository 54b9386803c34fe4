//! Two windows on one job, in real terminals: each shows at once what the other enters, and a trial of a night in
//! which two joints are swapped and the program is killed.

use std::fmt::Write as _;
use std::path::PathBuf;

use super::place::{JOB, Place};
use super::session::Session;

fn program() -> PathBuf {
    PathBuf::from(env!("CARGO_BIN_EXE_kerfmark"))
}

/// A window on the floor, in which a person enters: so many presses of `i` say who.
fn window(place: &Place, initials: &[&str]) -> Session {
    let mut session = Session::start(&program(), place.root(), false);
    session.wait_for("no flags");
    session.keys("6");
    session.wait_for("SLOT A");
    for initials in initials {
        session.keys("i");
        session.wait_for(&format!("{initials} enters "));
    }
    session
}

#[test]
fn two_windows_follow_each_other() {
    let place = Place::new();
    let (mut one, mut two) = (window(&place, &["NK"]), window(&place, &["NK", "RS"]));
    one.keys("a\r\r");
    one.wait_for("1 OF 6 JOINTS RUN");
    two.wait_for("1 OF 6 JOINTS RUN");
    // The other goes on where the first one is.
    two.keys("a\r\r");
    two.wait_for("2 OF 6 JOINTS RUN");
    one.wait_for("2 OF 6 JOINTS RUN");
    // Both at once: the joint that is offered in both is run once, and the second is told.
    one.keys("a\r");
    two.keys("a\r");
    one.wait_for("Enter writes it");
    two.wait_for("Enter writes it");
    one.keys("\r");
    one.wait_for("3 OF 6 JOINTS RUN");
    two.keys("\r");
    two.wait_for("hangs in slot A already");
    two.keys("\u{1b}\u{1b}");
    two.wait_for("3 OF 6 JOINTS RUN");
    // A statement that is read in one window closes when the other enters something.
    two.keys("ii");
    two.wait_for("NK enters ");
    two.keys("p");
    two.wait_for("to be signed as prepared");
    two.keys("\r");
    two.wait_for("STATEMENT OF A HOLD POINT");
    one.keys("a\r\r");
    one.wait_for("4 OF 6 JOINTS RUN");
    two.wait_for("The job changed since the statement was shown");
    // Letters that were meant for a passphrase go nowhere.
    two.keys("O secret");
    two.keys("\u{1b}");
    two.wait_for("to be signed as prepared");
    two.keys("\u{1b}");
    two.wait_for("4 OF 6 JOINTS RUN");
    two.keys("q");
    one.keys("q");
    assert_eq!((one.end(), two.end()), (0, 0));
    let journal = place.read("journal.jsonl");
    let by = |initials: &str| journal.matches(&format!("\"by\":\"{initials}\"")).count();
    assert_eq!((by("NK"), by("RS")), (3, 1), "{journal}");
}

/// An invented string of twelve joints.
fn twelve() -> Place {
    let job = JOB.replace("running_joint = \"A-3\"", "running_joint = \"A-09\"");
    let place = Place::with(&job.replace("mudline = -30", "mudline = -60"));
    let mut tally = String::from("joint,serial,kind,length (m),makeup_loss\n");
    for joint in 1..=12 {
        let (kind, loss) = match joint {
            1 => ("shoe", ""),
            9 => ("running", "0.100"),
            12 => ("top", "0.100"),
            _ => ("joint", "0.100"),
        };
        let length = 12_000 + 13 * joint;
        let _ = writeln!(
            tally,
            "A-{joint:02},S-{joint:02},{kind},{}.{:03},{loss}",
            length / 1000,
            length % 1000
        );
    }
    place.write("tallies/a.csv", &tally);
    place
}

#[test]
fn twelve_joints_take_few_keys_and_a_swap_is_named_after_a_kill_too() {
    let place = twelve();
    let mut session = window(&place, &["NK"]);
    let mut most = 0;
    let mut run = |session: &mut Session, keys: &str, count: usize| {
        most = most.max(keys.len());
        session.keys(keys);
        session.wait_for(&format!("{count} OF 12 JOINTS RUN"));
    };
    for count in 1..=6 {
        run(&mut session, "a\r\r", count);
    }
    // The crew took A-08 before A-07, and the person at the tally sees it: part of the number is enough.
    run(&mut session, "a08\r\r", 7);
    session.wait_for("NOT AS LISTED FROM JOINT 7 ON: RUN A-08, LISTED A-07");
    // The lid is closed while the next joint is being entered.
    session.keys("a\r");
    session.wait_for("Enter writes it");
    session.signal("KILL");
    let mut session = window(&place, &["NK"]);
    session.wait_for("7 OF 12 JOINTS RUN");
    session.wait_for("NOT AS LISTED FROM JOINT 7 ON: RUN A-08, LISTED A-07");
    for count in 8..=12 {
        run(&mut session, "a\r\r", count);
    }
    session.wait_for("NOT AS LISTED FROM JOINT 7 ON: RUN A-08, LISTED A-07");
    session.keys("q");
    assert_eq!(session.end(), 0);
    assert!(most <= 6, "{most} keys a joint");
    let journal = place.read("journal.jsonl");
    let joints: Vec<&str> = journal
        .lines()
        .filter_map(|line| Some(line.split_once("\"joint\":\"")?.1.split_once('"')?.0))
        .collect();
    let order = [1, 2, 3, 4, 5, 6, 8, 7, 9, 10, 11, 12];
    let order: Vec<String> = order.iter().map(|it| format!("A-{it:02}")).collect();
    assert_eq!(joints, order);
}
