//! How a figure came about, over the screen: its value, then from what, each with where it comes from.

use super::pen::{Pen, cells, width};
use crate::figures::catalogue::Subject;
use crate::report::how::{self, DerivationStep, How, PartOfHow};
use crate::report::said::Said;
use crate::report::words;
use crate::screens::identity::FigureKey;
use crate::screens::overlay::Overlay;
use crate::screens::state::State;
use crate::screens::theme::Role;

/// Rows above the steps.
const HEAD: usize = 4;

/// The figure of a slot whose derivation is open, in the unit in use, without its steps; `None` where there is no
/// such figure.
pub fn of(state: &State, slot: &str, figure: &FigureKey) -> Option<How> {
    let slot = state.index_of(slot)?;
    let subject = figure.subject(&state.inputs, &state.figures, slot)?;
    how::figure(&state.inputs, &state.figures, slot, subject, state.show)
}

/// How it came about, with the steps around one of them.
fn part(state: &State, slot: &str, figure: &FigureKey, at: usize) -> Option<PartOfHow> {
    let slot = state.index_of(slot)?;
    let subject = figure.subject(&state.inputs, &state.figures, slot)?;
    how::part(
        &state.inputs,
        &state.figures,
        slot,
        (subject, at),
        state.show,
    )
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
pub fn places(state: &State, of: (&str, &FigureKey), at: usize) -> usize {
    let seen = in_sight(state, of, at);
    part(state, of.0, of.1, at).map_or(1, |part| part.all.saturating_sub(seen) + 1)
}

/// How many steps are in sight at once.
pub fn in_sight(state: &State, (slot, figure): (&str, &FigureKey), at: usize) -> usize {
    part(state, slot, figure, at).map_or(1, |part| {
        Layout::of(&part.how, room(state.size.0)).steps(state.body_rows())
    })
}

/// How a figure of the slot in front came about; `None` where there is none.
pub fn of_subject(state: &State, subject: Subject) -> Option<How> {
    how::how(
        &state.inputs,
        &state.figures,
        state.slot_index(),
        subject,
        state.show,
    )
}

/// Draws how a figure came about over the screen, from a step on.
pub fn draw(state: &State, pen: &mut Pen<'_>, (slot, figure): (&str, &FigureKey), at: usize) {
    if let Some(part) = part(state, slot, figure, at) {
        let (wide, high) = (pen.area.width.saturating_sub(2), pen.area.height);
        draw_part(&mut pen.part(1, 0, wide, high), &part, at);
    }
}

/// Draws the first of all steps, as many as there is room for.
pub fn draw_steps(pen: &mut Pen<'_>, how: How) {
    let all = how.steps.len();
    let part = PartOfHow { how, first: 0, all };
    draw_part(pen, &part, 0);
}

/// Draws the steps from one on, as many as there is room for.
fn draw_part(pen: &mut Pen<'_>, part: &PartOfHow, at: usize) {
    let how = &part.how;
    pen.text(0, 0, "How it came about", Role::Label);
    let room = usize::from(pen.area.width);
    let title = words::shortened(&how.title, room);
    pen.text(0, 1, &title, Role::Title);
    let end = pen.text(0, 2, "= ", Role::Label);
    pen.text(end, 2, &how.result, Role::Figure);
    let layout = Layout::of(how, room);
    let seen = layout.steps(usize::from(pen.area.height));
    let first = at.min(part.all.saturating_sub(seen));
    let value = layout.value;
    let steps = how.steps.iter().skip(first.saturating_sub(part.first));
    for (row, step) in steps.take(seen).enumerate() {
        let slack = value - width(&step.value).min(value);
        if layout.one_line {
            let y = cells(HEAD + row);
            pen.text(0, y, &step.what, Role::Plain);
            let x = layout.what + 2;
            pen.text(cells(x + slack), y, &step.value, Role::Figure);
            pen.text(cells(x + value + 2), y, &step.source, Role::Label);
        } else {
            let y = cells(HEAD + 2 * row);
            let x = room.saturating_sub(value);
            let what = words::shortened(&step.what, x.saturating_sub(1));
            pen.text(0, y, &what, Role::Plain);
            pen.text(cells(x + slack), y, &step.value, Role::Figure);
            pen.text(2, y + 1, &step.source, Role::Label);
        }
    }
    let below = part.all.saturating_sub(first + seen);
    if below > 0 {
        pen.right(3, &format!("{} ", words::more_below(below)), Role::Chip);
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
