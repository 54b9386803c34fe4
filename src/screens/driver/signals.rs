//! Signals, as flags that the driver looks at when it is woken. On systems without signals none is ever set.

use std::io;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};

use super::waiting::Waker;
use super::watchdog::End;

/// The signals that came.
#[derive(Clone, Debug, Default)]
pub(super) struct Signals {
    end: Arc<AtomicUsize>,
    stop: Arc<AtomicBool>,
    go_on: Arc<AtomicBool>,
}

impl Signals {
    /// Begins to note signals, from a thread of its own. Each wakes the driver, and one that asks to end the
    /// program ends it where the driver does not.
    #[cfg(unix)]
    pub(super) fn register(waker: Waker, end: End) -> io::Result<Self> {
        use signal_hook::consts::{SIGCONT, SIGHUP, SIGINT, SIGQUIT, SIGTERM, SIGTSTP};
        let signals = Self::default();
        let noted = signals.clone();
        let all = [SIGTERM, SIGHUP, SIGINT, SIGQUIT, SIGTSTP, SIGCONT];
        let mut coming = signal_hook::iterator::Signals::new(all)?;
        std::thread::Builder::new()
            .name("signals".to_owned())
            .spawn(move || {
                for number in coming.forever() {
                    match number {
                        SIGTSTP => noted.stop.store(true, Ordering::Relaxed),
                        SIGCONT => noted.go_on.store(true, Ordering::Relaxed),
                        _ => {
                            let number = usize::try_from(number).unwrap_or(1);
                            noted.end.store(number, Ordering::Relaxed);
                        }
                    }
                    waker.wake();
                    match noted.end() {
                        0 => {}
                        number => end.after_grace(number),
                    }
                }
            })?;
        Ok(signals)
    }

    /// There are no signals.
    #[cfg(not(unix))]
    pub(super) fn register(_: Waker, _: End) -> io::Result<Self> {
        Ok(Self::default())
    }

    /// The number of the signal that asked to end; 0 for none.
    pub(super) fn end(&self) -> usize {
        self.end.load(Ordering::Relaxed)
    }

    /// Whether the program was asked to stop since this was last called.
    pub(super) fn take_stop(&self) -> bool {
        self.stop.swap(false, Ordering::Relaxed)
    }

    /// Whether the program went on after a stop since this was last called.
    pub(super) fn take_go_on(&self) -> bool {
        self.go_on.swap(false, Ordering::Relaxed)
    }
}

/// Stops the program, as it would have been without this one's own handling; it returns when the program
/// goes on.
pub(super) fn stop() -> io::Result<()> {
    #[cfg(unix)]
    signal_hook::low_level::emulate_default_handler(signal_hook::consts::SIGTSTP)?;
    Ok(())
}
