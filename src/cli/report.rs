//! `kerfmark report JOB --out FILE`

use std::path::Path;

use super::args::ReportOptions;
use super::done::Done;
use super::error::CliError;
use super::open::compute;
use crate::folder::{now, store};
use crate::report::pages::{Choice, cards, html, pdf, profile, record, rows, svg, text};

pub(super) fn run(options: &ReportOptions) -> Result<Done, CliError> {
    let (inputs, figures, done) = compute(&options.job)?;
    let slot = match &options.slot {
        None => None,
        Some(name) => {
            let mut slots = inputs.job.slots.iter();
            let found = slots.position(|slot| slot.name == *name);
            Some(found.ok_or_else(|| CliError::NoSlot {
                slot: name.clone(),
                slots: inputs.job.slots.iter().map(|it| it.name.clone()).collect(),
            })?)
        }
    };
    let choice = Choice {
        slot,
        paper: options.paper.into(),
        dated: options.dated.then(|| now().to_string()),
    };
    let pages = || match options.card {
        Some(card) => cards(&inputs, &figures, card.into(), &choice),
        None => record(&inputs, &figures, &choice),
    };
    let ending = options
        .out
        .extension()
        .and_then(|it| it.to_str())
        .unwrap_or_default();
    let bytes = match ending.to_ascii_lowercase().as_str() {
        "pdf" => pdf(&pages())?,
        "html" | "htm" => html(&pages()).into_bytes(),
        "txt" => text(&pages()).into_bytes(),
        // Rows and drawings are of the record alone.
        "csv" | "svg" if options.card.is_some() => {
            return Err(CliError::CardEnding(options.out.clone()));
        }
        "csv" => rows(&inputs, &figures, &choice)
            .map_err(|error| CliError::Rows(error.to_string()))?
            .into_bytes(),
        "svg" => svg(&profile(&inputs, &figures, (760.0, 1000.0))).into_bytes(),
        _ => return Err(CliError::ReportEnding(options.out.clone())),
    };
    write(&inputs.root, &options.out, &bytes)?;
    Ok(done)
}

/// Writes the file. One of the job's own folder is never overwritten.
fn write(root: &Path, out: &Path, bytes: &[u8]) -> Result<(), CliError> {
    let written = store::replace_outside(root, out, bytes);
    written.map_err(|error| CliError::NotWritten {
        file: out.to_owned(),
        error,
    })
}
