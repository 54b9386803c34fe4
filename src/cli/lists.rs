//! `kerfmark lists JOB --slot NAME`

use super::args::ListsOptions;
use super::done::Done;
use super::error::CliError;
use crate::figures::SlotLists;
use crate::folder::open;
use crate::measure::LengthFormat;
use crate::reconcile::many::{ListRow, State};
use crate::report;

pub(super) fn run(options: &ListsOptions) -> Result<Done, CliError> {
    let inputs = open(&options.job)?;
    let mut slots = inputs.job.slots.iter();
    let index = slots.position(|slot| slot.name == options.slot);
    let found = index.and_then(|index| SlotLists::of(&inputs, index));
    let Some(all) = found else {
        let slots = inputs.job.slots.iter().map(|it| it.name.clone());
        return Err(CliError::NoSlot {
            slot: options.slot.clone(),
            slots: slots.collect(),
        });
    };
    let show = LengthFormat::new(inputs.job.units);
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
