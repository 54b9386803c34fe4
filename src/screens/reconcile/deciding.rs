//! What is about to be decided: shown with what it moves before it is written.

use super::lookup::{
    Found, ThingAt, all, find, id_of, list_in_front, locate, thing_in_front, things,
};
use super::plan::{Chosen, Deciding, Plan, Planned};
use super::thing::ThingId;
use crate::figures::Basis;
use crate::journal::{Event, struck};
use crate::measure::{Length, MAX_JOINT, ParseOptions, read_length};
use crate::reconcile::Topic;
use crate::reconcile::many::{Choice, ListChoice, State as Agreed, StringLists};
use crate::report::said::{Said, ThingName};
use crate::screens::action::{Effect, ToDecide};
use crate::screens::overlay::Overlay;
use crate::screens::state::{State, WrittenRecord};

/// Decisions that a choice would override: what was measured again, and what others decided otherwise.
pub fn overrides<'a>(state: &State, found: &Found<'a>, planned: &Planned) -> Vec<&'a ListChoice> {
    let choice = planned.chosen.choice();
    let own = state.person.as_deref();
    let by = found.row.decided_by(planned.thing.key.of).iter();
    by.filter(|it| Some(&it.choice) != choice.as_ref())
        .filter(|it| matches!(it.choice, Choice::Measured(_)) || Some(it.by.as_str()) != own)
        .collect()
}

/// Whether a reason must be given.
pub fn needs_note(state: &State, deciding: &Deciding) -> bool {
    deciding.planned().iter().any(|planned| {
        let found = locate(state, &planned.thing);
        matches!(planned.chosen, Chosen::Measured(_))
            || found.is_ok_and(|found| !overrides(state, &found, planned).is_empty())
    })
}

/// Whether someone decides, and decisions from before can be read; else it is said.
fn may_decide(state: &mut State) -> bool {
    let lists = state.inputs.lists.get(state.slot_index());
    let mut problems = lists
        .into_iter()
        .flatten()
        .filter_map(|it| it.decisions_problem.clone());
    let said = match (&state.person, problems.next()) {
        (_, Some(error)) => Some(Said::CorrectDecisions(error)),
        (None, None) => Some(Said::WhoDecides),
        (Some(_), None) => None,
    };
    let may = said.is_none();
    if !may {
        state.message = said;
    }
    may
}

/// Plans to take what the list under the cursor says of the thing in front.
pub fn take(state: &mut State) {
    let Some(thing) = thing_in_front(state) else {
        state.message = Some(Said::NothingDiffers);
        return;
    };
    if !may_decide(state) {
        return;
    }
    let list = list_in_front(state);
    let planned = {
        let Some((all, id)) = all(state).zip(id_of(state, thing)) else {
            return;
        };
        let Some(row) = all.lists.rows.get(thing.row) else {
            return;
        };
        let name = all.name(list).to_owned();
        let listed = row.listed_in(list);
        let says = match thing.of {
            Topic::Presence => true,
            Topic::Length => listed.is_some_and(|it| it.length.or(it.effective).is_some()),
            Topic::MakeupLoss | Topic::Place | Topic::Number => listed.is_some(),
        };
        let choice = Choice::List(name.clone());
        let by = row.decided_by(thing.of);
        let is_so = !by.is_empty() && by.iter().all(|it| it.choice == choice);
        if !says {
            Err(Said::ListSaysNothing {
                list: name,
                joint: row.joint.clone(),
            })
        } else if is_so {
            Err(Said::StandsAlready(id.name()))
        } else {
            Ok(Planned {
                thing: id,
                chosen: Chosen::List(name),
            })
        }
    };
    match planned {
        Ok(planned) => {
            state.overlay = Overlay::Deciding(Box::new(Deciding::new(Plan::Choose(vec![planned]))));
        }
        Err(said) => state.message = Some(said),
    }
}

/// The thing in front, where there is one and it may be decided; what is in the way is said.
fn decidable(state: &mut State) -> Option<(ThingAt, ThingId)> {
    let found = thing_in_front(state).and_then(|it| Some((it, id_of(state, it)?)));
    if found.is_none() {
        state.message = Some(Said::NothingDiffers);
        return None;
    }
    found.filter(|_| may_decide(state))
}

/// Plans to set the thing in front open again.
pub fn reopen(state: &mut State) {
    let Some((thing, id)) = decidable(state) else {
        return;
    };
    let row = all(state).and_then(|all| all.lists.rows.get(thing.row));
    if row.is_none_or(|row| row.decided_by(thing.of).is_empty()) {
        state.message = Some(Said::NotDecidedYet(id.name()));
        return;
    }
    state.overlay = Overlay::Deciding(Box::new(Deciding::new(Plan::Choose(vec![Planned {
        thing: id,
        chosen: Chosen::Open,
    }]))));
}

