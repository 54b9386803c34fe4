//! The lists of a string as decisions speak of them: what each said of a joint, and what is decided between the
//! tally of record and one other list.

use std::path::PathBuf;

use super::event::MadeOf;
use super::kept::{Decided, Said, SlotRecord, Thing};
use crate::job::{AS_RUN, DecisionsUnreadable, MEASURED, RECORD, TornLine};
use crate::measure::Length;
use crate::reconcile::many::{Choice, ListChoice, ListDecision, NamedList, side_by_side};
use crate::reconcile::{Decision, Stands, Topic};
use crate::tally::{Joint, Pins, ReadError, Tally};

/// Another list of a slot's string, to be reconciled with the tally of record.
#[derive(Clone, Debug)]
pub struct OtherList {
    /// What the job calls it.
    pub name: String,
    /// The file, relative to the folder.
    pub path: PathBuf,
    /// What it says, or why it cannot be read: only the comparison depends on it.
    pub tally: Result<Tally, ReadError>,
    /// The SHA-256 of its bytes; blank where they could not be read.
    pub sha256: String,
    /// What was decided so far: by the journal, and by a file of decisions that it has not taken over.
    pub decisions: Vec<Decision>,
    /// The rows of that file; nothing where it cannot be read.
    pub in_file: Vec<Decision>,
    /// Why the decisions cannot be read, where they cannot.
    pub decisions_problem: Option<DecisionsUnreadable>,
    /// The last line of the decisions, where it was cut off.
    pub decisions_torn: Option<TornLine>,
}

/// Who entered rows that were taken over from a file of decisions: it names nobody.
pub(super) const OLD_FILE: &str = "decisions file";

impl SlotRecord {
    /// The list of what was run, as any other list of the string, by the journal up to its head; `None` where nothing
    /// was.
    pub(super) fn as_run(&self, effective_only: bool, head: &str) -> Option<OtherList> {
        if !self.was_run {
            return None;
        }
        let joints: Vec<Joint> = self
            .hanging
            .iter()
            .map(|it| it.what.joint.clone())
            .collect();
        Some(OtherList {
            name: AS_RUN.to_owned(),
            path: PathBuf::from("journal.jsonl"),
            tally: Ok(Tally::of_joints(joints, effective_only)),
            sha256: head.to_owned(),
            decisions: Vec::new(),
            in_file: Vec::new(),
            decisions_problem: None,
            decisions_torn: None,
        })
    }

    /// What is decided between the tally of record and another list, the last decision of each thing.
    pub(super) fn decisions(&self, list: &str) -> Vec<Decision> {
        let decided = self.decided.iter().filter_map(|(thing, choices)| {
            let latest = choices.values().max_by_key(|said| said.order())?;
            pairwise(thing, latest, list)
        });
        decided.collect()
    }
}

/// What is decided of the joints of a string, as it concerns all of its lists.
pub(super) fn list_decisions(said: &SlotRecord) -> Vec<ListDecision> {
    let decided = said.decided.iter().filter_map(|(thing, choices)| {
        let mut choices: Vec<&Said<Decided>> = choices.values().collect();
        choices.sort_by_key(|said| said.order());
        let latest = choices.last()?;
        Some(ListDecision {
            topic: Topic::from_word(&thing.of)?,
            joint: thing.joint.clone(),
            line: thing.line,
            said: latest
                .what
                .made_of
                .iter()
                .map(|it| (it.list.clone(), it.value))
                .collect(),
            choices: choices
                .iter()
                .filter_map(|said| {
                    Some(ListChoice {
                        by: said.by.clone(),
                        at: said.at.to_string(),
                        choice: choice(&said.what)?,
                        note: said.what.note.clone().unwrap_or_default(),
                    })
                })
                .collect(),
        })
    });
    decided.collect()
}

fn choice(decided: &Decided) -> Option<Choice> {
    Some(match decided.choice.as_str() {
        MEASURED => Choice::Measured(decided.value?),
        name => Choice::List(name.to_owned()),
    })
}

/// A row of an old file of decisions, as it concerns all lists of the string.
pub(super) fn row_decision(list: &str, row: &Decision) -> ListDecision {
    let choice = match row.stands {
        Stands::A => Choice::List(RECORD.to_owned()),
        Stands::B => Choice::List(list.to_owned()),
        Stands::Measured(length) => Choice::Measured(length),
    };
    let [a, b] = row.said;
    ListDecision {
        topic: row.topic,
        joint: row.joint.clone(),
        line: None,
        choices: vec![ListChoice {
            by: OLD_FILE.to_owned(),
            at: String::new(),
            choice,
            note: row.note.clone(),
        }],
        said: vec![(RECORD.to_owned(), a), (list.to_owned(), b)],
    }
}

