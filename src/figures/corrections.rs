//! The corrections that a job asks for, as they act on one reading.

use crate::job::{CorrectedReadings, Correction, CorrectionTerm, Job};
use crate::levels::{GRAVITY, HungString, YOUNG, pulled, sagged, standardised, warmed};
use crate::measure::Length;

/// What a correction adds to a reading.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct CorrectionLine {
    /// The reading, by its index in the network.
    pub reading: usize,
    /// The kind of correction.
    pub kind: &'static str,
    /// What it adds to the rise, rounded to the nanometre.
    pub value: Length,
}

/// A part of a string, where a reading is of its tally.
#[derive(Clone, Copy, Debug)]
pub(super) struct StringPart {
    /// The slot, by its index.
    pub(super) slot: usize,
    /// The string's length.
    pub(super) length: Length,
    /// How far below the top the part begins and ends.
    pub(super) below_top: (Length, Length),
}

/// Which readings a correction may be for.
#[derive(Clone, Copy, Debug)]
pub(super) enum Corrected<'a> {
    /// One of a tally.
    Tally(StringPart),
    /// One that was made so.
    How(&'a str),
}

/// What all corrections of a job add to a rise, each with its kind.
pub(super) fn corrections(
    job: &Job,
    rise: Length,
    of: Corrected<'_>,
) -> Vec<(&'static str, Length)> {
    let all = job.corrections.iter();
    let applied = all.filter(|it| is_for(it, of));
    let values = applied.filter_map(|it| {
        let value = value(job, it.term, rise.real_metres(), of)?;
        Some((it.term.word(), Length::nearest_to_metres(value)?))
    });
    values.collect()
}

fn is_for(correction: &Correction, of: Corrected<'_>) -> bool {
    match (&correction.on, of) {
        (CorrectedReadings::Tally(slots), Corrected::Tally(part)) => slots.has(part.slot),
        (CorrectedReadings::How(asked), Corrected::How(how)) => asked.eq_ignore_ascii_case(how),
        _ => false,
    }
}

fn value(job: &Job, term: CorrectionTerm, rise: f64, of: Corrected<'_>) -> Option<f64> {
    Some(match term {
        CorrectionTerm::Standard { nominal, actual } => {
            standardised(rise, nominal.real_metres(), actual.real_metres())
        }
        CorrectionTerm::Temperature {
            at,
            standard,
            alpha,
        } => warmed(rise, at - standard, alpha),
        CorrectionTerm::Pull { at, standard, area } => pulled(rise, at - standard, area, YOUNG),
        CorrectionTerm::Sag {
            mass_per_metre,
            pull,
            span,
        } => sagged(rise, span.real_metres(), mass_per_metre * GRAVITY, pull),
        CorrectionTerm::Stretch { fluid_density } => {
            let Corrected::Tally(part) = of else {
                return None;
            };
            let string = HungString {
                length: part.length.real_metres(),
                steel: job.slots.get(part.slot)?.pipe.density,
                fluid: fluid_density,
                young: YOUNG,
            };
            let (from, to) = part.below_top;
            string.stretched(from.real_metres(), to.real_metres())
        }
    })
}

/// Corrections that are for no reading of a job, by what they are on.
pub(super) fn without_readings<'a>(job: &'a Job, hows: &[&str]) -> Vec<&'a str> {
    let on = job.corrections.iter().filter_map(|it| match &it.on {
        CorrectedReadings::How(how) if !hows.iter().any(|it| it.eq_ignore_ascii_case(how)) => {
            Some(how.as_str())
        }
        _ => None,
    });
    on.collect()
}
