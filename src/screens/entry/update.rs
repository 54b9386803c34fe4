//! What keys do to a form, and to the list of events before it.

use super::form::{Form, Stage};
use crate::figures::{expected, known_points};
use crate::journal::{Draft, EVENTS, EventSpec, Kind, Moment, Wrong, check, event_named};
use crate::report::said::Said;
use crate::screens::action::Effect;
use crate::screens::levels;
use crate::screens::overlay::Overlay;
use crate::screens::state::State;

/// The events that a person enters, in the order of the job.
pub fn offered() -> Vec<&'static EventSpec> {
    EVENTS.iter().filter(|event| !event.by_program).collect()
}

/// Opens the form of an event for the slot in front.
pub fn open(state: &mut State, name: &str) {
    let Some(event) = event_named(name) else {
        return;
    };
    let mut form = Form::new(event, state.show.unit(), |spec| {
        choices(state, spec.kind, spec.name)
    });
    form.now.clone_from(&state.now);
    let by = state.person.clone().unwrap_or_default();
    let mut form = form.with("by", &by).with("slot", &state.slot);
    if let Some(hull) = current_hull(state) {
        form = form.with("hull", &hull);
    }
    match name {
        "joint-run" => {
            let next = next_joint(state).unwrap_or_default();
            form = form.with("joint", &next).from("joint");
        }
        "joint-pulled" => {
            let last = last_joint(state).unwrap_or_default();
            form = form.with("joint", &last).from("why");
        }
        "stick-up" => {
            let usual = usual_state(state).unwrap_or_default();
            form = form.with("state", usual).from("value");
        }
        "hull-moving" => form = form.from("why"),
        "cut-made" => form = form.with("cut", "final").from("cut"),
        _ => {
            let first = form.first_missing();
            form.at = first.unwrap_or(form.at);
        }
    }
    if by.is_empty() {
        form = form.from("by");
    }
    state.overlay = Overlay::Form(Box::new(form));
}

/// Opens the form that strikes an entry.
pub fn strike(state: &mut State, seq: u64) {
    open(state, "strike");
    if let Overlay::Form(form) = &mut state.overlay {
        let filled = Form::clone(form).with("strikes", &seq.to_string());
        let has_by = !filled.text("by").is_empty();
        **form = if has_by { filled.from("why") } else { filled };
    }
}

/// What a field may be, where that is a list.
fn choices(state: &State, kind: Kind, key: &str) -> Vec<String> {
    let job = &state.inputs.job;
    match kind {
        Kind::Slot => job.slots.iter().map(|slot| slot.name.clone()).collect(),
        Kind::Hull => job.hulls.iter().map(|hull| hull.name.clone()).collect(),
        Kind::Person => job
            .people
            .persons
            .iter()
            .map(|it| it.initials.clone())
            .collect(),
        Kind::Mark => {
            let figures = state.current().map(|(_, _, figures)| figures);
            let place = figures.and_then(|figures| figures.cut.place.as_ref());
            let marks = place.into_iter().flat_map(|place| &place.all_marks);
            marks.map(|mark| mark.from.name(job)).collect()
        }
        Kind::Text if key == "instrument" => {
            let mut known: Vec<String> = Vec::new();
            for instrument in &state.inputs.record.instruments {
                if !known.contains(&instrument.id) {
                    known.push(instrument.id.clone());
                }
            }
            known
        }
        Kind::Text if key == "from" || key == "to" => known_points(&state.inputs),
        _ => Vec::new(),
    }
}

/// The hull position that was entered last; else that of the slot.
fn current_hull(state: &State) -> Option<String> {
    let rotaries = state.inputs.record.rotaries.iter();
    let last = rotaries.max_by_key(|said| said.order());
    last.map(|said| said.what.0.clone())
        .or_else(|| Some(state.current()?.0.hull.name.clone()))
}

/// The state of a string whose stick-up is read: as it was read last at rest; hung while joints are to be run.
/// Once all hang it may be either, and is asked for.
fn usual_state(state: &State) -> Option<&'static str> {
    let slot = state.slot_index();
    let said = state.inputs.record.slots.get(slot);
    let read = said
        .into_iter()
        .flat_map(|said| said.stick_ups.iter().rev());
    let mut at_rest = read.filter(|it| it.what.state.is_at_rest());
    if let Some(last) = at_rest.next() {
        return Some(last.what.state.word());
    }
    let running = state.figures.running.get(slot);
    running
        .is_none_or(|it| it.joints_to_run > 0)
        .then_some("hung")
}

/// The joint that comes next by the tally.
fn next_joint(state: &State) -> Option<String> {
    let slot = state.slot_index();
    let next = state.figures.running.get(slot)?.next?;
    Some(state.number(slot, next).to_owned())
}

fn last_joint(state: &State) -> Option<String> {
    let said = state.inputs.record.slots.get(state.slot_index())?;
    Some(said.hanging.last()?.what.run.joint.clone())
}

