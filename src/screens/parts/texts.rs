//! The texts that lie over a screen.

use super::pen::StyledLine;
use crate::report::words;
use crate::screens::overlay::Overlay;
use crate::screens::state::State;
use crate::screens::theme::Role;
use crate::screens::{levels, overview, reconcile};

/// The lines of what changed, or of what a flag says, or the lists, in the unit in use.
pub fn lines(state: &State) -> Vec<StyledLine> {
    let width = usize::from(state.size.0).saturating_sub(2);
    let wrapped = |text: &str, role| StyledLine::of(text, role).wrapped(width, 2);
    let mut lines = Vec::new();
    match &state.overlay {
        Overlay::Flag(id, _) => {
            if let Some(flag) = overview::flag_of(state, id) {
                lines.extend(wrapped(&words::flag(flag, state.show), Role::Plain));
            }
        }
        Overlay::Thing(of, _) => lines.extend(reconcile::full(state, of, width)),
        Overlay::Level(of, _) => lines.extend(levels::lines(state, of, width)),
        Overlay::Changes(_) => {
            if let Some(reason) = &state.old {
                lines.push(StyledLine::of(
                    "The files cannot be read; the figures are old:",
                    Role::Title,
                ));
                lines.extend(reason.lines().flat_map(|line| wrapped(line, Role::Plain)));
                lines.push(StyledLine::default());
            }
            lines.push(StyledLine::of(
                "What changed in the files since you last looked:",
                Role::Title,
            ));
            if state.changes.is_empty() {
                lines.push(StyledLine::of("nothing", Role::Plain));
            }
            lines.extend(
                state
                    .changes
                    .iter()
                    .flat_map(|text| wrapped(text, Role::Plain)),
            );
        }
        _ => {}
    }
    lines
}
