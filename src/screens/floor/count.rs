//! How many joints are in: by the journal, by a landed string, or as a person said. It is never made up.

use super::state::ByHand;
use crate::figures::{Basis, pieces_to_run};
use crate::screens::state::State;

/// How many pieces are in, in the slot in front; `None` where nothing says so.
pub fn pieces_in(state: &State) -> Option<usize> {
    let (_, tally, figures) = state.current()?;
    let all = pieces_to_run(figures);
    if let Some(run) = state.entered() {
        return Some(run.min(all));
    }
    let by_hand = state.cursor().and_then(|cursor| cursor.by_hand.as_ref());
    let said = by_hand.and_then(|it| it.joints(tally));
    let landed = (figures.chain.basis == Basis::Read).then_some(all);
    said.or(landed)
}

/// Drops what a person said where the list changed below the joint; whether that was so in the slot in front.
pub fn ask_again(state: &mut State) -> bool {
    let front = state.slot.clone();
    let mut is_asked = false;
    let slots = state.inputs.job.slots.iter().zip(&state.inputs.tallies);
    for (slot, tally) in slots {
        let Some(cursor) = state.cursors.get_mut(&slot.name) else {
            continue;
        };
        let stands = |it: &ByHand| it.joints(tally).is_some();
        if cursor.by_hand.as_ref().is_some_and(|it| !stands(it)) {
            cursor.by_hand = None;
            is_asked |= slot.name == front;
        }
    }
    is_asked
}
