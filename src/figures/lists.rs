//! Other lists of a slot's string: what differs from the tally of record.

use super::chain::SlotView;
use crate::journal::OtherList;
use crate::reconcile::{Bridge, Difference, bridge, differences};

/// Another list against the tally of record.
#[derive(Clone, Debug, PartialEq)]
pub struct ListFigures {
    /// The bridge from the tally of record to this list.
    pub bridge: Bridge,
    /// What asks for a decision, in the bridge's order.
    pub differences: Vec<Difference>,
}

/// One for each list that could be read; `None` for those that could not.
pub(super) fn of_slot(view: SlotView<'_>, lists: &[OtherList]) -> Vec<Option<ListFigures>> {
    let of_list = |list: &OtherList| {
        let other = list.tally.as_ref().ok()?;
        let bridge = bridge(view.tally, other, view.slot.pipe.pins);
        Some(ListFigures {
            differences: differences(view.tally, other, &bridge),
            bridge,
        })
    };
    lists.iter().map(of_list).collect()
}

/// How many differences of a list nobody has decided yet.
pub fn left_to_decide(list: &OtherList, figures: &ListFigures) -> usize {
    let open = |difference: &&Difference| difference.decided(&list.decisions).is_none();
    figures.differences.iter().filter(open).count()
}
