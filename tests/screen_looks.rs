//! What the screens look like: as text at three sizes, with every style, and as a terminal shows it.

#![allow(
    clippy::expect_used,
    clippy::indexing_slicing,
    reason = "a test may stop"
)]

#[path = "common/on_screen.rs"]
#[allow(dead_code, reason = "each test file uses its part of it")]
mod on_screen;

use std::collections::BTreeMap;
use std::fmt::Write as _;

use crossterm::event::KeyCode;
use kerfmark::report::cut_sheet;
use kerfmark::screens::{Action, Overlay, Screen, State, Theme, draw, update};
use on_screen::{drawn, press, state, state_of, type_in};
use ratatui::Terminal;
use ratatui::backend::{CrosstermBackend, TestBackend};
use ratatui::layout::Rect;
use ratatui::{TerminalOptions, Viewport};

const SIZES: [(u16, u16); 3] = [(80, 24), (120, 40), (200, 60)];

fn snapshots() -> insta::Settings {
    let mut settings = insta::Settings::clone_current();
    settings.set_snapshot_path("screens");
    settings.set_prepend_module_to_snapshot(false);
    settings.set_omit_expression(true);
    settings
}

#[test]
fn every_screen_looks_as_it_should_at_three_sizes() {
    snapshots().bind(|| {
        for size in SIZES {
            let name = |screen: &str| format!("{screen}-{}x{}", size.0, size.1);
            for screen in Screen::ALL {
                let mut state = state_of("four-slots", size);
                update(&mut state, Action::Go(screen));
                if screen == Screen::Reconcile {
                    // The slot that has another list.
                    press(&mut state, &[KeyCode::BackTab]);
                }
                if screen == Screen::Floor {
                    press(
                        &mut state,
                        &[KeyCode::Home, KeyCode::Down, KeyCode::PageDown, KeyCode::Up],
                    );
                }
                let name = name(&screen.name().to_lowercase());
                insta::assert_snapshot!(name, drawn(&state, size));
            }
            let mut state = state_of("four-slots", size);
            press(&mut state, &[KeyCode::Char('5'), KeyCode::Char('?')]);
            insta::assert_snapshot!(name("help"), drawn(&state, size));
            let mut state = state_of("four-slots", size);
            let down = [KeyCode::Down; 5];
            press(&mut state, &[KeyCode::Char('5')]);
            press(&mut state, &down);
            press(&mut state, &[KeyCode::Enter]);
            assert!(matches!(state.overlay, Overlay::How(..)));
            insta::assert_snapshot!(name("how"), drawn(&state, size));
        }
    });
}

/// The lines of a block of the README, by the word after its fence.
fn block(word: &str) -> Vec<String> {
    let readme = std::fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/README.md"));
    let readme = readme.expect("the README");
    let (_, rest) = readme.split_once(&format!("```{word}\n")).expect("a block");
    let (block, _) = rest.split_once("\n```").expect("its end");
    block.lines().map(str::to_owned).collect()
}

#[test]
fn the_pictures_in_the_readme_are_what_the_program_shows() {
    let state = state();
    let sheet = cut_sheet(&state.folder, &state.figures);
    for (word, text) in [("screen", drawn(&state, (80, 24))), ("sheet", sheet)] {
        let mut lines = text.lines();
        for line in block(word) {
            assert!(lines.any(|it| it.trim_end() == line), "{word}: {line}");
        }
    }
}

#[test]
fn a_sample_in_feet_and_a_planned_slot_look_as_they_should() {
    snapshots().bind(|| {
        let size = (80, 24);
        let mut state = state_of("three-feet", size);
        insta::assert_snapshot!("feet-overview", drawn(&state, size));
        press(&mut state, &[KeyCode::Char('5')]);
        insta::assert_snapshot!("feet-cut", drawn(&state, size));
        let mut state = state_of("four-slots", size);
        press(&mut state, &[KeyCode::BackTab, KeyCode::Char('6')]);
        insta::assert_snapshot!("planned-floor", drawn(&state, size));
        press(&mut state, &[KeyCode::Char('5')]);
        insta::assert_snapshot!("planned-cut", drawn(&state, size));
    });
}

