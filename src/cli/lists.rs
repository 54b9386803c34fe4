//! `kerfmark lists JOB --slot NAME`

use std::path::Path;

use super::args::ListsOptions;
use super::done::Done;
use super::error::CliError;
use crate::figures::{SlotLists, Trial};
use crate::folder::{open, store};
use crate::journal::Inputs;
use crate::measure::LengthFormat;
use crate::reconcile::Topic;
use crate::reconcile::many::{ListRow, State};
use crate::report::{self, RecordFile, words};

pub(super) fn run(options: &ListsOptions) -> Result<Done, CliError> {
    let inputs = open(&options.job)?;
    let mut slots = inputs.job.slots.iter();
    let index = slots.position(|slot| slot.name == options.slot);
    let found = index.and_then(|index| Some((index, SlotLists::of(&inputs, index)?)));
    let Some((index, all)) = found else {
        let slots = inputs.job.slots.iter().map(|it| it.name.clone());
        return Err(CliError::NoSlot {
            slot: options.slot.clone(),
            slots: slots.collect(),
        });
    };
    let show = LengthFormat::new(inputs.job.units);
    if let Some(file) = &options.out {
        return write(&inputs, (index, &all), file);
    }
    let text = if options.json {
        report::lists_json(&options.slot, &all, show)? + "\n"
    } else {
        let trial = Trial::of(&inputs, index, &all);
        report::lists_text(&options.slot, &all, trial.as_ref(), (&inputs.job, show))
    };
    // What contradicts itself stops the slot, as its flag does.
    let contradicts = |row: &ListRow| {
        Topic::ALL
            .iter()
            .any(|of| row.state(*of) == State::Conflict)
    };
    Ok(Done {
        stop: all.lists.rows.iter().any(contradicts),
        ..Done::text(text)
    })
}

/// Writes the tally of record, if nothing contradicts itself and the file reads back to the same joints.
fn write(inputs: &Inputs, (slot, all): (usize, &SlotLists), file: &Path) -> Result<Done, CliError> {
    let ending = file.extension().and_then(|it| it.to_str());
    let Some(kind) = ending.and_then(RecordFile::of_ending) else {
        return Err(CliError::OutEnding(file.to_owned()));
    };
    let record = match all.record(inputs, slot) {
        Ok(record) => record,
        Err(things) => {
            return Ok(Done {
                complaints: vec![words::contradicting(&things)],
                stop: true,
                ..Done::text(String::new())
            });
        }
    };
    let bytes = report::lists_record(all, &record, (inputs, slot), kind)
        .map_err(|why| CliError::NoRecord(words::no_record(&why)))?;
    store::write_named(file, &bytes).map_err(|error| CliError::NotWritten {
        file: file.to_owned(),
        error,
    })?;
    let joints = record.joints.len();
    Ok(Done::text(
        words::record_written(file, joints, record.open) + "\n",
    ))
}
