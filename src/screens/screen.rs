//! The screens by name.

/// The screens, in the order in which the job flows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Screen {
    /// A row a slot, and the flags.
    Overview,
    /// One string, joint by joint.
    Tally,
    /// Another list of the string against the tally of record.
    Reconcile,
    /// All conductors to scale.
    Profile,
    /// The sheet by which the cutter works.
    Cut,
    /// Very large figures for the floor.
    Floor,
    /// Every reading of heights, and the points between them.
    Levels,
    /// How the deck sits on its tops.
    Deck,
    /// Every entry of the journal.
    Record,
}

impl Screen {
    /// All of them, in the order of their keys.
    pub const ALL: [Self; 9] = [
        Self::Overview,
        Self::Tally,
        Self::Reconcile,
        Self::Profile,
        Self::Cut,
        Self::Floor,
        Self::Levels,
        Self::Deck,
        Self::Record,
    ];

    /// Its name.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Overview => "Overview",
            Self::Tally => "Tally",
            Self::Reconcile => "Reconcile",
            Self::Profile => "Profile",
            Self::Cut => "Cut",
            Self::Floor => "Floor",
            Self::Levels => "Levels",
            Self::Deck => "Deck",
            Self::Record => "Record",
        }
    }
}
