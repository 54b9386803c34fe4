//! `kerfmark seat JOB`

use super::args::SeatOptions;
use super::done::Done;
use super::error::CliError;
use crate::deck::SeatState;
use crate::figures::{Seating, of_inputs};
use crate::folder::{Progress, open};
use crate::measure::LengthFormat;
use crate::report::{self, words};

pub(super) fn run(options: &SeatOptions) -> Result<Done, CliError> {
    let inputs = open(&options.job)?;
    let figures = of_inputs(&inputs);
    let progress = Progress::start();
    let told = |drawn| progress.say(words::drawn(drawn, options.draws));
    let seating = Seating::telling(&inputs, &figures, (options.draws, options.seed), &told)?;
    drop(progress);
    let show = LengthFormat::new(inputs.job.units);
    let text = if options.json {
        report::seat_json(&inputs.job, &seating, show)? + "\n"
    } else {
        report::seat_text(&inputs.job, &seating, show)
    };
    Ok(Done {
        stop: seating.seat.state == SeatState::Unstable,
        ..Done::text(text)
    })
}
