//! How far a movement of the cursor goes.

/// How far a movement goes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Movement {
    /// So many back.
    Back(usize),
    /// So many on.
    On(usize),
    /// To the first.
    First,
    /// To the last.
    Last,
}

impl Movement {
    /// The same, but not so far.
    pub(super) fn at_most(self, most: usize) -> Self {
        match self {
            Self::Back(by) => Self::Back(by.min(most)),
            Self::On(by) => Self::On(by.min(most)),
            Self::First | Self::Last => self,
        }
    }

    /// The place after the movement, among so many.
    pub(super) fn from(self, at: usize, count: usize) -> usize {
        let last = count.saturating_sub(1);
        match self {
            Self::Back(by) => at.saturating_sub(by),
            Self::On(by) => at.saturating_add(by).min(last),
            Self::First => 0,
            Self::Last => last,
        }
    }
}
