//! Sheets for the wall: they work with a pencil when every screen is dark.

use super::model::{Anchor, Drawing, LARGE, Part, Record};
use super::parts::{Choice, foot};
use super::sketch::{independent, sketch};
use crate::figures::{CutStatus, Figures, RunStep, SlotFigures, SlotView, Standing, run_steps};
use crate::journal::{Inputs, StringState};
use crate::measure::LengthFormat;
use crate::report::words;

/// Which sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Card {
    /// Joint by joint, for the one who runs the string.
    Run,
    /// One page a slot, for the one who cuts.
    Cut,
    /// The hull positions and the RT in force.
    Rotary,
    /// What is to be seen when a string lands.
    Landing,
}

/// The sheets of a kind: one for each slot that is chosen, or one for the job.
pub fn cards(inputs: &Inputs, figures: &Figures, card: Card, choice: &Choice) -> Record {
    let views = SlotView::all(&inputs.job, &inputs.tallies);
    let slots = views.zip(figures.slots.iter().zip(&figures.standings));
    let chosen = slots.filter(|(view, _)| choice.slot.is_none_or(|slot| slot == view.index));
    let parts = match card {
        Card::Rotary => vec![rotary(inputs)],
        Card::Run => chosen
            .map(|(view, (of_slot, _))| run(inputs, view, of_slot))
            .collect(),
        Card::Landing => chosen
            .map(|(view, (of_slot, _))| landing(inputs, figures, view, of_slot))
            .collect(),
        Card::Cut => chosen
            .map(|(view, (of_slot, standing))| cut(inputs, figures, view, (of_slot, standing)))
            .collect(),
    };
    Record {
        title: inputs
            .job
            .title
            .as_deref()
            .unwrap_or("(no title)")
            .to_owned(),
        parts,
        foot: foot(inputs),
        letters: LARGE,
        paper: choice.paper,
    }
}

/// A blank to write on.
fn blank(columns: usize) -> String {
    "_".repeat(columns)
}

/// The running sheet: number, serial, length, shoe depth with the top at the spider, what to fit, and blanks.
fn run(inputs: &Inputs, view: SlotView<'_>, of_slot: &SlotFigures) -> Part {
    let mut part = Part::large(format!("Slot {}: running sheet", view.slot.name));
    let show = LengthFormat::new(inputs.job.units);
    part.band(&format!(
        "SLOT {}   {}",
        view.slot.name,
        words::at_hull(&view.slot.hull.name, true)
    ));
    part.lines(&words::columns_in(show));
    part.heading(&format!(
        "{:<5}{:<9}{:<11}{:>8}{:>9}  {:<10} {:<10} {:<5}",
        "run", "joint", "serial", "length", "shoe", "before", "after", "by"
    ));
    let steps = run_steps(&view.slot.hull, of_slot);
    for (step, after) in steps.iter().zip(steps.iter().skip(1)) {
        let Some(joint) = step.next.and_then(|next| view.tally.joints.get(next)) else {
            continue;
        };
        let length = joint.length;
        let length = length.map_or_else(String::new, |length| show.number(length));
        part.lines(&format!(
            "[ ]  {:<9}{:<11}{length:>8}{:>9}  {} {} {}",
            joint.number,
            joint.serial.as_deref().unwrap_or_default(),
            show.number(after.shoe_below_rotary.downward()),
            blank(10),
            blank(10),
            blank(6),
        ));
        for line in fit(inputs, view, of_slot, step) {
            part.band(&format!("     {line}"));
        }
    }
    let last = steps.last().and_then(|step| step.stick_up_at_place);
    let landing = last.map_or_else(
        || words::NO_PLAN.to_owned(),
        |stick_up| words::stick_up_at_landing(stick_up, view.slot.hull.surface_name(), show),
    );
    part.heading(&landing);
    part.lines(words::FROM_PAPER);
    part
}

/// What goes on the joint that comes next, and where.
fn fit(inputs: &Inputs, view: SlotView<'_>, of_slot: &SlotFigures, step: &RunStep) -> Vec<String> {
    let mut lines = Vec::new();
    let carries = of_slot
        .chain
        .shoulder
        .is_some_and(|it| Some(it.piece) == step.next);
    if carries {
        lines.push(words::RUNNING_JOINT.to_owned());
    }
    for place in &step.fit {
        let accessory = inputs.job.accessories.get(place.accessory);
        if let Some((accessory, height)) = accessory.zip(place.above_lower_plane) {
            lines.push(words::fit(
                &accessory.name,
                height,
                place.clear == Some(false),
                (&of_slot.chain, view.tally, step.pieces_in),
                LengthFormat::new(inputs.job.units),
            ));
        }
    }
    lines
}

