//! What the lists say of the thing in front, what each choice of it would move, and what is about to be decided.

use super::deciding::{needs_note, overrides};
use super::lookup::{ThingAt, agrees, list_in_front, locate, trial};
use super::plan::{Chosen, Deciding, Plan, Planned};
use super::thing::ThingId;
use crate::figures::{SlotLists, Trial};
use crate::reconcile::Topic;
use crate::reconcile::many::{Choice, State as Agreed};
use crate::report::words;
use crate::screens::parts::pen::{Pen, StyledLine, cells};
use crate::screens::state::State;
use crate::screens::theme::Role;

/// Columns by which the rest of a long line is set in.
const INDENT: usize = 2;

/// The role of how far lists agree.
pub(super) const fn of_state(state: Agreed) -> Role {
    match state {
        Agreed::Agreed => Role::Label,
        Agreed::Majority => Role::Plain,
        Agreed::Open => Role::Check,
        Agreed::Decided => Role::Within,
        Agreed::Conflict => Role::Stop,
    }
}

/// What it is, how far the lists agree, and what speaks against what stands.
fn first_lines(state: &State, all: &SlotLists, thing: ThingAt) -> Vec<StyledLine> {
    let Some(row) = all.lists.rows.get(thing.row) else {
        return Vec::new();
    };
    let mut said = words::thing_state(all, row, thing.of, state.show).into_iter();
    let mut lines = vec![StyledLine::of(
        words::thing_title(row, thing.of),
        Role::Title,
    )];
    let role = of_state(row.state(thing.of));
    lines.extend(said.next().map(|text| StyledLine::of(text, role)));
    lines.extend(said.map(|text| StyledLine::of(text, Role::Plain)));
    lines
}

/// What taking what the list under the cursor says would move.
fn by_cursor(state: &State, all: &SlotLists, thing: ThingAt, trial: &Trial<'_>) -> StyledLine {
    let list = list_in_front(state);
    let name = all.name(list);
    let choice = Choice::List(name.to_owned());
    let moved = trial.if_chosen([(thing.row, thing.of, choice)]);
    let label = StyledLine::of(words::if_taken(name), Role::Key);
    if list == 0 {
        return label.and(words::AS_IT_IS, Role::Label);
    }
    label.and(
        words::effects(&moved, &state.inputs.job, state.show),
        Role::Plain,
    )
}

/// The lines under the table.
pub fn under(state: &State, all: &SlotLists, thing: ThingAt, wide: usize) -> Vec<StyledLine> {
    let mut lines = first_lines(state, all, thing);
    // What a key would do comes before a third reason.
    lines.truncate(4);
    if let Some(trial) = trial(state, state.slot_index()) {
        lines.push(by_cursor(state, all, thing, &trial));
        if list_in_front(state) == 0 {
            lines.extend(by_others(state, all, thing, &trial));
        }
    }
    wrapped(lines, wide)
}

/// What each choice would move.
fn by_others(
    state: &State,
    all: &SlotLists,
    thing: ThingAt,
    trial: &Trial<'_>,
) -> impl Iterator<Item = StyledLine> {
    let job = (&state.inputs.job, state.show);
    let choices = words::choices(all, trial, (thing.row, thing.of), job);
    choices
        .into_iter()
        .map(|it| StyledLine::of(it, Role::Plain))
}

/// The lines beside the table: every list with its line, and what each choice would move.
pub fn beside(state: &State, all: &SlotLists, thing: ThingAt, wide: usize) -> Vec<StyledLine> {
    let mut lines = first_lines(state, all, thing);
    let Some(row) = all.lists.rows.get(thing.row) else {
        return lines;
    };
    lines.push(StyledLine::default());
    for (list, name) in all.names.iter().enumerate() {
        let text = words::thing_line(all, row, thing.of, list, state.show);
        lines.push(StyledLine::of(format!("{name}  "), Role::Label).and(text, Role::Figure));
    }
    if let Some(trial) = trial(state, state.slot_index()) {
        lines.push(StyledLine::default());
        lines.push(by_cursor(state, all, thing, &trial));
        lines.extend(by_others(state, all, thing, &trial));
    }
    wrapped(lines, wide)
}

