//! What the driver waits for: events of the terminal, and threads that have something for it. Between them
//! nothing runs.

use std::io;
use std::sync::mpsc::{Receiver, RecvTimeoutError, Sender, channel};
use std::thread;
use std::time::Duration;

use crossterm::event::{self, Event};

/// What ended a waiting.
enum Came {
    /// The terminal's next event, or why there is none any more.
    Event(io::Result<Event>),
    /// Something that the driver is to look for.
    News,
}

/// Wakes the driver from another thread.
#[derive(Clone, Debug)]
pub(super) struct Waker(Sender<Came>);

impl Waker {
    /// Lets the driver look for what is new.
    pub(super) fn wake(&self) {
        // Without a driver there is nobody to wake.
        let _ = self.0.send(Came::News);
    }
}

/// Where the driver waits.
#[derive(Debug)]
pub(super) struct Waiting {
    coming: Receiver<Came>,
    waker: Waker,
}

impl Waiting {
    /// For nothing as yet.
    pub(super) fn new() -> Self {
        let (waker, coming) = channel();
        Self {
            coming,
            waker: Waker(waker),
        }
    }

    /// What wakes the driver.
    pub(super) fn waker(&self) -> Waker {
        self.waker.clone()
    }

    /// Begins to read the terminal's events, in a thread that ends with the program: only an event ends its
    /// waiting.
    pub(super) fn read_events(&self) -> io::Result<()> {
        let Waker(send) = self.waker();
        thread::Builder::new()
            .name("keys".to_owned())
            .spawn(move || {
                loop {
                    let event = event::read();
                    let is_disturbed =
                        |error: &io::Error| error.kind() == io::ErrorKind::Interrupted;
                    if event.as_ref().is_err_and(is_disturbed) {
                        continue;
                    }
                    let is_last = event.is_err();
                    if send.send(Came::Event(event)).is_err() || is_last {
                        return;
                    }
                }
            })?;
        Ok(())
    }

    /// The next event of the terminal; none where another thread woke the driver, or where the time is over,
    /// if there is one.
    pub(super) fn wait(&self, time: Option<Duration>) -> io::Result<Option<Event>> {
        let came = match time {
            Some(time) => self.coming.recv_timeout(time),
            None => self
                .coming
                .recv()
                .map_err(|_| RecvTimeoutError::Disconnected),
        };
        match came {
            Ok(Came::Event(event)) => event.map(Some),
            // It has a sender of its own, so that the other end is never gone.
            Ok(Came::News) | Err(_) => Ok(None),
        }
    }
}
