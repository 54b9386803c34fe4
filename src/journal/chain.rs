//! The journal as bytes: its lines, each of which names the one before by its hash.

use super::digest::sha256;
use super::entry::{Entry, MAX_LINE};
use super::error::{Break, BrokenBy, EventProblem, Wrong};
use super::object::object;
use super::time::Moment;

/// What stands for the hash of the line before the first.
pub const NO_HASH: &str = "0000000000000000000000000000000000000000000000000000000000000000";

/// The keys with which every line begins, and those with which it ends.
const FIRST: [&str; 5] = ["seq", "at", "entered", "by", "event"];
const LAST: [&str; 2] = ["prev", "hash"];

/// A journal as it was read.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Journal {
    /// Its entries, up to the first line that does not follow.
    pub entries: Vec<Entry>,
    /// A last line without its line end, by its number.
    pub torn: Option<usize>,
    /// The first line that does not follow from those before it.
    pub broken: Option<Break>,
    /// Whether there is such a file at all.
    pub is_there: bool,
}

impl Journal {
    /// Reads the bytes of a journal.
    pub fn read(bytes: &[u8]) -> Self {
        let mut journal = Self {
            is_there: true,
            ..Self::default()
        };
        journal.extend(bytes);
        journal
    }

    /// Reads more bytes, which follow those that were read.
    pub fn extend(&mut self, bytes: &[u8]) {
        self.torn = None;
        let mut lines = bytes.split_inclusive(|byte| *byte == b'\n');
        while self.broken.is_none() {
            let Some(line) = lines.next() else { break };
            let number = self.entries.len() + 1;
            let Some(line) = line.strip_suffix(b"\n") else {
                self.torn = Some(number);
                break;
            };
            match self.follow(line) {
                Ok(entry) => self.entries.push(entry),
                Err(why) => self.broken = Some(Break { line: number, why }),
            }
        }
    }

    /// The hash of the last entry; that before the first where there is none.
    pub fn head(&self) -> &str {
        self.entries.last().map_or(NO_HASH, |entry| &entry.hash)
    }

    /// The number of the next entry.
    pub fn next_seq(&self) -> u64 {
        self.entries.last().map_or(1, |entry| entry.seq + 1)
    }

    /// The entry that a line is, if it follows from the last one.
    fn follow(&self, line: &[u8]) -> Result<Entry, BrokenBy> {
        let problem = |what| BrokenBy::NotALine(Box::new(EventProblem { column: 1, what }));
        if line.len() > MAX_LINE {
            return Err(problem(Wrong::TooLong(line.len())));
        }
        let text = std::str::from_utf8(line).map_err(|_| problem(Wrong::NotUtf8))?;
        let (seq, entered, prev, hash) = ends(text).ok_or(BrokenBy::Keys)?;
        let body = text.len() - ",\"hash\":\"\"}".len() - hash.len();
        if sha256(line.get(..body).unwrap_or_default()) != hash {
            return Err(BrokenBy::Changed);
        }
        if prev != self.head() {
            return Err(BrokenBy::Previous);
        }
        if seq != self.next_seq() {
            return Err(BrokenBy::Number {
                found: seq,
                expected: self.next_seq(),
            });
        }
        Entry::of_line(text, (seq, entered, hash)).map_err(|it| BrokenBy::NotALine(Box::new(it)))
    }
}

/// The number, the moment of writing, the hash before and the own hash of a line that begins and ends
/// as every line does.
fn ends(text: &str) -> Option<(u64, Moment, String, String)> {
    let fields = object(text, 0).ok()?;
    let keys: Vec<&str> = fields.iter().map(|field| field.key.as_str()).collect();
    if !(keys.starts_with(&FIRST) && keys.ends_with(&LAST)) {
        return None;
    }
    let [seq, _, entered, ..] = fields.as_slice() else {
        return None;
    };
    let [.., prev, hash] = fields.as_slice() else {
        return None;
    };
    let digest = |text: &str| -> Option<String> {
        let digest: String = serde_json::from_str(text).ok()?;
        let is_digest = digest.len() == 64
            && digest
                .bytes()
                .all(|b| b.is_ascii_digit() || (b'a'..=b'f').contains(&b));
        is_digest.then_some(digest)
    };
    let (prev, hash) = (digest(prev.text)?, digest(hash.text)?);
    // No space or other key between the hash and the end: its bytes are all but the last.
    text.ends_with(&format!(",\"hash\":\"{hash}\"}}"))
        .then_some(())?;
    let entered: String = serde_json::from_str(entered.text).ok()?;
    Some((seq.text.parse().ok()?, Moment::parse(&entered)?, prev, hash))
}
