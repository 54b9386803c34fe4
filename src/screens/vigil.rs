//! A watch over the terminal and the signals from beside the driver.
//!
//! Once a terminal is gone, the terminal library reads its end over and over and reports neither an
//! event nor an error, so that the driver would go on for ever where no signal comes. So a thread
//! looks on: when a signal has come or the terminal is gone, it gives the driver a moment to end by
//! itself, and then ends the program.

use std::io::{self, IsTerminal};
use std::process;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use std::thread;
use std::time::Duration;

use super::driver::Ended;

/// How often to look.
const BETWEEN: Duration = Duration::from_millis(250);
/// How long the driver has to end by itself: it looks every 250 ms, and a draw takes a few.
const GRACE: Duration = Duration::from_secs(1);
/// The number of the signal that says that a terminal is gone, for the exit status.
const HANG_UP: usize = 1;

/// Keeps watch until it is dropped.
pub(super) struct Vigil {
    over: Arc<AtomicBool>,
}

impl Vigil {
    /// Starts the watch; `give_back` restores the terminal as far as there is one.
    pub(super) fn keep(signal: Arc<AtomicUsize>, give_back: fn()) -> io::Result<Self> {
        let over = Arc::new(AtomicBool::new(false));
        let seen = Arc::clone(&over);
        let had_terminal = io::stdout().is_terminal();
        thread::Builder::new()
            .name("vigil".to_owned())
            .spawn(move || {
                while !seen.load(Ordering::Relaxed) {
                    thread::sleep(BETWEEN);
                    let gone = had_terminal && !io::stdout().is_terminal();
                    let number = signal.load(Ordering::Relaxed);
                    if !gone && number == 0 {
                        continue;
                    }
                    thread::sleep(GRACE);
                    if seen.load(Ordering::Relaxed) {
                        return;
                    }
                    give_back();
                    let number = if number == 0 { HANG_UP } else { number };
                    process::exit(i32::from(Ended::Signal(number).status()));
                }
            })?;
        Ok(Self { over })
    }
}

impl Drop for Vigil {
    fn drop(&mut self) {
        self.over.store(true, Ordering::Relaxed);
    }
}