/// Plans to decide everything on which most lists agree as they have it; in the words of the tally of record, where that is
/// one of them.
pub fn take_majority(state: &mut State) {
    plan_all(state, Said::NoMajority, |lists| {
        let rows = lists.rows.iter().enumerate();
        let things = rows.flat_map(|(at, row)| Topic::ALL.map(|of| (at, row, of)));
        let most = things.filter(|(_, row, of)| row.state(*of) == Agreed::Majority);
        most.filter_map(|(row, it, of)| {
            let from = it.from(of);
            let list = from.iter().find(|list| **list == 0).or(from.first())?;
            Some((ThingAt { row, of }, *list))
        })
        .collect()
    });
}

/// Plans to keep what the tally of record says where what stands differs from it by rounding alone.
pub fn keep_rounded(state: &mut State) {
    plan_all(state, Said::NothingRounded, |lists| {
        let rounded = lists.rounded().into_iter();
        rounded.map(|(row, of)| (ThingAt { row, of }, 0)).collect()
    });
}

/// Plans to choose lists for things of the string.
fn plan_all(state: &mut State, none: Said, choose: impl Fn(&StringLists) -> Vec<(ThingAt, usize)>) {
    if !may_decide(state) {
        return;
    }
    let planned: Vec<Planned> = all(state).map_or_else(Vec::new, |all| {
        let chosen = choose(&all.lists).into_iter();
        chosen
            .filter_map(|(thing, list)| {
                Some(Planned {
                    thing: id_of(state, thing)?,
                    chosen: Chosen::List(all.name(list).to_owned()),
                })
            })
            .collect()
    });
    if planned.is_empty() {
        state.message = Some(none);
    } else {
        state.overlay = Overlay::Deciding(Box::new(Deciding::new(Plan::Choose(planned))));
    }
}

/// Begins to enter a value that was measured again, where one can be.
pub fn measure(state: &mut State) {
    let Some((thing, id)) = decidable(state) else {
        return;
    };
    let basis = state.current().map(|(_, _, it)| it.chain.basis);
    match (thing.of, basis) {
        (Topic::Presence | Topic::Place | Topic::Number, _) => {
            state.message = Some(Said::NotMeasurable);
        }
        (_, Some(Basis::Read)) => {
            state.message = Some(Said::Landed {
                slot: id.slot,
                joint: id.key.joint,
            });
        }
        _ => {
            state.overlay = Overlay::Measured {
                of: Box::new(id),
                text: String::new(),
            }
        }
    }
}

/// What Enter does with a value that was typed: it is planned, where it can be.
pub fn measured(state: &mut State, of: &ThingId, text: &str) {
    let rules = ParseOptions {
        bare: Some(state.show.unit()),
        ..ParseOptions::default()
    };
    let length = match read_length(text, &rules) {
        Ok(reading) => reading.length,
        Err(error) => {
            state.message = Some(Said::NoLength(error));
            return;
        }
    };
    let is_possible = match of.key.of {
        Topic::MakeupLoss => !length.is_negative(),
        _ => length > Length::ZERO,
    };
    if !is_possible || length > MAX_JOINT {
        state.message = Some(Said::NoJointLength(text.to_owned()));
        return;
    }
    let refused = match find(state, of) {
        Err(gone) => Some(Said::NotDecided(of.name(), gone)),
        Ok(found) => found
            .row
            .refuses(of.key.of, length)
            .map(|why| Said::Refused(length, why)),
    };
    match refused {
        Some(said) => state.message = Some(said),
        None => {
            state.overlay =
                Overlay::Deciding(Box::new(Deciding::new(Plan::Choose(vec![Planned {
                    thing: of.clone(),
                    chosen: Chosen::Measured(length),
                }]))));
        }
    }
}

/// Plans to take the person's last decision on this string back.
pub fn take_back(state: &mut State) {
    if !may_decide(state) {
        return;
    }
    let person = state.person.clone().unwrap_or_default();
    let entries = &state.inputs.journal.entries;
    let gone = struck(entries);
    let last = entries.iter().rev().find_map(|entry| match &entry.event {
        Event::Decision {
            slot,
            of,
            joint,
            choice,
            ..
        } if *slot == state.slot && entry.by == person && !gone.contains(&entry.seq) => {
            Some(Plan::TakeBack {
                seq: entry.seq,
                thing: ThingName {
                    slot: slot.clone(),
                    joint: joint.clone(),
                    of: Topic::from_word(of)?,
                },
                choice: choice.clone(),
            })
        }
        _ => None,
    });
    match last {
        Some(plan) => state.overlay = Overlay::Deciding(Box::new(Deciding::new(plan))),
        None => state.message = Some(Said::NothingToTakeBack(person)),
    }
}

