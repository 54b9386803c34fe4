//! Where the person is on the deck.

/// Where the person is.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct DeckCursor {
    /// Which rest is shown, where there are two.
    pub rest: usize,
    /// The first line of what stands below the plan.
    pub first: usize,
}
