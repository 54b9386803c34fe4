//! The chain, the folding of entries, and what cannot be entered. Scenarios are invented.

mod refused;

use super::*;
use crate::job::parse;
use crate::measure::Length;
use crate::tally::{Options, Tally, import};

const JOB: &str = r#"
format = 1
[job]
units = "m"
sea_datum = "LAT"
[people]
NK = "N. K."
TM = "T. M."
[roles]
prepared = ["NK"]
checked = ["TM"]
[site]
mudline = -40
[[hull]]
name = "low"
rotary = 20
stick_up_from = 0.6
[[hull]]
name = "high"
rotary = 30
stick_up_from = 0.6
[pipe.main]
od = "30 in"
wall = "1 in"
makeup_loss = "0.1 m"
[[slot]]
name = "A"
pipe = "main"
tally = "a.csv"
stick_up = 1.0
[[slot]]
name = "B"
pipe = "main"
tally = "b.csv"
[[bench]]
name = "plate"
elevation = 15
[deck]
elevation = 14
"#;

fn tally(rows: &str) -> Tally {
    let text = format!("joint,serial,kind,length (m),makeup_loss\n{rows}");
    import::read(text.as_bytes(), &Options::default()).expect("a tally")
}

struct Rig {
    job: crate::job::Job,
    tallies: Vec<Tally>,
    pool: Tally,
    journal: Journal,
    bytes: Vec<u8>,
}

/// The clock of the tests.
fn now() -> Moment {
    Moment::parse("2026-03-01T12:00:00+01:00").expect("a moment")
}

impl Rig {
    fn new() -> Self {
        Self {
            job: parse(JOB).expect("a job"),
            tallies: vec![
                tally("1,S-1,shoe,12,\n2,S-2,joint,11,0.1\n3,S-3,joint,10,0.1\n"),
                tally("1,T-1,shoe,12,\n2,T-2,joint,11,0.1\n"),
            ],
            pool: tally("P-1,Q-1,,9,0.1\n3,Q-3,,8,0.1\n"),
            journal: Journal::read(b""),
            bytes: Vec::new(),
        }
    }

    fn known(&self) -> Known<'_> {
        Known {
            job: &self.job,
            tallies: &self.tallies,
            pool: Some(&self.pool),
        }
    }

    fn try_enter(&mut self, text: &str) -> Result<u64, String> {
        let told = |problems: Vec<EventProblem>| {
            let all: Vec<String> = problems.iter().map(ToString::to_string).collect();
            all.join("\n")
        };
        let draft = Draft::read(text, Some("NK")).map_err(told)?;
        check(self.known(), &self.journal, &draft, &now()).map_err(|it| it.to_string())?;
        let (entry, line) = draft.into_entry(self.journal.next_seq(), &now(), self.journal.head());
        self.bytes.extend_from_slice(line.as_bytes());
        self.bytes.push(b'\n');
        self.journal.entries.push(entry.clone());
        Ok(entry.seq)
    }

    /// Enters an event at a minute of the morning.
    fn enter(&mut self, minute: u32, rest: &str) -> u64 {
        self.try_enter(&at(minute, rest))
            .unwrap_or_else(|error| panic!("{rest}: {error}"))
    }

    fn refused(&mut self, minute: u32, rest: &str) -> String {
        self.try_enter(&at(minute, rest)).expect_err(rest)
    }

    fn record(&self) -> Record {
        Record::of(
            self.known(),
            &self.journal.entries,
            &struck(&self.journal.entries),
        )
    }

    fn in_force(&self) -> InForce {
        in_force(&self.job, &self.tallies, &self.record())
    }

    fn hanging(&self, slot: usize) -> Vec<String> {
        let record = self.record();
        let hanging = record.slots[slot].hanging.iter();
        hanging.map(|it| it.what.run.joint.clone()).collect()
    }
}

fn at(minute: u32, rest: &str) -> String {
    format!(
        "{{\"at\":\"2026-03-01T{:02}:{:02}:00+01:00\",{rest}}}",
        minute / 60,
        minute % 60
    )
}

fn run(slot: &str, joint: &str) -> String {
    format!("\"event\":\"joint-run\",\"slot\":\"{slot}\",\"joint\":\"{joint}\"")
}