/// The cut slip: the slot's letter large, the state as a band, two distances that share no reading, blanks.
fn cut(
    inputs: &Inputs,
    figures: &Figures,
    view: SlotView<'_>,
    (of_slot, standing): (&SlotFigures, &Standing),
) -> Part {
    let mut part = Part::large(format!("Slot {}: cut slip", view.slot.name));
    part.draw(letter(&view.slot.name));
    part.band(&words::cut_state(standing));
    let code = words::slip_code(inputs, figures, view.index);
    part.lines(&words::slip(&code));
    for flag in words::head_flags(of_slot, standing) {
        let text = words::flag(flag, LengthFormat::new(inputs.job.units));
        part.lines(&format!(
            "! {}: {}: {text}",
            flag.severity.word(),
            flag.code
        ));
    }
    let show = LengthFormat::new(inputs.job.units);
    let [own, other] = words::both(show, of_slot.cut.target.height());
    part.heading(&format!(
        "TARGET {own} ({other}) above {}",
        inputs.job.sea_datum
    ));
    let is_marked = matches!(standing.status, CutStatus::Check | CutStatus::Clear);
    match of_slot.cut.place.as_ref().filter(|_| is_marked) {
        Some(place) => {
            let marks = independent(of_slot, place);
            if marks.len() < 2 {
                part.band(words::ONE_MARK_ALONE);
            }
            part.draw(sketch(view, of_slot, place));
            part.heading(words::BLADE_ABOVE);
            part.lines(&words::lift(place));
        }
        None => part.band(words::NO_MARKS),
    }
    part.space();
    for label in [
        "Marked by",
        "Measured by",
        "Checked by",
        "Blade set by",
        "Released by",
    ] {
        part.space();
        part.lines(&format!(
            "{label:<14}{} reading {} at {}",
            blank(16),
            blank(12),
            blank(14)
        ));
    }
    part
}

/// A name, its letters 40 mm high where they are few enough for the page.
fn letter(name: &str) -> Drawing {
    // Capitals are 0.729 of the size of these letters.
    let size: f32 = 40.0 * 72.0 / 25.4 / 0.729;
    let count = name.chars().count().max(1);
    let most = 500.0 / (0.602 * f32::from(u8::try_from(count).unwrap_or(u8::MAX)));
    let size = size.min(most);
    let mut drawing = Drawing::new(format!("slot {name}"), (500.0, size * 0.78));
    drawing.bold((0.0, size * 0.74), size, Anchor::Start, name);
    drawing
}

/// The hull positions, with the one that is in force.
fn rotary(inputs: &Inputs) -> Part {
    let mut part = Part::large("RT at the hull positions");
    let show = LengthFormat::new(inputs.job.units);
    if let Some(moving) = &inputs.record.moving {
        part.band(&words::hull_moves(moving.seq));
    }
    let last = inputs
        .record
        .rotaries
        .iter()
        .max_by_key(|said| said.order());
    for hull in &inputs.job.hulls {
        let said = inputs
            .record
            .rotaries
            .iter()
            .find(|it| it.what.0 == hull.name);
        let in_force =
            last.is_some_and(|last| last.what.0 == hull.name) && inputs.record.moving.is_none();
        let [own, other] = words::both(show, hull.rotary.height());
        let line = format!("{:<20} RT {own} ({other})", hull.name);
        if in_force {
            part.band(&format!("{line}   IN FORCE"));
        } else {
            part.lines(&line);
        }
        let how = said.map_or_else(
            || words::AS_STATED.to_owned(),
            |said| words::found_by(&said.what.2, &said.at.to_string(), said.seq),
        );
        part.lines(&format!("    {how}"));
    }
    part
}

/// What is to be seen when a string lands.
fn landing(inputs: &Inputs, figures: &Figures, view: SlotView<'_>, of_slot: &SlotFigures) -> Part {
    let mut part = Part::large(format!("Slot {}: landing", view.slot.name));
    let show = LengthFormat::new(inputs.job.units);
    let surface = view.slot.hull.surface_name();
    part.band(&format!("SLOT {}", view.slot.name));
    let running = figures.running.get(view.index);
    let planned = running.and_then(|it| it.stick_up_at_landing);
    let stick_up = planned.or(of_slot.chain.stick_up);
    part.heading(&stick_up.map_or_else(
        || words::NO_PLAN.to_owned(),
        |it| words::stick_up_at_landing(it, surface, show),
    ));
    part.lines(&words::allowed_off(inputs.job.agree.plan, show));
    if let Some(running) = running.filter(|it| it.joints_run > 0) {
        part.heading(&words::hook_load(running.hook_load.as_ref()));
    }
    let said = inputs.record.slots.get(view.index);
    for read in said.into_iter().flat_map(|said| &said.stick_ups) {
        if read.what.state != StringState::Hung {
            let [own, other] = words::both(show, read.what.value.abs());
            let side = words::side_of_surface(read.what.value);
            part.lines(&format!("{} {own} ({other}) {side} {surface}", read.at));
        }
    }
    part.space();
    for label in [
        "Stick-up read",
        "Hook load before",
        "Hook load after",
        "Frame heading",
        "Frame above mudline",
        "Read by",
        "Checked by",
        "Time",
    ] {
        part.space();
        part.lines(&format!("{label:<22}{}", blank(40)));
    }
    part.lines(words::FROM_PAPER);
    part
}
