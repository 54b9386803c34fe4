//! Noticing that files of a job changed, and reading it again beside the program's main thread.
//!
//! The system says when something in a folder of the job changes, and until then nothing runs. It says
//! nothing of what another machine does on a share, so the files are looked at every two seconds as well.

use std::cell::OnceCell;
use std::collections::BTreeSet;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::{Path, PathBuf};
use std::sync::mpsc::{Receiver, RecvTimeoutError, Sender, channel};
use std::time::{Duration, Instant};
use std::{io, thread};

use notify::event::{AccessKind, AccessMode, EventKind};
use notify::{RecommendedWatcher, RecursiveMode, Watcher as _};

use super::load::{JobReading, SIGNED, locate, read_job};
use super::seen::{Seen, YOUNG};
use crate::journal::{Inputs, sha256};

/// How often to look at the files where the system says nothing.
const BETWEEN: Duration = Duration::from_secs(2);
/// How often to read again what could not be read: the reason may be none that shows in the files.
const RETRY: Duration = Duration::from_secs(2);
/// How long nothing more may be told of the files before they are read: who writes one writes it in pieces.
const SETTLED: Duration = Duration::from_millis(50);
/// How long that is waited for at most.
const UNSETTLED: Duration = Duration::from_millis(500);

/// What a reading came to.
#[derive(Clone, Debug)]
pub struct Outcome<T> {
    /// What was made of the job, or why it cannot be read.
    pub loaded: Result<T, String>,
    /// How many questions were answered by it, of all that were asked.
    pub answered: usize,
}

/// What the thread is told.
#[derive(Debug)]
enum Told {
    /// To read, whatever changed.
    Ask,
    /// That files may have changed, which are named as far as the system names them.
    Changed(Vec<PathBuf>),
    /// That nobody waits for it any more.
    Over,
}

/// Watches the files that a job names, whether they are there or not, from a thread of its own, in which what
/// is shown of the job is made of it too. It ends when this is dropped.
#[derive(Debug)]
pub struct Watch<T> {
    tell: Sender<Told>,
    ready: Receiver<Outcome<T>>,
    asked: usize,
    answered: usize,
}

