//! `kerfmark JOB`: the screens, or the cut sheet where standard output is no terminal.

use std::io::{self, IsTerminal};
use std::path::Path;

use super::done::Done;
use super::error::CliError;
use crate::figures::{self, Figures};
use crate::finding::Severity;
use crate::folder::{Progress, open_telling};
use crate::job::name_of;
use crate::journal::Inputs;
use crate::report::{self, words};
use crate::screens::{self, Asked};
use crate::signing;
use crate::tally::FileNote;

/// Opens a job and computes its figures; what is left to say goes to standard error.
pub(super) fn compute(job: &Path) -> Result<(Inputs, Figures, Done), CliError> {
    let progress = Progress::start();
    let inputs = open_telling(job, &|file| progress.say(words::reading_file(file)))?;
    progress.say(words::WORKING_OUT.to_owned());
    let mut figures = figures::of_inputs(&inputs);
    signing::note_signatures(&inputs, &mut figures);
    drop(progress);
    let done = Done {
        pages: Vec::new(),
        remarks: not_looked_for(&inputs).collect(),
        complaints: Vec::new(),
        stop: figures.worst() == Some(Severity::Stop),
        ended: None,
    };
    Ok((inputs, figures, done))
}

/// What was not looked for in the tallies of record, since their kind of file does not tell.
fn not_looked_for(inputs: &Inputs) -> impl Iterator<Item = String> {
    let tallies = inputs.job.slots.iter().zip(&inputs.tallies);
    tallies.flat_map(|(slot, tally)| {
        let untold = |note: &&FileNote| matches!(note, FileNote::MarksNotRead);
        let notes = tally.notes.iter().filter(untold);
        notes.map(|note| format!("{}: {}", name_of(&slot.tally), words::file_note(note)))
    })
}

pub(super) fn run(job: &Path, asked: Asked) -> Result<Done, CliError> {
    if io::stdout().is_terminal() {
        let ended = screens::run(job, asked)?;
        return Ok(Done {
            ended: Some(ended),
            ..Done::text(String::new())
        });
    }
    let (inputs, figures, done) = compute(job)?;
    Ok(Done {
        pages: report::cut_sheet(&inputs, &figures),
        ..done
    })
}
