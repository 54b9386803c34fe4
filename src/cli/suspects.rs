//! `kerfmark suspects TALLY --off LENGTH` and `kerfmark suspects JOB --slot NAME --off LENGTH`, or with what was
//! measured in place of what is off.

use super::args::SuspectsOptions;
use super::done::Done;
use super::error::CliError;
use super::option_words::PinWord;
use crate::figures::{Chain, MeasuredAs, MeasuredOff, SlotView, string_length};
use crate::folder::{open, read_tally};
use crate::job::{Job, Slot};
use crate::measure::{Elevation, Length, LengthFormat, ParseOptions, read_length};
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
            let mut measured = Measured::default();
            if let Some(text) = &options.off {
                measured.off = length(&tally, "--off", text)?;
            }
            if let Some(text) = &options.measured {
                let string = PipeString::make_up(&tally, pins);
                measured.off = length(&tally, "--measured", text)? - string.length;
            }
            (tally, pins, measured)
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
    let view = SlotView {
        job: &inputs.job,
        index,
        slot,
        tally,
    };
    let chain = Chain::of(view);
    let (off, among, side) = match measured_as(tally, options)? {
        None => {
            let text = options.off.as_deref().unwrap_or_default();
            let off = length(tally, "--off", text)?;
            (off, None, measured_side(&inputs.job, slot, slot.stick_up))
        }
        Some(measured) => {
            let found = MeasuredOff::of(slot, &chain, measured);
            let found = found.ok_or_else(|| CliError::NothingComputed(name.to_owned()))?;
            let side = match measured {
                MeasuredAs::StringLength(_) => Vec::new(),
                MeasuredAs::StickUp(read) => measured_side(&inputs.job, slot, Some(read)),
                MeasuredAs::Shoe(_) => measured_side(&inputs.job, slot, slot.stick_up),
                // A computed top that is too high leaves the measured one too low.
                MeasuredAs::Top(_) => {
                    let all = measured_side(&inputs.job, slot, slot.stick_up);
                    all.into_iter()
                        .map(|(side, effect)| (side, -effect))
                        .collect()
                }
            };
            (found.off, found.among, side)
        }
    };
    let measured = Measured {
        off,
        within: string_length(&inputs.job.uncertainty, index, &chain.string).expanded(),
        on_the_measured_side: side,
        among,
        ..Measured::default()
    };
    Ok((tally.clone(), pins, measured))
}

/// What was measured of a slot's string; `None` where its misclosure itself is given.
fn measured_as(tally: &Tally, options: &SuspectsOptions) -> Result<Option<MeasuredAs>, CliError> {
    let read = |option, text: &Option<String>| {
        let text = text.as_deref();
        text.map(|text| length(tally, option, text)).transpose()
    };
    let whole = read("--measured", &options.measured)?.map(MeasuredAs::StringLength);
    let stick_up = read("--measured-stick-up", &options.measured_stick_up)?;
    let shoe = read("--measured-shoe", &options.measured_shoe)?.map(MeasuredAs::Shoe);
    let top = read("--measured-top", &options.measured_top)?;
    let top = top.map(|top| MeasuredAs::Top(Elevation::above_datum(top)));
    Ok(whole.or(stick_up.map(MeasuredAs::StickUp)).or(shoe).or(top))
}

/// What may be wrong with the stick-up rather than with the tally.
fn measured_side(job: &Job, slot: &Slot, stick_up: Option<Length>) -> Vec<(MeasuredSide, Length)> {
    let Some(stick_up) = stick_up else {
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
