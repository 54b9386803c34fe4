//! A form and the list of events, drawn.

use super::form::{Field, Form, Stage};
use super::update::{joints, offered};
use crate::figures::{doubts, expected};
use crate::journal::Kind;
use crate::report::words;
use crate::screens::parts::list::{ListItem, list};
use crate::screens::parts::pen::{Pen, StyledLine, cells};
use crate::screens::state::State;
use crate::screens::theme::Role;
use crate::signing::open_items;

/// Columns by which the rest of a long line is set in.
const INDENT: usize = 4;

/// Draws the list of events, with the cursor on one.
pub fn menu(pen: &mut Pen<'_>, at: usize) {
    pen.text(1, 0, "Enter an event", Role::Title);
    let items: Vec<ListItem<()>> = offered()
        .iter()
        .map(|event| ListItem {
            lines: vec![
                StyledLine::of(format!(" {:<17}", event.name), Role::Plain)
                    .and(format!(" {}", event.meaning), Role::Label),
            ],
            opens: (),
        })
        .collect();
    let (wide, high) = (pen.area.width, pen.area.height.saturating_sub(1));
    list(&mut pen.part(0, 1, wide, high), &items, Some(at), 0);
}

/// Draws a form.
pub fn form(state: &State, pen: &mut Pen<'_>, form: &Form) {
    let lines = match form.stage {
        Stage::Confirming => confirming(state, form),
        _ => filling(state, form),
    };
    let width = usize::from(pen.area.width).saturating_sub(2);
    let wrapped: Vec<(bool, StyledLine)> = lines
        .into_iter()
        .flat_map(|(is_at, line)| {
            line.wrapped(width, INDENT)
                .into_iter()
                .map(move |line| (is_at, line))
        })
        .collect();
    let height = usize::from(pen.area.height);
    let at = wrapped.iter().position(|(is_at, _)| *is_at).unwrap_or(0);
    let first = (at + 2)
        .saturating_sub(height)
        .min(wrapped.len().saturating_sub(height));
    for (row, (_, line)) in wrapped.iter().skip(first).take(height).enumerate() {
        pen.line(1, cells(row), line);
    }
}

fn title(form: &Form) -> StyledLine {
    StyledLine::of(form.event.name.to_uppercase(), Role::Title)
        .and(format!("  {}", form.event.meaning), Role::Label)
}

/// The lines of a form that is filled in; whether the cursor is on each.
fn filling(state: &State, form: &Form) -> Vec<(bool, StyledLine)> {
    let mut lines = vec![(false, title(form))];
    let hint = match &form.stage {
        Stage::Again(..) => StyledLine::of(words::AGAIN, Role::Stop),
        _ => StyledLine::of(words::fill(form.unit.name()), Role::Label),
    };
    lines.push((false, hint));
    let mut group = None;
    for (index, field) in form.fields.iter().enumerate() {
        if field.group != group
            && let Some((list, number)) = field.group
        {
            lines.push((
                false,
                StyledLine::of(words::group_label(list, number), Role::Label),
            ));
        }
        group = field.group;
        lines.push((index == form.at, row(form, index, field, state)));
        if index == form.at {
            lines.extend(below(state, form, field).map(|line| (false, line)));
        }
    }
    if let Stage::Wrong(problems) = &form.stage {
        let problems = problems.iter();
        lines.extend(problems.map(|it| (false, StyledLine::of(it.clone(), Role::Check))));
    }
    lines
}

/// One field: its label, what is typed, and what that is.
fn row(form: &Form, index: usize, field: &Field, state: &State) -> StyledLine {
    let needed = if field.needed { "*" } else { " " };
    let label = match field.group {
        Some(_) if field.key == "by" => words::MEASURED_BY,
        _ => words::field_label(field.key),
    };
    let line = StyledLine::of(format!("{needed} {label:<20}"), Role::Label);
    if form.is_hidden(index) {
        return line.and(words::HIDDEN, Role::Label);
    }
    let is_at = index == form.at;
    let role = if is_at { Role::Title } else { Role::Figure };
    let mut line = line.and(field.text.clone(), role);
    if is_at {
        line = line.and(" ", Role::Selected);
        if !field.choices.is_empty() {
            let choices: Vec<&str> = field.choices.iter().map(String::as_str).collect();
            line = line.and(format!("  < {} >", choices.join(" | ")), Role::Label);
        }
    }
    if let (Kind::Length(..), Some(length)) = (field.kind, form.length(field)) {
        let echo = words::echo(length, surface(state, form, field), state.show);
        line = line.and(format!("  = {echo}"), Role::Label);
    }
    line
}

