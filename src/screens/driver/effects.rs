//! What the screens write.

use std::path::Path;

use crate::folder::{Book, EnterError, now, read_bytes, store, with_home};
use crate::job::name_of;
use crate::journal::{Entry, sha256};
use crate::measure::{LengthFormat, Unit};
use crate::report::said::{Gone, Said};
use crate::report::{self, words};
use crate::screens::action::ToDecide;
use crate::screens::signing::{Secret, ToSign};
use crate::screens::update::Effect;
use crate::signing::{Asked, NotSigned, SecretKey, Signatory, Statement};

/// How many names are tried for a new file.
const NAMES: usize = 1000;

/// Writes what is to be written, and says so only once it is on the disk; `None` for what writes
/// nothing.
pub(super) fn carry_out(root: &Path, effect: Effect) -> Option<Said> {
    match effect {
        Effect::Quit | Effect::Reload | Effect::Copy(_) | Effect::Mouse(_) => None,
        Effect::Enter(event) => Some(match enter(root, &event) {
            Ok(entry) => Said::Entered {
                seq: entry.seq,
                event: entry.name,
            },
            Err(error) => Said::NotEntered(error.to_string()),
        }),
        Effect::Sign(of) => Some(match sign(root, &of) {
            Ok(entry) => Said::Signed {
                file: Statement::file_name(&of.slot, of.hold, of.role, entry.seq),
                seq: entry.seq,
                on_paper: of.key.is_none(),
            },
            Err(why) => Said::NotSigned(why),
        }),
        Effect::Decide(all) => Some(decide(root, &all)),
        Effect::Adopt {
            slot,
            file,
            sha256,
            by,
        } => Some(match adopt(root, &slot, (&file, &sha256), &by) {
            Ok(entry) => Said::Entered {
                seq: entry.seq,
                event: entry.name,
            },
            Err(why) => Said::NotEntered(why),
        }),
        Effect::Write {
            folder,
            stem,
            ending,
            bytes,
            open,
        } => {
            let mut names = (1..NAMES).map(|count| match count {
                1 => folder.join(format!("{stem}.{ending}")),
                count => folder.join(format!("{stem}-{count}.{ending}")),
            });
            let Some(file) = names.find(|file| root.join(file).symlink_metadata().is_err()) else {
                return Some(Said::NamesTaken { stem, tried: NAMES });
            };
            Some(match store::write_new(root, &file, &bytes) {
                Ok(()) => Said::RecordWritten {
                    file,
                    open,
                    sha256: sha256(&bytes),
                },
                Err(error) => Said::RecordNotWritten {
                    file,
                    error: error.to_string(),
                },
            })
        }
    }
}

/// Enters an event: the job is read again for it, so that it is checked against what is there now.
fn enter(root: &Path, event: &str) -> Result<Entry, EnterError> {
    Book::open(root)?.enter_text(event, None, now)
}

/// Enters decisions one after the other, each only if what it is about is still what was seen.
fn decide(root: &Path, all: &[ToDecide]) -> Said {
    let Some(first) = all.first() else {
        return Said::NoMajority;
    };
    let in_part = |count: usize, why: String| Said::DecidedInPart {
        count,
        left: all.len() - count,
        why,
    };
    let mut book = match Book::open(root) {
        Ok(book) => book,
        Err(error) => return in_part(0, error.to_string()),
    };
    let mut last = 0;
    for (count, it) in all.iter().enumerate() {
        let mut changed = None;
        let entered = book.enter_if(&it.event, now, |inputs| {
            changed = it.thing.changed_in(inputs);
            changed.is_none()
        });
        match (entered, changed) {
            (Ok(Some(entry)), _) => last = entry.seq,
            (Err(error), _) => return in_part(count, error.to_string()),
            (Ok(None), changed) => {
                let gone = changed.unwrap_or(Gone::Figures);
                let said = Said::LookAgain(it.thing.name(), gone);
                if count == 0 {
                    return said;
                }
                let metres = LengthFormat::new(Unit::Metre);
                return in_part(count, words::said(&said, metres));
            }
        }
    }
    Said::Decided {
        seq: last,
        count: all.len(),
        first: first.thing.name(),
    }
}

/// Adopts a file as it was written: the journal refuses one that has other bytes by now.
fn adopt(
    root: &Path,
    slot: &str,
    (file, sha256): (&Path, &str),
    by: &str,
) -> Result<Entry, String> {
    let event = serde_json::json!({
        "event": "tally-of-record",
        "by": by,
        "slot": slot,
        "file": name_of(file),
        "sha256": sha256,
    });
    enter(root, &event.to_string()).map_err(|error| error.to_string())
}

/// Signs the statement that was shown; else why not, in words.
fn sign(root: &Path, of: &ToSign) -> Result<Entry, String> {
    let mut book = Book::open(root).map_err(|error| error.to_string())?;
    let slots = book.inputs().job.slots.iter();
    let slot = slots
        .map(|slot| &slot.name)
        .position(|name| *name == of.slot);
    let asked = Asked {
        slot: slot.ok_or(words::CHANGED)?,
        hold: of.hold,
        role: of.role,
    };
    let key = match &of.key {
        Some((file, secret)) => {
            let key = read_key(file, secret).map_err(|why| format!("{why} ({file})"))?;
            let signers = book.inputs().signers.as_ref().map_or("", |(text, _)| text);
            match key.name(signers) {
                Some(name) if name == of.person => Some(key),
                Some(name) => return Err(words::key_of_another(&name, &of.person)),
                None => return Err(words::unknown_key(&key.fingerprint())),
            }
        }
        None => None,
    };
    let signatory = Signatory {
        name: of.person.clone(),
        key,
    };
    let made = book.sign(now, |inputs, seq, now| {
        report::sign(inputs, seq, asked, (&signatory, Some(&of.shown)), now)
    });
    match made.map_err(|error| error.to_string())? {
        Ok(entry) => Ok(entry),
        Err(NotSigned::Missing(lacks)) => {
            let lacks: Vec<String> = lacks.iter().map(words::missing).collect();
            Err(lacks.join("; "))
        }
        Err(NotSigned::Key(error)) => Err(error.to_string()),
        Err(NotSigned::Entry(problems)) => Err(EnterError::Event(problems).to_string()),
        Err(NotSigned::Changed) => Err(words::CHANGED.to_owned()),
    }
}

/// Reads a private key; `~/` is the person's own folder.
fn read_key(file: &str, secret: &Secret) -> Result<SecretKey, String> {
    let path = with_home(Path::new(file));
    let bytes = read_bytes(&path).map_err(|_| words::NO_KEY_FILE.to_owned())?;
    let passphrase = (!secret.text().is_empty()).then(|| secret.text().to_owned());
    SecretKey::read(&String::from_utf8_lossy(&bytes), || passphrase)
        .map_err(|error| error.to_string())
}
