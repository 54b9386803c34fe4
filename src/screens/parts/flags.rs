//! A flag as lines.

use super::pen::StyledLine;
use crate::finding::Flag;
use crate::report::words;
use crate::screens::state::State;
use crate::screens::theme::Role;

/// A flag as a line: severity, slot, code, what it says.
pub fn flag_lines(
    state: &State,
    slot: Option<usize>,
    flag: &Flag,
    width: usize,
) -> Vec<StyledLine> {
    let slot = slot.and_then(|slot| state.inputs.job.slots.get(slot));
    let name = slot.map_or("all", |slot| slot.name.as_str());
    StyledLine::of(
        format!(" {:<5} ", flag.severity.word()),
        Role::of_severity(flag.severity),
    )
    .and(format!(" {name:<4} "), Role::Title)
    .and(format!("{}: ", flag.code), Role::Figure)
    .and(words::flag(flag, state.show), Role::Plain)
    .wrapped(width.saturating_sub(2), 13)
}
