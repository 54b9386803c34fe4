//! What the screens write.

use std::path::Path;

use crate::folder::{Book, EnterError, now, store};
use crate::journal::Entry;
use crate::reconcile::write_decision;
use crate::report::said::Said;
use crate::screens::update::Effect;

/// How many names are tried for a new file.
const NAMES: usize = 1000;

/// Writes what is to be written, and says so only once it is on the disk; `None` for what writes
/// nothing.
pub(super) fn carry_out(root: &Path, effect: Effect) -> Option<Said> {
    match effect {
        Effect::Quit | Effect::Reload => None,
        Effect::Enter(event) => Some(match enter(root, &event) {
            Ok(entry) => Said::Entered {
                seq: entry.seq,
                event: entry.name,
            },
            Err(error) => Said::NotEntered(error.to_string()),
        }),
        Effect::Decide { file, decision, .. } => {
            let written = store::append(root, &file, |is_new| write_decision(&decision, is_new));
            Some(match written {
                Ok(torn) => Said::Decided {
                    file,
                    topic: decision.topic,
                    joint: decision.joint,
                    torn,
                },
                Err(error) => Said::DecisionNotWritten {
                    file,
                    error: error.to_string(),
                },
            })
        }
        Effect::Write {
            folder,
            stem,
            text,
            open,
            ..
        } => {
            let mut names = (1..NAMES).map(|count| match count {
                1 => folder.join(format!("{stem}.csv")),
                count => folder.join(format!("{stem}-{count}.csv")),
            });
            let Some(file) = names.find(|file| root.join(file).symlink_metadata().is_err()) else {
                return Some(Said::NamesTaken { stem, tried: NAMES });
            };
            Some(match store::write_new(root, &file, text.as_bytes()) {
                Ok(()) => Said::RecordWritten { file, open },
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
