//! Floor: figures that can be read from three metres, for the person at the rotary.

use super::digits;
use crate::figures::{Basis, CutStatus, RunStep, entered_step, run_steps};
use crate::journal::Source;
use crate::measure::Unit;
use crate::report::words;
use crate::screens::parts::pen::{Pen, StyledLine, cells, width};
use crate::screens::parts::surface::surface;
use crate::screens::state::State;
use crate::screens::theme::Role;
use crate::tally::Kind;

/// Rows of a very large figure with its label.
const BIG: usize = 6;

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

pub fn draw(state: &State, pen: &mut Pen<'_>) {
    let Some((slot, _, figures)) = state.current() else {
        return;
    };
    let steps = run_steps(&slot.hull, figures);
    let running = state.figures.running.get(state.slot_index());
    let entered = running.filter(|running| running.joints_run > 0);
    let entered = entered.map(|running| entered_step(&slot.hull, figures, running));
    let Some(step) = entered.as_ref().or_else(|| steps.get(state.pieces_in())) else {
        return;
    };
    let all_in = step.next.is_none();
    let standing = state.figures.standings.get(state.slot_index());
    let status = standing.map(|standing| standing.status);
    let basis = match figures.chain.basis {
        // What stops the slot stops the floor too: the figures below may be wrong.
        _ if status == Some(CutStatus::Stop) => ("STOP: SEE FLAGS", Role::Stop),
        Basis::Read if status == Some(CutStatus::Check) && all_in => {
            ("CHECK: STICK-UP READ", Role::Check)
        }
        _ if figures.cut.is_cut() => ("ALREADY CUT", Role::Stop),
        Basis::Read if all_in => ("LANDED: STICK-UP READ", Role::Title),
        Basis::Read => ("LANDED ALREADY: AS IT WAS RUN", Role::Selected),
        Basis::Planned => ("PLANNED", Role::Selected),
        Basis::None => ("NO BASIS: LENGTHS ONLY", Role::Selected),
    };
    let title = StyledLine::of(format!("SLOT {}  ", slot.name), Role::Title)
        .and(format!(" {} ", basis.0), basis.1)
        .and(
            format!(
                "  {} OF {} {}",
                step.pieces_in,
                steps.len().saturating_sub(1),
                if state.entered().is_some() || step.pieces_in == 0 || all_in {
                    "JOINTS RUN"
                } else {
                    // Nothing is entered: it is looked at what would be.
                    "BY HAND"
                }
            ),
            Role::Figure,
        )
        .and(
            format!(
                "  {}",
                words::at_hull(&slot.hull.name, pen.area.width >= 100)
            ),
            Role::Label,
        );
    pen.line(1, 0, &title);
    let area = pen.area.width.saturating_sub(2);
    let lines = urgent(state).into_iter().map(|line| (line, Role::Stop));
    let lines = lines.chain(
        fit(state, step)
            .into_iter()
            .map(|line| (line, Role::Selected)),
    );
    let lines = lines.chain(
        misclosure(state)
            .into_iter()
            .map(|line| (line, Role::Check)),
    );
    let lines = lines.chain(loads(state).into_iter().map(|line| (line, Role::Label)));
    let fit: Vec<StyledLine> = lines
        .flat_map(|(line, role)| {
            StyledLine::of(format!(" {line} "), role).wrapped(usize::from(area), 5)
        })
        .collect();
    let mut figures = vec![next(state, step)];
    figures.extend(shoe(state, step).map(|figure| vec![figure]));
    figures.extend(landing(state, step).map(|figure| vec![figure]));
    // What is to be fitted is never left out: where it needs the room, the last figures are small.
    let height = usize::from(pen.area.height);
    let fits = |large: usize| 1 + fit.len() + BIG * large + (figures.len() - large) <= height;
    let large = (1..figures.len())
        .rev()
        .find(|large| fits(*large))
        .filter(|_| !fits(figures.len()))
        .unwrap_or(figures.len());
    let plain = figures.split_off(large);
    let room = height.saturating_sub(1 + fit.len() + plain.len());
    let each = cells((room / figures.len().max(1)).max(BIG));
    let mut y = 1;
    for (row, figure) in figures.into_iter().enumerate() {
        big(&mut pen.part(1, y, area, each), figure);
        y += each;
        if row == 0 {
            for line in &fit {
                pen.line(1, y, line);
                y += 1;
            }
        }
    }
    for figure in plain.into_iter().flatten() {
        let line = StyledLine::of(format!("{}: ", figure.label), Role::Label).and(
            format!("{} {}", figure.text, figure.words.join(" ")),
            figure.role,
        );
        pen.line(1, y, &line);
        y += 1;
    }
}

