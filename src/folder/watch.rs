//! Noticing that files of a job changed, and reading it again beside the program's main thread.

use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::{Path, PathBuf};
use std::sync::mpsc::{Receiver, RecvTimeoutError, Sender, channel};
use std::time::{Duration, Instant, SystemTime};
use std::{fs, io, thread};

use super::load::{JobReading, read_job};
use crate::figures::{self, Figures};
use crate::journal::{Inputs, sha256};
use crate::signing;

/// How often to look at the files.
const BETWEEN: Duration = Duration::from_millis(500);
/// How often to read again what could not be read: the reason may be none that shows in the files.
const RETRY: Duration = Duration::from_secs(2);
/// A file that changed so shortly before it was read may change again without a change of its time.
const YOUNG: Duration = Duration::from_secs(2);

/// A job with its figures.
#[derive(Clone, Debug)]
pub struct Loaded {
    /// The job with its tallies.
    pub inputs: Inputs,
    /// What is derived from it.
    pub figures: Figures,
}

impl From<Inputs> for Loaded {
    fn from(inputs: Inputs) -> Self {
        let mut figures = figures::of_inputs(&inputs);
        signing::note_signatures(&inputs, &mut figures);
        Self { inputs, figures }
    }
}

/// What a reading came to.
#[derive(Clone, Debug)]
pub struct Outcome {
    /// The job, or why it cannot be read.
    pub loaded: Result<Loaded, String>,
    /// How many questions were answered by it, of all that were asked.
    pub answered: usize,
}

/// Watches the files that a job names, whether they are there or not, from a thread of its own. It ends
/// when this is dropped.
#[derive(Debug)]
pub struct Watch {
    ask: Sender<()>,
    ready: Receiver<Outcome>,
    asked: usize,
    answered: usize,
}

impl Watch {
    /// Watches the job at a path, which was read just now.
    pub fn start(path: &Path, inputs: &Inputs) -> io::Result<Self> {
        let (ask, asked) = channel();
        let (send, ready) = channel();
        let mut reader = Reader::new(path, inputs);
        thread::Builder::new()
            .name("watch".to_owned())
            .spawn(move || reader.run(&asked, &send))?;
        Ok(Self {
            ask,
            ready,
            asked: 0,
            answered: 0,
        })
    }

    /// Asks for a reading that begins from now on, and gives the number of the question. It is answered
    /// also where nothing changed.
    pub fn ask(&mut self) -> usize {
        self.asked += 1;
        // Without a thread there is no answer, and `take` says so.
        let _ = self.ask.send(());
        self.asked
    }

    /// Whether an answer is still to come.
    pub fn is_asked(&self) -> bool {
        self.answered < self.asked
    }

    /// A reading that is done, without waiting for one.
    pub fn take(&mut self) -> Option<Outcome> {
        self.wait(Duration::ZERO)
    }

    /// A reading that is done, or is so before the time is over.
    pub fn wait(&mut self, time: Duration) -> Option<Outcome> {
        match self.ready.recv_timeout(time) {
            Ok(outcome) => {
                self.answered = outcome.answered;
                Some(outcome)
            }
            Err(RecvTimeoutError::Timeout) => None,
            Err(RecvTimeoutError::Disconnected) => {
                let is_asked = self.is_asked();
                self.answered = self.asked;
                is_asked.then(|| Outcome {
                    loaded: Err("the files are no longer read: start the program again".to_owned()),
                    answered: self.asked,
                })
            }
        }
    }
}

/// What shows that a file changed: its time and size, and where the system has them its number and the
/// time of its last change of any kind. Nothing where there is no such file.
type Stamp = Option<(Option<SystemTime>, u64, (u64, i64, i64))>;

fn stamp(path: &Path) -> Stamp {
    let about = fs::metadata(path).ok()?;
    #[cfg(unix)]
    let more = {
        use std::os::unix::fs::MetadataExt as _;
        (about.ino(), about.ctime(), about.ctime_nsec())
    };
    #[cfg(not(unix))]
    let more = (0, 0, 0);
    Some((about.modified().ok(), about.len(), more))
}

/// The thread's own: what it watches, and what it last told.
struct Reader {
    path: PathBuf,
    files: Vec<PathBuf>,
    seen: Vec<Stamp>,
    /// Whether a file may have changed without another stamp.
    is_unsure: bool,
    tried: Instant,
    /// What was last told: what the inputs hold, or why they could not be read.
    told: Result<Vec<String>, String>,
    answered: usize,
}

