//! What a screen shows is there as plain lines.

use std::collections::BTreeSet;
use std::process::Command;

use crate::common::on_screen::{drawn, press, sample, state_of};
use crossterm::event::KeyCode;
use kerfmark::screens::{Action, Screen, update};

fn plain(name: &str, screen: &str) -> String {
    let output = Command::new(env!("CARGO_BIN_EXE_kerfmark"))
        .arg(sample(name))
        .args(["--plain", screen])
        .output()
        .expect("the program");
    assert!(output.status.code().is_some_and(|it| it < 2), "{output:?}");
    String::from_utf8(output.stdout).expect("text")
}

/// The numbers with decimals in a text, without their signs.
fn figures(text: &str) -> BTreeSet<String> {
    let is_part = |letter: char| letter.is_ascii_digit() || letter == '.';
    let numbers = text.split(|letter| !is_part(letter));
    numbers
        .filter(|it| it.len() > 4 && it.matches('.').count() == 1 && !it.ends_with('.'))
        .map(str::to_owned)
        .collect()
}

#[test]
fn every_figure_of_a_screen_is_in_its_plain_lines() {
    let mut seen = 0;
    for name in ["four-slots", "one-night", "many-readings"] {
        for screen in [Screen::Overview, Screen::Tally, Screen::Floor] {
            let lines = plain(name, &screen.name().to_lowercase());
            let there = figures(&lines);
            let mut state = state_of(name, (80, 24));
            update(&mut state, Action::Go(screen));
            for _ in 0..state.figures.slots.len() {
                for figure in figures(&drawn(&state, (80, 24))) {
                    assert!(
                        there.contains(&figure),
                        "{figure} of {screen:?} of {name} is not in\n{lines}"
                    );
                    seen += 1;
                }
                press(&mut state, &[KeyCode::Tab]);
            }
        }
    }
    assert!(seen > 300, "{seen}");
}

/// One night with the first entries of its journal alone, and a line more under `[site]`: what Floor says of loads.
fn load_on_floor(entries: usize, site: &str) -> Option<String> {
    let place = crate::common::copies::copy_of("one-night");
    let change = |name: &str, with: &dyn Fn(&str) -> String| {
        let path = place.path().join(name);
        let text = std::fs::read_to_string(&path).expect("a file");
        std::fs::write(path, with(&text)).expect("a changed file");
    };
    change("journal.jsonl", &|text| {
        text.split_inclusive('\n').take(entries).collect()
    });
    change("job.toml", &|text| {
        text.replace("[site]\n", &format!("[site]\n{site}\n"))
    });
    let output = Command::new(env!("CARGO_BIN_EXE_kerfmark"))
        .arg(place.path())
        .args(["--plain", "floor"])
        .output()
        .expect("the program");
    let text = String::from_utf8(output.stdout).expect("text");
    assert!(text.contains("joints run"), "{text}");
    let load = text.lines().find_map(|it| it.strip_prefix("load: "));
    load.map(str::to_owned)
}

#[test]
fn a_hook_load_is_expected_of_a_string_that_hangs_and_says_why_it_is_not_known() {
    let density = "water_density = 1025";
    let [hangs, landed] = [11, 12];
    let known = load_on_floor(hangs, density).expect("a load");
    assert!(known.starts_with("EXPECTED HOOK LOAD 3"), "{known}");
    let unknown = load_on_floor(hangs, "").expect("a reason");
    assert!(
        unknown.contains("site.water_density is not given"),
        "{unknown}"
    );
    // What is landed stands on its shoulder: the hook carries what is left of it or nothing.
    assert_eq!(load_on_floor(landed, density), None);
    assert_eq!(load_on_floor(landed, ""), None);
    // Nothing hangs.
    assert_eq!(load_on_floor(3, density), None);
}

#[test]
fn plain_lines_have_no_boxes_and_each_says_what_it_is() {
    for name in [
        "four-slots",
        "one-night",
        "three-lists",
        "many-readings",
        "three-feet",
    ] {
        for screen in [
            "overview",
            "tally",
            "profile",
            "floor",
            "record",
            "reconcile",
            "levels",
            "deck",
            "cut",
        ] {
            if screen == "deck"
                && ["one-night", "three-lists", "many-readings", "three-feet"].contains(&name)
            {
                continue;
            }
            let text = plain(name, screen);
            let is_drawn = |letter: char| ('\u{2500}'..='\u{259f}').contains(&letter);
            assert!(!text.contains(is_drawn), "{name} {screen}: {text}");
            assert!(text.lines().count() > 0);
            if ["overview", "tally", "profile", "floor"].contains(&screen) {
                for line in text.lines().filter(|line| !line.is_empty()) {
                    assert!(line.contains(": "), "{name} {screen}: {line}");
                }
            }
        }
    }
}
