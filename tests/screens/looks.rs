//! What the screens look like: as text at three sizes, with every style, and as a terminal shows it.

use crate::common::on_screen::{drawn, press, state, state_of, type_in};
use crossterm::event::KeyCode;
use kerfmark::folder::ThemeName;
use kerfmark::report::cut_sheet;
use kerfmark::screens::{Action, Overlay, Role, Screen, State, Theme, draw, update};
use ratatui::Terminal;
use ratatui::backend::{CrosstermBackend, TestBackend};
use ratatui::layout::Rect;
use ratatui::style::{Modifier, Style};
use ratatui::{TerminalOptions, Viewport};

pub const SIZES: [(u16, u16); 3] = [(80, 24), (120, 40), (200, 60)];

pub fn snapshots() -> insta::Settings {
    let mut settings = insta::Settings::clone_current();
    settings.set_snapshot_path("pictures");
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
                let sample = match screen {
                    Screen::Reconcile => "three-lists",
                    Screen::Levels => "many-readings",
                    _ => "four-slots",
                };
                let mut state = state_of(sample, size);
                update(&mut state, Action::Go(screen));
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
            assert!(matches!(state.overlay, Overlay::How { .. }));
            insta::assert_snapshot!(name("how"), drawn(&state, size));
            let mut state = state_of("three-lists", size);
            state.person = Some("NK".to_owned());
            press(&mut state, &[KeyCode::Char('3'), KeyCode::Char('t')]);
            type_in(&mut state, "strapped again");
            insta::assert_snapshot!(name("deciding"), drawn(&state, size));
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
fn the_sheet_in_the_readme_is_what_the_program_prints() {
    let state = state();
    let sheet = cut_sheet(&state.inputs, &state.figures).concat();
    let mut lines = sheet.lines();
    for line in block("sheet") {
        assert!(lines.any(|it| it.trim_end() == line), "{line}");
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

/// The styles of a word, wherever a frame shows it.
fn styles_of(state: &State, theme: &Theme, word: &str) -> Vec<Style> {
    let size = state.size;
    let mut terminal = Terminal::new(TestBackend::new(size.0, size.1)).expect("a terminal");
    terminal
        .draw(|frame| draw(state, theme, frame))
        .expect("a frame");
    let buffer = terminal.backend().buffer();
    let mut found = Vec::new();
    for row in 0..size.1 {
        let cells: Vec<&str> = (0..size.0)
            .map(|column| buffer[(column, row)].symbol())
            .collect();
        let line = cells.concat();
        let mut from = 0;
        for (column, cell) in (0_u16..).zip(&cells) {
            if line[from..].starts_with(word) {
                // Of a blank nobody sees the colour of its letters.
                let blanks = word.len() - word.trim_start().len();
                let first = column + u16::try_from(blanks).expect("few");
                let cell = &buffer[(first, row)];
                found.push(Style::from((cell.fg, cell.bg, cell.modifier)));
            }
            from += cell.len();
        }
    }
    found
}

/// Which role a word has: each screen of the sample with the keys that lead to what is judged.
const ROLES: &[(Screen, &[KeyCode], &str, Role)] = &[
    (Screen::Overview, &[], " 1 Overview ", Role::Chip),
    (Screen::Overview, &[], "Tally ", Role::Label),
    (Screen::Overview, &[], "Zevrik shoal", Role::Label),
    (Screen::Overview, &[], " 3 checks ", Role::Check),
    (Screen::Overview, &[], "-27.096", Role::Shoulder),
    (Screen::Overview, &[], "+14.2515", Role::Cut),
    (Screen::Overview, &[], "within", Role::Within),
    (Screen::Overview, &[], " check ", Role::Check),
    (Screen::Overview, &[], "Enter", Role::Key),
    (Screen::Tally, &[], "A-02", Role::Title),
    (Screen::Tally, &[], "overall", Role::Label),
    (Screen::Tally, &[], "grout seal", Role::Accessory),
    (Screen::Tally, &[], "cut here", Role::Cut),
    (
        Screen::Reconcile,
        &[KeyCode::BackTab],
        " open 3 ",
        Role::Check,
    ),
    (
        Screen::Reconcile,
        &[KeyCode::BackTab],
        "open: ",
        Role::Check,
    ),
    (Screen::Profile, &[], "cut +14.2515", Role::Cut),
    (Screen::Profile, &[], "mudline", Role::Ground),
    (Screen::Cut, &[], "Cut target", Role::Label),
    (Screen::Cut, &[], "clear  connection", Role::Within),
    (Screen::Cut, &[], "CAUTION: ", Role::Title),
    (
        Screen::Cut,
        &[KeyCode::Tab, KeyCode::Tab],
        " ALREADY CUT - DO NOT CUT AGAIN ",
        Role::Stop,
    ),
    (
        Screen::Cut,
        &[KeyCode::Tab, KeyCode::Tab],
        "within  ",
        Role::Within,
    ),
    (
        Screen::Cut,
        &[KeyCode::BackTab],
        " PLANNED - NOT FOR CUTTING ",
        Role::Check,
    ),
    (Screen::Floor, &[KeyCode::BackTab], " PLANNED ", Role::Chip),
    (Screen::Floor, &[], "STICK-UP, AS READ", Role::Label),
];

#[test]
fn words_have_the_roles_that_people_read_them_by_with_colours_and_without() {
    for size in [(120, 40), (200, 60)] {
        for theme in [Theme::of(ThemeName::Dark), Theme::of(ThemeName::Mono)] {
            for (screen, keys, word, role) in ROLES {
                let mut state = state_of("four-slots", size);
                update(&mut state, Action::Go(*screen));
                press(&mut state, keys);
                let wanted = theme.style(*role);
                let wanted = Style::from((
                    wanted.fg.unwrap_or_default(),
                    wanted.bg.unwrap_or_default(),
                    wanted.add_modifier,
                ));
                let found = styles_of(&state, &theme, word);
                // Under the cursor it is inverse.
                let inverse = wanted.add_modifier(Modifier::REVERSED);
                assert!(
                    found.contains(&wanted) || found.contains(&inverse),
                    "{screen:?} at {size:?}: `{word}` as {role:?} would be {wanted:?}, is {found:?}"
                );
            }
        }
    }
}

fn parser() -> vt100::Parser {
    let cells = |count| std::num::NonZero::new(count).expect("not none");
    vt100::Parser::new(cells(24), cells(80), 0)
}

/// The rows that are marked from edge to edge or in part, as a terminal shows them.
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
            // With colours what is selected has a ground of its own.
            let marked =
                |cell: &&vt100::Cell| cell.inverse() || cell.bgcolor() == vt100::Color::Idx(24);
            let count = cells.filter(marked).count();
            (row, screen.contents_between(row, 0, row, 80), count)
        })
        .filter(|(_, _, count)| *count > 0)
        .collect()
}

#[test]
fn the_selected_row_stands_out_with_and_without_colours() {
    for theme in [Theme::of(ThemeName::Dark), Theme::of(ThemeName::Mono)] {
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
            selected.1.contains("A-11") && selected.1.contains("cut here"),
            "{selected:?}"
        );
        assert_eq!(
            selected.2, 74,
            "the whole row stands out, beside the drawing"
        );
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
            .draw(|frame| draw(&state, &Theme::of(ThemeName::Mono), frame))
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
