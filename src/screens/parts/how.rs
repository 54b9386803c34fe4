//! How a figure came about, over the screen: its value, then from what, each with where it comes from.

use super::pen::{Pen, cells, width};
use crate::figures::catalogue::Subject;
use crate::report::how::{self, DerivationStep, How};
use crate::report::said::Said;
use crate::report::words;
use crate::screens::identity::FigureKey;
use crate::screens::overlay::Overlay;
use crate::screens::state::State;
use crate::screens::theme::Role;

/// Rows above the steps.
const HEAD: usize = 4;

/// How a figure of a slot came about, in the unit in use; `None` where there is no such figure.
pub fn of(state: &State, slot: &str, figure: &FigureKey) -> Option<How> {
    let slot = state.index_of(slot)?;
    let subject = figure.subject(&state.inputs, &state.figures, slot)?;
    how::how(&state.inputs, &state.figures, slot, subject, state.show)
}

/// The widths of the three columns, and whether they fit on one line.
struct Layout {
    what: usize,
    value: usize,
    one_line: bool,
}

impl Layout {
    fn of(how: &How, room: usize) -> Self {
        let widest = |of: fn(&DerivationStep) -> &str| {
            let widths = how.steps.iter().map(|step| width(of(step)));
            widths.max().unwrap_or(0)
        };
        let what = widest(|step| &step.what);
        let value = widest(|step| &step.value);
        let source = widest(|step| &step.source);
        Self {
            what,
            value,
            one_line: what + value + source + 4 <= room,
        }
    }

    /// How many steps are in sight.
    fn steps(&self, rows: usize) -> usize {
        let rows = rows.saturating_sub(HEAD);
        (if self.one_line { rows } else { rows / 2 }).max(1)
    }
}

fn room(columns: u16) -> usize {
    usize::from(columns).saturating_sub(2)
}

/// How many places there are to scroll to.
pub fn places(state: &State, slot: &str, figure: &FigureKey) -> usize {
    of(state, slot, figure).map_or(1, |how| {
        let seen = Layout::of(&how, room(state.size.0)).steps(state.body_rows());
        how.steps.len().saturating_sub(seen) + 1
    })
}

pub fn draw(state: &State, pen: &mut Pen<'_>, (slot, figure): (&str, &FigureKey), at: usize) {
    let Some(how) = of(state, slot, figure) else {
        return;
    };
    pen.text(1, 0, "How it came about", Role::Label);
    pen.text(1, 1, &how.title, Role::Title);
    let end = pen.text(1, 2, "= ", Role::Label);
    pen.text(end, 2, &how.result, Role::Figure);
    let room = room(pen.area.width);
    let layout = Layout::of(&how, room);
    let seen = layout.steps(usize::from(pen.area.height));
    let first = at.min(how.steps.len().saturating_sub(seen));
    let value = layout.value;
    for (row, step) in how.steps.iter().skip(first).take(seen).enumerate() {
        let slack = value - width(&step.value).min(value);
        if layout.one_line {
            let y = cells(HEAD + row);
            pen.text(1, y, &step.what, Role::Plain);
            let x = layout.what + 3;
            pen.text(cells(x + slack), y, &step.value, Role::Figure);
            pen.text(cells(x + value + 2), y, &step.source, Role::Label);
        } else {
            let y = cells(HEAD + 2 * row);
            let x = room.saturating_sub(value);
            pen.part(1, y, cells(x.saturating_sub(1)), 1)
                .text(0, 0, &step.what, Role::Plain);
            pen.text(cells(x + slack), y, &step.value, Role::Figure);
            pen.text(3, y + 1, &step.source, Role::Label);
        }
    }
    let below = how.steps.len().saturating_sub(first + seen);
    if below > 0 {
        pen.right(3, &format!("{} ", words::more_below(below)), Role::Selected);
    }
}

/// Opens how a figure of the slot in front came about, or says that there is nothing to open.
pub fn show_how(state: &mut State, subject: Option<Subject>) {
    let slot = state.slot_index();
    let figure = subject.and_then(|it| FigureKey::of(&state.inputs, &state.figures, slot, it));
    match figure.filter(|figure| of(state, &state.slot, figure).is_some()) {
        Some(figure) => {
            state.overlay = Overlay::How {
                slot: state.slot.clone(),
                figure,
                at: 0,
            };
        }
        None => state.message = Some(Said::NoFigure),
    }
}

/// A figure of the slot in front as it is shown.
pub fn result(state: &State, subject: Subject) -> Option<String> {
    let slot = state.slot_index();
    let figure = FigureKey::of(&state.inputs, &state.figures, slot, subject)?;
    of(state, &state.slot, &figure).map(|how| how.result)
}
