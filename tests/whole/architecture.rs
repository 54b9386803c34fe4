//! The house's one-way street: a module may only use those that come before it in the job's flow,
//! and the lower ones know no disk, clock or terminal.

use std::fs;
use std::path::{Path, PathBuf};

/// The modules in the order of the flow; `main.rs` stands outside.
const ORDER: [&str; 10] = [
    "flag",
    "measure",
    "tally",
    "reconcile",
    "job",
    "figures",
    "folder",
    "report",
    "cli",
    "screens",
];

fn sources(folder: &Path) -> Vec<PathBuf> {
    let mut files = Vec::new();
    for entry in fs::read_dir(folder).expect("a folder of sources").flatten() {
        let path = entry.path();
        if path.is_dir() {
            files.extend(sources(&path));
        } else if path.extension().is_some_and(|ending| ending == "rs") {
            files.push(path);
        }
    }
    files
}

fn every_source() -> Vec<(String, String)> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let name = |path: &Path| {
        path.strip_prefix(&root)
            .expect("below src")
            .to_string_lossy()
            .replace('\\', "/")
    };
    sources(&root)
        .iter()
        .map(|path| (name(path), fs::read_to_string(path).expect("text")))
        .collect()
}

fn room(file: &str) -> &str {
    file.split(['/', '.']).next().unwrap_or_default()
}

#[test]
fn a_module_uses_only_those_before_it() {
    let mut wrong = Vec::new();
    for (file, text) in every_source() {
        let Some(place) = ORDER.iter().position(|module| *module == room(&file)) else {
            continue;
        };
        for later in ORDER.iter().skip(place + 1) {
            // The command line opens the screens; nothing else looks up the street.
            if (room(&file), *later) == ("cli", "screens") {
                continue;
            }
            if text.contains(&format!("crate::{later}::"))
                || text.contains(&format!("use crate::{later}"))
            {
                wrong.push(format!("{file} uses {later}"));
            }
        }
    }
    assert!(
        wrong.is_empty(),
        "arrows that point the wrong way: {wrong:#?}"
    );
}

#[test]
fn the_arithmetic_knows_no_disk_no_clock_and_no_terminal() {
    let mut wrong = Vec::new();
    for (file, text) in every_source() {
        let pure = ["flag", "measure", "tally", "job", "figures"].contains(&room(&file));
        if !pure || file.ends_with("tests.rs") {
            continue;
        }
        // The parts of a workbook in memory are read through the same traits as files.
        let in_memory = file.starts_with("tally/import/workbook/");
        for forbidden in [
            "std::fs",
            "std::time",
            "std::io",
            "std::env",
            "ratatui",
            "crossterm",
            "println!",
        ] {
            if text.contains(forbidden) && !(in_memory && forbidden == "std::io") {
                wrong.push(format!("{file} names {forbidden}"));
            }
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}
