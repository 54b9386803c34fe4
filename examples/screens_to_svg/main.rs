//! Draws a screen of a job as an SVG picture on standard output:
//! `cargo run --example screens_to_svg -- JOB COLUMNSxROWS dark|light|sixteen|mono [KEY...]`. A key is a letter, or the
//! name of a key: `Enter`, `Down`, `Tab`.

mod picture;

use std::path::Path;
use std::process::ExitCode;

use crossterm::event::{KeyCode, KeyEvent, KeyModifiers};
use kerfmark::folder::{ThemeName, open};
use kerfmark::screens::{State, Theme, action, draw, update};
use ratatui::Terminal;
use ratatui::backend::TestBackend;

fn key(name: &str) -> Option<KeyCode> {
    let mut letters = name.chars();
    if let (Some(letter), None) = (letters.next(), letters.next()) {
        return Some(KeyCode::Char(letter));
    }
    Some(match name {
        "Enter" => KeyCode::Enter,
        "Esc" => KeyCode::Esc,
        "Tab" => KeyCode::Tab,
        "BackTab" => KeyCode::BackTab,
        "Up" => KeyCode::Up,
        "Down" => KeyCode::Down,
        "Left" => KeyCode::Left,
        "Right" => KeyCode::Right,
        "PageUp" => KeyCode::PageUp,
        "PageDown" => KeyCode::PageDown,
        "Home" => KeyCode::Home,
        "End" => KeyCode::End,
        _ => return None,
    })
}

fn theme(name: &str) -> Option<ThemeName> {
    Some(match name {
        "dark" => ThemeName::Dark,
        "light" => ThemeName::Light,
        "sixteen" => ThemeName::Sixteen,
        "mono" => ThemeName::Mono,
        _ => return None,
    })
}

/// The picture, or what is wrong with the arguments.
fn drawn(arguments: &[String]) -> Result<String, String> {
    let [job, size, look, keys @ ..] = arguments else {
        return Err("expected JOB COLUMNSxROWS THEME [KEY...]".to_owned());
    };
    let parts = size.split_once('x');
    let parts = parts.and_then(|(wide, high)| Some((wide.parse().ok()?, high.parse().ok()?)));
    let size: (u16, u16) = parts.ok_or("the size is two numbers, such as 80x24")?;
    let theme = Theme::of(theme(look).ok_or("no such theme")?);
    let inputs = open(Path::new(job)).map_err(|error| error.to_string())?;
    let mut state = State::new(inputs, size);
    for name in keys {
        let code = key(name).ok_or_else(|| format!("no such key: {name}"))?;
        if let Some(action) = action(&state, KeyEvent::new(code, KeyModifiers::NONE)) {
            update(&mut state, action);
        }
    }
    let mut terminal =
        Terminal::new(TestBackend::new(size.0, size.1)).map_err(|it| it.to_string())?;
    let frame = terminal.draw(|frame| draw(&state, &theme, frame));
    let title = format!("kerfmark: {}", state.screen.name());
    Ok(picture::picture(
        frame.map_err(|it| it.to_string())?.buffer,
        &title,
    ))
}

fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    match drawn(&arguments) {
        Ok(svg) => {
            print!("{svg}");
            ExitCode::SUCCESS
        }
        Err(why) => {
            eprintln!("screens_to_svg: {why}");
            ExitCode::from(2)
        }
    }
}
