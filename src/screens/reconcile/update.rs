//! What keys do on Reconcile.

use super::deciding::{adoptable, keep_rounded, measure, reopen, take, take_back, take_majority};
use super::lookup::{all, id_of, list_in_front, position, thing_in_front, things};
use super::plan::{Deciding, Plan};
use super::thing::ThingKey;
use crate::report::said::Said;
use crate::report::{self, RecordFile, words};
use crate::screens::action::{Effect, ListAction};
use crate::screens::movement::Movement;
use crate::screens::overlay::Overlay;
use crate::screens::state::{State, WrittenRecord};

/// Moves the cursor to a thing, or to the last where there are fewer.
pub fn move_to(state: &mut State, thing: usize) {
    let things = things(state);
    let thing = things.get(thing).or(things.last()).copied();
    let key = thing.and_then(|it| ThingKey::of(&all(state)?.lists, it.row, it.of));
    state.cursor_mut().reconcile.thing = key;
}

/// Moves the cursor to a list, or to the last where there are fewer.
pub fn move_to_list(state: &mut State, list: usize) {
    let name = all(state).and_then(|all| {
        let list = all.names.get(list).or(all.names.last());
        list.cloned()
    });
    state.cursor_mut().reconcile.list = name;
}

/// Moves the cursor up and down.
pub fn step(state: &mut State, movement: Movement) {
    let at = position(state).unwrap_or(0);
    let to = movement.from(at, things(state).len());
    move_to(state, to);
}

/// Moves the cursor among the lists.
pub fn sideways(state: &mut State, movement: Movement) {
    let count = all(state).map_or(0, |all| all.names.len());
    let to = movement.from(list_in_front(state), count);
    move_to_list(state, to);
}

/// Shows all joints, or those alone on which the lists do not agree.
pub fn filter(state: &mut State) {
    // The cursor stays on what it is on, where that is still shown.
    let at = position(state).unwrap_or(0);
    move_to(state, at);
    let cursor = &mut state.cursor_mut().reconcile;
    cursor.all_joints = !cursor.all_joints;
    if position(state).is_none() {
        state.cursor_mut().reconcile.thing = None;
    }
}

/// Puts the cursor on a list, and on the first thing that is open.
pub fn lead_to(state: &mut State, list: Option<String>) {
    let cursor = &mut state.cursor_mut().reconcile;
    (cursor.list, cursor.thing) = (list, None);
}

/// Opens all that the lists say of the joint in front.
pub fn open(state: &mut State) {
    match thing_in_front(state).and_then(|thing| id_of(state, thing)) {
        Some(thing) => state.overlay = Overlay::Thing(Box::new(thing), 0),
        None => state.message = Some(Said::NothingDiffers),
    }
}

/// What a key of this screen does.
pub fn act(state: &mut State, action: ListAction) -> Vec<Effect> {
    match action {
        ListAction::Take => take(state),
        ListAction::Measure => measure(state),
        ListAction::Reopen => reopen(state),
        ListAction::TakeMajority => take_majority(state),
        ListAction::KeepRounded => keep_rounded(state),
        ListAction::TakeBack => take_back(state),
        ListAction::Adopt => adopt(state),
        ListAction::Write(kind) => return write(state, kind),
    }
    Vec::new()
}

/// Plans to adopt the tally of record that was written last for the slot in front, if it still follows from the lists.
fn adopt(state: &mut State) {
    if state.person.is_none() {
        state.message = Some(Said::WhoDecides);
        return;
    }
    match adoptable(state) {
        Ok(written) => {
            let plan = Plan::Adopt {
                file: written.file.clone(),
                open: written.open,
            };
            state.overlay = Overlay::Deciding(Box::new(Deciding::new(plan)));
        }
        Err(said) => state.message = Some(*said),
    }
}

/// Keeps what was written, so that it can be adopted.
pub fn written(state: &mut State, said: &Said) {
    let Said::RecordWritten { file, open, sha256 } = said else {
        return;
    };
    if let Some(made_of) = state.writing.take() {
        state.written = Some(WrittenRecord {
            slot: state.slot.clone(),
            file: file.clone(),
            sha256: sha256.clone(),
            open: *open,
            made_of,
        });
    }
}

/// The tally of record as the decisions make it: where it goes, its bytes, and what to say.
fn write(state: &mut State, kind: RecordFile) -> Vec<Effect> {
    let (Some(all), Some((slot, _, _))) = (all(state), state.current()) else {
        state.message = Some(Said::NoList);
        return Vec::new();
    };
    let made = match all.record(&state.inputs, state.slot_index()) {
        Err(things) => Err(words::contradicting(&things)),
        Ok(record) => {
            let stated = (&state.inputs, state.slot_index());
            let bytes = report::lists_record(all, &record, stated, kind);
            bytes
                .map(|bytes| (bytes, record.open))
                .map_err(|why| words::no_record(&why))
        }
    };
    match made {
        Ok((bytes, open)) => {
            let effect = Effect::Write {
                folder: slot.tally.parent().map(Into::into).unwrap_or_default(),
                stem: format!("{}-of-record", slot.name),
                ending: kind.ending(),
                bytes,
                open,
            };
            state.writing = Some(Box::new(all.clone()));
            vec![effect]
        }
        Err(why) => {
            state.message = Some(Said::NoRecord(why));
            Vec::new()
        }
    }
}

/// What the list under the cursor says of the thing in front.
pub fn copied(state: &State) -> Option<String> {
    let all = all(state)?;
    let thing = thing_in_front(state)?;
    let row = all.lists.rows.get(thing.row)?;
    let list = list_in_front(state);
    Some(words::thing_cell(all, row, thing.of, list, state.show))
}