/// The tally of record that was written last for the slot in front, if the lists and what is decided of them are as they were
/// then; else why it is not adopted.
pub fn adoptable(state: &State) -> Result<&WrittenRecord, Box<Said>> {
    let written = state.written.as_ref();
    let written = written
        .filter(|it| it.slot == state.slot)
        .ok_or_else(|| Box::new(Said::NothingWritten))?;
    if all(state) == Some(&*written.made_of) {
        Ok(written)
    } else {
        Err(Box::new(Said::WrittenIsOld(written.file.clone())))
    }
}

/// Enter: what was shown is written, if it still is what was shown.
pub fn confirm(state: &mut State, deciding: Box<Deciding>) -> Vec<Effect> {
    let Some(by) = state.person.clone() else {
        state.message = Some(Said::WhoDecides);
        return Vec::new();
    };
    let note = deciding.note.trim();
    if note.is_empty() && needs_note(state, &deciding) {
        state.message = Some(Said::NoteMissing);
        return Vec::new();
    }
    let effect = match &deciding.plan {
        Plan::Adopt { .. } => match adoptable(state) {
            Ok(written) => Effect::Adopt {
                slot: written.slot.clone(),
                file: written.file.clone(),
                sha256: written.sha256.clone(),
                by,
            },
            Err(said) => {
                (state.overlay, state.message) = (Overlay::None, Some(*said));
                return Vec::new();
            }
        },
        Plan::TakeBack { seq, .. } => {
            let why = if note.is_empty() { "taken back" } else { note };
            let event = serde_json::json!({
                "event": "strike", "by": by, "strikes": seq, "why": why,
            });
            Effect::Enter(event.to_string())
        }
        Plan::Choose(planned) => {
            let all = planned.iter().map(|it| ToDecide {
                event: event(it, &by, note),
                thing: it.thing.clone(),
            });
            Effect::Decide(all.collect())
        }
    };
    state.overlay = Overlay::None;
    state.deciding = Some(deciding);
    vec![effect]
}

fn event(planned: &Planned, by: &str, note: &str) -> String {
    let key = &planned.thing.key;
    let mut event = serde_json::json!({
        "event": "decision",
        "by": by,
        "slot": planned.thing.slot,
        "of": key.of.name(),
        "joint": key.joint,
        "choice": planned.chosen.word(),
    });
    if let Some(keys) = event.as_object_mut() {
        if let Chosen::Measured(length) = planned.chosen {
            let value = format!("{} m", length.exact_metres());
            keys.insert("value".to_owned(), value.into());
        }
        if !note.is_empty() {
            keys.insert("note".to_owned(), note.into());
        }
        // Of several joints of one number the line says which.
        if !key.alone {
            keys.insert("line".to_owned(), key.line.into());
        }
    }
    event.to_string()
}

/// What the driver said of decisions: on the disk they are forgotten; else those that are not are open again.
pub fn answered(state: &mut State, said: &Said) {
    let left = match said {
        Said::DecidedInPart { left, .. } => *left,
        // Or a decision that could not be taken back.
        Said::LookAgain(..) | Said::NotEntered(_) => usize::MAX,
        Said::Entered { .. } | Said::Decided { .. } => 0,
        _ => return,
    };
    let Some(mut deciding) = state.deciding.take().filter(|_| left > 0) else {
        return;
    };
    if let Plan::Choose(planned) = &mut deciding.plan {
        let done = planned.len().saturating_sub(left);
        planned.drain(..done);
    }
    state.overlay = Overlay::Deciding(deciding);
    refresh(state);
}

/// What is shown of what is about to be decided is as the lists and the journal have it now. Gives what changed.
pub fn refresh(state: &mut State) -> Option<Said> {
    let Overlay::Deciding(deciding) = &state.overlay else {
        return None;
    };
    let mut deciding = deciding.clone();
    let Plan::Choose(planned) = &mut deciding.plan else {
        return None;
    };
    let mut said = None;
    for it in planned.iter_mut() {
        if let Err(gone) = find(state, &it.thing) {
            said.get_or_insert(Said::LookAgain(it.thing.name(), gone));
            if let Ok(found) = locate(state, &it.thing) {
                it.thing.seen = super::thing::Seen::of(found.all, found.row, it.thing.key.of);
            }
        }
    }
    planned.retain(|it| locate(state, &it.thing).is_ok());
    state.overlay = if planned.is_empty() {
        Overlay::None
    } else {
        Overlay::Deciding(deciding)
    };
    said
}

/// How many things there are to go through.
pub fn count(state: &State) -> usize {
    things(state).len()
}
