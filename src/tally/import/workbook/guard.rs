//! Work that may stop with a panic on damaged bytes, done so that nothing else stops with it.

use std::panic::{self, AssertUnwindSafe};
use std::sync::{Arc, Mutex, PoisonError};
use std::thread;

/// One at a time: what is done on a panic is set for the whole process.
static ONE: Mutex<()> = Mutex::new(());

/// The result of `work`, or `None` if it panicked: then the caller must say so.
///
/// The crate that reads workbooks trusts places and counts that a damaged file states. While it
/// works, a panic of this thread prints nothing and does not close the screens, since it becomes an
/// error like any other; panics of other threads do what they always do.
pub(super) fn guarded<T>(work: impl FnOnce() -> T) -> Option<T> {
    let one = ONE.lock().unwrap_or_else(PoisonError::into_inner);
    let usual = Arc::new(panic::take_hook());
    let (here, others) = (thread::current().id(), Arc::clone(&usual));
    panic::set_hook(Box::new(move |what| {
        if thread::current().id() != here {
            others(what);
        }
    }));
    // Nothing that `work` left half done is used after a panic: it is dropped with its closure.
    let outcome = panic::catch_unwind(AssertUnwindSafe(work));
    drop(panic::take_hook());
    if let Some(usual) = Arc::into_inner(usual) {
        panic::set_hook(usual);
    }
    drop(one);
    outcome.ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_panic_becomes_nothing_and_a_result_stays() {
        assert_eq!(guarded(|| 12), Some(12));
        let empty: Vec<u8> = Vec::new();
        assert_eq!(guarded(|| empty[0]), None);
        assert_eq!(guarded(|| 13), Some(13));
    }
}
