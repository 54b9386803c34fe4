//! Two windows that decide between the lists of one string at once, in real terminals: each shows what the other
//! decides, nothing is decided unseen, and what contradicts itself makes no tally of record.

use std::fs;
use std::path::{Path, PathBuf};

use super::session::Session;
use crate::common::copies::copy_of;
use crate::common::decided::decided;

fn program() -> PathBuf {
    PathBuf::from(env!("CARGO_BIN_EXE_kerfmark"))
}

/// A window on the lists of the invented string, in which a person decides.
fn window(job: &Path, initials: &str) -> Session {
    let mut session = Session::start(&program(), job, false);
    session.wait_for("status");
    session.keys("3");
    session.wait_for("most agree 10");
    session.keys(&format!("i{initials}\r"));
    session.wait_for(&format!("{initials} enters "));
    session
}

/// Goes back from what is about to be decided. The bottom line is drawn last.
fn leave(session: &mut Session) {
    session.wait_for("Esc cancel");
    session.keys("\u{1b}");
    session.wait_for("Arrows move");
}

#[test]
fn two_windows_decide_on_one_job_at_once_and_neither_overrides_the_other_unseen() {
    let place = copy_of("three-lists");
    let job = place.path();
    let (mut one, mut two) = (window(job, "NK"), window(job, "RS"));
    // What one decides the other shows, with who did.
    one.keys("lt\r");
    one.wait_for("decided: the length of joint K-04, entry 1");
    two.wait_for("strap: NK");
    two.wait_for("most agree 9");
    // Both are about to decide on one thing: the second is shown what the first decided before it writes.
    one.keys("jt");
    two.keys("jllt");
    one.wait_for("what strap says: 12.2377");
    two.wait_for("what yard says: 12.5444");
    one.keys("strapped twice\r");
    one.wait_for("decided: the length of joint K-06, entry 2");
    two.wait_for("NOT YET WRITTEN: slot K, joint K-06, length: decided meanwhile: NK");
    two.wait_for("NK chose strap");
    two.wait_for("(needed)");
    assert_eq!(decided(job).len(), 2);
    two.keys("\r");
    two.wait_for("say why");
    assert_eq!(decided(job).len(), 2);
    // Deciding otherwise all the same contradicts: both windows say so, and no tally of record is made.
    two.keys("yard gauge is newer\r");
    two.wait_for("CONTRADICT NK: strap");
    one.wait_for("CONTRADICT NK: strap");
    one.keys("w");
    one.wait_for("NOT WRITTEN: decisions contradict each other: the length of joint K-06");
    // One opens it again, for both; the majority applies as before.
    one.keys("o");
    one.wait_for("open again, for everyone");
    one.keys("to be strapped a third time\r");
    two.wait_for("most, not yard");
    one.wait_for("most agree 9");
    // Both take what most lists say at once: the second has nothing left to decide.
    two.keys("v");
    two.wait_for("9 things are decided");
    one.keys("v");
    one.wait_for("9 things are decided");
    one.keys("\r");
    one.wait_for("decided: 9 things");
    two.wait_for("NOT YET WRITTEN");
    leave(&mut two);
    two.wait_for("decided 10");
    // The last decision is taken back by who made it, and by nobody else.
    two.keys("z");
    two.wait_for("Entry 3 is struck");
    leave(&mut two);
    one.keys("z");
    one.wait_for("Entry 13 is struck");
    one.keys("wrong key\r");
    two.wait_for("decided 9");
    two.wait_for("most agree 1");
    two.keys("q");
    one.keys("q");
    assert_eq!((one.end(), two.end()), (0, 0));
    let journal = fs::read_to_string(job.join("journal.jsonl")).expect("a journal");
    let by = |who: &str| journal.matches(&format!("\"by\":\"{who}\"")).count();
    // Two and the one that opened, nine of the majority, and the strike.
    assert_eq!((by("NK"), by("RS")), (13, 1), "{journal}");
    let majority = decided(job).split_off(4);
    assert_eq!(
        majority,
        [
            "length K-06 record",
            "makeup-loss K-07 yard",
            "length K-10 record",
            "presence K-12 strap",
            "length K-15 record",
            "presence K-99 record",
            "presence K-18 record",
            "place K-20 record",
            "makeup-loss K-22 record",
        ]
    );
}
