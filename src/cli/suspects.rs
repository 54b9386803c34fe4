//! `kerfmark suspects TALLY --off LENGTH` and `kerfmark suspects JOB --slot NAME --off LENGTH`

use super::args::SuspectsOptions;
use super::done::Done;
use super::error::CliError;
use super::option_words::PinWord;
use crate::figures::string_length;
use crate::folder::{open, read_tally};
use crate::job::{Job, Slot};
use crate::measure::{Length, LengthFormat, ParseOptions, read_length};
use crate::reconcile::{Measured, MeasuredSide, suspects};
use crate::report;
use crate::tally::{Pins, PipeString, Tally};

pub(super) fn run(options: &SuspectsOptions) -> Result<Done, CliError> {
    let is_job = options.path.is_dir() || options.path.extension().is_some_and(|it| it == "toml");
    if is_job && options.reading.is_given() {
        return Err(CliError::AnswersOfAJob);
    }
    let (tally, pins, mut measured) = match (&options.slot, is_job) {
        (Some(name), true) => of_slot(options, name)?,
        (None, false) => {
            let tally = read_tally(&options.path, &options.reading.reader_options())?;
            let pins = Pins {
                up: options.reading.pin == PinWord::Up,
                nominal_loss: None,
            };
            (tally, pins, Measured::default())
        }
        (None, true) => return Err(CliError::SlotMissing),
        (Some(_), false) => return Err(CliError::SlotOfNoJob(options.path.clone())),
    };
    let pool = match &options.pool {
        Some(path) => {
            let read = read_tally(path, &options.reading.reader_options());
            Some(read?)
        }
        None => None,
    };
    measured.off = length(&tally, "--off", &options.off)?;
    if let Some(within) = &options.within {
        let within = length(&tally, "--within", within)?;
        if within.is_negative() {
            return Err(CliError::WithinNegative(within));
        }
        measured.within = Some(within);
    }
    measured.pairs = options.pairs;
    let found = suspects(&tally, pins, pool.as_ref(), &measured);
    let text = if options.json {
        report::suspects_json(&found, LengthFormat::new(tally.unit))? + "\n"
    } else {
        report::suspects_text(&tally, &found)
    };
    Ok(Done::text(text))
}

/// A length of the command line; a bare number is in the unit of the length column.
fn length(tally: &Tally, option: &'static str, text: &str) -> Result<Length, CliError> {
    let rules = ParseOptions {
        bare: Some(tally.unit),
        ..ParseOptions::default()
    };
    read_length(text, &rules)
        .map(|reading| reading.length)
        .map_err(|error| CliError::NoLength { option, error })
}

fn of_slot(options: &SuspectsOptions, name: &str) -> Result<(Tally, Pins, Measured), CliError> {
    let inputs = open(&options.path)?;
    let mut slots = inputs.job.slots.iter().zip(&inputs.tallies).enumerate();
    let Some((index, (slot, tally))) = slots.find(|(_, (slot, _))| slot.name == name) else {
        let slots = inputs.job.slots.iter().map(|it| it.name.clone());
        return Err(CliError::NoSlot {
            slot: name.to_owned(),
            slots: slots.collect(),
        });
    };
    let pins = slot.pipe.pins;
    let string = PipeString::make_up(tally, pins);
    let measured = Measured {
        within: string_length(&inputs.job.uncertainty, index, &string).expanded(),
        on_the_measured_side: measured_side(&inputs.job, slot),
        ..Measured::default()
    };
    Ok((tally.clone(), pins, measured))
}

/// What may be wrong with the stick-up rather than with the tally.
fn measured_side(job: &Job, slot: &Slot) -> Vec<(MeasuredSide, Length)> {
    let Some(stick_up) = slot.stick_up else {
        return Vec::new();
    };
    let hull = &slot.hull;
    let mut all = vec![
        (MeasuredSide::StickUpSign, stick_up.times(2)),
        (MeasuredSide::StickUpSurface, hull.stick_up_from),
    ];
    for other in &job.hulls {
        if other.name != hull.name {
            let side = MeasuredSide::WrongHull {
                hull: other.name.clone(),
            };
            all.push((side, hull.rotary - other.rotary));
        }
    }
    all.retain(|(_, effect)| !effect.is_zero());
    all
}
