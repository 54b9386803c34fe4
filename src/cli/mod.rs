//! The command line: arguments in, text and an exit status out. One command a file.

mod args;
mod copying;
mod done;
mod enter;
mod error;
mod figures;
mod levels;
mod lists;
mod new;
mod open;
mod option_words;
mod plain;
mod reconcile;
mod report;
mod seat;
mod shell;
mod sign;
mod suspects;
mod tally;
mod verify;

use std::ffi::OsString;
use std::io::{self, IsTerminal, Write};
use std::process::ExitCode;

use clap::Parser;
use clap::error::ErrorKind;

pub use args::Arguments;
use args::Command;

use crate::measure::visible_lines;
use crate::screens::Asked;
use done::Done;
use error::CliError;

/// Exit status 0: done; 1: done, and something stops the job; 2: the input could not be used.
const STOP: u8 = 1;
const UNUSABLE: u8 = 2;

/// Runs the program with these arguments, the first of which is its name.
pub fn run(arguments: impl IntoIterator<Item = OsString>) -> ExitCode {
    let arguments = match Arguments::try_parse_from(arguments) {
        Ok(arguments) => arguments,
        Err(error) => {
            // Help and version go to standard output with status 0; everything else is an error,
            // the help that follows where no command was given too. A reader that has seen enough
            // and closes the pipe is no error.
            let shown = error.print().or_else(|error| match error.kind() {
                io::ErrorKind::BrokenPipe => Ok(()),
                _ => Err(error),
            });
            let asked = matches!(
                error.kind(),
                ErrorKind::DisplayHelp | ErrorKind::DisplayVersion
            );
            return if asked && shown.is_ok() {
                ExitCode::SUCCESS
            } else {
                ExitCode::from(UNUSABLE)
            };
        }
    };
    let outcome = match arguments.command {
        Some(Command::Figures(options)) => figures::run(&options),
        Some(Command::Tally(options)) => tally::run(&options),
        Some(Command::Reconcile(options)) => reconcile::run(&options),
        Some(Command::Suspects(options)) => suspects::run(&options),
        Some(Command::Levels(options)) => levels::run(&options),
        Some(Command::Seat(options)) => seat::run(&options),
        Some(Command::Lists(options)) => lists::run(&options),
        Some(Command::Enter(options)) => enter::run(&options),
        Some(Command::Report(options)) => report::run(&options),
        Some(Command::Sign(options)) => sign::run(&options),
        Some(Command::Verify(options)) => verify::run(&options),
        Some(Command::New { folder }) => new::run(&folder),
        Some(Command::Completions { shell }) => Ok(shell::completions(shell)),
        Some(Command::Man) => shell::manual(),
        None => match arguments.job {
            Some(job) => {
                let theme = arguments.theme.map(Into::into);
                let ascii = arguments.ascii;
                match arguments.plain {
                    Some(screen) => plain::run(&job, screen),
                    None => open::run(&job, Asked { theme, ascii }),
                }
            }
            None => Err(CliError::NoJob),
        },
    };
    conclude(outcome)
}

/// Prints what came of a command, and gives the exit status.
fn conclude(outcome: Result<Done, CliError>) -> ExitCode {
    match outcome {
        Ok(done) => finish(&done),
        Err(error) => {
            complain(&error);
            ExitCode::from(UNUSABLE)
        }
    }
}

fn finish(done: &Done) -> ExitCode {
    for remark in &done.remarks {
        // Nobody to tell is no reason to fail.
        let _ = writeln!(io::stderr(), "note: {}", visible_lines(remark));
    }
    for complaint in &done.complaints {
        let _ = writeln!(io::stderr(), "{}", visible_lines(complaint));
    }
    // The screens leave nothing to print, and may leave no terminal to print it on.
    if let Some(ended) = done.ended {
        return ExitCode::from(ended.status());
    }
    let mut out = io::stdout().lock();
    // Whatever a text repeats of a file, and whichever command made it, is shown here and nowhere else.
    let pages = done.pages.iter().map(|page| visible_lines(page));
    let text = pages.collect::<Vec<_>>().join("\u{c}");
    if let Err(error) = out.write_all(text.as_bytes()).and_then(|()| out.flush())
        && error.kind() != io::ErrorKind::BrokenPipe
    {
        complain(&CliError::Output(error));
        return ExitCode::from(UNUSABLE);
    }
    if done.stop {
        ExitCode::from(STOP)
    } else {
        ExitCode::SUCCESS
    }
}

/// Prints an error; the word is red only on a terminal that wants colour.
fn complain(error: &CliError) {
    let colour = io::stderr().is_terminal()
        && std::env::var_os("NO_COLOR").is_none_or(|value| value.is_empty());
    let word = if colour {
        "\u{1b}[1;31merror:\u{1b}[0m"
    } else {
        "error:"
    };
    let _ = writeln!(io::stderr(), "{word} {}", visible_lines(&error.to_string()));
}
