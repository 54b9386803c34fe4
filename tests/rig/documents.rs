//! The signed sample, and what docs/journal.md prints of it and of the events.

use std::fs;
use std::path::{Path, PathBuf};

use kerfmark::journal::{EVENTS, KeySpec, Kind};

use super::place::{Place, kerfmark, text};

const START: &str =
    "<!-- events: written by `INSTA_UPDATE=always cargo test --test rig documents` -->\n";
const END: &str = "<!-- end of events -->";

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

fn document() -> PathBuf {
    root().join("docs/journal.md")
}

fn sample() -> String {
    let path = root().join("sample-tallies/one-night");
    path.to_string_lossy().into_owned()
}

/// The lines of a block of the document, by the word after its fence.
fn block(word: &str) -> Vec<String> {
    let whole = fs::read_to_string(document()).expect("the document");
    let (_, rest) = whole.split_once(&format!("```{word}\n")).expect("a block");
    let (block, _) = rest.split_once("\n```").expect("its end");
    block.lines().map(str::to_owned).collect()
}

/// Each line of the block is in the text, in this order.
fn is_shown_by(word: &str, whole: &str) {
    let mut lines = whole.lines();
    for line in block(word) {
        assert!(lines.any(|it| it == line), "{word}: {line}");
    }
}

#[test]
fn every_signature_of_the_sample_stands_and_nothing_flags_it() {
    let output = kerfmark(&["verify", &sample()], "");
    assert_eq!(output.status.code(), Some(0), "{}", text(&output.stdout));
    let said = text(&output.stdout);
    assert_eq!(said.matches("\nstate: stands\n").count(), 10, "{said}");
    let output = kerfmark(&["figures", &sample(), "--json"], "");
    assert_eq!(output.status.code(), Some(0));
    let tree: serde_json::Value = serde_json::from_slice(&output.stdout).expect("JSON");
    assert_eq!(tree["flags"], serde_json::json!([]));
    assert_eq!(tree["slots"][0]["flags"], serde_json::json!([]));
    assert_eq!(tree["slots"][0]["cut"]["status"], "cut");
}

#[test]
fn ssh_keygen_accepts_every_signature_of_the_sample() {
    super::verdicts::ssh_keygen_agrees(&Place::signed_sample());
}

#[test]
fn the_document_shows_the_sample_as_it_is() {
    let place = Place::signed_sample();
    is_shown_by("journal", &place.read("journal.jsonl"));
    is_shown_by("statement", &place.read("signed/A-final-checked-27.txt"));
    place.replace("tallies/a.csv", "12.200", "12.201");
    let output = kerfmark(&["verify", &place.root().to_string_lossy()], "");
    assert_eq!(output.status.code(), Some(1));
    is_shown_by("verify", &text(&output.stdout));
}

#[test]
fn one_digit_lapses_what_rests_on_it_and_a_comment_lapses_nothing() {
    let states = |place: &Place| -> Vec<String> {
        let tree = place.verify();
        let rows = tree["signatures"].as_array().expect("signatures").iter();
        rows.map(|row| row["state"].as_str().expect("a state").to_owned())
            .collect()
    };
    let place = Place::signed_sample();
    place.replace("tallies/a.csv", "12.200", "12.201");
    assert_eq!(states(&place), vec!["lapsed"; 10]);
    let moved: Vec<String> = place.verify()["signatures"][9]["moved"]
        .as_array()
        .expect("figures")
        .iter()
        .map(|it| it["figure"].as_str().expect("a key").to_owned())
        .collect();
    for figure in ["string_length_m", "shoe.elevation_m"] {
        assert!(moved.iter().any(|it| it == figure), "{figure}: {moved:?}");
    }
    for figure in ["top_elevation_m", "cut.target_m"] {
        assert!(!moved.iter().any(|it| it == figure), "{figure}: {moved:?}");
    }
    let place = Place::signed_sample();
    place.replace("job.toml", "# Invented", "# All invented");
    assert_eq!(states(&place), vec!["stands-text-changed"; 10]);
}

/// What stands in the column of keys.
fn key(spec: &KeySpec) -> String {
    let kind = match spec.kind {
        Kind::Text | Kind::Slot | Kind::Joint | Kind::Hull => String::new(),
        Kind::Mark => "`rotary`, `top`, `lower-plane`, `upper-plane` or a bench mark".into(),
        Kind::Person => "initials".into(),
        Kind::Length(..) => "length".into(),
        Kind::Mass => "mass".into(),
        Kind::Direction => "`deg`".into(),
        Kind::Temperature => "`C`".into(),
        Kind::Volume => "volume".into(),
        Kind::Word(words) => {
            let words: Vec<String> = words.iter().map(|word| format!("`{word}`")).collect();
            words.join(", ")
        }
        Kind::Moment => "time".into(),
        Kind::Day => "day".into(),
        Kind::Entry => "number of an entry".into(),
        Kind::Line => "number of a line".into(),
        Kind::Path => "path".into(),
        Kind::Digest => "SHA-256".into(),
        Kind::True => "true".into(),
        Kind::List(keys) => {
            let keys: Vec<String> = keys.iter().map(key).collect();
            format!("objects of {}", keys.join(", "))
        }
    };
    let kind = if kind.is_empty() {
        kind
    } else {
        format!(" ({kind})")
    };
    let (open, close) = if spec.needed { ("", "") } else { ("[", "]") };
    format!("{open}{}{kind}{close}", spec.name)
}

#[test]
fn the_document_prints_the_table_of_events() {
    let whole = fs::read_to_string(document()).expect("the document");
    let (before, rest) = whole.split_once(START).expect("the start of the table");
    let (printed, after) = rest.split_once(END).expect("its end");
    let mut table =
        "| event | says | its own keys; in square brackets: may be left out |\n| --- | --- | --- |\n"
            .to_owned();
    table.extend(EVENTS.iter().map(|event| {
        let keys: Vec<String> = event.keys.iter().map(key).collect();
        let by = if event.by_program {
            "; written by `kerfmark sign` alone"
        } else {
            ""
        };
        format!(
            "| `{}` | {}{by} | {} |\n",
            event.name,
            event.meaning,
            keys.join(", ")
        )
    }));
    if std::env::var("INSTA_UPDATE").is_ok_and(|it| it == "always") {
        fs::write(document(), format!("{before}{START}{table}{END}{after}")).expect("written");
        return;
    }
    assert_eq!(printed, table);
}

#[test]
fn figures_from_the_journal_name_their_entries_and_not_the_job_file() {
    let output = kerfmark(&["figures", &sample(), "--how"], "");
    let how = text(&output.stdout);
    for said in [
        "read (negative: below): 1.400 m (journal, entry 12 by NK;",
        "RT at hull position low: 20.000 m LAT (job.toml;",
        "reading 4: 14.0015 m LAT (journal, entry 25 by NK)",
    ] {
        assert!(how.contains(said), "{said}: {how}");
    }
    let place = Place::new();
    place.run_and_land();
    place.replace("job.toml", "plan_top = 22", "plan_top = 22\nstick_up = 1.4");
    let output = kerfmark(&["figures", &place.root().to_string_lossy(), "--how"], "");
    let how = text(&output.stdout);
    for said in [
        "from which the cut is measured: 26.003 m LAT (journal, entry 10 by NK;",
        "read (negative: below): 1.400 m (journal, entry 8 by NK;",
    ] {
        assert!(how.contains(said), "{said}: {how}");
    }
}
