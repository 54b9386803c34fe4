//! Signals, as flags that the driver looks at. On systems without signals none is ever set.

use std::io;
use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};

/// The signals that came.
#[derive(Clone, Debug, Default)]
pub(super) struct Signals {
    end: Arc<AtomicUsize>,
}

impl Signals {
    /// Begins to note signals.
    #[cfg(unix)]
    pub(super) fn register() -> io::Result<Self> {
        use signal_hook::consts::{SIGHUP, SIGINT, SIGTERM};
        let signals = Self::default();
        for number in [SIGTERM, SIGHUP, SIGINT] {
            let value = usize::try_from(number).unwrap_or(1);
            signal_hook::flag::register_usize(number, Arc::clone(&signals.end), value)?;
        }
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
}
