//! Signals, as flags that the driver looks at. On systems without signals none is ever set.

use std::io;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};

/// The signals that came.
#[derive(Clone, Debug, Default)]
pub(super) struct Signals {
    end: Arc<AtomicUsize>,
    stop: Arc<AtomicBool>,
    go_on: Arc<AtomicBool>,
}

impl Signals {
    /// Begins to note signals.
    #[cfg(unix)]
    pub(super) fn register() -> io::Result<Self> {
        use signal_hook::consts::{SIGCONT, SIGHUP, SIGINT, SIGTERM, SIGTSTP};
        let signals = Self::default();
        for number in [SIGTERM, SIGHUP, SIGINT] {
            let value = usize::try_from(number).unwrap_or(1);
            signal_hook::flag::register_usize(number, Arc::clone(&signals.end), value)?;
        }
        signal_hook::flag::register(SIGTSTP, Arc::clone(&signals.stop))?;
        signal_hook::flag::register(SIGCONT, Arc::clone(&signals.go_on))?;
        Ok(signals)
    }

    /// There are no signals.
    #[cfg(not(unix))]
    pub(super) fn register() -> io::Result<Self> {
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
