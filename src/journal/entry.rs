//! Entries: an event with when, by whom, and its place in the chain.

use super::error::{EventProblem, Wrong, expected};
use super::event::{Event, MadeOf};
use super::object::{Field, object};
use super::schema::{EventSpec, KeySpec, Kind, event_named};
use super::time::Moment;
use super::values::{Line, Values, quoted};
use crate::measure::{Excerpt, is_control};

/// Most bytes of one line.
pub const MAX_LINE: usize = 65_536;

/// Keys of every event beside its own.
const COMMON: [&str; 4] = ["event", "by", "at", "source"];
/// Keys that the program itself writes.
const OWN: [&str; 4] = ["seq", "entered", "prev", "hash"];

/// An event as it is to be entered.
#[derive(Clone, Debug, PartialEq)]
pub struct Draft {
    /// Who enters it.
    pub by: String,
    /// When it happened; `None` for now.
    pub at: Option<Moment>,
    /// Whether it was written on paper first.
    pub from_paper: bool,
    /// The event.
    pub event: Event,
    spec: &'static EventSpec,
    values: Values,
}

/// An event as the journal has it.
#[derive(Clone, Debug, PartialEq)]
pub struct Entry {
    /// Its number, from 1.
    pub seq: u64,
    /// When it happened.
    pub at: Moment,
    /// When it was written.
    pub entered: Moment,
    /// Who entered it.
    pub by: String,
    /// Whether it was written on paper first.
    pub from_paper: bool,
    /// The name of the event.
    pub name: &'static str,
    /// The event.
    pub event: Event,
    /// Its own keys and values as JSON, without braces.
    pub own: String,
    /// The hash of its line.
    pub hash: String,
}

impl Draft {
    /// Reads one event, one JSON object; `by` is who enters where the object does not say. All problems
    /// are told together.
    pub fn read(text: &str, by: Option<&str>) -> Result<Self, Vec<EventProblem>> {
        let line = Line(text);
        let fields = object(text, 0).map_err(|error| vec![line.not_an_object(error)])?;
        let mut problems = Vec::new();
        if let Some((own, at)) = own_key(&fields) {
            problems.push(line.problem(at, Wrong::Own(own)));
        }
        let read = of_fields(line, fields, by, &mut problems);
        match read {
            Some(draft) if problems.is_empty() => {
                if draft.spec.by_program {
                    let wrong = Wrong::BySign(draft.spec.name);
                    return Err(vec![line.problem(0, wrong)]);
                }
                Ok(draft)
            }
            _ => {
                problems.sort_by_key(|problem| problem.column);
                Err(problems)
            }
        }
    }

    /// An event that the program itself writes.
    pub fn by_program(text: &str) -> Result<Self, Vec<EventProblem>> {
        let line = Line(text);
        let fields = object(text, 0).map_err(|error| vec![line.not_an_object(error)])?;
        let mut problems = Vec::new();
        match of_fields(line, fields, None, &mut problems) {
            Some(draft) if problems.is_empty() => Ok(draft),
            _ => Err(problems),
        }
    }

    /// The name of its event.
    pub const fn name(&self) -> &'static str {
        self.spec.name
    }

    /// Adds the digest of what a waiver accepts.
    pub fn set_waived(&mut self, digest: &str) {
        if let Event::Waiver { of, .. } = &mut self.event {
            of.get_or_insert_with(|| digest.to_owned());
            self.values.add_text("of", digest);
        }
    }

    /// Adds the figures that a decision is made of, where they were not said.
    pub fn set_made_of(&mut self, items: &[MadeOf]) {
        let Event::Decision { made_of, .. } = &self.event else {
            return;
        };
        if !made_of.is_empty() {
            return;
        }
        let item = |it: &MadeOf| {
            let line = it.line.map(|line| format!(",\"line\":{line}"));
            let value = it.value.map(|value| {
                let text = quoted(&format!("{} m", value.exact_metres()));
                format!(",\"value\":{text}")
            });
            let (line, value) = (line.unwrap_or_default(), value.unwrap_or_default());
            format!("{{\"list\":{}{line}{value}}}", quoted(&it.list))
        };
        let items: Vec<String> = items.iter().map(item).collect();
        let text = format!(
            "{{\"event\":\"decision\",\"by\":{},{},\"made_of\":[{}]}}",
            quoted(&self.by),
            self.values.json(),
            items.join(",")
        );
        // What was read before reads again with one key more.
        if let Ok(read) = Self::by_program(&text) {
            self.event = read.event;
            self.values = read.values;
        }
    }

    /// Adds what is open at a handover, where it was not said.
    pub fn set_open(&mut self, items: &str) {
        if let Event::Handover { open, .. } = &mut self.event
            && !items.is_empty()
        {
            open.get_or_insert_with(|| items.to_owned());
            self.values.add_text("open", items);
        }
    }

    /// The entry that it becomes as the line `seq` after the one of hash `prev`, and the line's bytes
    /// without a line end.
    pub fn into_entry(self, seq: u64, entered: &Moment, prev: &str) -> (Entry, String) {
        let at = self.at.unwrap_or_else(|| entered.clone());
        let own = self.values.json();
        let source = if self.from_paper {
            ",\"source\":\"paper\""
        } else {
            ""
        };
        let comma = if own.is_empty() { "" } else { "," };
        let mut line = format!(
            "{{\"seq\":{seq},\"at\":\"{at}\",\"entered\":\"{entered}\",\"by\":{},\"event\":\"{}\"{comma}{own}{source},\"prev\":\"{prev}\"",
            quoted(&self.by),
            self.spec.name,
        );
        let hash = super::digest::sha256(line.as_bytes());
        line.push_str(",\"hash\":\"");
        line.push_str(&hash);
        line.push_str("\"}");
        let entry = Entry {
            seq,
            at,
            entered: entered.clone(),
            by: self.by,
            from_paper: self.from_paper,
            name: self.spec.name,
            event: self.event,
            own,
            hash,
        };
        (entry, line)
    }
}