/// Joints that may be run and whose number or serial contains what is typed: those of the tally first. The
/// number, the serial, and the length.
pub fn joints(state: &State, typed: &str) -> Vec<(String, String)> {
    let slot = state.slot_index();
    // People leave out what separates letters from digits.
    let plain = |text: &str| -> String {
        let letters = text.chars().filter(|letter| letter.is_alphanumeric());
        letters.flat_map(char::to_lowercase).collect()
    };
    let typed = plain(typed);
    let said = state.inputs.record.slots.get(slot);
    let hangs = |source: crate::journal::Source| {
        said.is_some_and(|said| said.hanging.iter().any(|it| it.what.source == source))
    };
    let tally = state.inputs.tallies.get(slot).into_iter();
    let of_tally = tally.flat_map(|tally| tally.joints.iter().enumerate());
    let of_tally = of_tally.map(|(at, joint)| (crate::journal::Source::Tally(at), joint));
    let pool = state
        .inputs
        .pool
        .iter()
        .flat_map(|pool| pool.joints.iter().enumerate());
    let pool = pool.map(|(at, joint)| (crate::journal::Source::Pool(at), joint));
    let free = of_tally.chain(pool).filter(|(source, _)| !hangs(*source));
    let matching = free.filter(|(_, joint)| {
        let serial = joint.serial.as_deref().unwrap_or_default();
        plain(&joint.number).contains(&typed) || plain(serial).contains(&typed)
    });
    matching
        .map(|(_, joint)| {
            let serial = joint.serial.as_deref().unwrap_or_default();
            (joint.number.to_string(), serial.to_owned())
        })
        .collect()
}

/// Goes to the field before or after.
pub fn turn(form: &mut Form, on: bool) {
    form.is_leaving = false;
    let count = form.fields.len().max(1);
    let by = if on { 1 } else { count - 1 };
    match form.stage {
        // What is typed again is typed where it was.
        Stage::Again(..) => {}
        Stage::Confirming => form.stage = Stage::Filling,
        _ => form.at = (form.at + by) % count,
    }
}

/// The next choice of a field, or the one before; of a joint that is run those that may be.
pub fn turn_choice(state: &mut State, on: bool) {
    let Overlay::Form(form) = &state.overlay else {
        return;
    };
    let is_joint = form.event.name == "joint-run"
        && form
            .fields
            .get(form.at)
            .is_some_and(|field| field.key == "joint");
    let all = is_joint.then(|| joints(state, ""));
    if let Overlay::Form(form) = &mut state.overlay {
        if let (Some(all), Some(field)) = (all, form.field_mut()) {
            field.choices = all.into_iter().map(|(number, _)| number).collect();
        }
        choose(form, on);
        if is_joint && let Some(field) = form.field_mut() {
            field.choices.clear();
        }
    }
}

/// The next choice of a field, or the one before.
fn choose(form: &mut Form, on: bool) {
    let Some(field) = form.field_mut() else {
        return;
    };
    let count = field.choices.len();
    if count == 0 {
        return;
    }
    let at = field
        .choices
        .iter()
        .position(|choice| *choice == field.text);
    let next = match (at, on) {
        (None, true) => 0,
        (None, false) => count - 1,
        (Some(at), true) => (at + 1) % count,
        (Some(at), false) => (at + count - 1) % count,
    };
    if let Some(choice) = field.choices.get(next) {
        field.text.clone_from(choice);
        field.is_offered = true;
    }
}

/// Enter: to what is missing, to what is shown once more, and then to the disk.
pub fn accept(state: &mut State, mut form: Box<Form>) -> Vec<Effect> {
    if form.stage == Stage::Confirming {
        state.person = Some(form.text("by").to_owned());
        state.overlay = Overlay::None;
        let event = form.json();
        state.sent = Some(form);
        return vec![Effect::Enter(event)];
    }
    // What was doubted is typed again, or the form is left: it is never dropped by Enter alone.
    if let Stage::Again(index, _) = &form.stage
        && form
            .fields
            .get(*index)
            .is_some_and(|it| it.text.trim().is_empty())
    {
        state.message = form.fields.get(*index).map(|it| Said::FieldMissing(it.key));
        state.overlay = Overlay::Form(form);
        return Vec::new();
    }
    settle_joint(state, &mut form);
    if let Some(missing) = form.first_missing() {
        let field = form.fields.get(missing).map(|field| field.key);
        if form.at == missing && field.is_some() {
            state.message = field.map(Said::FieldMissing);
        }
        form.at = missing;
        state.overlay = Overlay::Form(form);
        return Vec::new();
    }
    let draft = form.draft().and_then(|draft| match refused(state, &draft) {
        Some(wrong) => {
            let key = wrong.key();
            let found = form.fields.iter().position(|it| Some(it.key) == key);
            form.at = found.unwrap_or(form.at);
            Err(vec![wrong.to_string()])
        }
        None => Ok(draft),
    });
    form.stage = match draft {
        Err(problems) => Stage::Wrong(problems),
        Ok(draft) => {
            let all = expected(&state.inputs, &state.figures, &draft.event);
            let is_far = all.iter().any(crate::figures::Expected::is_far);
            match (&form.stage, is_far && !form.is_sure) {
                (Stage::Again(index, first), _) => {
                    let again = form.fields.get(*index).map(|field| form.value(field));
                    if again.as_deref() == Some(first.as_str()) {
                        form.is_sure = true;
                        Stage::Confirming
                    } else {
                        // Another value: it is looked at as if it were typed for the first time.
                        form.stage = Stage::Filling;
                        return accept(state, form);
                    }
                }
                (_, true) => {
                    let index = reading_of(&form);
                    let first = form.fields.get(index).map(|field| form.value(field));
                    form.at = index;
                    if let Some(field) = form.fields.get_mut(index) {
                        field.text.clear();
                    }
                    Stage::Again(index, first.unwrap_or_default())
                }
                (_, false) => Stage::Confirming,
            }
        }
    };
    state.overlay = Overlay::Form(form);
    Vec::new()
}