fn stick_up(hull: &str, value: &str, state: &str) -> String {
    format!(
        "\"event\":\"stick-up\",\"slot\":\"A\",\"hull\":\"{hull}\",\"value\":\"{value}\",\"state\":\"{state}\""
    )
}

#[test]
fn a_line_has_its_keys_in_order_and_the_hash_of_its_own_bytes() {
    let mut rig = Rig::new();
    rig.enter(
        60,
        "\"event\" : \"note\", \"text\":\" caf\\u00e9 \\\"x\\\" \"",
    );
    let line = String::from_utf8(rig.bytes.clone()).expect("text");
    let body = concat!(
        r#"{"seq":1,"at":"2026-03-01T01:00:00+01:00","entered":"2026-03-01T12:00:00+01:00","by":"NK","#,
        r#""event":"note","text":"café \"x\"","prev":""#,
    );
    let body = format!("{body}{NO_HASH}\"");
    assert_eq!(
        line,
        format!("{body},\"hash\":\"{}\"}}\n", sha256(body.as_bytes()))
    );
    assert_eq!(Journal::read(&rig.bytes).entries, rig.journal.entries);
    // The digest of "abc" in FIPS 180-4's own example.
    assert_eq!(
        sha256(b"abc"),
        "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
    );
}

#[test]
fn every_changed_byte_of_a_journal_is_seen() {
    let mut rig = Rig::new();
    rig.enter(60, &run("A", "1"));
    rig.enter(61, "\"event\":\"note\",\"text\":\"x\"");
    rig.enter(62, &run("A", "2"));
    let whole = Journal::read(&rig.bytes);
    assert!(whole.broken.is_none() && whole.torn.is_none());
    for place in 0..rig.bytes.len() {
        for change in [1_u8, 32, 128] {
            let mut changed = rig.bytes.clone();
            changed[place] ^= change;
            let read = Journal::read(&changed);
            let is_seen = read.broken.is_some() || read.torn.is_some();
            assert!(is_seen, "byte {place} changed by {change}");
        }
    }
    // A line left out, doubled, or two that changed places.
    let lines: Vec<&[u8]> = rig.bytes.split_inclusive(|byte| *byte == b'\n').collect();
    for order in [
        &[1_usize, 2][..],
        &[0, 2],
        &[0, 0, 1, 2],
        &[1, 0, 2],
        &[0, 2, 1],
    ] {
        let bytes: Vec<u8> = order.iter().flat_map(|at| lines[*at].to_vec()).collect();
        assert!(Journal::read(&bytes).broken.is_some(), "{order:?}");
    }
    // A tail that is cut off between lines cannot be seen by the journal alone.
    let cut: Vec<u8> = lines[..2].concat();
    assert!(Journal::read(&cut).broken.is_none());
}

#[test]
fn only_a_last_line_without_its_end_is_torn() {
    let mut rig = Rig::new();
    rig.enter(60, &run("A", "1"));
    rig.enter(61, &run("A", "2"));
    for short in 1..rig.bytes.len() {
        let read = Journal::read(&rig.bytes[..short]);
        assert!(read.broken.is_none(), "{short} bytes");
        let ends = rig.bytes[..short].ends_with(b"\n");
        assert_eq!(read.torn.is_none(), ends, "{short} bytes");
    }
    let mut garbage = rig.bytes.clone();
    garbage.extend_from_slice(b"{\"seq\":3\n");
    let read = Journal::read(&garbage);
    assert_eq!(read.broken.map(|it| it.line), Some(3));
    assert_eq!(read.entries.len(), 2);
}

