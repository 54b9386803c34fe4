//! A second folder, on a stick or a share: every confirmed entry and every file of the job goes there too.
//! Nothing waits for it; where it is away it catches up when it is back.

use std::fs::{self, OpenOptions};
use std::io::{self, Write as _};
use std::mem::replace;
use std::path::{Path, PathBuf};
use std::sync::mpsc::{Receiver, RecvTimeoutError, Sender, channel};
use std::sync::{Arc, Mutex, PoisonError};
use std::thread;
use std::time::Duration;

use thiserror::Error;

use super::load::{JOURNAL, locate, read_job};
use super::store::sync_folder;
use crate::journal::sha256;

/// How long until a folder that was away is tried again.
const RETRY: Duration = Duration::from_secs(5);

/// How long is waited for a copy at the end of a command.
const PATIENCE: Duration = Duration::from_secs(2);

/// Why the copy is behind.
#[derive(Debug, Error)]
pub enum CopyError {
    /// The folder of copies is not there.
    #[error("{} is away", .0.display())]
    Away(PathBuf),
    /// The copy has entries that the journal does not have.
    #[error("{} holds other entries than this journal: find out which, and move it away", .0.display())]
    Other(PathBuf),
    /// The system refused.
    #[error("{}: {error}", file.display())]
    Io {
        /// The file.
        file: PathBuf,
        /// Why.
        error: io::Error,
    },
}

/// Where the copy of a job is in a folder of copies: by the job folder's name, and a digest of where it is.
pub fn copy_of(job: &Path, copies: &Path) -> PathBuf {
    let (root, _) = locate(job);
    let root = root.canonicalize().unwrap_or(root);
    let name = root.file_name().unwrap_or_default().to_string_lossy();
    let digest = sha256(root.to_string_lossy().as_bytes());
    let digest: String = digest.chars().take(8).collect();
    copies.join(format!("{name}-{digest}"))
}

/// Brings the copy of a job up to date: entries are added to its journal, other files are replaced whole.
pub fn copy_job(job: &Path, copies: &Path) -> Result<(), CopyError> {
    // Never made: where a stick is not mounted its folder is one of this machine.
    if !copies.is_dir() {
        return Err(CopyError::Away(copies.to_owned()));
    }
    let (root, job_file) = locate(job);
    let to = copy_of(job, copies);
    let read = read_job(job);
    let mut names: Vec<PathBuf> = read
        .seen
        .files()
        .filter_map(|file| {
            // A job file that was named from within its folder has no folder before its name.
            if file == job_file {
                file.file_name().map(Path::new)
            } else {
                file.strip_prefix(&root).ok()
            }
        })
        .map(Path::to_owned)
        .collect();
    names.retain(|name| name.as_path() != Path::new(JOURNAL));
    for name in names {
        copy_file(&root.join(&name), &to.join(&name))?;
    }
    copy_journal(&root.join(JOURNAL), &to.join(JOURNAL))
}

fn copy_file(from: &Path, to: &Path) -> Result<(), CopyError> {
    let Ok(bytes) = fs::read(from) else {
        // What is not there, or just being replaced, is copied once it is.
        return Ok(());
    };
    if fs::read(to).is_ok_and(|there| there == bytes) {
        return Ok(());
    }
    let folder = to.parent().unwrap_or(to);
    let mut part = to.as_os_str().to_owned();
    part.push(".part");
    let written = (|| {
        fs::create_dir_all(folder)?;
        let mut file = OpenOptions::new()
            .write(true)
            .create(true)
            .truncate(true)
            .open(&part)?;
        file.write_all(&bytes)?;
        file.sync_all()?;
        fs::rename(&part, to)?;
        sync_folder(folder)
    })();
    written.map_err(|error| failed(to, error))
}

fn failed(file: &Path, error: io::Error) -> CopyError {
    CopyError::Io {
        file: file.to_owned(),
        error,
    }
}

/// Adds the entries that the copy does not have. A line that was cut off in the copy is completed.
fn copy_journal(from: &Path, to: &Path) -> Result<(), CopyError> {
    let Ok(bytes) = fs::read(from) else {
        return Ok(());
    };
    let whole = bytes.iter().rposition(|byte| *byte == b'\n');
    let whole = bytes
        .get(..whole.map_or(0, |at| at + 1))
        .unwrap_or_default();
    let there = fs::read(to).unwrap_or_default();
    let Some(more) = whole.strip_prefix(there.as_slice()) else {
        return Err(CopyError::Other(to.to_owned()));
    };
    if more.is_empty() {
        return Ok(());
    }
    let folder = to.parent().unwrap_or(to);
    let written = (|| {
        fs::create_dir_all(folder)?;
        let mut file = OpenOptions::new().append(true).create(true).open(to)?;
        file.write_all(more)?;
        file.sync_all()?;
        sync_folder(folder)
    })();
    written.map_err(|error| failed(to, error))
}