/// Every decision on the string, a line each.
pub fn decided_so_far(state: &State, all: &SlotLists, wide: usize) -> Vec<StyledLine> {
    let mut lines = vec![StyledLine::of(words::DECIDED_SO_FAR, Role::Title)];
    for row in &all.lists.rows {
        for of in Topic::ALL {
            let role = if row.state(of) == Agreed::Conflict {
                Role::Stop
            } else {
                Role::Plain
            };
            for by in row.decided_by(of) {
                let text = words::decided_line(row, of, by, state.show);
                lines.push(StyledLine::of(text, role));
            }
        }
    }
    if lines.len() == 1 {
        lines.push(StyledLine::of(words::NOTHING_DECIDED, Role::Label));
    }
    wrapped(lines, wide)
}

/// All that the lists say of a joint, and what each choice would move.
pub fn full(state: &State, of: &ThingId, wide: usize) -> Vec<StyledLine> {
    let Ok(found) = locate(state, of) else {
        return Vec::new();
    };
    let mut lines: Vec<StyledLine> = words::list_row(found.all, found.row, state.show)
        .into_iter()
        .enumerate()
        .map(|(at, text)| {
            let role = if at == 0 { Role::Title } else { Role::Plain };
            StyledLine::of(text, role)
        })
        .collect();
    if agrees(found.row) {
        lines.push(StyledLine::of(words::ALL_AGREE_ON_IT, Role::Within));
    }
    lines.push(StyledLine::default());
    for (list, name) in found.all.names.iter().enumerate() {
        let things = [
            Topic::Length,
            Topic::MakeupLoss,
            Topic::Place,
            Topic::Number,
        ];
        let said = if found.row.listed_in(list).is_some() {
            let said = things.map(|of| {
                let text = words::thing_cell(found.all, found.row, of, list, state.show);
                format!("{} {text}", words::thing_label(of))
            });
            let presence = Topic::Presence;
            let line = words::thing_line(found.all, found.row, presence, list, state.show);
            format!("{}; {line}", said.join(", "))
        } else {
            words::NOT_LISTED.to_owned()
        };
        lines.push(StyledLine::of(format!("{name}  "), Role::Label).and(said, Role::Figure));
    }
    if let Some(trial) = trial(state, found.slot) {
        lines.push(StyledLine::default());
        for of in Topic::ALL {
            let job = (&state.inputs.job, state.show);
            for text in words::choices(found.all, &trial, (found.at, of), job) {
                let label = format!("{} ", of.name());
                lines.push(StyledLine::of(label, Role::Label).and(text, Role::Plain));
            }
        }
    }
    wrapped(lines, wide)
}

/// Draws what is about to be decided: what it is now, what it moves, what it overrides, and the reason.
pub fn draw_deciding(state: &State, pen: &mut Pen<'_>, of: &Deciding) {
    let wide = usize::from(pen.area.width).saturating_sub(2);
    let by = state.person.as_deref().unwrap_or_default();
    let mut lines = vec![StyledLine::of(words::deciding_heading(by), Role::Title)];
    match &of.plan {
        Plan::Adopt { file, open } => {
            let text = words::adopting(&file.display().to_string(), *open);
            lines.push(StyledLine::of(text, Role::Plain));
            if let Some(trial) = trial(state, state.slot_index()) {
                let moved = words::effects(&trial.if_adopted(), &state.inputs.job, state.show);
                let label = StyledLine::of(words::MOVES_THEN, Role::Label);
                lines.push(label.and(moved, Role::Plain));
            }
            lines.push(StyledLine::of(words::FROM_THEN_ON, Role::Check));
        }
        Plan::TakeBack { seq, thing, choice } => {
            let text = words::taking_back(*seq, thing, choice);
            lines.push(StyledLine::of(text, Role::Plain));
        }
        Plan::Choose(planned) => match planned.as_slice() {
            [only] => lines.extend(one(state, only)),
            all => lines.extend(several(state, all)),
        },
    }
    let mut lines = wrapped(lines, wide);
    let height = usize::from(pen.area.height);
    let ask = words::why_asked(needs_note(state, of));
    let hint = StyledLine::of(words::ENTER_WRITES, Role::Label);
    let rest = height.saturating_sub(4);
    if lines.len() > rest {
        let hidden = lines.len() - rest.saturating_sub(1);
        lines.truncate(rest.saturating_sub(1));
        lines.push(StyledLine::of(words::more(0, hidden), Role::Label));
    }
    lines.push(StyledLine::default());
    if !matches!(of.plan, Plan::Adopt { .. }) {
        let ask = StyledLine::of(ask, Role::Label).and(of.note.clone(), Role::Title);
        lines.push(ask.and(" ", Role::Selected));
    }
    lines.push(hint);
    for (row, line) in lines.iter().enumerate() {
        pen.line(1, cells(row), line);
    }
}

