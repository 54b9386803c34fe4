//! Ends the program when the driver cannot.
//!
//! Once a terminal is gone, the terminal library reads its end over and over and reports neither an
//! event nor an error, so that the driver would go on for ever where no signal comes. A thread looks at
//! both: when a signal has come or the terminal is gone, it gives the driver a moment to end by itself,
//! waits until nothing is being written, and then ends the program.

use std::io::{self, IsTerminal};
use std::process;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex};
use std::thread;
use std::time::Duration;

use super::ended::Ended;
use super::signals::Signals;

/// How often to look.
const BETWEEN: Duration = Duration::from_millis(500);
/// How long the driver has to end by itself: it looks every 500 ms, and a draw takes a few.
const GRACE: Duration = Duration::from_secs(1);
/// The number of the signal that says that a terminal is gone, for the exit status.
const HANG_UP: usize = 1;

/// Looks on until it is dropped.
pub(super) struct Watchdog {
    over: Arc<AtomicBool>,
}

impl Watchdog {
    /// Starts to look. `writing` is locked by the driver while it writes files, and `give_back` restores
    /// the terminal as far as there is one.
    pub(super) fn start(
        signals: Signals,
        writing: Arc<Mutex<()>>,
        give_back: fn(),
    ) -> io::Result<Self> {
        let over = Arc::new(AtomicBool::new(false));
        let seen = Arc::clone(&over);
        let had_terminal = io::stdout().is_terminal();
        thread::Builder::new()
            .name("watchdog".to_owned())
            .spawn(move || {
                while !seen.load(Ordering::Relaxed) {
                    thread::sleep(BETWEEN);
                    let gone = had_terminal && !io::stdout().is_terminal();
                    if !gone && signals.end() == 0 {
                        continue;
                    }
                    thread::sleep(GRACE);
                    // From here on the driver begins to write nothing more.
                    let _writing = writing.lock();
                    if seen.load(Ordering::Relaxed) {
                        return;
                    }
                    give_back();
                    let number = match signals.end() {
                        0 => HANG_UP,
                        number => number,
                    };
                    process::exit(i32::from(Ended::Signal(number).status()));
                }
            })?;
        Ok(Self { over })
    }
}

impl Drop for Watchdog {
    fn drop(&mut self) {
        self.over.store(true, Ordering::Relaxed);
    }
}
