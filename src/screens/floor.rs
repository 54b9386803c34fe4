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
    let (mut fit, mut figures) = (fit(state, step), vec![next(state, step)]);
    if let Some(figure) = shoe(state, step) {
        figures.push(vec![figure]);
    }
    figures.extend(landing(state, step).map(|figure| vec![figure]));
    fit.truncate(
        usize::from(pen.area.height)
            .saturating_sub(1 + 6 * figures.len())
            .max(1),
    );
    let mut y = 1;
    let area = pen.area.width.saturating_sub(2);
    let room = pen.area.height.saturating_sub(1 + cells(fit.len()));
    let each = (room / cells(figures.len().max(1))).max(6);
    for (row, figure) in figures.into_iter().enumerate() {
        big(&mut pen.part(1, y, area, each), figure);
        y += each;
        if row == 0 {
            for line in &fit {
                pen.text(1, y, &format!(" {line} "), Role::Selected);
                y += 1;
            }
        }
    }
}

/// Figures side by side: each takes what it needs, the last what is left.
fn big(pen: &mut Pen<'_>, figures: Vec<Big>) {
    let (mut x, count) = (0, figures.len());
    for (index, figure) in figures.into_iter().enumerate() {
        let (width_left, height) = (pen.area.width.saturating_sub(x), pen.area.height);
        // Of two, the first leaves the second its half, unless it needs more at the plain size.
        let wide = if index + 1 < count {
            let needed = digits::plain_extent(&figure.text).unwrap_or(0);
            needed.max(width_left / 3).min(width_left)
        } else {
            width_left
        };
        let mut part = pen.part(x, 0, wide, height);
        part.text(0, 0, &figure.label, Role::Label);
        let beside = figure.words.iter().map(|word| width(word)).max();
        let room = wide.saturating_sub(beside.map_or(0, |beside| cells(beside + 2)));
        let (end, tall) = {
            let mut sign = part.part(0, 1, room, height.saturating_sub(1));
            digits::write(&mut sign, &figure.text, figure.role)
        };
        let first = 1 + tall.saturating_sub(cells(figure.words.len())) / 2;
        for (row, word) in figure.words.iter().enumerate() {
            part.text(end + 2, first + cells(row), word, Role::Figure);
        }
        x += wide.max(end) + 2;
    }
}

/// What to fit on the next joint, and where.
fn fit(state: &State, step: &RunStep) -> Vec<String> {
    let mut lines = Vec::new();
    for (accessory, height) in &step.fit {
        if let Some(accessory) = state.folder.job.accessories.get(*accessory) {
            lines.push(format!(
                "FIT {} {} ABOVE ITS LOWER PLANE",
                accessory.name.to_uppercase(),
                state.show.text(*height)
            ));
        }
    }
    let shoulder = state.current().and_then(|(_, _, figures)| figures.shoulder);
    if shoulder.is_some_and(|shoulder| shoulder.piece == step.pieces_in) {
        lines.insert(
            0,
            "THIS IS THE RUNNING JOINT: IT CARRIES THE SHOULDER".to_owned(),
        );
    }
    if step.next.is_some() && lines.is_empty() {
        lines.push("NOTHING TO FIT ON IT".to_owned());
    }
    // One line at least, so that nothing jumps from joint to joint.
    if lines.is_empty() {
        lines.push("ALL JOINTS ARE IN".to_owned());
    }
    lines
}

fn next(state: &State, step: &RunStep) -> Vec<Big> {
    let kind = step.next.and_then(|joint| {
        let tally = state.folder.tallies.get(state.slot)?;
        tally.joints.get(joint)?.kind
    });
    let text = step
        .next
        .map_or("NONE", |joint| state.number(state.slot, joint));
    vec![
        Big {
            label: format!("NEXT JOINT  {}", kind.map_or("", |kind| kind.name())),
            text: text.to_owned(),
            words: Vec::new(),
            role: Role::Figure,
        },
        Big {
            label: format!("STRING LENGTH {}", unit(state)),
            text: state.show.number(step.length),
            words: Vec::new(),
            role: Role::Figure,
        },
    ]
}

/// The shoe with the top level with the spider; nothing but lengths without a basis.
fn shoe(state: &State, step: &RunStep) -> Option<Big> {
    step.stick_up_at_place?;
    let below = step.shoe_below_rotary.downward();
    let side = if below.is_negative() {
        "ABOVE"
    } else {
        "BELOW"
    };
    Some(Big {
        label: format!("SHOE, WITH THE TOP LEVEL WITH {}", surface(state)),
        text: state.show.number(below.abs()),
        words: vec![
            format!("{} {side}", unit(state)).trim().to_owned(),
            "RT".to_owned(),
        ],
        role: Role::Figure,
    })
}

fn landing(state: &State, step: &RunStep) -> Option<Big> {
    let stick_up = step.stick_up_at_place?;
    let (label, role) = if stick_up.is_negative() && step.next.is_some() {
        (
            "STICK-UP AT ITS PLACE: NOT REACHED WITH THESE JOINTS",
            Role::Figure,
        )
    } else {
        ("STICK-UP WHEN IT IS AT ITS PLACE", Role::Cut)
    };
    let words = surface_words(state, stick_up);
    let unit = unit(state);
    let (side, surface) = words.rsplit_once(' ').unwrap_or((words.as_str(), ""));
    let planned = state
        .current()
        .is_some_and(|(_, _, figures)| figures.basis == Basis::Planned);
    let mut words = vec![
        format!("{unit} {side}").trim().to_owned(),
        surface.to_owned(),
    ];
    if planned {
        words.push("PLANNED".to_owned());
    }
    Some(Big {
        label: label.to_owned(),
        text: state.show.number(stick_up.abs()),
        words,
        role,
    })
}
