//! The screens with a fault planted in the Floor screen: the driver must give the terminal back
//! when drawing panics. For the tests alone.

use std::path::PathBuf;
use std::process::ExitCode;

use kerfmark::screens::{Asked, Screen, State, Targets, Theme, run_with, show};
use ratatui::Frame;

#[allow(clippy::panic, reason = "the fault that the driver is tested against")]
fn faulty(state: &State, theme: &Theme, frame: &mut Frame<'_>) -> Targets {
    assert!(state.screen != Screen::Floor, "planted fault");
    show(state, theme, frame)
}

fn main() -> ExitCode {
    let Some(job) = std::env::args_os().nth(1).map(PathBuf::from) else {
        return ExitCode::from(2);
    };
    match run_with(&job, Asked::default(), faulty) {
        Ok(ended) => ExitCode::from(ended.status()),
        Err(_) => ExitCode::FAILURE,
    }
}