/// Figures side by side: each takes what it needs, the last what is left.
fn big(pen: &mut Pen<'_>, figures: Vec<Big>) {
    let (mut x, count) = (0, figures.len());
    for (index, figure) in figures.into_iter().enumerate() {
        let (width_left, height) = (pen.area.width.saturating_sub(x), pen.area.height);
        // Of two, the first leaves the second its half, unless it needs more at the plain size.
        let wide = if index + 1 < count {
            let beside = figure.words.iter().map(|word| width(word)).max();
            let beside = beside.map_or(0, |beside| cells(beside + 3));
            let needed = digits::plain_extent(&figure.text).unwrap_or(0) + beside;
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

/// What must be seen before anything else: joints that are not run as they are listed, and a string that must
/// not be slacked off.
fn urgent(state: &State) -> Vec<String> {
    let mut lines = Vec::new();
    let slot = state.slot_index();
    let (Some(said), Some(tally)) = (
        state.inputs.record.slots.get(slot),
        state.inputs.tallies.get(slot),
    ) else {
        return lines;
    };
    let run = said.hanging.iter().enumerate();
    let mut otherwise = run.filter(|(at, it)| it.what.source != Source::Tally(*at));
    if let Some((at, it)) = otherwise.next() {
        let listed = tally.joints.get(at).map_or("none", |joint| &joint.number);
        lines.push(words::run_otherwise(at + 1, &it.what.run.joint, listed));
    }
    if let Some(placed) = state.placed(slot) {
        let left = state.now.as_ref().map(|now| now.until(&placed.until));
        lines.push(words::not_slacked_off(&placed.what, &placed.until, left));
    }
    lines
}

/// Where the string does not close as it is run, and what may be the cause.
fn misclosure(state: &State) -> Vec<String> {
    let found = state.figures.misclosures.get(state.slot_index());
    let found = found.and_then(Option::as_ref);
    found.map_or_else(Vec::new, |found| {
        words::misclosure_on_floor(found, state.show)
    })
}

/// What the weight indicator is expected to show, and what is lifted next.
fn loads(state: &State) -> Vec<String> {
    let running = state.figures.running.get(state.slot_index());
    let Some(running) = running.filter(|running| running.joints_run > 0) else {
        return Vec::new();
    };
    let load = running.hook_load.as_ref().map(|load| {
        let leaves_out: Vec<&str> = load
            .leaves_out
            .iter()
            .map(|it| words::left_out(*it))
            .collect();
        words::hook_load(load.total(), &leaves_out)
    });
    let lift = running.next_lift.map(words::next_lift);
    load.into_iter().chain(lift).collect()
}

/// What to fit on the next joint, and where.
fn fit(state: &State, step: &RunStep) -> Vec<String> {
    let mut lines = Vec::new();
    let Some((_, tally, figures)) = state.current() else {
        return lines;
    };
    if figures
        .chain
        .shoulder
        .is_some_and(|shoulder| Some(shoulder.piece) == step.next)
    {
        lines.push("THIS IS THE RUNNING JOINT: IT CARRIES THE SHOULDER".to_owned());
    }
    for place in &step.fit {
        let Some((accessory, height)) = state
            .inputs
            .job
            .accessories
            .get(place.accessory)
            .zip(place.above_lower_plane)
        else {
            continue;
        };
        lines.push(words::fit(
            &accessory.name,
            height,
            place.clear == Some(false),
            (&figures.chain, tally, step.next.unwrap_or(step.pieces_in)),
            state.show,
        ));
    }
    if lines.is_empty() {
        // One line at least, so that nothing jumps from joint to joint.
        let line = if step.next.is_some() {
            "NOTHING TO FIT ON IT"
        } else {
            "ALL JOINTS ARE RUN"
        };
        lines.push(line.to_owned());
    }
    lines
}

fn next(state: &State, step: &RunStep) -> Vec<Big> {
    let kind = step.next.and_then(|joint| {
        let tally = state.inputs.tallies.get(state.slot_index())?;
        tally.joints.get(joint)?.kind
    });
    let text = step
        .next
        .map_or("NONE", |joint| state.number(state.slot_index(), joint));
    let tally = state.inputs.tallies.get(state.slot_index());
    let joint = step.next.and_then(|joint| tally?.joints.get(joint));
    let length = joint.and_then(|joint| Some((joint, joint.overall.or(joint.effective)?)));
    let beside = length.map_or_else(Vec::new, |(joint, length)| {
        words::next_joint(&state.show.text(length), joint.serial.as_deref())
    });
    vec![
        Big {
            label: kind
                .filter(|kind| *kind != Kind::Joint)
                .map_or("NEXT JOINT".to_owned(), |kind| {
                    format!("NEXT JOINT, KIND {}", kind.name().to_uppercase())
                }),
            text: text.to_owned(),
            words: beside,
            role: Role::Figure,
        },
        Big {
            label: format!("STRING SO FAR, {}", state.show.heading()),
            text: state.show.number(step.length),
            words: Vec::new(),
            role: Role::Figure,
        },
    ]
}

/// The shoe: where it was landed once all joints are run; before, with the top at the spider; nothing
/// but lengths without a basis.
fn shoe(state: &State, step: &RunStep) -> Option<Big> {
    step.stick_up_at_place?;
    let (_, _, figures) = state.current()?;
    let landed = figures.chain.basis == Basis::Read && step.next.is_none();
    let (label, depth) = if landed {
        let label = "SHOE, AS LANDED".to_owned();
        (label, figures.chain.rotary.depth_of(figures.chain.shoe?))
    } else {
        let label = words::shoe_depth(surface(state));
        (label, step.shoe_below_rotary)
    };
    let below = depth.downward();
    let side = if below.is_negative() {
        "ABOVE"
    } else {
        "BELOW"
    };
    Some(Big {
        label,
        text: state.show.number(below.abs()),
        words: vec![
            format!("{} {side}", unit(state)).trim().to_owned(),
            "RT".to_owned(),
        ],
        role: Role::Figure,
    })
}

/// What is still to lower, or the stick-up at landing.
fn landing(state: &State, step: &RunStep) -> Option<Big> {
    let stick_up = step.stick_up_at_place?;
    let (_, _, figures) = state.current()?;
    let (unit, surface) = (unit(state), surface(state));
    let mut words = Vec::new();
    let (label, role) = if stick_up.is_negative() && step.next.is_some() {
        words.push(unit.to_owned());
        (words::still_to_lower(surface), Role::Figure)
    } else {
        words.push(
            format!("{unit} {}", words::side_of_surface(stick_up))
                .trim()
                .to_owned(),
        );
        words.push(surface.to_owned());
        let read = figures.chain.basis == Basis::Read && step.next.is_none();
        let label = if read {
            "STICK-UP, AS READ"
        } else {
            "STICK-UP AT LANDING"
        };
        (label.to_owned(), Role::Cut)
    };
    if figures.chain.basis == Basis::Planned {
        words.push("PLANNED".to_owned());
    }
    Some(Big {
        label,
        text: state.show.number(stick_up.abs()),
        words,
        role,
    })
}