#[test]
fn joints_hang_in_the_order_in_which_they_were_run() {
    let mut rig = Rig::new();
    rig.enter(60, &run("A", "1"));
    rig.enter(70, &run("A", "3"));
    // Entered later, from paper, and run between the two.
    let paper = format!("{},\"source\":\"paper\"", run("A", "2"));
    rig.enter(65, &paper);
    assert_eq!(rig.hanging(0), ["1", "2", "3"]);
    assert!(rig.journal.entries[2].from_paper);
    assert_eq!(
        rig.refused(80, &run("A", "2")),
        "joint `2` hangs in slot A already (entry 3); expected another joint, or that entry struck first"
    );
    // The same number in another slot is another joint.
    rig.enter(80, &run("B", "2"));
    rig.enter(
        81,
        "\"event\":\"joint-pulled\",\"slot\":\"A\",\"joint\":\"3\",\"why\":\"bent\"",
    );
    assert_eq!(rig.hanging(0), ["1", "2"]);
    // Of the pipe on deck, told by its serial; it hangs in one slot alone.
    rig.enter(82, &format!("{},\"serial\":\"Q-3\"", run("A", "3")));
    let said = rig.refused(83, &format!("{},\"serial\":\"Q-3\"", run("B", "3")));
    assert!(
        said.starts_with("joint `3` hangs in slot A already"),
        "{said}"
    );
    assert_eq!(
        rig.record().slots[0].hanging[2].what.source,
        Source::Pool(1)
    );
    let said = rig.refused(84, &format!("{},\"serial\":\"Q-9\"", run("A", "1")));
    assert!(said.contains("`1` with the serial `Q-9`"), "{said}");
}

#[test]
fn a_joint_adds_its_effective_length_pins_down_and_pins_up() {
    let mut rig = Rig::new();
    for (minute, joint) in [(60, "1"), (61, "2"), (62, "3")] {
        rig.enter(minute, &run("A", joint));
    }
    let adds = |rig: &Rig| -> Vec<i64> {
        let record = rig.record();
        let hanging = record.slots[0].hanging.iter();
        hanging.map(|it| it.what.adds.nm() / 1_000_000).collect()
    };
    assert_eq!(adds(&rig), [12_000, 10_900, 9_900]);
    let up = JOB.replace("makeup_loss", "pin = \"up\"\nmakeup_loss");
    rig.job = parse(&up).expect("a job");
    // The loss of the joint below: its pin enters the one above. The shoe's own is blank: the nominal one.
    assert_eq!(adds(&rig), [12_000, 10_900, 9_900]);
    rig.tallies[0].joints[1].makeup_loss = Some(Length::from_mm(300));
    assert_eq!(adds(&rig), [12_000, 10_900, 9_700]);
}

#[test]
fn a_rejected_joint_cannot_be_run_until_it_is_accepted() {
    let mut rig = Rig::new();
    let checked = |result: &str| {
        format!("\"event\":\"joint-checked\",\"joint\":\"2\",\"result\":\"{result}\"")
    };
    rig.enter(60, &run("A", "1"));
    rig.enter(61, &checked("rejected"));
    assert_eq!(
        rig.refused(62, &run("A", "2")),
        "joint `2` was rejected (entry 2) and cannot be run; expected another joint"
    );
    rig.enter(63, &checked("accepted"));
    rig.enter(64, &run("A", "2"));
    // Rejecting it at a time before it was run cannot be, once it is run.
    let said = rig.refused(63, &checked("rejected"));
    assert!(
        said.starts_with("entry 4, which is later, could not be"),
        "{said}"
    );
}

#[test]
fn what_a_strike_takes_away_must_not_be_needed_by_another_entry() {
    let mut rig = Rig::new();
    rig.enter(60, &run("A", "1"));
    rig.enter(
        61,
        "\"event\":\"joint-pulled\",\"slot\":\"A\",\"joint\":\"1\",\"why\":\"x\"",
    );
    let strike =
        |seq: u64| format!("\"event\":\"strike\",\"strikes\":{seq},\"why\":\"wrong joint\"");
    assert_eq!(
        rig.refused(62, &strike(1)),
        "`strikes`: without entry 1, entry 2 could not be; strike that one first"
    );
    rig.enter(62, &strike(2));
    rig.enter(63, &strike(1));
    assert!(rig.hanging(0).is_empty());
    for (seq, said) in [
        (1, "`strikes`: entry 1 is struck already"),
        (3, "`strikes`: entry 3 is a strike, which cannot be struck"),
        (
            9,
            "`strikes`: there is no entry 9 before this one; expected the `seq` of an earlier entry",
        ),
    ] {
        assert_eq!(rig.refused(64, &strike(seq)), said);
    }
}

