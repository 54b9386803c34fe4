//! Reconcile: where another list of the string differs from the tally of record, and what stands.

use super::pen::{Item, Line, Pen, cells, list};
use super::state::{Overlay, State};
use super::theme::Role;
use super::update::{Effect, Step};
use crate::figures::{Basis, ListFigures, left_to_decide, would_move};
use crate::folder;
use crate::job::OtherList;
use crate::measure::{Length, ParseOptions, read_length};
use crate::reconcile::{
    Decision, Difference, Stands, Topic, bridge_in, differences, record, unmatched_decisions,
};
use crate::report::{self, Provenance};
use crate::tally::{Joint, Pins, Tally};

/// Rows at the foot: both joints, the words, and the decision.
const FOOT: u16 = 8;

/// The list in front, with its figures where it could be read.
fn in_front(state: &State) -> Option<(&OtherList, Option<&ListFigures>)> {
    let lists = state.inputs.lists.get(state.slot)?;
    let at = state.place().list.min(lists.len().saturating_sub(1));
    let figures = state.figures.slots.get(state.slot)?;
    Some((
        lists.get(at)?,
        figures.lists.get(at).and_then(Option::as_ref),
    ))
}

/// How many differences can be gone through.
pub(super) fn count(state: &State) -> usize {
    let figures = in_front(state).and_then(|(_, figures)| figures);
    figures.map_or(0, |figures| figures.differences.len())
}

/// The difference in front.
fn difference(state: &State) -> Option<&Difference> {
    let (_, figures) = in_front(state)?;
    figures?.differences.get(state.place().difference)
}

/// The next list of the slot, round and round.
pub(super) fn turn_list(state: &mut State) {
    let lists = state.inputs.lists.get(state.slot).map_or(0, Vec::len);
    if let Some(place) = state.places.get_mut(state.slot) {
        place.list = (place.list + 1) % lists.max(1);
        place.difference = 0;
    }
}

pub(super) fn step(state: &mut State, step: Step) {
    let count = count(state);
    if let Some(place) = state.places.get_mut(state.slot) {
        place.difference = step.from(place.difference, count);
    }
}

/// Opens the words of the difference in front.
pub(super) fn open(state: &mut State) {
    match difference(state) {
        Some(difference) => {
            let text = words(state, difference);
            state.overlay = Overlay::Words(text, 0);
        }
        None => state.message = Some("there is no difference here to open".to_owned()),
    }
}

/// The words of a difference in the unit in use.
fn words(state: &State, difference: &Difference) -> String {
    let lists = in_front(state)
        .and_then(|(list, _)| list.tally.as_ref().ok())
        .zip(state.current());
    let again = lists.and_then(|(other, (_, tally, _))| {
        let bridge = bridge_in(tally, other, pins(state), state.show);
        let all = differences(tally, other, &bridge);
        let same = |it: &Difference| {
            (it.topic, it.a, it.b) == (difference.topic, difference.a, difference.b)
        };
        all.into_iter().find(same)
    });
    again.map_or_else(|| difference.text.clone(), |it| it.text)
}

/// Decides the difference in front.
pub(super) fn decide(state: &mut State, stands: Stands, note: String) -> Vec<Effect> {
    let (Some(difference), Some((list, _)), Some((slot, _, _))) =
        (difference(state), in_front(state), state.current())
    else {
        state.message = Some("there is no difference here to decide".to_owned());
        return Vec::new();
    };
    if let Some(reason) = &list.decisions_problem {
        state.message = Some(format!("mend the decisions first: {reason}"));
        return Vec::new();
    }
    if let Stands::Measured(length) = stands {
        let joint = match (&list.tally, difference.a, difference.b) {
            (_, Some(at), _) => state
                .inputs
                .tallies
                .get(state.slot)
                .and_then(|it| it.joints.get(at)),
            (Ok(other), None, Some(at)) => other.joints.get(at),
            _ => None,
        };
        if let Some(reason) = joint.and_then(|joint| difference.refuses(joint, length)) {
            state.message = Some(format!("{}: {reason}", state.show.text(length)));
            return Vec::new();
        }
    }
    let decision = Decision {
        topic: difference.topic,
        joint: difference.joint.clone(),
        in_b: difference.in_b(),
        line: difference.line,
        said: difference.said,
        stands,
        note,
    };
    let file = folder::decisions_file(&slot.name, &list.name);
    vec![Effect::Decide(file, decision)]
}

/// Begins to enter a measured value, where one can be.
pub(super) fn measure(state: &mut State) {
    let refused = match (difference(state), state.current()) {
        (Some(difference), Some((slot, _, figures))) => match difference.topic {
            Topic::Presence | Topic::Place => {
                Some("this cannot be measured: A or B stands".to_owned())
            }
            _ if figures.basis == Basis::Read => Some(format!(
                "{} is run and landed: joint {} cannot be measured again; A or B stands",
                slot.name, difference.joint
            )),
            _ => None,
        },
        _ => Some("there is no difference here to decide".to_owned()),
    };
    match refused {
        Some(reason) => state.message = Some(reason),
        None => {
            state.overlay = Overlay::Enter {
                value: None,
                text: String::new(),
            }
        }
    }
}