/// The surface that a stick-up is measured from, where the field is one.
fn surface(state: &State, form: &Form, field: &Field) -> Option<&'static str> {
    let is_stick_up = matches!(
        (form.event.name, field.key),
        ("stick-up", "value") | ("joint-run", "before" | "after")
    );
    let mut hulls = state.inputs.job.hulls.iter();
    let named = hulls.find(|hull| hull.name == form.text("hull"));
    let own = || state.current().map(|(slot, _, _)| &slot.hull);
    let hull = named.or_else(own)?;
    is_stick_up.then(|| hull.surface_name())
}

/// So many joints are listed to choose from.
const SHOWN: usize = 6;

/// Joints to choose from, below the field of the joint.
fn below(state: &State, form: &Form, field: &Field) -> Option<StyledLine> {
    if form.event.name != "joint-run" || field.key != "joint" {
        return None;
    }
    let found = joints(state, &field.text);
    let names: Vec<String> = found
        .iter()
        .take(SHOWN)
        .map(|(number, serial)| {
            if serial.is_empty() {
                number.clone()
            } else {
                format!("{number} ({serial})")
            }
        })
        .collect();
    let more = found.len().saturating_sub(SHOWN);
    let more = if more > 0 {
        format!(" +{more}")
    } else {
        String::new()
    };
    Some(StyledLine::of(
        format!("{:22}{}{more}", "", names.join("  ")),
        Role::Label,
    ))
}

/// What is to be entered, once more, with how it compares.
fn confirming(state: &State, form: &Form) -> Vec<(bool, StyledLine)> {
    let mut lines = vec![
        title(form),
        StyledLine::of(words::CONFIRM, Role::Selected),
        StyledLine::default(),
    ];
    for field in form
        .fields
        .iter()
        .filter(|field| !field.text.trim().is_empty())
    {
        let label = words::field_label(field.key);
        let value = match (field.kind, form.length(field)) {
            (Kind::Length(..), Some(length)) => {
                words::echo(length, surface(state, form, field), state.show)
            }
            _ => form.value(field),
        };
        lines.push(StyledLine::of(format!("  {label:<20}"), Role::Label).and(value, Role::Figure));
    }
    if form.event.name == "joint-run" {
        lines.extend(length_of(state, form.text("joint"), form.text("serial")));
    }
    if form.event.name == "handover" {
        let open = open_items(&state.inputs, &state.figures);
        let label = format!("  {:<20}", words::field_label("open"));
        lines.push(StyledLine::of(label, Role::Label).and(open, Role::Figure));
    }
    lines.extend(about(state, form).map(|text| StyledLine::of(text, Role::Label)));
    if let Ok(draft) = form.draft() {
        for doubt in doubts(&state.inputs, &draft.by, &draft.event) {
            lines.push(StyledLine::of(words::doubt(&doubt), Role::Stop));
        }
        for it in expected(&state.inputs, &state.figures, &draft.event) {
            let role = if it.is_far() { Role::Stop } else { Role::Plain };
            lines.push(StyledLine::of(words::compares(&it, state.show), role));
        }
    }
    lines.into_iter().map(|line| (false, line)).collect()
}

/// What is struck or waived, in full.
fn about(state: &State, form: &Form) -> Option<String> {
    match form.event.name {
        "strike" => {
            let seq: u64 = form.text("strikes").trim().parse().ok()?;
            let mut entries = state.inputs.journal.entries.iter();
            let entry = entries.find(|entry| entry.seq == seq)?;
            Some(format!(
                "  {} by {}: {}",
                entry.name,
                entry.by,
                words::entry(entry)
            ))
        }
        "waiver" => {
            let slot = state.index_of(form.text("slot"))?;
            let own = state.figures.slots.get(slot)?.flags.iter();
            let of_job = state.figures.standings.get(slot)?.of_job.iter();
            let mut flags = own.chain(of_job);
            let flag = flags.find(|flag| flag.code.name() == form.text("flag"))?;
            Some(format!("  {}", words::flag(flag, state.show)))
        }
        _ => None,
    }
}

/// The length of the joint that is run, as its list has it.
fn length_of(state: &State, number: &str, serial: &str) -> Option<StyledLine> {
    let tally = state.inputs.tallies.get(state.slot_index())?;
    let mut joints = tally
        .joints
        .iter()
        .chain(state.inputs.pool.iter().flat_map(|it| &it.joints));
    let joint = joints.find(|it| {
        it.number == number && (serial.is_empty() || it.serial.as_deref() == Some(serial))
    })?;
    let length = joint.length?;
    let label = format!("  {:<20}", "its length");
    Some(StyledLine::of(label, Role::Label).and(state.show.text(length), Role::Figure))
}
