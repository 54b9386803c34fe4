//! A statement that is signed, drawn.

use super::state::{SignStage, Signing};
use crate::report::words;
use crate::screens::parts::pen::{Pen, StyledLine, cells};
use crate::screens::state::State;
use crate::screens::theme::Role;

/// Rows that the statement leaves: its heading, a blank row, what is typed.
const BESIDE: usize = 5;

/// Rows of the statement that are in sight.
pub(super) fn rows(state: &State) -> usize {
    state.body_rows().saturating_sub(BESIDE).max(1)
}

/// The statement in lines of the width in use.
pub(super) fn lines(state: &State, of: &Signing) -> Vec<StyledLine> {
    let width = usize::from(state.size.0).saturating_sub(2).max(1);
    let text = of.shown.text.lines();
    text.flat_map(|line| StyledLine::of(line, Role::Plain).wrapped(width, 4))
        .collect()
}

/// Draws it.
pub fn draw(state: &State, pen: &mut Pen<'_>, of: &Signing) {
    let lines = lines(state, of);
    let rows = rows(state);
    let last = (lines.len() + 1).saturating_sub(rows).max(1) - 1;
    let at = match of.stage {
        SignStage::Reading(at) => at.min(last),
        _ => last,
    };
    let title = StyledLine::of(words::signs(&of.slot, of.hold, of.role), Role::Title);
    let title = title.and(
        words::signs_as(&of.person, of.on_paper, at + rows, lines.len()),
        Role::Label,
    );
    pen.line(1, 0, &title);
    for (row, line) in lines.iter().skip(at).take(rows).enumerate() {
        pen.line(1, cells(row + 1), line);
    }
    let width = usize::from(pen.area.width).saturating_sub(2);
    let ask = match &of.stage {
        SignStage::Reading(at) if *at < last => vec![words::READ_ON.to_owned()],
        SignStage::Reading(_) if of.on_paper => vec![words::SIGN_ON_PAPER.to_owned()],
        SignStage::Reading(_) => vec![words::SIGN_BY_KEY.to_owned()],
        SignStage::Changed => vec![words::CHANGED.to_owned()],
        SignStage::KeyFile(typed, usual) => vec![words::key_file(usual), format!("> {typed}_")],
        SignStage::Passphrase(file, secret) => {
            let dots = "*".repeat(secret.text().chars().count());
            vec![words::passphrase_of(file), format!("> {dots}_")]
        }
    };
    let mut y = rows + 2;
    for line in ask {
        for part in StyledLine::of(line, Role::Selected).wrapped(width, 2) {
            pen.line(1, cells(y), &part);
            y += 1;
        }
    }
}
