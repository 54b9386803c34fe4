//! What keys do on Reconcile.

use super::lookup::{
    count, difference_at, find, in_front, key_of, list_at, list_in_front, lists, pins,
};
use super::state::ListCursor;
use crate::figures::Basis;
use crate::job::{MEASURED, RECORD, name_of};
use crate::measure::{Length, ParseOptions, read_length};
use crate::reconcile::{Stands, Topic, record};
use crate::report::said::Said;
use crate::report::{self, Provenance};
use crate::screens::action::Effect;
use crate::screens::identity::DifferenceId;
use crate::screens::movement::Movement;
use crate::screens::overlay::Overlay;
use crate::screens::state::State;

/// The next list of the slot, round and round.
pub fn turn_list(state: &mut State) {
    let next = list_at(state).map_or(0, |at| at + 1);
    move_to_list(state, next % lists(state).len().max(1));
}

/// Moves the cursor to a list, or to the last where there are fewer.
pub fn move_to_list(state: &mut State, list: usize) {
    let lists = lists(state);
    let list = lists.get(list).or(lists.last());
    let list = list.map(|list| list.name.clone());
    state.cursor_mut().reconcile = ListCursor {
        list,
        difference: None,
    };
}

/// Moves the cursor to a difference, or to the last where there are fewer.
pub fn move_to(state: &mut State, difference: usize) {
    let last = count(state).saturating_sub(1);
    let cursor = ListCursor {
        list: list_in_front(state).map(|(list, _)| list.name.clone()),
        difference: key_of(state, difference.min(last)),
    };
    state.cursor_mut().reconcile = cursor;
}

/// Moves the cursor.
pub fn step(state: &mut State, movement: Movement) {
    let at = difference_at(state).unwrap_or(0);
    move_to(state, movement.from(at, count(state)));
}

/// Opens the words of the difference in front.
pub fn open(state: &mut State) {
    match in_front(state) {
        Some(difference) => state.overlay = Overlay::Difference(Box::new(difference), 0),
        None => state.message = Some(Said::NoDifference),
    }
}

/// Decides a difference.
pub fn decide(state: &mut State, of: &DifferenceId, stands: Stands, note: String) -> Vec<Effect> {
    let found = match find(state, of) {
        Ok(found) => found,
        Err(gone) => {
            state.message = Some(Said::NotDecided(of.name(), gone));
            return Vec::new();
        }
    };
    let (list, difference) = (found.list, found.difference);
    if let Some(error) = &list.decisions_problem {
        state.message = Some(Said::CorrectDecisions(error.clone()));
        return Vec::new();
    }
    if let Stands::Measured(length) = stands {
        let joint = match (&list.tally, difference.a, difference.b) {
            (_, Some(at), _) => state
                .inputs
                .tallies
                .get(found.slot)
                .and_then(|it| it.joints.get(at)),
            (Ok(other), None, Some(at)) => other.joints.get(at),
            _ => None,
        };
        if let Some(reason) = joint.and_then(|joint| difference.refuses(joint, length)) {
            state.message = Some(Said::Refused(length, reason));
            return Vec::new();
        }
    }
    let Some(by) = state.person.clone() else {
        state.message = Some(Said::WhoDecides);
        return Vec::new();
    };
    let choice = match stands {
        Stands::A => RECORD.to_owned(),
        Stands::B => list.name.clone(),
        Stands::Measured(_) => MEASURED.to_owned(),
    };
    let mut event = serde_json::json!({
        "event": "decision",
        "by": by,
        "slot": of.slot,
        "of": difference.topic.name(),
        "joint": difference.joint,
        "choice": choice,
    });
    if let Some(keys) = event.as_object_mut() {
        if let Stands::Measured(length) = stands {
            let value = format!("{} m", length.exact_metres());
            keys.insert("value".to_owned(), value.into());
        }
        if !note.is_empty() {
            keys.insert("note".to_owned(), note.into());
        }
        // Of several joints of one number the line says which.
        if !difference.alone {
            keys.insert("line".to_owned(), difference.line.into());
        }
    }
    vec![Effect::Decide {
        event: event.to_string(),
        topic: difference.topic,
        joint: difference.joint.clone(),
    }]
}

