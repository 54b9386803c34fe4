//! How the screens ended.

/// How the screens ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ended {
    /// By the person.
    Asked,
    /// By a signal of this number.
    Signal(usize),
}

impl Ended {
    /// The exit status: 0, or 128 and the number of the signal, as shells have it.
    pub fn status(self) -> u8 {
        match self {
            Self::Asked => 0,
            Self::Signal(number) => u8::try_from(number).unwrap_or(0).saturating_add(128),
        }
    }
}