/// What Enter does with what was typed: first the value, then the note.
pub(super) fn entered(state: &mut State, value: Option<Length>, text: &str) -> Vec<Effect> {
    let Some(value) = value else {
        let rules = ParseOptions {
            bare: Some(state.show.unit()),
            ..ParseOptions::default()
        };
        match read_length(text, &rules) {
            Ok(reading)
                if reading.length > Length::ZERO && reading.length <= crate::measure::MAX_JOINT =>
            {
                state.overlay = Overlay::Enter {
                    value: Some(reading.length),
                    text: String::new(),
                };
            }
            Ok(_) => state.message = Some(format!("`{text}` is no length that a joint can have")),
            Err(error) => state.message = Some(error.to_string()),
        }
        return Vec::new();
    };
    if text.trim().is_empty() {
        state.message = Some("a measured value needs a note: who measured it, and how".to_owned());
        return Vec::new();
    }
    state.overlay = Overlay::None;
    decide(state, Stands::Measured(value), text.trim().to_owned())
}

/// The tally of record as the decisions make it: where it goes, its text, and what to say.
pub(super) fn write(state: &mut State) -> Vec<Effect> {
    let (Some((list, Some(figures))), Some((slot, tally, _))) = (in_front(state), state.current())
    else {
        state.message = Some("there is no list here to make a tally of record with".to_owned());
        return Vec::new();
    };
    let Ok(other) = &list.tally else {
        return Vec::new();
    };
    let name = slot.tally.to_string_lossy().into_owned();
    let of_tally = state
        .inputs
        .sources
        .iter()
        .find(|source| source.name == name);
    let provenance = Provenance {
        names: [name.clone(), list.path.to_string_lossy().into_owned()],
        sha256: [
            of_tally.map_or_else(String::new, |source| source.sha256.clone()),
            list.sha256.clone(),
        ],
    };
    let pins = pins(state);
    let record = record(
        (tally, other),
        &figures.bridge,
        &list.decisions,
        [&name, &list.name],
        pins,
    );
    let text = report::record_csv(&record, &provenance, tally.unit, pins);
    vec![Effect::Write {
        folder: slot.tally.parent().map(Into::into).unwrap_or_default(),
        stem: format!("{}-of-record", slot.name),
        text,
        open: record.open,
    }]
}

fn pins(state: &State) -> Pins {
    let slot = state.inputs.job.slots.get(state.slot);
    slot.map(|slot| slot.pipe.pins).unwrap_or_default()
}

pub(super) fn draw(state: &State, pen: &mut Pen<'_>) {
    let Some((slot, tally, _)) = state.current() else {
        return;
    };
    let width = usize::from(pen.area.width).saturating_sub(2);
    let Some((other, figures)) = in_front(state) else {
        let text = format!(
            "No other list of this string is named. Under slot {} of job.toml: lists = {{ yard = \"tallies/yard.csv\" }}",
            slot.name
        );
        for (row, line) in (0..).zip(Line::of(text, Role::Plain).wrapped(width, 0)) {
            pen.line(1, row, &line);
        }
        return;
    };
    let lists = state.inputs.lists.get(state.slot).map_or(0, Vec::len);
    let title = Line::of(format!("Slot {}  ", slot.name), Role::Title)
        .and(
            format!(
                "A {}   B {}: {}",
                slot.tally.display(),
                other.name,
                other.path.display()
            ),
            Role::Label,
        )
        .and(
            format!("   list {} of {lists}", state.place().list + 1),
            Role::Label,
        );
    pen.line(1, 0, &title);
    let (Some(figures), Ok(list_tally)) = (figures, &other.tally) else {
        let reason = other.tally.as_ref().err().cloned().unwrap_or_default();
        let text = format!("{} cannot be read: {reason}", other.name);
        for (row, line) in (2..).zip(Line::of(text, Role::Check).wrapped(width, 2)) {
            pen.line(1, row, &line);
        }
        return;
    };
    let mut y = 1;
    for line in heading(state, other, figures, width) {
        pen.line(1, y, &line);
        y += 1;
    }
    let height = pen.area.height;
    let foot = height.saturating_sub(FOOT).max(y + 1);
    let items: Vec<Item<()>> = figures
        .differences
        .iter()
        .map(|difference| Item {
            lines: vec![row(state, other, difference)],
            opens: (),
        })
        .collect();
    if items.is_empty() {
        pen.text(1, y + 1, "No joint differs.", Role::Within);
    }
    list(
        &mut pen.part(0, y, pen.area.width, foot.saturating_sub(y)),
        &items,
        Some(state.place().difference),
    );
    if let Some(difference) = difference(state) {
        let mut part = pen.part(0, foot, pen.area.width, FOOT);
        in_full(state, &mut part, (tally, list_tally), other, difference);
    }
}