impl<T: From<Inputs> + Send + 'static> Watch<T> {
    /// Watches the job at a path, which was just read as it was seen. `woken` is called from the thread
    /// whenever there is something to [take](Self::take).
    pub fn start(
        path: &Path,
        (inputs, seen): (&Inputs, Seen),
        woken: impl Fn() + Send + 'static,
    ) -> io::Result<Self> {
        let (tell, told) = channel();
        let (send, ready) = channel();
        let mut reader = Reader::new(path, inputs, seen, Notices::new(tell.clone()));
        thread::Builder::new()
            .name("watch".to_owned())
            .spawn(move || reader.run(&told, &send, &woken))?;
        Ok(Self {
            tell,
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
        let _ = self.tell.send(Told::Ask);
        self.asked
    }

    /// Whether an answer is still to come.
    pub fn is_asked(&self) -> bool {
        self.answered < self.asked
    }

    /// A reading that is done, without waiting for one.
    pub fn take(&mut self) -> Option<Outcome<T>> {
        self.wait(Duration::ZERO)
    }

    /// A reading that is done, or is so before the time is over.
    pub fn wait(&mut self, time: Duration) -> Option<Outcome<T>> {
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

impl<T> Drop for Watch<T> {
    fn drop(&mut self) {
        let _ = self.tell.send(Told::Over);
    }
}

/// What the system says of the folders in which the files are.
struct Notices {
    tell: Sender<Told>,
    /// What tells of them, from the first time that it is wanted: the first picture does not wait for it. None
    /// where the system has no such notices, or no more of them.
    watcher: OnceCell<Option<RecommendedWatcher>>,
    folders: BTreeSet<PathBuf>,
}

impl Notices {
    const fn new(tell: Sender<Told>) -> Self {
        Self {
            tell,
            watcher: OnceCell::new(),
            folders: BTreeSet::new(),
        }
    }

    /// What tells of folders.
    fn watcher(tell: Sender<Told>) -> Option<RecommendedWatcher> {
        let handler = move |event: notify::Result<notify::Event>| {
            // That the system lost count of its notices is one too.
            let event = event.unwrap_or_default();
            let is_written = match event.kind {
                // Also of this program's own reading.
                EventKind::Access(kind) => kind == AccessKind::Close(AccessMode::Write),
                _ => true,
            };
            if is_written {
                // The thread may have ended.
                let _ = tell.send(Told::Changed(event.paths));
            }
        };
        notify::recommended_watcher(handler).ok()
    }

    /// Watches these folders from now on, and no others. One that is not there cannot be watched: the one in
    /// which it will be made is.
    fn follow(&mut self, folders: BTreeSet<PathBuf>) {
        self.watcher
            .get_or_init(|| Self::watcher(self.tell.clone()));
        let Some(Some(watcher)) = self.watcher.get_mut() else {
            return;
        };
        // One that was made anew is another folder to the system, under the same name.
        for folder in &self.folders {
            let _ = watcher.unwatch(folder);
        }
        self.folders = folders;
        for folder in &self.folders {
            let _ = watcher.watch(folder, RecursiveMode::NonRecursive);
        }
    }
}

/// The thread's own: what it watches, and what it last told.
struct Reader {
    path: PathBuf,
    seen: Seen,
    notices: Notices,
    tried: Instant,
    /// What was last told: what the inputs hold, or why they could not be read.
    told: Result<Vec<String>, String>,
    answered: usize,
}

/// What came while the thread waited.
#[derive(Default)]
struct Came {
    questions: usize,
    /// Whether a file of the job was named.
    is_named: bool,
}

impl Reader {
    fn new(path: &Path, inputs: &Inputs, seen: Seen, notices: Notices) -> Self {
        Self {
            path: path.to_owned(),
            seen,
            notices,
            tried: Instant::now(),
            told: Ok(content(inputs)),
            answered: 0,
        }
    }

    fn run<T: From<Inputs>>(
        &mut self,
        told: &Receiver<Told>,
        send: &Sender<Outcome<T>>,
        woken: &dyn Fn(),
    ) {
        self.follow();
        loop {
            let Some(Came {
                questions,
                is_named,
            }) = self.wait(told)
            else {
                return;
            };
            let age = self.tried.elapsed();
            let is_due = questions > 0
                || is_named
                || (self.seen.is_young() && age >= YOUNG)
                || (self.told.is_err() && age >= RETRY)
                || self.seen.has_changed();
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
                woken();
            }
        }
    }

    /// Until it is asked, or nothing more is told of the files, or it is time to look at them; none once nobody
    /// waits for it any more.
    fn wait(&self, told: &Receiver<Told>) -> Option<Came> {
        let mut came = Came::default();
        let mut patience = BETWEEN;
        let mut first = None;
        loop {
            match told.recv_timeout(patience) {
                Ok(Told::Ask) => {
                    came.questions += 1;
                    patience = Duration::ZERO;
                }
                Ok(Told::Changed(files)) => {
                    came.is_named |= files
                        .iter()
                        .any(|it| self.seen.files().any(|seen| seen == it));
                    let since = first.get_or_insert_with(Instant::now).elapsed();
                    patience = patience.min(SETTLED).min(UNSETTLED.saturating_sub(since));
                }
                Err(RecvTimeoutError::Timeout) => return Some(came),
                Ok(Told::Over) | Err(RecvTimeoutError::Disconnected) => return None,
            }
        }
    }

    /// Has the system tell of the folders of the files that were seen.
    fn follow(&mut self) {
        let (root, _) = locate(&self.path);
        let parents = self.seen.files().filter_map(Path::parent);
        let mut folders: BTreeSet<PathBuf> = parents.map(Path::to_owned).collect();
        folders.insert(root.join(SIGNED));
        self.notices.follow(folders);
    }

    /// Reads the job, and watches what it names by now.
    fn read(&mut self) -> Result<Inputs, String> {
        self.tried = Instant::now();
        let read = catch_unwind(AssertUnwindSafe(|| read_job(&self.path)));
        let Ok(JobReading { seen, inputs }) = read else {
            return Err("reading the files failed by a fault in this program".to_owned());
        };
        self.seen = seen;
        self.follow();
        inputs.map_err(|error| error.to_string())
    }

    /// What is to be told of a reading: all that was asked for, and what differs from what was told.
    fn news<T: From<Inputs>>(
        &mut self,
        read: Result<Inputs, String>,
        is_asked: bool,
    ) -> Option<Result<T, String>> {
        let tells = match &read {
            Ok(inputs) => Ok(content(inputs)),
            Err(reason) => Err(reason.clone()),
        };
        if !is_asked && tells == self.told {
            return None;
        }
        self.told = tells;
        let inputs = match read {
            Ok(inputs) => inputs,
            Err(reason) => return Some(Err(reason)),
        };
        let loaded = catch_unwind(AssertUnwindSafe(|| T::from(inputs)));
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
