//! What keys do on the record, and what it lists.

use crate::journal::Entry;
use crate::screens::entry;
use crate::screens::movement::Movement;
use crate::screens::state::State;

/// The entries that are listed: all, or those of the slot in front and of the job.
pub fn entries(state: &State) -> Vec<&Entry> {
    let entries = state.inputs.journal.entries.iter();
    let of_slot = |entry: &&Entry| {
        let slot = entry.event.slot();
        !state.record.of_slot || slot.is_none_or(|slot| slot == state.slot)
    };
    entries.filter(of_slot).collect()
}

/// The place of the cursor among what is listed.
pub(super) fn place(state: &State, entries: &[&Entry]) -> usize {
    let last = entries.len().saturating_sub(1);
    let Some(seq) = state.record.seq else {
        return last;
    };
    entries
        .iter()
        .position(|entry| entry.seq >= seq)
        .unwrap_or(last)
}

/// Moves the cursor.
pub fn step(state: &mut State, movement: Movement) {
    let listed = entries(state);
    let at = movement.from(place(state, &listed), listed.len());
    move_to(state, at);
}

/// Moves the cursor to a row.
pub fn move_to(state: &mut State, at: usize) {
    let listed = entries(state);
    let is_last = at + 1 == listed.len();
    // The last follows what is entered.
    let seq = listed.get(at).filter(|_| !is_last).map(|entry| entry.seq);
    state.record.seq = seq;
}

/// The entry under the cursor.
pub fn selected(state: &State) -> Option<&Entry> {
    let listed = entries(state);
    listed.get(place(state, &listed)).copied()
}

/// Opens the form that strikes the entry under the cursor.
pub fn strike(state: &mut State) {
    if let Some(seq) = selected(state).map(|entry| entry.seq) {
        entry::strike(state, seq);
    }
}

/// The entry under the cursor, as its line in the journal has it.
pub fn copied(state: &State) -> Option<String> {
    selected(state).map(|entry| entry.own.clone())
}
