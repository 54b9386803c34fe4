//! The cut's sheet: its head, the target in large digits and the caution are always in sight; on a wide terminal the
//! joint that is cut stands beside it, and how the figure under the cursor came about.

use super::layout::{HOW, SKETCH, THREE_PANES, TWO_PANES, list_columns};
use super::sheet::items;
use super::sketch;
use super::update::line_among;
use super::writer::Opens;
use crate::figures::CutStatus;
use crate::measure::Length;
use crate::report::{CAUTION, words};
use crate::screens::parts::digits::DotSize;
use crate::screens::parts::how;
use crate::screens::parts::list::{ListItem, list};
use crate::screens::parts::pen::{Pen, StyledLine, cells};
use crate::screens::state::State;
use crate::screens::theme::Role;

/// The caution in one line; the whole of it where there is room.
const SHORT_CAUTION: &str =
    "CAUTION: computed, not authorised. Verify independently; no cut can be undone.";
/// From so many rows on digits may be five rows high.
const TALL: u16 = 26;

/// Draws it.
pub fn draw(state: &State, pen: &mut Pen<'_>) {
    let (columns, rows) = (pen.area.width, pen.area.height);
    let mut items = items(state);
    let at = line_among(state, &items).unwrap_or(0);
    let wide = list_columns(columns);
    let caution = caution(columns);
    let foot = rows.saturating_sub(cells(caution.len()));
    let y = {
        let mut part = pen.part(0, 0, wide, foot);
        head(state, &mut part, &mut items, at)
    };
    let part = &mut pen.part(0, y, wide, foot.saturating_sub(y));
    list(part, &items, Some(at), 0);
    if columns >= TWO_PANES {
        pen.upright(wide, 0, foot);
        sketch::draw(state, &mut pen.part(wide + 2, 0, SKETCH - 3, foot));
    }
    if columns >= THREE_PANES {
        pen.upright(wide + SKETCH, 0, foot);
        let from = wide + SKETCH + 2;
        let mut part = pen.part(from, 0, HOW - 3, foot);
        derivation(state, &mut part, items.get(at));
    }
    for (row, line) in (foot..).zip(&caution) {
        pen.line(1, row, line);
    }
}

/// The whole caution where it takes two lines at most, else the short one.
fn caution(columns: u16) -> Vec<StyledLine> {
    let room = usize::from(columns).saturating_sub(2);
    let whole = StyledLine::of(CAUTION, Role::Title).wrapped(room, 0);
    if whole.len() <= 2 && columns >= TWO_PANES {
        whole
    } else {
        vec![StyledLine::of(SHORT_CAUTION, Role::Title)]
    }
}

/// Whose sheet it is and whether it may be cut, and the figure that matters most in large digits: they stay in sight
/// however far one scrolls. Gives the row after them.
fn head(state: &State, pen: &mut Pen<'_>, items: &mut [ListItem<Opens>], at: usize) -> u16 {
    let mut y = 0;
    if let Some(head) = items.first_mut() {
        for line in std::mem::take(&mut head.lines) {
            pen.line(1, y, &line);
            if at == 0 {
                let width = pen.area.width;
                pen.select(0, y, width);
            }
            y += 1;
        }
    }
    let Some((height, label, role)) = large(state) else {
        return y;
    };
    let show = state.show;
    let text = show.number(height);
    let most = if pen.area.height >= TALL { 5 } else { 3 };
    // Words beside it need so much.
    let room = pen.area.width.saturating_sub(30);
    let size = DotSize::fitting(pen.theme, &[(&text, room)], most);
    let size = size.or_else(|| DotSize::fitting(pen.theme, &[(&text, room)], 5));
    let Some(size) = size else { return y };
    let end = {
        let mut part = pen.part(2, y, room, size.rows());
        size.write(&mut part, &text, role)
    };
    let [_, other] = words::both(show, height);
    let datum = &state.inputs.job.sea_datum;
    let beside = [
        (label, Role::Label),
        (words::above_datum(show.unit(), datum), Role::Figure),
        (format!("= {other}"), Role::Plain),
    ];
    let first = y + (size.rows().saturating_sub(3)) / 2;
    for (row, (text, role)) in (first..).zip(beside) {
        pen.text(end + 5, row, &text, role);
    }
    y + size.rows() + u16::from(pen.area.height >= TALL)
}

/// The height in large digits: the finished top of a conductor that is cut, else the target. None while something stops
/// it, where it was not surveyed, or where the figures are old.
fn large(state: &State) -> Option<(Length, String, Role)> {
    let (_, _, figures) = state.current()?;
    let standing = state.figures.standings.get(state.slot_index())?;
    let target = figures.cut.target.height();
    let as_cut = figures.cut.as_cut.as_ref();
    match standing.status {
        _ if state.old.is_some() => None,
        CutStatus::Stop => None,
        CutStatus::Cut => {
            let mean = as_cut?.mean.value.rounded();
            Some((mean, words::FINISHED_TOP_LARGE.to_owned(), Role::Figure))
        }
        CutStatus::Planned => Some((target, words::TARGET_PLANNED.to_owned(), Role::Label)),
        CutStatus::Check | CutStatus::Clear => {
            Some((target, words::TARGET_LARGE.to_owned(), Role::Cut))
        }
    }
}

/// How the figure under the cursor came about.
fn derivation(state: &State, pen: &mut Pen<'_>, item: Option<&ListItem<Opens>>) {
    let subject = item.and_then(|item| item.opens.1);
    match subject.and_then(|subject| how::of_subject(state, subject)) {
        Some(how) => how::draw_steps(pen, how),
        None => {
            pen.text(0, 0, words::NO_DERIVATION, Role::Label);
        }
    }
}