#[test]
fn the_last_reading_at_rest_applies_and_one_of_a_hung_string_only_when_it_is_whole() {
    let mut rig = Rig::new();
    let of_a = |rig: &Rig| {
        let in_force = rig.in_force();
        let slot = in_force.job.slots[0].clone();
        (
            slot.stick_up.map(Length::exact_metres),
            slot.hull.name.clone(),
        )
    };
    assert_eq!(of_a(&rig), (Some("1".to_owned()), "low".to_owned()));
    rig.enter(60, &run("A", "1"));
    rig.enter(61, &stick_up("low", "0.5 m", "hung"));
    rig.enter(62, &run("A", "2"));
    rig.enter(63, &run("A", "3"));
    // It was read when one joint hung.
    assert_eq!(of_a(&rig), (Some("1".to_owned()), "low".to_owned()));
    rig.enter(64, &stick_up("low", "1.25 m", "hung"));
    assert_eq!(of_a(&rig), (Some("1.25".to_owned()), "low".to_owned()));
    rig.enter(70, &stick_up("high", "-8.8 m", "landed"));
    assert_eq!(of_a(&rig), (Some("-8.8".to_owned()), "high".to_owned()));
    // Entered later, read before: it does not apply.
    rig.enter(66, &stick_up("low", "1.3 m", "landed"));
    assert_eq!(of_a(&rig), (Some("-8.8".to_owned()), "high".to_owned()));
}

#[test]
fn what_is_cropped_comes_off_the_top_until_it_is_read_again() {
    let mut rig = Rig::new();
    let crop = |length: &str| {
        format!(
            "\"event\":\"cropped\",\"slot\":\"A\",\"length\":\"{length}\",\"why\":\"driven head\""
        )
    };
    let of_a = |rig: &Rig| {
        let slot = rig.in_force().job.slots[0].clone();
        (slot.stick_up.map(Length::exact_metres), slot.cropped)
    };
    rig.enter(60, &stick_up("low", "1.2 m", "landed"));
    rig.enter(61, &crop("0.3 m"));
    let mm = Length::from_mm;
    assert_eq!(of_a(&rig), (Some("0.9".to_owned()), vec![(2, mm(300))]));
    rig.enter(62, &stick_up("low", "0.898 m", "landed"));
    assert_eq!(of_a(&rig), (Some("0.898".to_owned()), vec![(2, mm(300))]));
    // The top joint adds 9.900 m, of which 9.600 m are left.
    assert_eq!(
        rig.refused(63, &crop("9.601 m")),
        "`length`: of the top joint `3` 9.6 m are left; expected no more than that"
    );
    rig.enter(63, &crop("9.6 m"));
}

#[test]
fn a_hull_position_puts_its_rt_in_force_everywhere() {
    let mut rig = Rig::new();
    let moving = "\"event\":\"hull-moving\",\"why\":\"to the deck's height\"";
    rig.enter(60, moving);
    assert!(rig.record().moving.is_some());
    rig.enter(
        70,
        "\"event\":\"hull-position\",\"hull\":\"high\",\"rotary\":\"30.012 m\",\"how\":\"level\"",
    );
    let record = rig.record();
    assert!(record.moving.is_none());
    let job = rig.in_force().job;
    let rotary = |hull: &crate::job::Hull| hull.rotary.height().exact_metres();
    assert_eq!(rotary(&job.hulls[1]), "30.012");
    assert_eq!(rotary(&job.cut.hull), "30.012");
    assert_eq!(rotary(&job.slots[0].hull), "20");
    // Of another time: before the last position, the hull does not move now.
    rig.enter(65, moving);
    assert!(rig.record().moving.is_none());
}

#[test]
fn after_a_cut_no_stick_up_is_that_of_the_string() {
    let mut rig = Rig::new();
    rig.enter(60, &stick_up("low", "1.2 m", "landed"));
    rig.enter(
        61,
        "\"event\":\"cut-made\",\"slot\":\"A\",\"cut\":\"rough\"",
    );
    let said = rig.refused(62, &stick_up("low", "0.2 m", "landed"));
    assert!(said.starts_with("slot A was cut (entry 2)"), "{said}");
    // One that was read before the cut and is entered from paper can be.
    rig.enter(60, &stick_up("low", "1.201 m", "landed"));
}
