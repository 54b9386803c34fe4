//! The program is killed while events stream in: every confirmed entry is there, and none is half there.
//! `KILLS=10000 cargo test --release --test rig kills -- --nocapture` tries more.

use std::io::{Read, Write};
use std::process::{Command, Stdio};
use std::sync::atomic::{AtomicUsize, Ordering};
use std::thread;
use std::time::Duration;

use kerfmark::journal::Journal;

use super::place::Place;

/// Kills in an ordinary run.
const KILLS: usize = 200;
/// Jobs that are killed beside each other.
const BESIDE: usize = 8;

fn kills() -> usize {
    let set = std::env::var("KILLS").ok();
    set.and_then(|it| it.parse().ok()).unwrap_or(KILLS)
}

/// A number from a fixed sequence (Marsaglia's xorshift, from memory).
fn next(state: &mut u64) -> u64 {
    *state ^= *state << 13;
    *state ^= *state >> 7;
    *state ^= *state << 17;
    *state
}

#[test]
fn confirmed_entries_outlive_the_program() {
    let counts: [AtomicUsize; 4] = Default::default();
    thread::scope(|scope| {
        for job in 0..BESIDE {
            let counts = &counts;
            scope.spawn(move || {
                let place = Place::new();
                let mut seed = 0x6B65_7266 + u64::try_from(job).expect("a number");
                let mut confirmed: Vec<String> = Vec::new();
                for round in 0..kills().div_ceil(BESIDE) {
                    let wait = Duration::from_micros(next(&mut seed) % 60_000);
                    confirmed.extend(killed(&place, round, wait));
                    counts[0].fetch_add(1, Ordering::Relaxed);
                    let bytes = std::fs::read(place.root().join("journal.jsonl"));
                    let journal = Journal::read(&bytes.unwrap_or_default());
                    assert!(journal.broken.is_none(), "{:?}", journal.broken);
                    let torn = usize::from(journal.torn.is_some());
                    counts[1].fetch_add(torn, Ordering::Relaxed);
                    let there: std::collections::BTreeSet<String> = journal
                        .entries
                        .iter()
                        .map(|it| format!("{{\"seq\":{},\"hash\":\"{}\"}}", it.seq, it.hash))
                        .collect();
                    for line in &confirmed {
                        assert!(there.contains(line), "confirmed and gone: {line}");
                    }
                    if round + 1 == kills().div_ceil(BESIDE) {
                        counts[2].fetch_add(confirmed.len(), Ordering::Relaxed);
                        counts[3].fetch_add(there.len(), Ordering::Relaxed);
                    }
                }
            });
        }
    });
    let [killed, torn, confirmed, there] = counts.map(AtomicUsize::into_inner);
    println!(
        "{killed} kills: {confirmed} entries confirmed, all there ({there} written), {torn} times a torn line"
    );
    assert!(
        confirmed * 2 >= killed,
        "half of them are killed while they enter"
    );
}

/// Streams events into the program, kills it after a while, and gives what it confirmed.
fn killed(place: &Place, round: usize, wait: Duration) -> Vec<String> {
    let mut child = Command::new(env!("CARGO_BIN_EXE_kerfmark"))
        .args(["enter", &place.root().to_string_lossy(), "--by", "NK"])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .spawn()
        .expect("the program starts");
    let mut input = child.stdin.take().expect("a pipe");
    let mut output = child.stdout.take().expect("a pipe");
    let writer = thread::spawn(move || {
        for number in 0..2_000 {
            let event = format!("{{\"event\":\"note\",\"text\":\"{round} {number}\"}}\n");
            if input.write_all(event.as_bytes()).is_err() {
                return;
            }
        }
    });
    let mut text = String::new();
    if round % 2 == 1 {
        // Killed while it enters, however slow the machine is.
        let mut byte = [0];
        while !text.ends_with('\n') && output.read(&mut byte).expect("a pipe") == 1 {
            text.push(char::from(byte[0]));
        }
    }
    thread::sleep(wait);
    child.kill().expect("SIGKILL");
    child.wait().expect("it ends");
    writer.join().expect("the pipe is closed");
    output.read_to_string(&mut text).expect("text");
    // A confirmation that was cut off is none.
    let whole = text.rfind('\n').map_or("", |end| &text[..end]);
    whole.lines().map(str::to_owned).collect()
}
