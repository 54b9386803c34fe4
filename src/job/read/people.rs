//! The persons, roles and hold points of a job file.

use std::ops::Range;

use super::super::people::{Hold, People, Person, Role};
use super::super::problem::What;
use super::super::section::Section;
use super::super::walk::{TomlValue, Walk};

pub(super) fn people<'t>(root: &Section<'t>, walk: &mut Walk<'t>) -> People {
    let persons = root
        .table(walk, "people")
        .map_or_else(Vec::new, |section| persons(&section, walk));
    let roles = root
        .table(walk, "roles")
        .map_or_else(Vec::new, |section| roles(section, walk, &persons));
    let holds = root
        .table(walk, "holds")
        .map(|section| holds(section, walk, &roles));
    People {
        persons,
        roles,
        holds,
    }
}

fn persons<'t>(section: &Section<'t>, walk: &mut Walk<'t>) -> Vec<Person> {
    let mut persons = Vec::new();
    for (initials, value) in section.entries() {
        let is_plain = !initials.trim().is_empty()
            && initials
                .chars()
                .all(|c| !c.is_control() && !c.is_whitespace());
        if !is_plain {
            let what = What::Wrong {
                key: section.key(initials),
                found: format!("the initials {initials:?}"),
                expected: "initials without spaces".to_owned(),
            };
            walk.report(&value.span(), what);
        }
        match value.get_ref().as_str() {
            Some(name) if !name.trim().is_empty() && !name.chars().any(char::is_control) => {
                persons.push(Person {
                    initials: initials.to_owned(),
                    name: name.trim().to_owned(),
                });
            }
            _ => walk.wrong(value, section.key(initials), "the person's name in quotes"),
        }
    }
    persons
}

fn roles<'t>(
    section: Section<'t>,
    walk: &mut Walk<'t>,
    persons: &[Person],
) -> Vec<(Role, Vec<String>)> {
    let mut roles = Vec::new();
    for role in Role::ALL {
        let Some(names) = section.texts(walk, role.name()) else {
            continue;
        };
        let mut who: Vec<String> = Vec::new();
        for (name, span) in names {
            let is_known = persons.is_empty() || persons.iter().any(|it| it.initials == name);
            if is_known && !name.trim().is_empty() {
                who.push(name);
            } else {
                let expected = "initials of [people]".to_owned();
                wrong(walk, &span, section.key(role.name()), &name, expected);
            }
        }
        not_empty(&section, walk, role.name(), who.is_empty());
        roles.push((role, who));
    }
    section.finish(walk);
    roles
}

fn holds<'t>(
    section: Section<'t>,
    walk: &mut Walk<'t>,
    given: &[(Role, Vec<String>)],
) -> Vec<(Hold, Vec<Role>)> {
    let mut holds = Vec::new();
    for hold in Hold::ALL {
        let Some(names) = section.texts(walk, hold.name()) else {
            continue;
        };
        let mut roles: Vec<Role> = Vec::new();
        for (name, span) in names {
            let role = Role::from_name(&name);
            match role.filter(|role| given.iter().any(|(known, _)| known == role)) {
                Some(role) if !roles.contains(&role) => roles.push(role),
                Some(_) => {}
                None => {
                    let expected = "a role of [roles]".to_owned();
                    wrong(walk, &span, section.key(hold.name()), &name, expected);
                }
            }
        }
        not_empty(&section, walk, hold.name(), roles.is_empty());
        roles.sort_unstable();
        holds.push((hold, roles));
    }
    section.finish(walk);
    holds
}

fn wrong(walk: &mut Walk<'_>, span: &Range<usize>, key: String, name: &str, expected: String) {
    let found = format!("the text {name:?}");
    let what = What::Wrong {
        key,
        found,
        expected,
    };
    walk.report(span, what);
}

/// A role that nobody holds, or a hold point that nobody signs, is never passed.
fn not_empty<'t>(section: &Section<'t>, walk: &mut Walk<'t>, key: &'static str, is_empty: bool) {
    let is_list_of_none =
        |value: &&TomlValue<'_>| value.get_ref().as_array().is_some_and(|it| it.is_empty());
    if let Some(value) = section.get(key).filter(is_list_of_none)
        && is_empty
    {
        walk.wrong(value, section.key(key), "at least one, or no such key");
    }
}