/// Every style of a frame with the words that have it, so that a change of a colour is seen, and what
/// has none.
fn styles(state: &State, theme: &Theme, size: (u16, u16)) -> String {
    let mut terminal = Terminal::new(TestBackend::new(size.0, size.1)).expect("a terminal");
    terminal
        .draw(|frame| draw(state, theme, frame))
        .expect("a frame");
    let buffer = terminal.backend().buffer();
    let mut words: BTreeMap<String, Vec<String>> = BTreeMap::new();
    for row in 0..size.1 {
        let mut before = String::new();
        for column in 0..size.0 {
            let cell = &buffer[(column, row)];
            let style = format!("{:?} on {:?}, {:?}", cell.fg, cell.bg, cell.modifier);
            let all = words.entry(style.clone()).or_default();
            if style != before {
                all.push(String::new());
            }
            all.last_mut().expect("one").push_str(cell.symbol());
            before = style;
        }
    }
    let plain = "Reset on Reset, NONE";
    let mut text = String::new();
    for (style, all) in words.into_iter().filter(|(style, _)| style != plain) {
        let all: Vec<&str> = all.iter().map(|it| it.trim()).collect();
        let _ = writeln!(text, "{style}: {}", all.join(" | "));
    }
    text
}

#[test]
fn every_style_of_every_screen_is_as_it_should_be_with_colours_and_without() {
    snapshots().bind(|| {
        for size in SIZES {
            for (name, theme) in [("colour", Theme::colour()), ("no-color", Theme::mono())] {
                let mut text = String::new();
                for screen in Screen::ALL {
                    let mut state = state_of("four-slots", size);
                    update(&mut state, Action::Go(screen));
                    if screen == Screen::Reconcile {
                        press(&mut state, &[KeyCode::BackTab]);
                    }
                    let styles = styles(&state, &theme, size);
                    let _ = writeln!(text, "{}\n{styles}", screen.name());
                }
                let name = format!("styles-{}x{}-{name}", size.0, size.1);
                insta::assert_snapshot!(name, text);
            }
        }
    });
}

fn parser() -> vt100::Parser {
    let cells = |count| std::num::NonZero::new(count).expect("not none");
    vt100::Parser::new(cells(24), cells(80), 0)
}

/// The rows that are inverse from edge to edge or in part, as a terminal shows them.
fn inverse(state: &State, theme: &Theme) -> Vec<(u16, String, usize)> {
    crossterm::style::force_color_output(true);
    let mut bytes = Vec::new();
    {
        let options = TerminalOptions {
            viewport: Viewport::Fixed(Rect::new(0, 0, 80, 24)),
        };
        let backend = CrosstermBackend::new(&mut bytes);
        let mut terminal = Terminal::with_options(backend, options).expect("a terminal");
        terminal
            .draw(|frame| draw(state, theme, frame))
            .expect("a frame");
    }
    let mut parser = parser();
    parser.process(&bytes);
    let screen = parser.screen();
    (0..24)
        .map(|row| {
            let cells = (0..80).filter_map(|column| screen.cell(row, column));
            let count = cells.filter(|cell| cell.inverse()).count();
            (row, screen.contents_between(row, 0, row, 80), count)
        })
        .filter(|(_, _, count)| *count > 0)
        .collect()
}

#[test]
fn the_selected_row_is_inverse_with_and_without_colours() {
    for theme in [Theme::colour(), Theme::mono()] {
        let mut state = state();
        press(&mut state, &[KeyCode::Char('2')]);
        // The row of the cut, whose mark has a colour of its own.
        press(&mut state, &[KeyCode::End]);
        type_in(&mut state, "/a-11");
        press(&mut state, &[KeyCode::Enter]);
        let rows = inverse(&state, &theme);
        let selected = rows
            .iter()
            .find(|(row, _, _)| *row > 2)
            .expect("a selected row");
        assert!(
            selected.1.contains("A-11") && selected.1.contains("CUT"),
            "{selected:?}"
        );
        assert_eq!(selected.2, 80, "the whole row stands out");
        press(&mut state, &[KeyCode::Char('1')]);
        let rows = inverse(&state, &theme);
        assert!(
            rows.iter()
                .any(|(row, text, _)| *row > 2 && text.contains('A')),
            "{rows:?}"
        );
    }
}

#[test]
fn without_colours_no_colour_is_sent() {
    let mut bytes = Vec::new();
    {
        let options = TerminalOptions {
            viewport: Viewport::Fixed(Rect::new(0, 0, 80, 24)),
        };
        let backend = CrosstermBackend::new(&mut bytes);
        let mut terminal = Terminal::with_options(backend, options).expect("a terminal");
        let state = state();
        terminal
            .draw(|frame| draw(&state, &Theme::mono(), frame))
            .expect("a frame");
    }
    let mut parser = parser();
    parser.process(&bytes);
    let screen = parser.screen();
    for (row, column) in (0..24).flat_map(|row| (0..80).map(move |column| (row, column))) {
        let cell = screen.cell(row, column).expect("a cell");
        assert_eq!(
            (cell.fgcolor(), cell.bgcolor()),
            (vt100::Color::Default, vt100::Color::Default)
        );
    }
}