fn one(state: &State, planned: &Planned) -> Vec<StyledLine> {
    let Ok(found) = locate(state, &planned.thing) else {
        return Vec::new();
    };
    let of = planned.thing.key.of;
    let thing = ThingAt { row: found.at, of };
    let mut lines = vec![StyledLine::default()];
    lines.extend(first_lines(state, found.all, thing));
    lines.push(StyledLine::default());
    let then = match &planned.chosen {
        Chosen::Open => words::set_open().to_owned(),
        Chosen::List(name) => {
            let list = found.all.names.iter().position(|it| it == name);
            let said =
                list.map(|list| words::thing_line(found.all, found.row, of, list, state.show));
            words::chosen_list(name, &said.unwrap_or_default())
        }
        Chosen::Measured(length) => words::chosen_measured(*length, state.show),
    };
    lines.push(StyledLine::of(words::DECIDED_THEN, Role::Label).and(then, Role::Title));
    if let (Some(choice), Some(trial)) = (planned.chosen.choice(), trial(state, found.slot)) {
        let moved = trial.if_chosen([(found.at, of, choice)]);
        let moved = words::effects(&moved, &state.inputs.job, state.show);
        lines.push(StyledLine::of(words::MOVES_THEN, Role::Label).and(moved, Role::Plain));
    }
    let overridden = overrides(state, &found, planned);
    if !overridden.is_empty() {
        lines.push(StyledLine::default());
        for by in overridden {
            lines.push(StyledLine::of(
                words::overridden(by, state.show),
                Role::Check,
            ));
        }
        let contradicts = !matches!(planned.chosen, Chosen::Open);
        let text = words::overriding(contradicts && is_of_another(state, &found, of));
        lines.push(StyledLine::of(text, Role::Check));
    }
    lines
}

/// Whether someone else has decided the thing, so that another choice contradicts it.
fn is_of_another(state: &State, found: &super::lookup::Found<'_>, of: Topic) -> bool {
    let own = state.person.as_deref();
    let mut by = found.row.decided_by(of).iter();
    by.any(|it| Some(it.by.as_str()) != own)
}

fn several(state: &State, planned: &[Planned]) -> Vec<StyledLine> {
    let mut lines = vec![
        StyledLine::of(words::things_decided(planned.len()), Role::Plain),
        StyledLine::default(),
    ];
    let mut all = Vec::new();
    let mut choices = Vec::new();
    for it in planned {
        let Ok(found) = locate(state, &it.thing) else {
            continue;
        };
        let of = it.thing.key.of;
        choices.extend(it.chosen.choice().map(|choice| (found.at, of, choice)));
        if let Chosen::List(name) = &it.chosen {
            let list = found.all.names.iter().position(|known| known == name);
            let cell =
                list.map(|list| words::thing_cell(found.all, found.row, of, list, state.show));
            let cell = cell.unwrap_or_default();
            all.push(words::thing_by(found.row, of, &cell, name));
        }
    }
    lines.push(StyledLine::of(all.join("; "), Role::Figure));
    if let Some(trial) = trial(state, state.slot_index()) {
        let moved = words::effects(&trial.if_chosen(choices), &state.inputs.job, state.show);
        lines.push(StyledLine::default());
        lines.push(StyledLine::of(words::MOVES_THEN, Role::Label).and(moved, Role::Plain));
    }
    lines
}

fn wrapped(lines: Vec<StyledLine>, wide: usize) -> Vec<StyledLine> {
    let lines = lines.into_iter();
    lines.flat_map(|line| line.wrapped(wide, INDENT)).collect()
}
