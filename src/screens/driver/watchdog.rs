//! Ends the program when the driver cannot.
//!
//! Once a terminal is gone, the terminal library reads its end over and over and reports neither an
//! event nor an error, so that the driver would wait for ever where no signal comes. One thread waits for
//! the end of the terminal and another for signals; each gives the driver a moment to end by itself,
//! waits until nothing is being written, and then ends the program.

use std::io::{self, IsTerminal};
use std::process;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex};
use std::thread;
use std::time::Duration;

use super::ended::Ended;

/// How long until the terminal is looked at again where it was not the end of it that ended the waiting.
const BETWEEN: Duration = Duration::from_secs(5);
/// How long the driver has to end by itself: a draw takes a few milliseconds.
const GRACE: Duration = Duration::from_secs(1);
/// The number of the signal that says that a terminal is gone, for the exit status.
pub(super) const HANG_UP: usize = 1;

/// What ends the program; until it is dropped the driver may do so itself.
#[derive(Debug)]
pub(super) struct Watchdog {
    end: End,
}

/// How the program is ended.
#[derive(Clone, Debug)]
pub(super) struct End {
    over: Arc<AtomicBool>,
    writing: Arc<Mutex<()>>,
    give_back: fn(),
}

impl Watchdog {
    /// Begins to wait for the end of the terminal. `writing` is locked by the driver while it writes files, and
    /// `give_back` restores the terminal as far as there is one.
    pub(super) fn start(writing: Arc<Mutex<()>>, give_back: fn()) -> io::Result<Self> {
        let over = Arc::new(AtomicBool::new(false));
        let end = End {
            over,
            writing,
            give_back,
        };
        if io::stdout().is_terminal() {
            let end = end.clone();
            thread::Builder::new()
                .name("terminal's end".to_owned())
                .spawn(move || {
                    loop {
                        wait_for_end();
                        if !io::stdout().is_terminal() {
                            return end.after_grace(HANG_UP);
                        }
                        thread::sleep(BETWEEN);
                    }
                })?;
        }
        Ok(Self { end })
    }

    /// What ends the program for a signal.
    pub(super) fn end(&self) -> End {
        self.end.clone()
    }
}

impl End {
    /// Ends the program as by a signal of this number, unless it ends by itself in time.
    pub(super) fn after_grace(&self, number: usize) {
        thread::sleep(GRACE);
        // From here on the driver begins to write nothing more.
        let _writing = self.writing.lock();
        if self.over.load(Ordering::Relaxed) {
            return;
        }
        (self.give_back)();
        process::exit(i32::from(Ended::Signal(number).status()));
    }
}

impl Drop for Watchdog {
    fn drop(&mut self) {
        self.end.over.store(true, Ordering::Relaxed);
    }
}

/// Waits until the terminal says that it is gone, or something disturbs the waiting.
#[cfg(unix)]
fn wait_for_end() {
    use rustix::event::{PollFd, PollFlags, poll};
    let out = io::stdout();
    // The end is told whatever is asked for. Whether it came is looked at by the caller.
    let _ = poll(&mut [PollFd::new(&out, PollFlags::empty())], None);
}

/// It cannot be waited for.
#[cfg(not(unix))]
fn wait_for_end() {}
