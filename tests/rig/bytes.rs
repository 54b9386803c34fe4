//! Bytes of a signed job are changed, one at a time: `verify` names what, or proves that no figure moved.
//! Every byte: `EVERY_BYTE=1 cargo test --release --test rig bytes -- --nocapture`. In an ordinary run every
//! 31st, which with a prime comes to each kind of place.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Mutex;
use std::thread;

use kerfmark::folder::open;
use kerfmark::journal::Inputs;
use kerfmark::signing::{SignatureState, Verified, verify};

use super::place::{CUT, Place};

/// What became of a change.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Seen {
    /// The job cannot be read, and the error names the file.
    Unreadable,
    /// The journal is not whole.
    Journal,
    /// A signature lapsed, and the figures are named.
    Lapsed,
    /// A signature counts for nothing, and the reason is named.
    Invalid,
    /// Every figure that was signed is the same; the changed file is named.
    FileNamed,
    /// Every signature stands by its key, over the same bytes of its statement.
    Stands,
}

fn seen(root: &Path, file: &str) -> Seen {
    let inputs: Inputs = match open(root) {
        Ok(inputs) => inputs,
        Err(error) => {
            let name = file.rsplit('/').next().expect("a name");
            assert!(error.to_string().contains(name), "{file}: {error}");
            return Seen::Unreadable;
        }
    };
    if inputs.journal.broken.is_some() || inputs.journal.torn.is_some() {
        return Seen::Journal;
    }
    let verified: Vec<Verified> = verify(&inputs);
    let mut worst = Seen::Stands;
    for of in &verified {
        let state = match of.state {
            SignatureState::Lapsed => {
                assert!(!of.moved.is_empty());
                Seen::Lapsed
            }
            SignatureState::Invalid(_) => Seen::Invalid,
            SignatureState::StandsTextChanged => {
                assert!(of.changed.iter().all(|it| it == file), "{file}: {of:?}");
                Seen::FileNamed
            }
            SignatureState::Stands => Seen::Stands,
        };
        worst = worst.min(state);
    }
    worst
}

fn copy(from: &Path, to: &Path) {
    for entry in fs::read_dir(from).expect("a folder").flatten() {
        let target = to.join(entry.file_name());
        if entry.path().is_dir() {
            fs::create_dir_all(&target).expect("a folder");
            copy(&entry.path(), &target);
        } else {
            fs::copy(entry.path(), target).expect("a file");
        }
    }
}

#[test]
fn every_byte_that_is_changed_is_named_or_moves_no_figure() {
    let place = Place::new();
    place.pass("tally-frozen");
    place.run_and_land();
    place.pass("landed");
    place.pass("cut-release");
    place.pass("off-cut-lift");
    place.enter(&CUT);
    place.pass("final");
    assert_eq!(seen(place.root(), ""), Seen::Stands);
    let files = [
        "job.toml",
        "tallies/a.csv",
        "journal.jsonl",
        "signers",
        "signed/A-cut-release-checked-17.txt",
        "signed/A-cut-release-checked-17.txt.sig",
    ];
    let step = std::env::var_os("EVERY_BYTE").map_or(31, |_| 1);
    let all: Vec<(&str, usize)> = files
        .iter()
        .flat_map(|file| {
            let length = fs::read(place.root().join(file)).expect(file).len();
            (0..length).step_by(step).map(move |at| (*file, at))
        })
        .collect();
    let threads = thread::available_parallelism()
        .map_or(4, usize::from)
        .max(2);
    let counts: Mutex<BTreeMap<(&str, Seen), usize>> = Mutex::default();
    thread::scope(|scope| {
        for part in all.chunks(all.len().div_ceil(threads)) {
            let (counts, root) = (&counts, place.root());
            scope.spawn(move || {
                let own = tempfile::tempdir().expect("a folder");
                copy(root, own.path());
                for (file, at) in part {
                    let path: PathBuf = own.path().join(file);
                    let whole = fs::read(&path).expect("a file");
                    let mut changed = whole.clone();
                    // A digit becomes the next, a letter another, a line end a letter.
                    changed[*at] ^= 1;
                    fs::write(&path, &changed).expect("a file");
                    let seen = seen(own.path(), file);
                    let what = format!("byte {at} of {file}");
                    match *file {
                        "journal.jsonl" => assert_eq!(seen, Seen::Journal, "{what}"),
                        it if Path::new(it).extension().is_some_and(|it| it == "txt") => {
                            assert_eq!(seen, Seen::Invalid, "{what}");
                        }
                        "job.toml" | "tallies/a.csv" => {
                            assert_ne!(
                                seen,
                                Seen::Stands,
                                "{what}: no figure and no file is named"
                            );
                            assert_ne!(seen, Seen::Journal, "{what}");
                        }
                        // A comment, or the form in which a signature is wrapped.
                        _ => {}
                    }
                    *counts
                        .lock()
                        .expect("counts")
                        .entry((file, seen))
                        .or_default() += 1;
                    fs::write(&path, &whole).expect("a file");
                }
            });
        }
    });
    for ((file, seen), count) in counts.into_inner().expect("counts") {
        println!("{file}: {count} bytes, {seen:?}");
    }
    println!("{} bytes in all", all.len());
}
