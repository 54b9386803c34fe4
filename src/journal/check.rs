//! Whether an event can be, after all that the journal has.

use std::collections::BTreeSet;

use super::chain::{Journal, NO_HASH};
use super::entry::{Draft, Entry};
use super::error::Wrong;
use super::event::Event;
use super::record::{Known, Record, named, struck};
use super::time::Moment;
use crate::job::People;
use crate::measure::Excerpt;

/// Checks an event that would be the journal's next entry. `now` is the clock.
pub fn check(
    known: Known<'_>,
    journal: &Journal,
    draft: &Draft,
    now: &Moment,
) -> Result<(), Wrong> {
    if let Some(at) = draft.at.as_ref().filter(|at| at.seconds() > now.seconds()) {
        return Err(Wrong::Later {
            at: at.to_string(),
            now: now.to_string(),
        });
    }
    for (key, who) in persons(draft) {
        known_person(&known.job.people, key, who)?;
    }
    if let Event::Handover {
        to,
        confirmed_by: Some(who),
        ..
    } = &draft.event
        && who != to
    {
        return Err(Wrong::NotIncoming {
            found: Excerpt::of(who),
            to: Excerpt::of(to),
        });
    }
    if let Event::Handover { to, .. } = &draft.event
        && *to == draft.by
    {
        return Err(Wrong::ToOneself(Excerpt::of(to)));
    }
    let gone = struck(&journal.entries);
    if let Event::Strike { strikes, .. } = draft.event {
        may_strike(journal, &gone, strikes)?;
    }
    let (next, _) = draft.clone().into_entry(journal.next_seq(), now, NO_HASH);
    let mut with: Vec<Entry> = journal.entries.clone();
    let seq = next.seq;
    with.push(next);
    let before = Record::of(known, &journal.entries, &gone);
    let after = Record::of(known, &with, &struck(&with));
    for (number, wrong) in after.impossible {
        if number == seq {
            return Err(wrong);
        }
        if before.impossible.iter().all(|(known, _)| *known != number) {
            return Err(match draft.event {
                Event::Strike { strikes, .. } => Wrong::NeededBy {
                    seq: strikes,
                    later: number,
                },
                _ => Wrong::Contradicts(number),
            });
        }
    }
    Ok(())
}

/// Everyone whom an event names, with the key.
fn persons(draft: &Draft) -> Vec<(&'static str, &str)> {
    let mut persons = vec![("by", draft.by.as_str())];
    match &draft.event {
        Event::Scribe(scribe) => {
            persons.extend(scribe.marks.iter().map(|mark| ("by", mark.by.as_str())));
            persons.push(("checked_by", &scribe.checked_by));
        }
        Event::CutterSet { checked_by, .. } => persons.push(("checked_by", checked_by)),
        Event::JointChecked {
            checked_by: Some(who),
            ..
        }
        | Event::Connection {
            checked_by: Some(who),
            ..
        } => persons.push(("checked_by", who)),
        Event::Handover {
            to, confirmed_by, ..
        } => {
            persons.push(("to", to));
            persons.extend(
                confirmed_by
                    .iter()
                    .map(|who| ("confirmed_by", who.as_str())),
            );
        }
        _ => {}
    }
    persons
}

fn known_person(people: &People, key: &'static str, who: &str) -> Result<(), Wrong> {
    if people.may_enter(who) {
        return Ok(());
    }
    Err(Wrong::Nobody {
        key,
        found: Excerpt::of(who),
        expected: named(people.persons.iter().map(|it| it.initials.as_str())),
    })
}

fn may_strike(journal: &Journal, gone: &BTreeSet<u64>, seq: u64) -> Result<(), Wrong> {
    let mut entries = journal.entries.iter();
    let Some(entry) = entries.find(|entry| entry.seq == seq) else {
        return Err(Wrong::NoEntry(seq));
    };
    if matches!(entry.event, Event::Strike { .. } | Event::HoldSigned(_)) {
        return Err(Wrong::CannotBeStruck {
            seq,
            event: entry.name,
        });
    }
    if gone.contains(&seq) {
        return Err(Wrong::StruckAlready(seq));
    }
    Ok(())
}
