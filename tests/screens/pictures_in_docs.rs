//! The pictures in the documents are what the program draws, and the table of looks is of what it draws. Both are
//! written by `INSTA_UPDATE=always cargo test --test screens pictures`.

use std::fmt::Write as _;
use std::fs;
use std::path::{Path, PathBuf};

use super::contrast::{least, least_drawn};
use super::picture::picture;
use crate::common::on_screen::{press, state_of};
use crossterm::event::KeyCode;
use kerfmark::folder::ThemeName;
use kerfmark::screens::{Action, Role, Screen, State, Theme, draw, update};
use ratatui::Terminal;
use ratatui::backend::TestBackend;
use ratatui::buffer::Buffer;

const SIZES: [(u16, u16); 3] = [(80, 24), (120, 40), (200, 60)];
const THEMES: [(ThemeName, &str); 4] = [
    (ThemeName::Dark, "dark"),
    (ThemeName::Light, "light"),
    (ThemeName::Sixteen, "sixteen"),
    (ThemeName::Mono, "mono"),
];

/// A picture: name, screen, keys, size, theme.
type Shown = (
    &'static str,
    Screen,
    &'static [KeyCode],
    (u16, u16),
    ThemeName,
);

const PICTURES: &[Shown] = &[
    (
        "overview",
        Screen::Overview,
        &[KeyCode::Down],
        (120, 40),
        ThemeName::Dark,
    ),
    (
        "tally",
        Screen::Tally,
        &[KeyCode::Tab],
        (120, 40),
        ThemeName::Dark,
    ),
    (
        "reconcile",
        Screen::Reconcile,
        &[],
        (120, 40),
        ThemeName::Dark,
    ),
    ("profile", Screen::Profile, &[], (120, 40), ThemeName::Dark),
    (
        "cut",
        Screen::Cut,
        &[KeyCode::Down, KeyCode::Down],
        (120, 40),
        ThemeName::Dark,
    ),
    (
        "cut-near",
        Screen::Profile,
        &[KeyCode::Enter],
        (80, 24),
        ThemeName::Dark,
    ),
    (
        "floor",
        Screen::Floor,
        &[
            KeyCode::BackTab,
            KeyCode::Down,
            KeyCode::Down,
            KeyCode::Down,
            KeyCode::Down,
            KeyCode::Down,
            KeyCode::Down,
        ],
        (80, 24),
        ThemeName::Dark,
    ),
    ("levels", Screen::Levels, &[], (120, 40), ThemeName::Dark),
    ("deck", Screen::Deck, &[], (120, 40), ThemeName::Dark),
    ("record", Screen::Record, &[], (120, 40), ThemeName::Dark),
    (
        "profile-wide",
        Screen::Profile,
        &[],
        (200, 60),
        ThemeName::Light,
    ),
    (
        "overview-sixteen",
        Screen::Overview,
        &[],
        (80, 24),
        ThemeName::Sixteen,
    ),
    (
        "profile-mono",
        Screen::Profile,
        &[],
        (80, 24),
        ThemeName::Mono,
    ),
];

/// The sample that shows a screen best.
fn sample(screen: Screen) -> &'static str {
    match screen {
        Screen::Reconcile => "three-lists",
        Screen::Levels => "many-readings",
        Screen::Record => "one-night",
        _ => "four-slots",
    }
}

fn shown(screen: Screen, keys: &[KeyCode], size: (u16, u16)) -> State {
    let mut state = state_of(sample(screen), size);
    update(&mut state, Action::Go(screen));
    press(&mut state, keys);
    state
}

fn buffer(state: &State, theme: ThemeName) -> Buffer {
    let size = state.size;
    let mut terminal = Terminal::new(TestBackend::new(size.0, size.1)).expect("a terminal");
    let theme = Theme::of(theme);
    let frame = terminal.draw(|frame| draw(state, &theme, frame));
    frame.expect("a frame").buffer.clone()
}

/// Compares a file with what it should be, or writes it where that is asked for.
fn same(file: &str, text: &str) {
    let path: PathBuf = Path::new(env!("CARGO_MANIFEST_DIR")).join(file);
    if std::env::var("INSTA_UPDATE").is_ok_and(|it| it == "always") {
        fs::create_dir_all(path.parent().expect("a folder")).expect("the folder");
        fs::write(&path, text).expect("written");
        return;
    }
    let there = fs::read_to_string(&path).unwrap_or_default();
    assert!(
        there == text,
        "{file} is not what the program shows: INSTA_UPDATE=always cargo test --test screens pictures writes it"
    );
}

#[test]
fn pictures_in_the_documents_are_what_the_program_draws() {
    for (name, screen, keys, size, theme) in PICTURES {
        let state = shown(*screen, keys, *size);
        let title = format!("kerfmark, {}", screen.name());
        let svg = picture(&buffer(&state, *theme), &title);
        same(&format!("docs/pictures/{name}.svg"), &svg);
    }
}

#[test]
fn the_table_of_pictures_and_contrasts_is_of_what_the_program_draws() {
    let mut text = String::from(
        "# Looks\n\n\
         Written by `INSTA_UPDATE=always cargo test --test screens pictures`. Contrast is by WCAG 2.1: at least 4.5 for text, 3 for lines \
         and patterns, the least over the palettes of xterm, VGA and a desktop console. `mono` sets no colour: its text has the contrast \
         of the terminal.\n\n## Roles\n\n| role | dark | light | sixteen |\n| --- | --- | --- | --- |\n",
    );
    let written =
        |ratio: Option<f64>| ratio.map_or_else(|| "-".to_owned(), |it| format!("{it:.1}"));
    for role in Role::ALL {
        let of = |theme| written(least(theme, role));
        let _ = writeln!(
            text,
            "| {role:?} | {} | {} | {} |",
            of(ThemeName::Dark),
            of(ThemeName::Light),
            of(ThemeName::Sixteen)
        );
    }
    text.push_str("\n## Screens\n\nThe least contrast of a letter that is drawn.\n\n| screen | size | dark | light | sixteen | mono |\n| --- | --- | --- | --- | --- | --- |\n");
    for screen in Screen::ALL {
        for size in SIZES {
            let state = shown(screen, &[], size);
            let _ = write!(text, "| {} | {}x{} |", screen.name(), size.0, size.1);
            for (theme, name) in THEMES {
                let least = least_drawn(&buffer(&state, theme));
                assert!(
                    least.is_none_or(|it| it >= 4.5),
                    "{screen:?} at {size:?} in {name}: {least:?}"
                );
                let _ = write!(text, " {} |", written(least));
            }
            text.push('\n');
        }
    }
    text.push_str("\n## Pictures\n\nOf invented jobs.\n");
    for (name, screen, _, size, theme) in PICTURES {
        let _ = write!(
            text,
            "\n{}, {} x {}, {}:\n\n![{}](pictures/{name}.svg)\n",
            screen.name(),
            size.0,
            size.1,
            THEMES
                .iter()
                .find(|it| it.0 == *theme)
                .map_or("", |it| it.1),
            screen.name(),
        );
    }
    same("docs/looks.md", &text);
}
