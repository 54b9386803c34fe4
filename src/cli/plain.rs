//! `kerfmark JOB --plain SCREEN`: what a screen shows, as plain lines.

use std::path::Path;

use super::done::Done;
use super::error::CliError;
use super::open::compute;
use super::option_words::PlainWord;
use crate::figures::{Seating, Trial, levels_of};
use crate::measure::LengthFormat;
use crate::report;

/// How often the cuts are drawn, and the seed: those of `kerfmark seat`.
const DRAWN: (u32, u64) = (10_000, 1);

pub(super) fn run(job: &Path, screen: PlainWord) -> Result<Done, CliError> {
    let (inputs, figures, done) = compute(job)?;
    let show = LengthFormat::new(inputs.job.units);
    let text = match screen {
        PlainWord::Overview => report::plain::overview(&inputs, &figures),
        PlainWord::Tally => report::plain::tally(&inputs, &figures),
        PlainWord::Reconcile => {
            let slots = inputs
                .job
                .slots
                .iter()
                .zip(&figures.side_by_side)
                .enumerate();
            let texts = slots.map(|(index, (slot, all))| match all {
                Some(all) => {
                    let trial = Trial::of(&inputs, index, all);
                    report::lists_text(&slot.name, all, trial.as_ref(), (&inputs.job, show))
                }
                None => format!("{}\n", report::words::no_other_list(&slot.name)),
            });
            texts.collect::<Vec<_>>().join("\n")
        }
        PlainWord::Profile => report::plain::profile(&inputs, &figures),
        PlainWord::Cut => report::cut_sheet(&inputs, &figures).concat(),
        PlainWord::Floor => report::plain::floor(&inputs, &figures),
        PlainWord::Levels => {
            let (levels, _) = levels_of(&inputs)?;
            report::levels_text(&levels, show)
        }
        PlainWord::Deck => {
            let seating = Seating::of(&inputs, &figures, DRAWN)?;
            report::seat_text(&inputs.job, &seating, show)
        }
        PlainWord::Record => report::plain::record(&inputs),
    };
    Ok(Done {
        pages: vec![text],
        ..done
    })
}
