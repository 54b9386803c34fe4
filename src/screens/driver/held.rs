//! The terminal while the screens are shown on it.

use std::{io, panic, thread};

use crossterm::event::{
    DisableBracketedPaste, DisableMouseCapture, EnableBracketedPaste, EnableMouseCapture,
};
use crossterm::terminal::{
    Clear, ClearType, EnterAlternateScreen, LeaveAlternateScreen, disable_raw_mode, enable_raw_mode,
};
use crossterm::{cursor, execute};

/// Holds the terminal in raw mode on its other screen, and gives it back when dropped or when the
/// program panics.
pub(super) struct Held;

impl Held {
    /// Takes the terminal, and makes sure that a panic gives it back.
    pub(super) fn new() -> io::Result<Self> {
        let before = panic::take_hook();
        let driver = thread::current().id();
        panic::set_hook(Box::new(move |info| {
            // What panics in another thread is caught there, and told on the screens.
            if thread::current().id() == driver {
                give_back();
                before(info);
            }
        }));
        // From here on dropping it undoes what was done, also where a step fails.
        let held = Self;
        take()?;
        Ok(held)
    }
}

impl Drop for Held {
    fn drop(&mut self) {
        give_back();
    }
}

/// Gives the terminal back as it was.
pub(super) fn give_back() {
    // There is nobody to tell when this fails.
    mouse(false);
    let _ = execute!(io::stdout(), DisableBracketedPaste);
    let _ = execute!(io::stdout(), LeaveAlternateScreen, cursor::Show);
    let _ = disable_raw_mode();
}

/// Takes the terminal: at first, after it was given back, and after another program may have used it.
pub(super) fn take() -> io::Result<()> {
    // The terminal library does nothing where it believes that raw mode is on.
    disable_raw_mode()?;
    enable_raw_mode()?;
    execute!(
        io::stdout(),
        EnterAlternateScreen,
        Clear(ClearType::All),
        cursor::Hide
    )?;
    // A terminal that does not know it hands over a paste as keys, and is used all the same.
    let _ = execute!(io::stdout(), EnableBracketedPaste);
    Ok(())
}

/// Takes the mouse, or gives it back. A terminal without one is used all the same.
pub(super) fn mouse(is_taken: bool) {
    let mut out = io::stdout();
    let _ = if is_taken {
        execute!(out, EnableMouseCapture)
    } else {
        execute!(out, DisableMouseCapture)
    };
}
