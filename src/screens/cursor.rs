//! Where the person is in one slot, by what the cursor is on.

use super::cut::LineId;
use super::floor::ByHand;
use super::reconcile::ListCursor;
use super::tally::TallyRow;

/// Where the person is in one slot.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct SlotCursor {
    /// The row of the tally; `None` for the first.
    pub tally: Option<TallyRow>,
    /// The line of the cut; `None` for the first.
    pub cut: Option<LineId>,
    /// Which joint is next on the floor, where a person said so.
    pub by_hand: Option<ByHand>,
    /// The list and the difference in front.
    pub reconcile: ListCursor,
}
