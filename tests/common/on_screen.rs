//! Screens without a terminal: states of the samples, keys given to them, drawings of them.

use std::path::{Path, PathBuf};

use crossterm::event::{KeyCode, KeyEvent, KeyModifiers};
use kerfmark::folder::{ThemeName, open};
use kerfmark::screens::{Effect, State, Theme, action, draw, update};
use ratatui::Terminal;
use ratatui::backend::TestBackend;

pub fn sample(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("sample-tallies")
        .join(name)
}

pub fn state_of(name: &str, size: (u16, u16)) -> State {
    let folder = open(&sample(name)).expect("a sample that opens");
    State::new(folder, size)
}

pub fn state() -> State {
    state_of("four-slots", (80, 24))
}

pub fn key(code: KeyCode) -> KeyEvent {
    KeyEvent::new(code, KeyModifiers::NONE)
}

/// Gives keys, as far as they are commands where they are pressed.
pub fn press(state: &mut State, keys: &[KeyCode]) -> Vec<Effect> {
    let mut effects = Vec::new();
    for code in keys {
        if let Some(action) = action(state, key(*code)) {
            effects.extend(update(state, action));
        }
    }
    effects
}

pub fn type_in(state: &mut State, text: &str) {
    for letter in text.chars() {
        press(state, &[KeyCode::Char(letter)]);
    }
}

pub fn drawn(state: &State, size: (u16, u16)) -> String {
    let mut terminal = Terminal::new(TestBackend::new(size.0, size.1)).expect("a terminal");
    terminal
        .draw(|frame| draw(state, &Theme::of(ThemeName::Dark), frame))
        .expect("a frame");
    let text = terminal.backend().to_string();
    text.lines()
        .map(|line| line.trim_matches('"').trim_end())
        .collect::<Vec<_>>()
        .join("\n")
}
