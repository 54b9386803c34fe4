//! The slot in front beside the flags: its target, the nearest mark, and where that lies.

use crate::report::words;
use crate::screens::parts::pen::{Pen, StyledLine};
use crate::screens::profile;
use crate::screens::state::State;
use crate::screens::theme::Role;

/// The nearest mark of the slot in front, or why none is given.
pub fn nearest(state: &State) -> Option<(String, Role)> {
    let ((_, _, figures), view) = state.current().zip(state.view())?;
    let standing = state.figures.standings.get(state.slot_index())?;
    let show = state.show;
    let why = match &state.old {
        Some(_) => Some(words::OLD_MARKS.to_owned()),
        None => words::no_marks(figures, standing, show),
    };
    if let Some(why) = why {
        return Some((why, Role::Label));
    }
    let place = figures.cut.place.as_ref()?;
    let marks = words::marks_to_set_out(figures, place);
    let mark = marks.first()?;
    let distance = show.text(mark.distance.value.abs());
    let way = words::direction(view, figures, mark);
    let u = words::known(show, &mark.distance);
    Some((words::nearest_mark(&distance, &way, &u), Role::Plain))
}

/// What is said of the slot in front, in so many columns.
pub fn lines(state: &State, room: usize) -> Vec<StyledLine> {
    let Some((slot, tally, figures)) = state.current() else {
        return Vec::new();
    };
    let show = state.show;
    let mut lines = Vec::new();
    let mut add = |label: &str, value: String, role| {
        let line = StyledLine::of(format!("{label:<13}"), Role::Label).and(value, role);
        lines.extend(line.wrapped(room, 13));
    };
    let [own, other] = words::both(show, figures.cut.target.height());
    add(words::CUT_TARGET, format!("{own} = {other}"), Role::Cut);
    if let Some((text, role)) = nearest(state) {
        add(words::NEAREST_MARK, text, role);
    }
    if let Some(place) = &figures.cut.place {
        let number = figures.chain.number(tally, place.piece);
        add(words::IN_JOINT, number.to_owned(), Role::Plain);
        let asked = state.inputs.job.cut.clearance;
        let clear = words::clearance_word(place, asked);
        let role = match asked {
            Some(asked) if place.is_clear(asked) => Role::Within,
            Some(_) => Role::Outside,
            None => Role::Plain,
        };
        add(words::CLEARANCE, format!(" {clear} "), role);
        let mass = format!(
            "{}, {}",
            show.text(place.offcut_length),
            words::offcut_mass(place)
        );
        add(words::OFF_CUT, mass, Role::Plain);
    }
    let hull = words::at_hull(&slot.hull.name, true);
    add(words::READ_AT, hull, Role::Plain);
    lines
}

/// Its heading: the slot, and whether it may be cut.
fn heading(state: &State, pen: &mut Pen<'_>) {
    let Some(standing) = state.figures.standings.get(state.slot_index()) else {
        return;
    };
    let (role, text) = if state.old.is_some() {
        (Role::Old, words::OLD_STATE.to_owned())
    } else {
        (Role::of_status(standing.status), words::cut_state(standing))
    };
    let line = StyledLine::of(format!("Slot {}  ", state.slot), Role::Title)
        .and(format!(" {text} "), role);
    pen.line(0, 0, &line);
}

/// The slot's figures.
pub fn draw_figures(state: &State, pen: &mut Pen<'_>) {
    heading(state, pen);
    let room = usize::from(pen.area.width);
    for (y, line) in (2..).zip(lines(state, room)) {
        pen.line(0, y, &line);
    }
}

/// The slot to scale; above it its state and the nearest mark, where those do not stand elsewhere.
pub fn draw_profile(state: &State, pen: &mut Pen<'_>, is_alone: bool) {
    let (wide, high) = (pen.area.width, pen.area.height);
    let mut y = 0;
    if is_alone {
        heading(state, pen);
        y = 1;
        let nearest = nearest(state).into_iter();
        let nearest = nearest.map(|(text, role)| StyledLine::of(text, role));
        for line in nearest.flat_map(|it| it.wrapped(usize::from(wide), 2)) {
            pen.line(0, y, &line);
            y += 1;
        }
        y += 1;
    }
    let mut part = pen.part(0, y, wide, high.saturating_sub(y));
    profile::small(state, &mut part, state.slot_index());
}