/// A decision as one between the tally of record and another list; `None` where it says nothing of those.
fn pairwise(thing: &Thing, said: &Said<Decided>, list: &str) -> Option<Decision> {
    let decided = &said.what;
    let topic = Topic::from_word(&thing.of)?;
    let of = |name: &str| decided.made_of.iter().find(|it| it.list == name);
    let (record, other) = (of(RECORD), of(list));
    let value = |it: Option<&MadeOf>| it.and_then(|it| it.value);
    let stands = match decided.choice.as_str() {
        RECORD => Stands::A,
        MEASURED => Stands::Measured(decided.value?),
        name if name == list => Stands::B,
        // What a third list says is a value as one that was measured is.
        name => Stands::Measured(value(of(name))?),
    };
    let line = thing
        .line
        .or_else(|| record.or(other).and_then(|it| it.line));
    // Something of a joint that neither list has is no matter between them.
    record.or(other)?;
    Some(Decision {
        topic,
        joint: thing.joint.clone(),
        in_b: record.is_none(),
        line: u32::try_from(line.unwrap_or_default()).unwrap_or(u32::MAX),
        said: [value(record), value(other)],
        stands,
        note: decided.note.clone().unwrap_or_default(),
        row: 0,
    })
}

/// What each list of a string says of something of a joint, the tally of record first; lists that do not have
/// the joint are left out. Which joint of the others it is follows from all lists side by side, as two of them may
/// give one number to different joints. `line` is that of the joint in the first list that has its number.
pub fn made_of(
    tally: &Tally,
    others: &[OtherList],
    pins: Pins,
    (topic, joint, line): (Topic, &str, Option<u64>),
) -> Vec<MadeOf> {
    let others = others
        .iter()
        .filter_map(|list| Some((list.name.as_str(), list.tally.as_ref().ok()?)));
    let all: Vec<NamedList<'_>> = std::iter::once((RECORD, tally))
        .chain(others)
        .map(|(name, tally)| NamedList {
            name,
            from: None,
            tally,
        })
        .collect();
    let rows = side_by_side(&all, &[], pins);
    let row = rows.row_named(joint, line);
    let Some(row) = row.and_then(|at| rows.rows.get(at)) else {
        return Vec::new();
    };
    let listed = row.listed.iter().filter_map(|it| {
        let list = all.get(it.list)?;
        Some(MadeOf {
            list: list.name.to_owned(),
            line: Some(u64::from(it.line)),
            value: figure(topic, list.tally.joints.get(it.index)?),
        })
    });
    listed.collect()
}

fn figure(topic: Topic, joint: &Joint) -> Option<Length> {
    match topic {
        Topic::Length => joint.length,
        Topic::MakeupLoss => joint.makeup_loss,
        Topic::Presence | Topic::Place | Topic::Number => None,
    }
}

/// The event, as JSON, by which the journal takes over a row of a file of decisions; `from` names the row. Of a
/// joint whose number occurs more than once in its list the line is kept too.
pub fn taken_over(
    (slot, list): (&str, &str),
    decision: &Decision,
    from: &str,
    is_of_several: bool,
) -> String {
    let choice = match decision.stands {
        Stands::A => RECORD,
        Stands::B => list,
        Stands::Measured(_) => MEASURED,
    };
    let metres = |length: Length| format!("{} m", length.exact_metres());
    let names: &[&str] = if decision.in_b {
        &[list]
    } else {
        &[RECORD, list]
    };
    let [a, b] = decision.said;
    let made_of: Vec<serde_json::Value> = names
        .iter()
        .map(|name| {
            let (is_first, value) = if *name == RECORD {
                (true, a)
            } else {
                (decision.in_b, b)
            };
            let mut item = serde_json::json!({ "list": name });
            if let Some(keys) = item.as_object_mut() {
                if is_first && decision.line > 0 {
                    keys.insert("line".to_owned(), decision.line.into());
                }
                keys.extend(value.map(|it| ("value".to_owned(), metres(it).into())));
            }
            item
        })
        .collect();
    let mut event = serde_json::json!({
        "event": "decision",
        "by": OLD_FILE,
        "slot": slot,
        "of": decision.topic.name(),
        "joint": decision.joint,
        "choice": choice,
        "made_of": made_of,
        "taken_from": from,
    });
    if let Some(keys) = event.as_object_mut() {
        if is_of_several && decision.line > 0 {
            keys.insert("line".to_owned(), decision.line.into());
        }
        if let Stands::Measured(length) = decision.stands {
            keys.insert("value".to_owned(), metres(length).into());
        }
        if !decision.note.is_empty() {
            keys.insert("note".to_owned(), decision.note.clone().into());
        }
    }
    event.to_string()
}
