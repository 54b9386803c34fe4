//! What a key costs on a slow line: the bytes that are sent to the terminal for it. Printed with `--nocapture`.

use std::cell::RefCell;
use std::io::{self, Write};
use std::rc::Rc;

use crate::common::on_screen::{press, state};
use crossterm::event::KeyCode;
use kerfmark::folder::ThemeName;
use kerfmark::screens::{Action, Screen, State, Theme, draw, update};
use ratatui::backend::CrosstermBackend;
use ratatui::layout::Rect;
use ratatui::{Terminal, TerminalOptions, Viewport};

/// Counts what is written.
#[derive(Clone, Default)]
struct Line(Rc<RefCell<usize>>);

impl Write for Line {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        *self.0.borrow_mut() += bytes.len();
        Ok(bytes.len())
    }

    fn flush(&mut self) -> io::Result<()> {
        Ok(())
    }
}

/// The most bytes of a whole screen, and of a key that moves the cursor by a row.
const MOST: (usize, usize) = (7_000, 700);

#[test]
fn a_screen_costs_few_bytes_and_a_row_far_fewer() {
    for (name, theme) in [
        ("dark", ThemeName::Dark),
        ("sixteen", ThemeName::Sixteen),
        ("mono", ThemeName::Mono),
    ] {
        crossterm::style::force_color_output(true);
        let line = Line::default();
        let options = TerminalOptions {
            viewport: Viewport::Fixed(Rect::new(0, 0, 80, 24)),
        };
        let backend = CrosstermBackend::new(line.clone());
        let mut terminal = Terminal::with_options(backend, options).expect("a terminal");
        let theme = Theme::of(theme);
        let mut drawn = |state: &State| {
            let before = *line.0.borrow();
            terminal
                .draw(|frame| draw(state, &theme, frame))
                .expect("a frame");
            let now = *line.0.borrow();
            now - before
        };
        let mut state = state();
        println!("| {name}, first | {} | |", drawn(&state));
        for screen in Screen::ALL {
            update(&mut state, Action::Go(screen));
            let whole = drawn(&state);
            press(&mut state, &[KeyCode::Down]);
            let row = drawn(&state);
            println!("| {name}, {} | {whole} | {row} |", screen.name());
            assert!(whole <= MOST.0, "{name} {screen:?}: {whole}");
            // On the floor a row is another joint, in large digits.
            let is_large = screen == Screen::Floor;
            assert!(is_large || row <= MOST.1, "{name} {screen:?}: {row}");
        }
    }
}
