//! Names by which one part of a job file mentions another.

use std::collections::BTreeSet;
use std::ops::Range;

use super::super::problem::What;
use super::super::section::Section;
use super::super::slot_set::SlotSet;
use super::super::walk::{TomlValue, Walk};
use super::list::conflicting;

/// The names that a list of tables gives, whether or not the rest of each table is valid: an error
/// in one slot must not make every mention of it an error.
pub(super) fn names<'t>(entries: impl Iterator<Item = (&'t str, Range<usize>)>) -> Vec<&'t str> {
    entries.map(|(name, _)| name).collect()
}

pub(super) fn unique(root: &Section<'_>, walk: &mut Walk<'_>, key: &'static str) {
    let mut seen = BTreeSet::new();
    for (name, span) in root.names(key) {
        if !seen.insert(name) && !name.is_empty() {
            let conflict = format!("has the name {name:?} twice; expected each name once");
            walk.report(
                &span,
                What::Conflict {
                    key: key.to_owned(),
                    conflict,
                },
            );
        }
    }
}

/// The index of a name among some, or a problem.
pub(super) fn named(
    section: &Section<'_>,
    walk: &mut Walk<'_>,
    key: &str,
    name: &str,
    names: &[&str],
) -> Option<usize> {
    let found = names.iter().position(|known| *known == name);
    if found.is_none() {
        let what = What::Wrong {
            key: section.key(key),
            found: format!("the text {name:?}"),
            expected: one_of(names),
        };
        walk.report(&section.span_of(key), what);
    }
    found
}

/// So many names are told; of more the rest is counted.
const TOLD: usize = 20;

fn one_of(names: &[&str]) -> String {
    let mut told: Vec<String> = Vec::with_capacity(TOLD);
    let mut more = 0_usize;
    for name in names.iter().filter(|name| !name.is_empty()) {
        if told.len() == TOLD {
            more += 1;
            continue;
        }
        let name = format!("{name:?}");
        if !told.contains(&name) {
            told.push(name);
        }
    }
    match told.as_slice() {
        [] => "a name that the file defines".to_owned(),
        [only] => format!("{only}, the only one defined"),
        several if more == 0 => format!("one of {}", several.join(", ")),
        several => format!("one of {} and {more} more", several.join(", ")),
    }
}

pub(super) fn slot_set<'t>(section: &Section<'t>, walk: &mut Walk<'t>, names: &[&str]) -> SlotSet {
    let Some(texts) = section.texts(walk, "slots") else {
        return SlotSet::All;
    };
    let mut slots = Vec::with_capacity(texts.len());
    for (text, span) in texts {
        if let Some(slot) = names.iter().position(|name| *name == text) {
            slots.push(slot);
        } else {
            let expected = one_of(names);
            walk.report(
                &span,
                What::Wrong {
                    key: section.key("slots"),
                    found: format!("the text {text:?}"),
                    expected,
                },
            );
        }
    }
    if slots.is_empty() && section.get("slots").is_some_and(is_empty_list) {
        let conflict = "names no slot; expected the slots that it is for, or no such key for all";
        conflicting(section, walk, "slots", conflict);
    }
    SlotSet::Some(slots)
}

/// Whether a value is a list of nothing.
pub(super) fn is_empty_list(value: &TomlValue<'_>) -> bool {
    value.get_ref().as_array().is_some_and(|it| it.is_empty())
}
