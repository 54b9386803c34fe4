//! The joint that is cut, drawn with an arrow from each mark to the line. Along the pipe the joint fills the height;
//! arrows from beyond it begin at the upper edge.

use crate::figures::{CutPlace, Mark};
use crate::measure::Length;
use crate::report::words;
use crate::screens::parts::pen::{Pen, StyledLine, cells, width};
use crate::screens::state::State;
use crate::screens::theme::Role;

/// Columns of the pipe and those before it.
const PIPE: u16 = 6;
const BEFORE: u16 = 1;
/// Rows above the upper plane, where arrows from beyond the joint begin, and below the lower one.
const ABOVE: u16 = 4;
const BELOW: u16 = 2;

/// Draws it.
pub fn draw(state: &State, pen: &mut Pen<'_>) {
    let Some((_, tally, figures)) = state.current() else {
        return;
    };
    let Some(place) = &figures.cut.place else {
        pen.text(0, 0, words::NOT_ON_STRING, Role::Label);
        return;
    };
    let number = figures.chain.number(tally, place.piece);
    pen.text(0, 0, &words::joint_drawn(number), Role::Label);
    let rows = pen.area.height;
    let (top, bottom) = (ABOVE, rows.saturating_sub(BELOW + 1));
    if bottom <= top + 4 {
        return;
    }
    let line = line_row(place, (top, bottom));
    pipe(state, pen, (top, line, bottom));
    let standing = state.figures.standings.get(state.slot_index());
    let is_marked = state.old.is_none()
        && standing.is_some_and(|it| words::no_marks(figures, it, state.show).is_none());
    if is_marked {
        let marks = words::marks_to_set_out(figures, place);
        let rows = i128::from(bottom - top);
        let length = place.above_lower_plane + place.below_upper_plane;
        let scale = move |distance: Length| {
            let rows = i128::from(distance.nm()) * rows / i128::from(length.nm().max(1));
            u16::try_from(rows).unwrap_or(u16::MAX)
        };
        arrows(state, pen, &marks, (line, &scale));
    }
}

/// The row of the line: as far between the planes as it is, and never on one of them.
fn line_row(place: &CutPlace, (top, bottom): (u16, u16)) -> u16 {
    let below = i128::from(place.below_upper_plane.nm());
    let all = below + i128::from(place.above_lower_plane.nm());
    let rows = i128::from(bottom - top);
    let row = (below * rows + all / 2) / all.max(1);
    let row = u16::try_from(row.clamp(1, rows - 1)).unwrap_or(1);
    top + row
}

fn pipe(state: &State, pen: &mut Pen<'_>, (top, line, bottom): (u16, u16, u16)) {
    let glyphs = pen.theme.glyphs;
    let is_cut = state.current().is_some_and(|(_, _, it)| it.cut.is_cut());
    let edges = [BEFORE, BEFORE + PIPE - 1];
    for row in top..=bottom {
        // What is above the line comes off.
        let (sign, role) = match (row < line, is_cut) {
            (true, true) => continue,
            (true, false) => (glyphs.gone, Role::Label),
            (false, _) => (glyphs.block, Role::Steel),
        };
        for x in edges {
            pen.sign(x, row, sign, role);
        }
    }
    for (row, name) in [(top, words::UPPER_PLANE), (bottom, words::LOWER_PLANE)] {
        if row == top && is_cut {
            continue;
        }
        for x in (BEFORE - 1)..=(BEFORE + PIPE) {
            pen.sign(x, row, glyphs.line, Role::Label);
        }
        let beside = if row == top { row - 1 } else { row + 1 };
        pen.text(0, beside, name, Role::Label);
    }
    for x in (BEFORE - 1)..=(BEFORE + PIPE) {
        pen.sign(x, line, glyphs.cut, Role::Cut);
    }
    if !is_cut {
        pen.text(BEFORE, line - 1, words::BLADE, Role::Label);
    }
}

/// An arrow for each mark, the nearest first, with its number and its distance beside it: to scale as far as it begins
/// in the drawing, from its edge where that is further off.
fn arrows(
    state: &State,
    pen: &mut Pen<'_>,
    marks: &[&Mark],
    (line, scale): (u16, &dyn Fn(Length) -> u16),
) {
    let glyphs = pen.theme.glyphs;
    let [_, _, up, _, _, _, down, _] = glyphs.arrows;
    let texts: Vec<String> = marks
        .iter()
        .map(|mark| state.show.number(mark.distance.value.abs()))
        .collect();
    let (edge_above, edge_below) = (2, pen.area.height.saturating_sub(1));
    let mut x = BEFORE + PIPE + 5;
    for (at, (mark, text)) in marks.iter().zip(&texts).enumerate() {
        let rows = scale(mark.distance.value.abs());
        let from = if mark.is_upward() {
            line.saturating_add(rows).min(edge_below)
        } else {
            line.saturating_sub(rows).max(edge_above)
        };
        let needed = cells(width(text)) + 3;
        if x + needed > pen.area.width {
            let left_out: Vec<String> = (at + 1..=marks.len()).map(|it| it.to_string()).collect();
            pen.right(1, &words::marks_not_drawn(&left_out), Role::Label);
            return;
        }
        let (first, last) = (from.min(line), from.max(line));
        for row in first..=last {
            pen.sign(x, row, glyphs.wall, Role::Plain);
        }
        let tip = if mark.is_upward() { up } else { down };
        pen.sign(x, line, tip, Role::Cut);
        let middle = first + (last - first) / 2;
        let label = StyledLine::of(format!("{} ", at + 1), Role::Label).and(text, Role::Figure);
        pen.line(x + 1, middle, &label);
        x += needed;
    }
}
