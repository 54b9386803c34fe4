//! Reading and summing tallies, from a thousand joints to a million, beside the csv crate's own pass
//! over the same bytes. Run with `cargo bench --bench joints`.

#![allow(clippy::expect_used, reason = "a benchmark or test may stop")]

use std::fmt::Write as _;

use divan::counter::{BytesCount, ItemsCount};
use divan::{Bencher, black_box};
use kerfmark::tally::{Options, Pins, PipeString, read};

const SIZES: [usize; 4] = [1_000, 10_000, 100_000, 1_000_000];

fn main() {
    divan::main();
}

/// An invented tally of the plain form.
fn tally(joints: usize) -> String {
    let mut text = String::with_capacity(joints * 40);
    text.push_str("joint,serial,kind,length (m),makeup_loss (m),remarks\n");
    for joint in 1..=joints {
        let kind = if joint == 1 { "shoe" } else { "joint" };
        let length = 11_800 + (joint * 7_919) % 600;
        let _ = writeln!(
            text,
            "A-{joint},S{:07},{kind},{}.{:03},0.15{},",
            joint * 3,
            length / 1000,
            length % 1000,
            joint % 3
        );
    }
    text
}

#[divan::bench(args = SIZES, sample_count = 10, sample_size = 1)]
fn read_and_sum(bencher: Bencher<'_, '_>, joints: usize) {
    let text = tally(joints);
    bencher
        .counter(ItemsCount::new(joints))
        .counter(BytesCount::new(text.len()))
        .bench_local(|| {
            let tally = read(black_box(text.as_bytes()), &Options::default())
                .expect("an invented tally that reads");
            let string = PipeString::make_up(&tally, Pins::default());
            // Handed back so that freeing them is not measured.
            (tally, string)
        });
}

#[divan::bench(args = SIZES, sample_count = 10, sample_size = 1)]
fn the_csv_crate_alone(bencher: Bencher<'_, '_>, joints: usize) {
    let text = tally(joints);
    bencher
        .counter(ItemsCount::new(joints))
        .counter(BytesCount::new(text.len()))
        .bench_local(|| {
            let mut reader = csv::ReaderBuilder::new().from_reader(black_box(text.as_bytes()));
            let mut record = csv::ByteRecord::new();
            let mut cells = 0;
            while reader
                .read_byte_record(&mut record)
                .expect("text in memory")
            {
                cells += record.len();
            }
            black_box(cells)
        });
}
