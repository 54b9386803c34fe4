//! Which slots something applies to.

/// The slots that something applies to.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum SlotSet {
    /// All of them.
    All,
    /// These indices.
    Some(Vec<usize>),
}

impl SlotSet {
    /// Whether a slot is among them.
    pub fn has(&self, slot: usize) -> bool {
        match self {
            Self::All => true,
            Self::Some(slots) => slots.contains(&slot),
        }
    }
}