/// The totals, what is left to decide, and what the other list would move.
fn heading(state: &State, other: &OtherList, figures: &ListFigures, width: usize) -> Vec<Line> {
    let show = state.show;
    let bridge = &figures.bridge;
    let left = left_to_decide(other, figures);
    let role = if left == 0 { Role::Within } else { Role::Check };
    let mut lines = Line::of(
        format!(
            "{}: {} and {}",
            report::difference_words(
                show,
                ["the tally of record", &other.name],
                bridge.difference()
            ),
            show.text(bridge.a),
            show.text(bridge.b)
        ),
        Role::Figure,
    )
    .and(
        format!("   differences {}, ", figures.differences.len()),
        Role::Plain,
    )
    .and(format!("not decided {left}"), role)
    .wrapped(width, 2);
    for note in bridge.notes.iter().take(2) {
        lines.extend(Line::of(format!("also: {}", note.text), Role::Check).wrapped(width, 2));
    }
    if let Some(reason) = &other.decisions_problem {
        let text = format!("DECISIONS CANNOT BE READ: {reason}");
        lines.extend(Line::of(text, Role::Stop).wrapped(width, 2));
    }
    let without = unmatched_decisions(&figures.differences, &other.decisions).count();
    if without > 0 {
        let text =
            format!("decisions on what differs no longer, or differs otherwise by now: {without}");
        lines.push(Line::of(text, Role::Label));
    }
    let would_move = state.current().map_or_else(Vec::new, |(_, tally, now)| {
        let other = other.tally.as_ref().unwrap_or(tally);
        let then = (other, &*figures.with_it);
        would_move(&state.inputs.job, show, (tally, now), then)
    });
    let moved = if would_move.is_empty() {
        "nothing of the landing, the cut or what is fitted moves".to_owned()
    } else {
        would_move.join("; ")
    };
    let text = format!("If B were of record: {moved}.");
    lines.extend(
        Line::of(text, Role::Plain)
            .wrapped(width, 2)
            .into_iter()
            .take(3),
    );
    lines
}

/// One difference: what is decided, the topic, the joint, and how far it moves planes.
fn row(state: &State, other: &OtherList, difference: &Difference) -> Line {
    let (word, role) = match difference.decided(&other.decisions).map(|it| it.stands) {
        None => ("open    ".to_owned(), Role::Check),
        Some(Stands::A) => ("A stands".to_owned(), Role::Within),
        Some(Stands::B) => ("B stands".to_owned(), Role::Within),
        Some(Stands::Measured(_)) => ("measured".to_owned(), Role::Within),
    };
    Line::of(word, role)
        .and(format!("  {:<12}", difference.topic.name()), Role::Plain)
        .and(format!("{:<10}", difference.joint), Role::Title)
        .and(
            format!(
                "moves planes by {}",
                state
                    .show
                    .difference(difference.moves)
                    .trim_start_matches('+')
            ),
            Role::Figure,
        )
}

/// Both rows of the difference in front, its words, and what is decided.
fn in_full(
    state: &State,
    pen: &mut Pen<'_>,
    (a, b): (&Tally, &Tally),
    other: &OtherList,
    difference: &Difference,
) {
    let width = usize::from(pen.area.width).saturating_sub(2);
    let show = state.show;
    let joint = |joint: Option<&Joint>| {
        joint.map_or_else(
            || "not in this list".to_owned(),
            |joint| {
                let or_none = |length: Option<Length>| {
                    length.map_or_else(|| "-".to_owned(), |length| show.text(length))
                };
                let loss = joint
                    .makeup_loss
                    .map_or_else(|| "-".to_owned(), |it| show.small(it));
                format!(
                    "line {}: joint {}, serial {}, length {}, loss {loss}",
                    joint.line,
                    joint.number,
                    joint.serial.as_deref().unwrap_or("-"),
                    or_none(joint.overall.or(joint.effective)),
                )
            },
        )
    };
    let of = |tally: &Tally, at: Option<usize>| joint(at.and_then(|at| tally.joints.get(at)));
    pen.line(
        1,
        0,
        &Line::of(format!("A {}", of(a, difference.a)), Role::Figure),
    );
    pen.line(
        1,
        1,
        &Line::of(format!("B {}", of(b, difference.b)), Role::Figure),
    );
    let mut lines = Line::of(words(state, difference), Role::Plain).wrapped(width, 2);
    lines.truncate(4);
    let decided = difference.decided(&other.decisions);
    lines.push(match decided {
        None => Line::of("not decided: until someone does, A stands", Role::Check),
        Some(decision) => {
            let stands = match decision.stands {
                Stands::A => "A stands".to_owned(),
                Stands::B => "B stands".to_owned(),
                Stands::Measured(length) => format!("measured again: {}", show.text(length)),
            };
            let note = if decision.note.is_empty() {
                String::new()
            } else {
                format!(" ({})", decision.note)
            };
            Line::of(format!("decided: {stands}{note}"), Role::Within)
        }
    });
    for (row, line) in (2..).zip(&lines) {
        pen.line(1, cells(row), line);
    }
}
