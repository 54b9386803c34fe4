//! What keys do on the profile.

use super::View;
use crate::measure::Length;
use crate::screens::movement::Movement;
use crate::screens::state::State;

/// Rows of the picture: what is left beside the head and the three lines of what the cursor reads.
pub fn picture_rows(body: usize) -> usize {
    body.saturating_sub(4).max(1)
}

fn times(length: Length, top: usize, below: usize) -> Length {
    let top = i64::try_from(top).unwrap_or(1);
    let below = i64::try_from(below).unwrap_or(1).max(1);
    Length::from_nm(length.nm() / below).times(top)
}

/// Moves the cursor by rows, or to an end; the view follows.
pub fn step(state: &mut State, movement: Movement) {
    let rows = picture_rows(state.body_rows());
    let whole = state.whole_view();
    let view = &mut state.view;
    let bottom = whole.top - whole.span;
    let cursor = match movement {
        Movement::Back(by) => view.cursor + times(view.span, by, rows),
        Movement::On(by) => view.cursor - times(view.span, by, rows),
        Movement::First => whole.top,
        Movement::Last => bottom,
    };
    view.cursor = cursor.min(whole.top).max(bottom);
    follow(view);
}

/// Brings the cursor into sight.
fn follow(view: &mut View) {
    let edge = times(view.span, 1, 50);
    if view.cursor > view.top {
        view.top = view.cursor + edge;
    } else if view.cursor <= view.top - view.span {
        view.top = view.cursor + view.span - edge;
    }
}

/// Half as much in sight, or twice as much, about the cursor.
pub fn zoom(state: &mut State, closer: bool) {
    let whole = state.whole_view();
    let view = &mut state.view;
    let span = if closer {
        times(view.span, 1, 2).max(Length::from_mm(500))
    } else {
        times(view.span, 2, 1)
    };
    if span >= whole.span {
        let cursor = view.cursor;
        state.view = View { cursor, ..whole };
        return;
    }
    // The cursor stays where it is on the screen.
    let above = view.top - view.cursor;
    let above = if closer {
        times(above, 1, 2)
    } else {
        times(above, 2, 1)
    };
    view.span = span;
    view.top = view.cursor + above;
    follow(view);
}
