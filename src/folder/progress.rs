//! How far long work is: told on a terminal alone, once it takes longer than half a second.

use std::io::{self, IsTerminal, Write};
use std::sync::{Arc, Condvar, Mutex};
use std::thread::{self, JoinHandle};
use std::time::Duration;

/// How long work may take before anything is told of it.
const PATIENCE: Duration = Duration::from_millis(500);
/// How often it is told anew.
const BETWEEN: Duration = Duration::from_millis(200);

/// What is told, and whether the work is over.
#[derive(Debug, Default)]
struct Told {
    text: String,
    is_over: bool,
}

/// Work that goes on. Dropping it ends what is told, and takes it off the terminal.
#[derive(Debug)]
pub struct Progress {
    told: Arc<(Mutex<Told>, Condvar)>,
    thread: Option<JoinHandle<()>>,
}

impl Progress {
    /// Work begins. Where standard error is no terminal nothing is ever told.
    pub fn start() -> Self {
        let told: Arc<(Mutex<Told>, Condvar)> = Arc::default();
        let thread = io::stderr().is_terminal().then(|| {
            let told = Arc::clone(&told);
            thread::spawn(move || tell(&told))
        });
        Self { told, thread }
    }

    /// What is being done now.
    pub fn say(&self, text: String) {
        if let Ok(mut told) = self.told.0.lock() {
            told.text = text;
        }
    }
}

impl Drop for Progress {
    fn drop(&mut self) {
        if let Ok(mut told) = self.told.0.lock() {
            told.is_over = true;
        }
        self.told.1.notify_all();
        if let Some(thread) = self.thread.take() {
            // It never panics; and if it did, the work is done.
            let _ = thread.join();
        }
    }
}

fn tell((told, changed): &(Mutex<Told>, Condvar)) {
    let mut wait = PATIENCE;
    let mut shown = String::new();
    loop {
        let Ok(guard) = told.lock() else { return };
        let waited = changed.wait_timeout_while(guard, wait, |it| !it.is_over);
        let Ok((guard, _)) = waited else { return };
        let (text, is_over) = (guard.text.clone(), guard.is_over);
        drop(guard);
        let mut err = io::stderr();
        // Nobody to tell is no reason to fail.
        if is_over {
            if !shown.is_empty() {
                let _ = write!(err, "\r\u{1b}[K");
                let _ = err.flush();
            }
            return;
        }
        if text != shown {
            let _ = write!(err, "\r\u{1b}[K{text}");
            let _ = err.flush();
            shown = text;
        }
        wait = BETWEEN;
    }
}
