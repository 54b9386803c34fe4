//! The rules on the graph of files.

use std::collections::{BTreeMap, BTreeSet};

use super::sources::Tree;

/// The modules in the order of the flow; `main.rs` is outside.
pub const ORDER: [&str; 14] = [
    "measure",
    "finding",
    "tally",
    "reconcile",
    "job",
    "levels",
    "deck",
    "journal",
    "figures",
    "signing",
    "folder",
    "report",
    "screens",
    "cli",
];

/// What is for few, and the files or modules that may name it.
const FOR_FEW: [(&str, &[&str]); 13] = [
    // The calendar for entries; the clock is read by the folder alone.
    ("jiff", &["journal/time", "folder/book"]),
    ("std::fs", &["folder/"]),
    ("std::net", &[]),
    ("std::*", &[]),
    (
        "std::time",
        &["folder/", "screens/driver", "screens/watchdog"],
    ),
    (
        "std::thread",
        // Which thread it is on: a panic over a damaged workbook becomes an error there alone.
        &[
            "folder/",
            "screens/driver",
            "screens/watchdog",
            "tally/import/workbook/guard",
        ],
    ),
    // The parts of a workbook in memory are read through the same traits as files.
    (
        "std::io",
        &[
            "folder/",
            "screens/driver",
            "screens/watchdog",
            "cli/",
            "tally/import/workbook/",
        ],
    ),
    ("std::env", &["screens/theme", "folder/settings", "cli/"]),
    (
        "std::process",
        &["folder/", "screens/driver", "screens/watchdog", "cli/"],
    ),
    ("ratatui", &["screens/"]),
    ("crossterm", &["screens/"]),
    ("clap", &["cli/"]),
    ("rust_xlsxwriter", &["report/"]),
];

/// Files that need each other and read better as they are, each with the reason.
const CIRCLES_THAT_STAY: [(&[&str], &str); 0] = [];

/// Arrows that point against the order.
pub fn wrong_way(tree: &Tree) -> Vec<String> {
    let place = |module: &str| ORDER.iter().position(|known| *known == module);
    let mut wrong = BTreeSet::new();
    for source in &tree.sources {
        let Some(own) = source.module.first().and_then(|it| place(it)) else {
            continue;
        };
        for named in source.named.iter().filter(|named| named.local) {
            let Some(file) = tree.definer(&named.path) else {
                continue;
            };
            let module = file.split(['/', '.']).next().unwrap_or_default();
            if place(module).is_some_and(|other| other > own) {
                wrong.insert(format!("{} uses {module} ({file})", source.file));
            }
        }
    }
    wrong.into_iter().collect()
}

/// What files name that is not for them.
pub fn forbidden(tree: &Tree) -> Vec<String> {
    let mut wrong = BTreeSet::new();
    for source in &tree.sources {
        for named in source.named.iter().filter(|named| !named.local) {
            let path = named.path.join("::").replacen("core::", "std::", 1);
            for (what, allowed) in FOR_FEW {
                let names_it = path == what || path.starts_with(&format!("{what}::"));
                let may = allowed.iter().any(|start| source.file.starts_with(start));
                if names_it && !may {
                    wrong.insert(format!("{} names {what}", source.file));
                }
            }
        }
    }
    wrong.into_iter().collect()
}

/// Groups of files that need each other, directly or in a ring.
pub fn circles(tree: &Tree) -> Vec<Vec<String>> {
    let mut needs: BTreeMap<&str, BTreeSet<&str>> = BTreeMap::new();
    for source in &tree.sources {
        let own = needs.entry(&source.file).or_default();
        let used = source
            .named
            .iter()
            .filter(|named| named.local && !named.re_export);
        own.extend(used.filter_map(|named| tree.definer(&named.path)));
        own.remove(source.file.as_str());
    }
    let reaches = |from: &str, to: &str| {
        let mut seen = BTreeSet::new();
        let mut next = vec![from];
        while let Some(file) = next.pop() {
            for needed in needs.get(file).into_iter().flatten() {
                if *needed == to {
                    return true;
                }
                if seen.insert(*needed) {
                    next.push(needed);
                }
            }
        }
        false
    };
    let mut found: BTreeSet<Vec<String>> = BTreeSet::new();
    for file in needs.keys() {
        if !reaches(file, file) {
            continue;
        }
        let mut ring: Vec<String> = needs
            .keys()
            .filter(|other| *other == file || (reaches(file, other) && reaches(other, file)))
            .map(|other| (*other).to_owned())
            .collect();
        ring.sort();
        found.insert(ring);
    }
    found
        .into_iter()
        .filter(|ring| {
            !CIRCLES_THAT_STAY
                .iter()
                .any(|(files, _)| ring.iter().map(String::as_str).eq(files.iter().copied()))
        })
        .collect()
}
