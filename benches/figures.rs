//! The figures of eight strings of two hundred joints. Run with `cargo bench --bench figures`.

#![allow(clippy::expect_used, reason = "a benchmark or test may stop")]

use std::fmt::Write as _;

use divan::{Bencher, black_box};
use kerfmark::figures::compute;
use kerfmark::job::{Job, parse};
use kerfmark::tally::{Options, Tally, read};

fn main() {
    divan::main();
}

fn job() -> Job {
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
    parse(&text).expect("an invented job that reads")
}

fn tally() -> Tally {
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
    read(text.as_bytes(), &Options::default()).expect("an invented tally that reads")
}

#[divan::bench]
fn eight_strings_of_two_hundred_joints(bencher: Bencher<'_, '_>) {
    let job = job();
    let tallies: Vec<Tally> = (0..8).map(|_| tally()).collect();
    bencher.bench_local(|| black_box(compute(black_box(&job), black_box(&tallies))));
}
