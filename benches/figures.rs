//! The figures of eight strings of two hundred joints, alone and with their job opened from its folder with a
//! journal of five thousand entries. Run with `cargo bench --bench figures`.

#![allow(clippy::expect_used, reason = "a benchmark or test may stop")]

use std::fmt::Write as _;
use std::fs;

use divan::{Bencher, black_box};
use kerfmark::figures::{compute, of_inputs};
use kerfmark::folder::open;
use kerfmark::job::{Job, parse};
use kerfmark::journal::{Draft, Moment, NO_HASH};
use kerfmark::tally::{Options, Tally, read};

fn main() {
    divan::main();
}

fn job() -> Job {
    parse(&job_text()).expect("an invented job that reads")
}

fn job_text() -> String {
    let mut text = String::from(
        "format = 1\n[job]\nunits = \"m\"\nsea_datum = \"LAT\"\n[site]\nmudline = -41.35\n\
         [[hull]]\nname = \"low\"\nrotary = 32.4\n[pipe.main]\nod = \"30 in\"\nwall = \"1.5 in\"\nconnector_mass = 310\n\
         [deck]\nelevation = 14.25\n[cut]\ntolerance = \"10 mm\"\nclearance = 0.4\nspread = \"6 mm\"\n\
         [uncertainty]\nstrap = \"1.5 mm\"\nstick_up = \"2 mm\"\nrotary = \"3 mm\"\nas_cut = \"1 mm\"\n\
         [[keep_out]]\nfrom = 2.0\nto = 6.0\n[[accessory]]\nname = \"guide\"\nelevation = 3.0\nlength = 0.4\n",
    );
    for slot in 0..8 {
        let _ = write!(
            text,
            "[[slot]]\nname = \"{slot}\"\npipe = \"main\"\ntally = \"t.csv\"\nrunning_joint = \"A-50\"\n\
             shoulder_offset = 1.25\nstick_up = 1.12\nas_cut = [14.251, 14.249, 14.252, 14.250]\n"
        );
    }
    text
}

fn tally() -> Tally {
    read(tally_text().as_bytes(), &Options::default()).expect("an invented tally that reads")
}

fn tally_text() -> String {
    let mut text = String::from("joint,serial,kind,length (m),makeup_loss (m),remarks\n");
    for joint in 1..=200 {
        let kind = if joint == 1 { "shoe" } else { "joint" };
        let length = 11_800 + (joint * 7_919) % 600;
        let _ = writeln!(
            text,
            "A-{joint},S{joint:05},{kind},{}.{:03},0.152,",
            length / 1000,
            length % 1000
        );
    }
    text
}

/// Joints run in every slot, and then stick-ups until there are five thousand entries.
fn journal_text() -> String {
    let mut text = String::new();
    let mut hash = NO_HASH.to_owned();
    let now = Moment::parse("2026-03-01T01:00:00+01:00").expect("a moment");
    for seq in 1..=5_000_u64 {
        let (slot, joint) = (seq % 8, seq / 8 + 1);
        let event = if joint <= 200 {
            format!(r#"{{"event":"joint-run","by":"NK","slot":"{slot}","joint":"A-{joint}"}}"#)
        } else {
            format!(
                r#"{{"event":"stick-up","by":"NK","slot":"{slot}","hull":"low","value":"1.12 m","state":"landed"}}"#
            )
        };
        let draft = Draft::read(&event, None).expect("an event");
        let (entry, line) = draft.into_entry(seq, &now, &hash);
        hash.clone_from(&entry.hash);
        text.push_str(&line);
        text.push('\n');
    }
    text
}

#[divan::bench]
fn a_job_with_five_thousand_entries_opened_from_its_folder(bencher: Bencher<'_, '_>) {
    let place = tempfile::tempdir().expect("a folder");
    for (name, text) in [
        ("job.toml", job_text()),
        ("t.csv", tally_text()),
        ("journal.jsonl", journal_text()),
    ] {
        fs::write(place.path().join(name), text).expect("a file");
    }
    let opened = open(place.path()).expect("a job");
    assert_eq!(opened.journal.entries.len(), 5_000);
    assert!(opened.journal.broken.is_none());
    bencher.bench_local(|| {
        let inputs = open(black_box(place.path())).expect("a job");
        black_box(of_inputs(&inputs))
    });
}

#[divan::bench]
fn eight_strings_of_two_hundred_joints(bencher: Bencher<'_, '_>) {
    let job = job();
    let tallies: Vec<Tally> = (0..8).map(|_| tally()).collect();
    bencher.bench_local(|| black_box(compute(black_box(&job), black_box(&tallies))));
}
