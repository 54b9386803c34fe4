//! `kerfmark lists JOB --slot NAME`

use std::path::Path;

use super::args::ListsOptions;
use super::done::Done;
use super::error::CliError;
use crate::figures::SlotLists;
use crate::folder::{open, store};
use crate::journal::Inputs;
use crate::measure::LengthFormat;
use crate::reconcile::many::{ListRow, State};
use crate::report::{self, words};
use crate::tally::{Options, ReadError, Tally, read};

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
        report::lists_text(&options.slot, &all, show)
    };
    // What contradicts itself stops the slot, as its flag does.
    let mut states = all.lists.rows.iter().flat_map(ListRow::states);
    Ok(Done {
        stop: states.any(|(_, state)| state == State::Conflict),
        ..Done::text(text)
    })
}

/// Writes the tally of record, if nothing contradicts itself and the file reads back to the same joints.
fn write(inputs: &Inputs, (slot, all): (usize, &SlotLists), file: &Path) -> Result<Done, CliError> {
    if file
        .extension()
        .is_none_or(|it| !it.eq_ignore_ascii_case("csv"))
    {
        return Err(CliError::ListsOutEnding(file.to_owned()));
    }
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
    let stated = inputs.job.slots.get(slot);
    let pins = stated.map(|it| it.pipe.pins).unwrap_or_default();
    let text = report::lists_record_csv(all, &record, (inputs.job.units, pins));
    let expected = record.tally();
    let options = Options {
        job_units: Some(inputs.job.units),
        pins_up: pins.up,
        ..Options::default()
    };
    let read = read(text.as_bytes(), &options).map_err(|problems| {
        let error = ReadError::new(file, problems);
        CliError::NoRecord(error.to_string())
    })?;
    let figures = |tally: &Tally| -> Vec<_> {
        let joints = tally.joints.iter();
        joints
            .map(|it| {
                (
                    it.number.clone(),
                    it.overall.or(it.effective),
                    it.makeup_loss,
                )
            })
            .collect()
    };
    if figures(&read) != figures(&expected) {
        return Err(CliError::NoRecord(words::READS_OTHERWISE.to_owned()));
    }
    store::write_named(file, text.as_bytes()).map_err(|error| CliError::NotWritten {
        file: file.to_owned(),
        error,
    })?;
    let joints = record.joints.len();
    Ok(Done::text(
        words::record_written(file, joints, record.open) + "\n",
    ))
}