/// The thread that keeps a copy up to date.
#[derive(Debug)]
pub struct Copier {
    ask: Sender<()>,
    /// Why it is behind, where it is.
    behind: Arc<Mutex<Option<String>>>,
    /// Closed when the thread is done.
    done: Receiver<()>,
}

impl Copier {
    /// Starts to copy a job to a folder of copies, now and whenever it is asked. `tell` is called from its
    /// thread when the copy is behind or is so no more.
    pub fn start(job: &Path, copies: &Path, tell: impl Fn() + Send + 'static) -> io::Result<Self> {
        let (ask, asked) = channel();
        let behind = Arc::new(Mutex::new(None));
        let (job, copies) = (job.to_owned(), copies.to_owned());
        let told = Arc::clone(&behind);
        let (end, done) = channel();
        thread::Builder::new()
            .name("copies".to_owned())
            .spawn(move || {
                run(&job, &copies, (&asked, &told), &tell);
                drop(end);
            })?;
        Ok(Self { ask, behind, done })
    }

    /// Asks for a copy of what was just written.
    pub fn ask(&self) {
        // Without the thread the copy is behind, as it said.
        let _ = self.ask.send(());
    }

    /// Ends once all that was asked for is copied, or two seconds are over; says why the copy is behind, where it is.
    pub fn finish(self) -> Option<String> {
        drop(self.ask);
        if self.done.recv_timeout(PATIENCE) == Err(RecvTimeoutError::Timeout) {
            return Some("it answers too slowly".to_owned());
        }
        let behind = self.behind.lock().unwrap_or_else(PoisonError::into_inner);
        behind.clone()
    }

    /// Why the copy is behind; `None` where it is not.
    pub fn behind(&self) -> Option<String> {
        let behind = self.behind.lock().unwrap_or_else(PoisonError::into_inner);
        behind.clone()
    }
}

/// Copies at first, whenever it is asked, and again after a while where it could not.
fn run(
    job: &Path,
    copies: &Path,
    (asked, told): (&Receiver<()>, &Mutex<Option<String>>),
    tell: &dyn Fn(),
) {
    loop {
        let why = copy_job(job, copies).err().map(|error| error.to_string());
        let is_behind = why.is_some();
        let before = replace(
            &mut *told.lock().unwrap_or_else(PoisonError::into_inner),
            why,
        );
        if before.is_some() || is_behind {
            tell();
        }
        let next = if is_behind {
            asked.recv_timeout(RETRY)
        } else {
            asked.recv().map_err(|_| RecvTimeoutError::Disconnected)
        };
        match next {
            // All that was asked meanwhile is done at once.
            Ok(()) => while asked.try_recv().is_ok() {},
            Err(RecvTimeoutError::Timeout) => {}
            Err(RecvTimeoutError::Disconnected) => return,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::{CopyError, copy_job, copy_of};
    use std::fs;
    use std::path::Path;

    fn write(root: &Path, name: &str, text: &str) {
        let file = root.join(name);
        fs::create_dir_all(file.parent().expect("a folder")).expect("a folder");
        fs::write(file, text).expect("a file");
    }

    #[test]
    fn a_copy_catches_up_and_never_loses_an_entry() {
        let place = tempfile::tempdir().expect("a folder");
        let (job, stick) = (place.path().join("job"), place.path().join("stick"));
        super::super::create(&job).expect("the template");
        write(&job, "journal.jsonl", "one\n");
        // The stick is away: it is not made up.
        assert!(matches!(copy_job(&job, &stick), Err(CopyError::Away(_))));
        assert!(!stick.exists());
        fs::create_dir(&stick).expect("a folder");
        copy_job(&job, &stick).expect("a copy");
        let copy = copy_of(&job, &stick);
        let read = |name: &str| fs::read_to_string(copy.join(name)).expect("a file");
        assert_eq!(read("journal.jsonl"), "one\n");
        let job_file = fs::read_to_string(job.join("job.toml")).expect("a file");
        assert_eq!(read("job.toml"), job_file);
        // A line that is being written is copied once it is whole; one cut off in the copy is completed.
        write(&job, "journal.jsonl", "one\ntwo\nthr");
        copy_job(&job, &stick).expect("a copy");
        assert_eq!(read("journal.jsonl"), "one\ntwo\n");
        write(&copy, "journal.jsonl", "one\ntw");
        write(&job, "signed/A-final-checked-2.txt", "signed");
        copy_job(&job, &stick).expect("a copy");
        assert_eq!(read("journal.jsonl"), "one\ntwo\n");
        assert_eq!(read("signed/A-final-checked-2.txt"), "signed");
        // Other entries in the copy are never overwritten.
        write(&copy, "journal.jsonl", "one\nelse\n");
        assert!(matches!(copy_job(&job, &stick), Err(CopyError::Other(_))));
        assert_eq!(read("journal.jsonl"), "one\nelse\n");
    }
}
