//! What keys do on the profile.

use super::View;
use super::stops::{near_cut, picture_rows, stops};
use crate::measure::Length;
use crate::report::said::Said;
use crate::screens::movement::Movement;
use crate::screens::state::State;

/// The least that is in sight: a kerf is then many rows high.
const LEAST: Length = Length::from_mm(20);

fn times(length: Length, top: usize, below: usize) -> Length {
    let top = i64::try_from(top).unwrap_or(1);
    let below = i64::try_from(below).unwrap_or(1).max(1);
    Length::from_nm(length.nm() / below).times(top)
}

/// Moves the cursor by rows, or to an end; the view follows.
pub fn step(state: &mut State, movement: Movement) {
    let rows = picture_rows(state.size.0, state.body_rows());
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
        times(view.span, 1, 2).max(LEAST)
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

/// Moves the cursor to the next thing further down or up.
pub fn jump(state: &mut State, down: bool) {
    let cursor = state.view.cursor;
    let stops = stops(state);
    let next = if down {
        stops.into_iter().find(|at| *at < cursor)
    } else {
        stops.into_iter().rev().find(|at| *at > cursor)
    };
    if let Some(next) = next {
        state.view.cursor = next;
        follow(&mut state.view);
    }
}

/// Shows the cut of the slot in front from near; all there is where it is shown already.
pub fn open(state: &mut State) {
    let Some(near) = near_cut(state, state.slot_index()) else {
        state.message = Some(Said::NoFigure);
        return;
    };
    state.view = if state.view == near {
        state.whole_view()
    } else {
        near
    };
}

/// The elevation that the cursor reads.
pub fn copied(state: &State) -> String {
    state.show.text(state.view.cursor.height())
}
