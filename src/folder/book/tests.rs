//! What is left of an entry when the disk fails at any moment.

use std::fs::{self, File};
use std::io::{self, Write as _};
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::{Path, PathBuf};

use super::Book;
use crate::folder::store::Disk;
use crate::folder::{EnterError, create};
use crate::journal::{Draft, Journal, Moment};

struct Place {
    _place: tempfile::TempDir,
    root: PathBuf,
}

impl Place {
    fn new() -> Self {
        let place = tempfile::tempdir().expect("a folder");
        let root = place.path().join("job");
        create(&root).expect("a job");
        Self {
            _place: place,
            root,
        }
    }

    fn bytes(&self) -> Vec<u8> {
        fs::read(self.root.join("journal.jsonl")).unwrap_or_default()
    }

    fn texts(&self) -> Vec<String> {
        let journal = Journal::read(&self.bytes());
        assert!(journal.broken.is_none(), "{:?}", journal.broken);
        journal
            .entries
            .iter()
            .map(|entry| entry.own.clone())
            .collect()
    }
}

fn now() -> Moment {
    Moment::parse("2026-03-01T12:00:00+01:00").expect("a moment")
}

fn note(text: &str) -> Draft {
    let json = format!("{{\"event\":\"note\",\"by\":\"NK\",\"text\":\"{text}\"}}");
    Draft::read(&json, None).expect("a note")
}

fn own(text: &str) -> String {
    format!("\"text\":\"{text}\"")
}

/// A disk that fails in one way.
#[derive(Clone, Copy, Debug)]
enum Faulty {
    /// It takes so many bytes and then has no room.
    Full(usize),
    /// It takes all and cannot make it last.
    NoSync,
    /// It takes so many bytes and the power fails.
    PowerInWrite(usize),
    /// It takes all and the power fails before it lasts: nothing of it is there afterwards.
    PowerBeforeSync,
}

impl Disk for Faulty {
    fn write(&mut self, file: &mut File, bytes: &[u8]) -> io::Result<()> {
        match *self {
            Self::Full(most) => {
                file.write_all(&bytes[..most.min(bytes.len())])?;
                Err(io::Error::from(io::ErrorKind::StorageFull))
            }
            Self::PowerInWrite(most) => {
                file.write_all(&bytes[..most.min(bytes.len())])?;
                panic!("the power fails");
            }
            Self::NoSync | Self::PowerBeforeSync => file.write_all(bytes),
        }
    }

    fn sync(&mut self, file: &File) -> io::Result<()> {
        match self {
            Self::PowerBeforeSync => {
                // What was not flushed is lost: the file is as long as before.
                let whole = file.metadata()?.len();
                let lost = u64::try_from(LOST).expect("a length");
                file.set_len(whole - lost.min(whole))?;
                panic!("the power fails");
            }
            _ => Err(io::Error::other("the disk does not answer")),
        }
    }
}

/// So many bytes are lost with the power: less than a line.
const LOST: usize = 40;

fn enter(book: &mut Book, text: &str, disk: Faulty) -> Option<EnterError> {
    let tried = catch_unwind(AssertUnwindSafe(|| book.enter_with(note(text), now, disk)));
    match tried {
        Ok(entered) => Some(entered.expect_err("nothing is confirmed")),
        Err(_) => None,
    }
}

#[test]
fn whatever_fails_confirmed_entries_are_there_and_no_half_is() {
    let line = note("second")
        .into_entry(2, &now(), crate::journal::NO_HASH)
        .1
        .len()
        + 1;
    let mut faults = vec![Faulty::NoSync, Faulty::PowerBeforeSync];
    faults.extend((0..=line).map(Faulty::Full));
    faults.extend((0..=line).map(Faulty::PowerInWrite));
    let mut tried = 0;
    for fault in faults {
        let place = Place::new();
        let mut book = Book::open(&place.root).expect("a job");
        book.enter(note("first"), now).expect("an entry");
        let before = place.bytes();
        if let Some(error) = enter(&mut book, "second", fault) {
            // Told, and taken back: the file holds what it held.
            assert!(
                error.to_string().contains("taken back"),
                "{fault:?}: {error}"
            );
            assert_eq!(place.bytes(), before, "{fault:?}");
            // The same window goes on.
            book.enter(note("third"), now).expect("an entry");
        }
        drop(book);
        // The program starts again.
        let mut book = Book::open(&place.root).expect("a job");
        book.enter(note("fourth"), now).expect("an entry");
        let texts = place.texts();
        assert_eq!(texts.first(), Some(&own("first")), "{fault:?}");
        assert_eq!(texts.last(), Some(&own("fourth")), "{fault:?}");
        for text in &texts {
            let known = ["first", "second", "third", "fourth"].map(own);
            assert!(known.contains(text), "{fault:?}: {text}");
        }
        tried += 1;
    }
    println!("{tried} faults, no confirmed entry lost, none half there");
}

#[test]
fn a_piece_that_a_power_failure_left_is_kept_beside() {
    let place = Place::new();
    let mut book = Book::open(&place.root).expect("a job");
    book.enter(note("first"), now).expect("an entry");
    assert!(enter(&mut book, "second", Faulty::PowerInWrite(20)).is_none());
    let torn = Book::open(&place.root)
        .expect("a job")
        .inputs()
        .journal
        .torn;
    assert_eq!(torn, Some(2));
    let mut book = Book::open(&place.root).expect("a job");
    book.enter(note("third"), now).expect("an entry");
    let beside = fs::read(place.root.join("journal.torn"));
    assert_eq!(beside.expect("the piece").len(), 21);
    assert_eq!(place.texts(), [own("first"), own("third")]);
}

#[test]
fn nothing_is_added_to_a_journal_that_was_changed() {
    let place = Place::new();
    let mut book = Book::open(&place.root).expect("a job");
    for text in ["first", "second"] {
        book.enter(note(text), now).expect("an entry");
    }
    let path = place.root.join("journal.jsonl");
    let changed = fs::read_to_string(&path)
        .expect("text")
        .replace("first", "First");
    fs::write(&path, &changed).expect("a file");
    let mut book = Book::open(&place.root).expect("a job");
    let error = book.enter(note("third"), now).expect_err("refused");
    assert_eq!(
        error.to_string(),
        "journal.jsonl, line 1: it was changed since it was written: its hash is not that of its text; nothing is added to it until that is cleared up"
    );
    assert_eq!(fs::read_to_string(&path).expect("text"), changed);
}

#[test]
fn windows_that_enter_in_turn_follow_each_other() {
    let place = Place::new();
    let mut one = Book::open(&place.root).expect("a job");
    let mut other = Book::open(&place.root).expect("a job");
    for round in 0..3 {
        one.enter(note(&format!("one {round}")), now)
            .expect("an entry");
        other
            .enter(note(&format!("other {round}")), now)
            .expect("an entry");
    }
    assert_eq!(other.inputs().journal.entries.len(), 6);
    assert_eq!(place.texts().len(), 6);
    // Entries that are gone are seen: the whole file is read again.
    fs::write(place.root.join("journal.jsonl"), "").expect("a file");
    one.enter(note("anew"), now).expect("an entry");
    assert_eq!(place.texts(), [own("anew")]);
    assert!(Path::new(&place.root).join("journal.lock").exists());
}
