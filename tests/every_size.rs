//! Every screen is drawn at every size that a terminal may have, without a panic, and shows its
//! figures at the smallest size that it is made for.

#![allow(clippy::expect_used, reason = "a test may stop")]

use std::path::Path;

use kerfmark::job::Folder;
use kerfmark::screens::{Action, Screen, State, Theme, draw, update};
use ratatui::Terminal;
use ratatui::backend::TestBackend;

const SCREENS: [Screen; 5] = [
    Screen::Overview,
    Screen::Tally,
    Screen::Profile,
    Screen::Cut,
    Screen::Floor,
];

fn drawn(sample: &str, screen: Screen, width: u16, height: u16) -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("sample-tallies")
        .join(sample);
    let folder = Folder::open(&path).expect("a sample that opens");
    let mut state = State::new(folder, (width, height));
    let _ = update(&mut state, Action::Go(screen));
    let mut terminal =
        Terminal::new(TestBackend::new(width, height)).expect("a terminal in memory");
    terminal
        .draw(|frame| draw(&state, &Theme::mono(), frame))
        .expect("drawn");
    terminal.backend().to_string()
}

#[test]
fn no_size_makes_a_screen_panic() {
    for sample in ["four-slots", "three-feet"] {
        let path = Path::new(env!("CARGO_MANIFEST_DIR"))
            .join("sample-tallies")
            .join(sample);
        let folder = Folder::open(&path).expect("a sample that opens");
        for theme in [Theme::colour(), Theme::mono().ascii()] {
            for screen in SCREENS {
                let wide = (1..=200)
                    .flat_map(|width| [1, 5, 10, 24, 40, 60].map(|height| (width, height)));
                let high = (1..=60)
                    .flat_map(|height| [1, 20, 40, 80, 120, 200].map(|width| (width, height)));
                for (width, height) in wide.chain(high) {
                    let mut state = State::new(folder.clone(), (width, height));
                    let _ = update(&mut state, Action::Go(screen));
                    let mut terminal = Terminal::new(TestBackend::new(width, height))
                        .expect("a terminal in memory");
                    terminal
                        .draw(|frame| draw(&state, &theme, frame))
                        .expect("drawn");
                }
            }
        }
    }
}

#[test]
fn the_smallest_size_shows_what_matters() {
    for (screen, parts) in [
        (
            Screen::Overview,
            vec!["122.600", "-100.620", "+14.252", "duplicate-serial"],
        ),
        (Screen::Tally, vec!["A-07", "shoulder", "CUT"]),
        (Screen::Profile, vec!["+14.250", "mudline", "cut"]),
        (
            Screen::Cut,
            vec!["14.252 m", "46' 9 1/16\"", "DOWN from RT", "CAUTION"],
        ),
        (Screen::Floor, vec!["STRING LENGTH m", "ABOVE", "SPIDER"]),
    ] {
        let text = drawn("four-slots", screen, 80, 24);
        for part in parts {
            assert!(text.contains(part), "{part} in\n{text}");
        }
    }
}

#[test]
fn below_the_smallest_size_the_screen_says_so() {
    let text = drawn("four-slots", Screen::Overview, 60, 20);
    assert!(text.contains("80"), "{text}");
}
