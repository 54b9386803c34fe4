//! What is refused, in its words; every event of the table; and laws of reading.

use proptest::prelude::*;

use super::{Rig, now, run};
use crate::journal::*;
use crate::laws;
use crate::measure::Length;

#[test]
fn what_an_event_may_not_be_is_said_with_its_column() {
    let mut rig = Rig::new();
    for (text, said) in [
        (
            "",
            "column 1: EOF while parsing a value; expected one JSON object",
        ),
        ("[]", "column 1: invalid type: sequence, expected an object"),
        (
            r#"{"event":"note","text":"x","by":"ZZ"}"#,
            "`by` is `ZZ`, who is not in [people] of job.toml; expected one of NK, TM",
        ),
        (
            r#"{"event":"note","text":"x","text":"y"}"#,
            "column 35: `text` occurs twice",
        ),
        (
            r#"{"event":"note","by":"NK","by":"NK","text":"x"}"#,
            "column 32: `by` occurs twice",
        ),
        (
            r#"{"event":"note","text":"x","seq":4}"#,
            "column 34: `seq` is written by the program; leave it out",
        ),
        (
            r#"{"event":"note","text":"a\u0007b"}"#,
            "column 24: `text` is \"a\\u0007b\"; expected a text in quotes, without control",
        ),
        (
            r#"{"event":"note","text":7}"#,
            "column 24: `text` is 7; expected a text in quotes",
        ),
        (
            r#"{"event":"note","text":"x","at":"2026-03-01T13:00:00+01:00"}"#,
            "`at` is 2026-03-01T13:00:00+01:00, later than now (2026-03-01T12:00:00+01:00)",
        ),
        (
            r#"{"event":"note","text":"x","at":"yesterday"}"#,
            "column 33: `at` is yesterday; expected a time to the second",
        ),
        (
            r#"{"event":"note","text":"x","source":"memory"}"#,
            "column 37: `source` is \"memory\"; expected \"paper\"",
        ),
        (
            r#"{"event":"hold-signed","slot":"A","hold":"final","role":"checked","name":"NK","statement":"s","statement_sha256":"0000000000000000000000000000000000000000000000000000000000000000"}"#,
            "written by `kerfmark sign` alone",
        ),
        (
            r#"{"event":"stick-up","slot":"A","hull":"low","value":1.2,"state":"landed"}"#,
            "column 53: `value` is 1.2; expected a length in quotes with its unit",
        ),
        (
            r#"{"event":"stick-up","slot":"A","hull":"low","value":"1.2","state":"landed"}"#,
            "`value`: `1.2` has no unit",
        ),
        (
            r#"{"event":"stick-up","slot":"C","hull":"low","value":"1.2 m","state":"landed"}"#,
            "`slot` is `C`, which the job does not have; expected A, B",
        ),
        (
            r#"{"event":"stick-up","slot":"A","hull":"mid","value":"1.2 m","state":"landed"}"#,
            "`hull` is `mid`, which the job does not have; expected low, high",
        ),
        (
            r#"{"event":"joint-run","slot":"A","joint":"7"}"#,
            "joint `7` is neither in the tally of slot A nor in the list of the pipe on deck",
        ),
        (
            r#"{"event":"joint-pulled","slot":"A","joint":"1","why":"x"}"#,
            "joint `1` does not hang in slot A",
        ),
        (
            r#"{"event":"frame","slot":"A","how":"camera","heading":"42"}"#,
            "`heading` is 42; expected degrees from 0 to 360",
        ),
        (
            r#"{"event":"scribe","slot":"A","checked_by":"TM","marks":[]}"#,
            "`marks` is []; expected a list of objects",
        ),
        (
            r#"{"event":"scribe","slot":"A","checked_by":"TM","marks":[{"from":"moon","distance":"1 m","by":"NK"}]}"#,
            "`from` is `moon`, which the job does not have; expected rotary, lower-plane, upper-plane, top, bench plate",
        ),
        (
            r#"{"event":"scribe","slot":"A","checked_by":"TM","marks":[{"from":"top","distance":"1 m","who":"NK"}]}"#,
            "column 94: `who` is no key of marks; expected from, distance, by",
        ),
        (
            r#"{"event":"scribe","slot":"A","checked_by":"XX","marks":[{"from":"top","distance":"1 m","by":"NK"}]}"#,
            "`checked_by` is `XX`, who is not in [people]",
        ),
    ] {
        let found = rig.try_enter(text).expect_err(text);
        assert!(found.contains(said), "{text}\n  {found}\n  {said}");
    }
    assert!(rig.journal.entries.is_empty());
}