/// Begins to enter a measured value, where one can be.
pub fn measure(state: &mut State, of: Box<DifferenceId>) {
    let basis = find(state, &of).map(|found| {
        let figures = state.figures.slots.get(found.slot);
        figures.map(|it| it.chain.basis)
    });
    let refused = match (basis, of.key.topic) {
        (Err(gone), _) => Some(Said::NotDecided(of.name(), gone)),
        (_, Topic::Presence | Topic::Place) => Some(Said::NotMeasurable),
        (Ok(Some(Basis::Read)), _) => Some(Said::Landed {
            slot: of.slot.clone(),
            joint: of.key.joint.clone(),
        }),
        _ => None,
    };
    match refused {
        Some(said) => state.message = Some(said),
        None => {
            state.overlay = Overlay::Enter {
                of,
                value: None,
                text: String::new(),
            }
        }
    }
}

/// What Enter does with what was typed: first the value, then the note.
pub fn entered(
    state: &mut State,
    of: Box<DifferenceId>,
    value: Option<Length>,
    text: &str,
) -> Vec<Effect> {
    let Some(value) = value else {
        let rules = ParseOptions {
            bare: Some(state.show.unit()),
            ..ParseOptions::default()
        };
        match read_length(text, &rules) {
            Ok(reading)
                if reading.length > Length::ZERO && reading.length <= crate::measure::MAX_JOINT =>
            {
                state.overlay = Overlay::Enter {
                    of,
                    value: Some(reading.length),
                    text: String::new(),
                };
            }
            Ok(_) => state.message = Some(Said::NoJointLength(text.to_owned())),
            Err(error) => state.message = Some(Said::NoLength(error)),
        }
        return Vec::new();
    };
    if text.trim().is_empty() {
        state.message = Some(Said::NoteMissing);
        return Vec::new();
    }
    state.overlay = Overlay::None;
    decide(state, &of, Stands::Measured(value), text.trim().to_owned())
}

/// Adopts the tally of record that was written last for the slot in front.
pub fn adopt(state: &mut State) -> Vec<Effect> {
    let Some((slot, file)) = state
        .written
        .clone()
        .filter(|(slot, _)| *slot == state.slot)
    else {
        return Vec::new();
    };
    let Some(by) = state.person.clone() else {
        state.message = Some(Said::WhoDecides);
        return Vec::new();
    };
    vec![Effect::Adopt { slot, file, by }]
}

/// The tally of record as the decisions make it: where it goes, its text, and what to say.
pub fn write(state: &mut State) -> Vec<Effect> {
    let (Some((list, Some(figures))), Some((slot, tally, _))) =
        (list_in_front(state), state.current())
    else {
        state.message = Some(Said::NoList);
        return Vec::new();
    };
    let Ok(other) = &list.tally else {
        return Vec::new();
    };
    let name = name_of(&slot.tally);
    let of_tally = state
        .inputs
        .sources
        .iter()
        .find(|source| source.name == name);
    let provenance = Provenance {
        names: [name.clone(), name_of(&list.path)],
        called: [name.clone(), list.name.clone()],
        sha256: [
            of_tally.map_or_else(String::new, |source| source.sha256.clone()),
            list.sha256.clone(),
        ],
    };
    let pins = pins(state, state.slot_index());
    let record = record((tally, other), &figures.bridge, &list.decisions, pins);
    let text = report::record_csv(&record, &provenance, tally.unit, pins);
    vec![Effect::Write {
        slot: slot.name.clone(),
        list: list.name.clone(),
        folder: slot.tally.parent().map(Into::into).unwrap_or_default(),
        stem: format!("{}-of-record", slot.name),
        text,
        open: record.open,
    }]
}
