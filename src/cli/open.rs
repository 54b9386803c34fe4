//! `kerfmark JOB`: the screens, or the cut sheet where standard output is no terminal.

use std::io::{self, IsTerminal};
use std::path::Path;

use super::done::Done;
use super::error::CliError;
use crate::figures::{self, Figures};
use crate::finding::Severity;
use crate::folder::open;
use crate::job::Inputs;
use crate::report;
use crate::screens;

/// Opens a job and computes its figures; what is left to say goes to standard error.
pub(super) fn compute(job: &Path) -> Result<(Inputs, Figures, Done), CliError> {
    let inputs = open(job)?;
    let figures = figures::of_inputs(&inputs);
    let done = Done {
        pages: Vec::new(),
        remarks: inputs
            .not_used
            .iter()
            .map(|(file, why)| format!("{file}: {why}"))
            .collect(),
        stop: figures.worst() == Some(Severity::Stop),
        ended: None,
    };
    Ok((inputs, figures, done))
}

pub(super) fn run(job: &Path) -> Result<Done, CliError> {
    if io::stdout().is_terminal() {
        let ended = screens::run(job)?;
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