/// The first key that is the program's, with its byte.
fn own_key(fields: &[Field<'_>]) -> Option<(&'static str, usize)> {
    fields.iter().find_map(|field| {
        let own = OWN.into_iter().find(|own| *own == field.key)?;
        Some((own, field.at))
    })
}

/// An event of its fields; nothing, or something with problems, where it is none.
fn of_fields(
    line: Line<'_>,
    fields: Vec<Field<'_>>,
    by: Option<&str>,
    problems: &mut Vec<EventProblem>,
) -> Option<Draft> {
    let mut common: [Option<Field<'_>>; 4] = [None, None, None, None];
    let mut own = Vec::with_capacity(fields.len());
    for field in fields {
        if OWN.contains(&field.key.as_str()) {
            continue;
        }
        let place = COMMON.iter().position(|key| *key == field.key);
        match place.and_then(|at| common.get_mut(at)) {
            Some(Some(_)) => {
                problems.push(line.problem(field.at, Wrong::Twice(Excerpt::of(&field.key))));
            }
            Some(place) => *place = Some(field),
            None => own.push(field),
        }
    }
    let [event, by_field, at, source] = common;
    let name = if let Some(field) = event {
        text_of(&field, "event", line, problems).map(|text| (text, field.at))
    } else {
        let wrong = Wrong::Missing {
            key: "event",
            event: "an entry",
            expected: "what happened, such as \"note\"".to_owned(),
        };
        problems.push(line.problem(0, wrong));
        None
    };
    let spec = name.and_then(|(name, at)| {
        let spec = event_named(&name);
        if spec.is_none() {
            problems.push(line.problem(at, Wrong::NoEvent(Excerpt::of(&name))));
        }
        spec
    });
    let by = match by_field {
        Some(field) => text_of(&field, "by", line, problems),
        None => by.map(str::to_owned).or_else(|| {
            let wrong = Wrong::Missing {
                key: "by",
                event: spec.map_or("an entry", |spec| spec.name),
                expected: "the initials of who enters it, here or by --by".to_owned(),
            };
            problems.push(line.problem(0, wrong));
            None
        }),
    };
    let at = at.and_then(|field| {
        let text = text_of(&field, "at", line, problems)?;
        let moment = Moment::parse(&text);
        if moment.is_none() {
            let wrong = Wrong::Value {
                key: "at",
                found: Excerpt::of(&text),
                expected: expected(Kind::Moment),
            };
            problems.push(line.problem(field.at, wrong));
        }
        moment
    });
    let from_paper = source.is_some_and(|field| {
        let is_paper = field.text == "\"paper\"";
        if !is_paper {
            let wrong = Wrong::Value {
                key: "source",
                found: Excerpt::of(field.text),
                expected: "\"paper\", or no such key".to_owned(),
            };
            problems.push(line.problem(field.at, wrong));
        }
        is_paper
    });
    let spec = spec?;
    let keys: &'static [KeySpec] = spec.keys;
    let values = Values::read(&own, (spec.name, keys), line, 0, problems);
    let event = Event::of(spec.name, &values);
    if event.is_none() && problems.is_empty() {
        problems.push(line.problem(0, Wrong::Values(spec.name)));
    }
    Some(Draft {
        by: by?,
        at,
        from_paper,
        event: event?,
        spec,
        values,
    })
}

/// The text that a common key holds.
fn text_of(
    field: &Field<'_>,
    key: &'static str,
    line: Line<'_>,
    problems: &mut Vec<EventProblem>,
) -> Option<String> {
    let text: Option<String> = serde_json::from_str(field.text).ok();
    let text = text.map(|text| text.trim().to_owned());
    let text = text.filter(|text| !text.is_empty() && !text.chars().any(is_control));
    if text.is_none() {
        let wrong = Wrong::Value {
            key,
            found: Excerpt::of(field.text),
            expected: expected(Kind::Text),
        };
        problems.push(line.problem(field.at, wrong));
    }
    text
}

impl Entry {
    /// Reads a line of the journal whose beginning and end are known to be right.
    pub(super) fn of_line(
        text: &str,
        (seq, entered, hash): (u64, Moment, String),
    ) -> Result<Self, EventProblem> {
        let line = Line(text);
        let fields = object(text, 0).map_err(|error| line.not_an_object(error))?;
        let mut problems = Vec::new();
        let draft = of_fields(line, fields, None, &mut problems);
        match draft.filter(|_| problems.is_empty()) {
            Some(draft) => Ok(Self {
                seq,
                at: draft.at.unwrap_or_else(|| entered.clone()),
                entered,
                by: draft.by,
                from_paper: draft.from_paper,
                name: draft.spec.name,
                own: draft.values.json(),
                event: draft.event,
                hash,
            }),
            None => Err(problems.into_iter().next().unwrap_or_else(|| {
                line.problem(0, Wrong::NotAnObject("it is no event".to_owned()))
            })),
        }
    }
}