impl Reader {
    fn new(path: &Path, inputs: &Inputs) -> Self {
        Self {
            path: path.to_owned(),
            files: Vec::new(),
            seen: Vec::new(),
            is_unsure: true,
            tried: Instant::now(),
            told: Ok(content(inputs)),
            answered: 0,
        }
    }

    fn run(&mut self, asked: &Receiver<()>, send: &Sender<Outcome>) {
        loop {
            let mut questions = match asked.recv_timeout(BETWEEN) {
                Ok(()) => 1,
                Err(RecvTimeoutError::Timeout) => 0,
                Err(RecvTimeoutError::Disconnected) => return,
            };
            questions += asked.try_iter().count();
            let is_due = questions > 0
                || self.is_unsure
                || (self.told.is_err() && self.tried.elapsed() >= RETRY)
                || self.stamps() != self.seen;
            if !is_due {
                continue;
            }
            self.answered += questions;
            let loaded = self.read();
            if let Some(loaded) = self.news(loaded, questions > 0) {
                let answered = self.answered;
                if send.send(Outcome { loaded, answered }).is_err() {
                    return;
                }
            }
        }
    }

    fn stamps(&self) -> Vec<Stamp> {
        self.files.iter().map(|file| stamp(file)).collect()
    }

    /// Reads the job, and watches what it names by now.
    fn read(&mut self) -> Result<Inputs, String> {
        self.tried = Instant::now();
        let now = SystemTime::now();
        // From before the reading, so that a change during it is not missed.
        let before = self.stamps();
        let read = catch_unwind(AssertUnwindSafe(|| read_job(&self.path)));
        let Ok(JobReading { files, inputs }) = read else {
            self.seen = before;
            self.is_unsure = false;
            return Err("reading the files failed by a fault in this program".to_owned());
        };
        let is_young = |stamp: &Stamp| {
            let modified = stamp.and_then(|(modified, _, _)| modified);
            modified.is_some_and(|at| now.duration_since(at).is_ok_and(|age| age < YOUNG))
        };
        self.is_unsure = before.iter().any(is_young);
        self.seen = before;
        if files != self.files {
            // Of a file that was not watched there is no stamp from before: it is read once more.
            self.files = files;
            self.seen = self.stamps();
            self.is_unsure = true;
        }
        inputs.map_err(|error| error.to_string())
    }

    /// What is to be told of a reading: all that was asked for, and what differs from what was told.
    fn news(
        &mut self,
        read: Result<Inputs, String>,
        is_asked: bool,
    ) -> Option<Result<Loaded, String>> {
        let tells = match &read {
            Ok(inputs) => Ok(content(inputs)),
            Err(reason) => Err(reason.clone()),
        };
        if !is_asked && tells == self.told {
            return None;
        }
        self.told = tells;
        let Ok(inputs) = read else {
            return Some(read.map(Loaded::from));
        };
        let loaded = catch_unwind(AssertUnwindSafe(|| Loaded::from(inputs)));
        Some(loaded.map_err(|_| "the figures failed by a fault in this program".to_owned()))
    }
}

/// All in which two readings of a job can differ: the bytes read, and what was told of files that could
/// not be read.
fn content(inputs: &Inputs) -> Vec<String> {
    let mut content: Vec<String> = inputs
        .sources
        .iter()
        .map(|source| format!("{} {}", source.sha256, source.name))
        .collect();
    for list in inputs.lists.iter().flatten() {
        let problems = [
            list.tally.as_ref().err().map(ToString::to_string),
            list.decisions_problem.as_ref().map(ToString::to_string),
            list.decisions_torn.as_ref().map(ToString::to_string),
        ];
        content.extend(problems.into_iter().flatten());
    }
    content.push(format!(
        "journal {} {:?}",
        inputs.journal.head(),
        inputs.journal.torn
    ));
    content.extend(inputs.journal.broken.iter().map(ToString::to_string));
    content.extend(inputs.signers.iter().map(|(_, digest)| digest.clone()));
    content.extend(inputs.signed_files.iter().map(|file| {
        let text = sha256(&file.text);
        format!("{} {text} {:?}", file.name, file.signature)
    }));
    content
}

#[cfg(test)]
mod tests;