/// Why the journal would refuse an event as the job is known here; it is checked again when it is written.
fn refused(state: &State, draft: &Draft) -> Option<Wrong> {
    let inputs = &state.inputs;
    let last = inputs.journal.entries.last().map(|entry| &entry.at);
    let now = state.now.as_ref().or(last).cloned();
    let now = now.unwrap_or_else(Moment::epoch);
    check(inputs.known(), &inputs.journal, draft, &now).err()
}

/// What the driver said of an event: entered, its form is forgotten; else it is open again, with the reason.
pub fn answered(state: &mut State, said: &Said) {
    match said {
        Said::Entered { seq, event } => {
            let sent = state.sent.take();
            if let Some(form) = sent.as_ref().filter(|_| *event == "reading") {
                levels::entered(state, *seq, [form.text("from"), form.text("to")]);
            }
            // Who took over enters from now on.
            let confirmed = sent.map(|form| form.text("confirmed_by").to_owned());
            if let Some(who) = confirmed.filter(|who| !who.is_empty()) {
                state.person = Some(who);
            }
        }
        Said::NotEntered(why) => {
            if let Some(mut form) = state.sent.take() {
                form.stage = Stage::Wrong(vec![why.clone()]);
                state.overlay = Overlay::Form(form);
            }
        }
        _ => {}
    }
}

/// The field of a reading that is compared.
fn reading_of(form: &Form) -> usize {
    let key = match form.event.name {
        "joint-run" => "after",
        "hull-position" => "rotary",
        "scribe" => "distance",
        "as-cut" => "elevation",
        "reading" => "rise",
        _ => "value",
    };
    let last = form
        .fields
        .iter()
        .rposition(|it| it.key == key && !it.text.is_empty());
    last.unwrap_or(form.at)
}

/// A part of a number or a serial that is that of one joint alone becomes the joint.
fn settle_joint(state: &State, form: &mut Form) {
    if form.event.name != "joint-run" {
        return;
    }
    let typed = form.text("joint").to_owned();
    let found = joints(state, &typed);
    if typed.is_empty() || found.iter().any(|(number, _)| *number == typed) {
        return;
    }
    if let [(number, serial)] = found.as_slice() {
        let filled = form.clone().with("joint", number);
        *form = if serial.is_empty() {
            filled
        } else {
            filled.with("serial", serial)
        };
    }
}

/// Esc: from what is shown once more back to the fields, and away only on the second time.
pub fn leave(state: &mut State, mut form: Box<Form>) {
    let is_typed = form
        .fields
        .iter()
        .any(|field| field.choices.is_empty() && !field.text.is_empty() && field.key != "joint");
    match form.stage {
        Stage::Confirming | Stage::Again(..) => form.stage = Stage::Filling,
        _ if is_typed && !form.is_leaving => {
            form.is_leaving = true;
            state.message = Some(Said::LeaveForm);
        }
        _ => {
            state.overlay = Overlay::None;
            return;
        }
    }
    state.overlay = Overlay::Form(form);
}

/// The next person is the one who enters.
pub fn next_person(state: &mut State) {
    let persons = state.inputs.job.people.initials();
    if persons.is_empty() {
        state.overlay = Overlay::Who(String::new());
        return;
    }
    let at = persons
        .iter()
        .position(|it| Some(*it) == state.person.as_deref());
    let next = at.map_or(0, |at| (at + 1) % persons.len().max(1));
    state.person = persons.get(next).map(|it| (*it).to_owned());
    state.message = state.person.clone().map(Said::EntersNow);
}

/// Takes the initials that were typed for the one who enters, in a job without persons to choose from.
pub fn is_person(state: &mut State, typed: &str) {
    let initials = typed.trim();
    state.overlay = Overlay::None;
    if !initials.is_empty() {
        state.person = Some(initials.to_owned());
        state.message = Some(Said::EntersNow(initials.to_owned()));
    }
}