/// One event of each kind, with all its keys, by the table.
fn example(spec: &EventSpec) -> String {
    fn value(kind: Kind) -> String {
        match kind {
            Kind::Text => "\"x\"".to_owned(),
            Kind::Slot => "\"A\"".to_owned(),
            Kind::Joint => "\"1\"".to_owned(),
            Kind::Hull => "\"low\"".to_owned(),
            Kind::Mark => "\"bench plate\"".to_owned(),
            Kind::Person => "\"TM\"".to_owned(),
            Kind::Length(from, to) => {
                let one = Length::from_mm(100);
                let fits = (from..=to).contains(&one);
                assert!(fits, "{from:?} {to:?}");
                "\"0.1 m\"".to_owned()
            }
            Kind::Mass => "\"45 t\"".to_owned(),
            Kind::Direction => "\"42.5 deg\"".to_owned(),
            Kind::Temperature => "\"-3 C\"".to_owned(),
            Kind::Volume => "\"26 bbl\"".to_owned(),
            Kind::Word(words) => format!("\"{}\"", words[0]),
            Kind::Moment => "\"2026-03-01T20:00:00+01:00\"".to_owned(),
            Kind::Day => "\"2026-12-31\"".to_owned(),
            Kind::Entry | Kind::Line => "1".to_owned(),
            Kind::Path => "\"a.csv\"".to_owned(),
            Kind::Digest => format!("\"{NO_HASH}\""),
            Kind::True => "true".to_owned(),
            Kind::List(keys) => format!("[{{{}}}]", object(keys)),
        }
    }
    fn object(keys: &[KeySpec]) -> String {
        let pairs: Vec<String> = keys
            .iter()
            .map(|key| format!("\"{}\":{}", key.name, value(key.kind)))
            .collect();
        pairs.join(",")
    }
    format!("{{\"event\":\"{}\",{}}}", spec.name, object(spec.keys))
}

#[test]
fn every_event_of_the_table_is_read_written_and_read_again() {
    for spec in EVENTS {
        let text = example(spec);
        let draft = if spec.by_program {
            Draft::by_program(&text.replacen('{', "{\"by\":\"NK\",", 1))
        } else {
            Draft::read(&text, Some("NK"))
        };
        let draft = draft.unwrap_or_else(|error| panic!("{text}: {error:?}"));
        assert_eq!(draft.name(), spec.name);
        let (entry, line) = draft.into_entry(1, &now(), NO_HASH);
        let read = Journal::read(format!("{line}\n").as_bytes());
        assert_eq!(read.entries, [entry], "{line}");
        assert!(read.broken.is_none());
    }
}

proptest! {
    #![proptest_config(laws::laws())]

    #[test]
    fn any_line_is_read_or_refused_and_never_more(text in "\\PC{0,80}", at in 0_usize..200) {
        let _ = Draft::read(&text, None);
        let example = example(&EVENTS[at % EVENTS.len()]);
        let mut letters: Vec<char> = example.chars().collect();
        let place = at % letters.len();
        letters.splice(place..=place, text.chars());
        let _ = Draft::read(&letters.into_iter().collect::<String>(), Some("NK"));
        let _ = Journal::read(text.as_bytes());
    }

    #[test]
    fn what_is_entered_in_any_order_hangs_in_the_order_of_its_times(
        order in Just(vec![0_u32, 1, 2]).prop_shuffle()
    ) {
        let mut rig = Rig::new();
        for at in &order {
            rig.enter(60 + at, &run("A", &(at + 1).to_string()));
        }
        prop_assert_eq!(rig.hanging(0), ["1", "2", "3"]);
        prop_assert!(rig.record().slots[0].hangs_as(&rig.tallies[0]));
    }
}
