//! Floor: figures that can be read from three metres, for the person at the rotary.

use super::digits;
use super::pen::{Line, Pen, cells, width};
use super::state::State;
use super::theme::Role;
use super::update::Step;
use crate::figures::{Basis, RunStep, run_steps};
use crate::measure::{Length, Unit};

/// Goes so many joints in or out.
pub(super) fn step(state: &mut State, step: Step) {
    let Some((_, _, figures)) = state.current() else {
        return;
    };
    let steps = figures.string.pieces.len() + figures.string.landing.len() + 1;
    if let Some(place) = state.places.get_mut(state.slot) {
        place.pieces_in = step.from(place.pieces_in, steps);
    }
}

/// What a stick-up is measured from, and on which side of it the top stands: never a bare sign.
pub(super) fn surface_words(state: &State, stick_up: Length) -> String {
    let surface = surface(state);
    if stick_up.is_zero() {
        format!("LEVEL WITH {surface}")
    } else if stick_up.is_negative() {
        format!("BELOW {surface}")
    } else {
        format!("ABOVE {surface}")
    }
}

fn surface(state: &State) -> &'static str {
    let hull = state
        .current()
        .and_then(|(slot, _, _)| state.folder.job.hulls.get(slot.hull));
    if hull.is_some_and(|hull| hull.stick_up_from.is_zero()) {
        "RT"
    } else {
        "SPIDER"
    }
}

fn unit(state: &State) -> &'static str {
    match state.show.unit() {
        Unit::FootInch => "",
        unit => unit.name(),
    }
}

/// One very large figure: what it is, the figure, and the words beside it.
struct Big {
    label: String,
    text: String,
    words: Vec<String>,
    role: Role,
}

pub(super) fn draw(state: &State, pen: &mut Pen<'_>) {
    let Some((slot, _, figures)) = state.current() else {
        return;
    };
    let steps = run_steps(&state.folder.job, slot.hull, figures);
    let Some(step) = steps.get(state.place().pieces_in) else {
        return;
    };
    let basis = match figures.basis {
        Basis::Read => ("LANDED: STICK-UP READ", Role::Title),
        Basis::Planned => ("PLANNED", Role::Selected),
        Basis::None => ("NO BASIS: LENGTHS ONLY", Role::Selected),
    };
    let hull = state.folder.job.hulls.get(slot.hull);
    let title = Line::of(format!("SLOT {}  ", slot.name), Role::Title)
        .and(format!(" {} ", basis.0), basis.1)
        .and(
            format!(
                "  IN {} OF {}",
                step.pieces_in,
                steps.len().saturating_sub(1)
            ),
            Role::Figure,
        )
        .and(
            format!("  hull position {}", hull.map_or("", |hull| &hull.name)),
            Role::Label,
        );
    pen.line(1, 0, &title);
    let (next, place) = (next(state, step), landing(state, step));
    let mut figures = vec![next, length_and_shoe(state, step)];
    figures.extend(place);
    let room = usize::from(pen.area.height).saturating_sub(1);
    let each = cells(room / figures.len().max(1)).max(6);
    let (mut y, area) = (1, pen.area.width);
    for figure in figures {
        big(&mut pen.part(1, y, area.saturating_sub(2), each), figure);
        y += each;
    }
}

/// Two figures side by side or one alone; each takes an equal part of the width.
fn big(pen: &mut Pen<'_>, figures: Vec<Big>) {
    let count = cells(figures.len().max(1));
    let each = pen.area.width / count;
    for (index, figure) in figures.into_iter().enumerate() {
        let height = pen.area.height;
        let mut part = pen.part(cells(index) * each, 0, each, height);
        part.text(0, 0, &figure.label, Role::Label);
        let beside = figure
            .words
            .iter()
            .map(|word| width(word))
            .max()
            .unwrap_or(0);
        let room = each.saturating_sub(cells(beside + 2));
        let (end, tall) = {
            let mut sign = part.part(0, 1, room, height.saturating_sub(1));
            digits::write(&mut sign, &figure.text, figure.role)
        };
        let first = 1 + tall.saturating_sub(cells(figure.words.len())) / 2;
        for (row, word) in figure.words.iter().enumerate() {
            part.text(end + 2, first + cells(row), word, Role::Figure);
        }
    }
}

fn next(state: &State, step: &RunStep) -> Vec<Big> {
    let Some(joint) = step.next else {
        return vec![Big {
            label: "NEXT".to_owned(),
            text: "ALL IN".to_owned(),
            words: Vec::new(),
            role: Role::Within,
        }];
    };
    let mut words: Vec<String> = Vec::new();
    for (accessory, height) in &step.fit {
        if let Some(accessory) = state.folder.job.accessories.get(*accessory) {
            words.push(format!("FIT {}", accessory.name.to_uppercase()));
            words.push(format!("{} ABOVE", state.show.text(*height)));
            words.push("ITS LOWER PLANE".to_owned());
        }
    }
    let shoulder = state.current().and_then(|(_, _, figures)| figures.shoulder);
    if shoulder.is_some_and(|shoulder| shoulder.piece == step.pieces_in) {
        words.push("RUNNING JOINT: SHOULDER".to_owned());
    }
    let kind = state
        .folder
        .tallies
        .get(state.slot)
        .and_then(|tally| tally.joints.get(joint)?.kind);
    vec![Big {
        label: format!("NEXT JOINT  {}", kind.map_or("", |kind| kind.name())),
        text: state.number(state.slot, joint).to_owned(),
        words,
        role: Role::Figure,
    }]
}

fn length_and_shoe(state: &State, step: &RunStep) -> Vec<Big> {
    let shoe = step.shoe_below_rotary.downward();
    let below = if shoe.is_negative() {
        "ABOVE RT"
    } else {
        "BELOW RT"
    };
    let has_place = step.stick_up_at_place.is_some();
    let mut figures = vec![Big {
        label: format!("STRING LENGTH {}", unit(state)),
        text: state.show.number(step.length),
        words: Vec::new(),
        role: Role::Figure,
    }];
    if has_place {
        figures.push(Big {
            label: format!(
                "SHOE {below} {}, TOP LEVEL WITH {}",
                unit(state),
                surface(state)
            ),
            text: state.show.number(shoe.abs()),
            words: Vec::new(),
            role: Role::Figure,
        });
    }
    figures
}

fn landing(state: &State, step: &RunStep) -> Option<Vec<Big>> {
    let stick_up = step.stick_up_at_place?;
    let (label, role) = if stick_up.is_negative() && step.next.is_some() {
        (
            "AT ITS PLACE THE TOP WOULD STAND: MORE JOINTS NEEDED",
            Role::Plain,
        )
    } else {
        ("STICK-UP WHEN IT IS AT ITS PLACE", Role::Cut)
    };
    let words = surface_words(state, stick_up);
    let unit = unit(state);
    let (side, surface) = words.rsplit_once(' ').unwrap_or((words.as_str(), ""));
    let first = if unit.is_empty() {
        side.to_owned()
    } else {
        format!("{unit} {side}")
    };
    Some(vec![Big {
        label: label.to_owned(),
        text: state.show.number(stick_up.abs()),
        words: vec![first, surface.to_owned()],
        role,
    }])
}
