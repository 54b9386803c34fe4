//! Aligning and bridging long lists with few edits, and the suspects of a string of 200 joints. Run with
//! `cargo bench --bench reconcile`.

#![allow(clippy::expect_used, reason = "a benchmark or test may stop")]

use std::fmt::Write as _;

use divan::Bencher;
use kerfmark::measure::Length;
use kerfmark::reconcile::many::{NamedList, side_by_side};
use kerfmark::reconcile::{Measured, bridge, suspects};
use kerfmark::tally::{Options, Pins, Tally, read};

fn main() {
    divan::main();
}

/// One joint of an invented list: its serial, and its length in millimetres.
type Row = (usize, usize);

fn rows(count: usize) -> Vec<Row> {
    let scatter = |joint: usize| 11_800 + (joint * 7_919 + joint * joint % 1_009) % 601;
    (1..=count).map(|joint| (joint, scatter(joint))).collect()
}

/// So many edits, spread evenly: joints left out, put in, moved, and of another length.
fn edited(rows: &[Row], edits: usize) -> Vec<Row> {
    let mut out = Vec::with_capacity(rows.len() + edits);
    let every = rows.len() / edits.max(1);
    let mut carried = None;
    for (at, row) in rows.iter().enumerate() {
        match (at % every == every / 2).then_some(at / every % 4) {
            Some(0) => {}
            Some(1) => out.extend([*row, (10_000_000 + at, 12_345)]),
            // Out here, and in again some joints further on.
            Some(2) => carried = Some((at + every / 3 + 1, *row)),
            Some(_) => out.push((row.0, row.1 + 7)),
            None => out.push(*row),
        }
        if let Some((until, row)) = carried
            && at >= until
        {
            out.push(row);
            carried = None;
        }
    }
    out
}

fn tally(rows: &[Row], serials: bool) -> Tally {
    let mut text = "joint,serial,length (m),makeup_loss (m)\n".to_owned();
    for (at, (serial, mm)) in rows.iter().enumerate() {
        let serial = if serials {
            format!("S{serial}")
        } else {
            String::new()
        };
        let _ = writeln!(
            text,
            "{},{serial},{}.{:03},0.152",
            at + 1,
            mm / 1000,
            mm % 1000
        );
    }
    read(text.as_bytes(), &Options::default()).expect("an invented list that reads")
}

/// One edit in a hundred joints.
#[divan::bench(args = [1_000, 10_000, 100_000, 1_000_000], sample_count = 5, sample_size = 1)]
fn bridge_by_serial(bencher: Bencher<'_, '_>, joints: usize) {
    let a = rows(joints);
    let b = tally(&edited(&a, joints / 100), true);
    let a = tally(&a, true);
    bencher.bench_local(|| bridge(&a, &b, Pins::default()));
}

/// Without serials and renumbered: the lengths tell.
#[divan::bench(args = [1_000, 10_000, 100_000], sample_count = 5, sample_size = 1)]
fn bridge_by_length(bencher: Bencher<'_, '_>, joints: usize) {
    let a = rows(joints);
    let b = tally(&edited(&a, joints / 100), false);
    let a = tally(&a, false);
    bencher.bench_local(|| bridge(&a, &b, Pins::default()));
}

fn off(pairs: bool) -> Measured {
    Measured {
        off: Length::from_mm(-301),
        within: Some(Length::from_mm(5)),
        pairs,
        ..Measured::default()
    }
}

#[divan::bench]
fn singles_of_200_joints(bencher: Bencher<'_, '_>) {
    let list = tally(&rows(200), true);
    // Where a single one fits no pair is looked for.
    let measured = Measured {
        off: Length::from_mm(-100),
        ..off(false)
    };
    bencher.bench_local(|| suspects(&list, Pins::default(), None, &measured));
}

#[divan::bench(args = [200, 1_000, 10_000], sample_count = 10)]
fn pairs(bencher: Bencher<'_, '_>, joints: usize) {
    let list = tally(&rows(joints), true);
    bencher.bench_local(|| suspects(&list, Pins::default(), None, &off(true)));
}

/// Five lists of one string, each with its own edits.
#[divan::bench(args = [1_000, 10_000, 100_000], max_time = 20)]
fn five_lists_side_by_side(bencher: Bencher<'_, '_>, joints: usize) {
    let rows = rows(joints);
    let lists: Vec<Tally> = (0..5_usize)
        .map(|list| tally(&edited(&rows, 20 + 10 * list), true))
        .collect();
    let names = ["record", "yard", "strap", "running", "as-run"];
    let columns: Vec<NamedList<'_>> = names
        .into_iter()
        .zip(&lists)
        .map(|(name, tally)| NamedList {
            name,
            from: None,
            tally,
        })
        .collect();
    bencher.bench_local(|| side_by_side(&columns, &[], Pins::default()));
}
