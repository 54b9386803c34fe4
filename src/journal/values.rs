//! The values of an event: read by the table of its keys, all problems at once.

use super::error::{EventProblem, Wrong, expected};
use super::object::{Field, NotAnObject, list, object};
use super::schema::{KeySpec, Kind};
use super::time::{Day, Moment};
use crate::measure::{
    DecimalMark, Excerpt, Length, LengthError, ParseOptions, Unit, is_control, read_length,
};

/// A value that was read.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Value {
    Text(String),
    Length(Length),
    Real(f64),
    Moment(Moment),
    Day(Day),
    Count(u64),
    True,
    List(Vec<Values>),
}

/// The values of one object, in the order of their table.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Values(Vec<(&'static str, Value, String)>);

impl Values {
    /// Reads fields by their table; what each is wrong with is added to `problems`.
    pub(super) fn read(
        fields: &[Field<'_>],
        (event, keys): (&'static str, &'static [KeySpec]),
        line: Line<'_>,
        at: usize,
        problems: &mut Vec<EventProblem>,
    ) -> Self {
        let mut values: Vec<(&'static str, Value, String)> = Vec::with_capacity(fields.len());
        let mut seen: Vec<&str> = Vec::with_capacity(fields.len());
        for field in fields {
            if seen.contains(&field.key.as_str()) {
                problems.push(line.problem(field.at, Wrong::Twice(Excerpt::of(&field.key))));
                continue;
            }
            seen.push(&field.key);
            let Some(spec) = keys.iter().find(|spec| spec.name == field.key) else {
                let names: Vec<&str> = keys.iter().map(|spec| spec.name).collect();
                let wrong = Wrong::UnknownKey {
                    key: Excerpt::of(&field.key),
                    event,
                    expected: names.join(", "),
                };
                problems.push(line.problem(field.at, wrong));
                continue;
            };
            match value(field, spec, line, problems) {
                Ok(value) => values.push((spec.name, value, written(field.text, spec.kind))),
                Err(Some(wrong)) => problems.push(line.problem(field.at, wrong)),
                Err(None) => {}
            }
        }
        for spec in keys.iter().filter(|spec| spec.needed) {
            if !seen.contains(&spec.name) {
                let wrong = Wrong::Missing {
                    key: spec.name,
                    event,
                    expected: expected(spec.kind),
                };
                problems.push(line.problem(at, wrong));
            }
        }
        values.sort_by_key(|(name, ..)| keys.iter().position(|spec| spec.name == *name));
        Self(values)
    }

    /// The object's pairs as JSON, without its braces.
    pub(super) fn json(&self) -> String {
        let pairs: Vec<String> = self
            .0
            .iter()
            .map(|(name, _, text)| format!("\"{name}\":{text}"))
            .collect();
        pairs.join(",")
    }

    /// Adds a value that the program itself writes, where it is not there yet.
    pub(super) fn add_text(&mut self, name: &'static str, text: &str) {
        if self.get(name).is_none() {
            let json = quoted(text);
            self.0.push((name, Value::Text(text.to_owned()), json));
        }
    }

    fn get(&self, name: &str) -> Option<&Value> {
        let mut values = self.0.iter();
        values
            .find(|(it, ..)| *it == name)
            .map(|(_, value, _)| value)
    }

    pub(super) fn text(&self, name: &str) -> Option<String> {
        match self.get(name)? {
            Value::Text(text) => Some(text.clone()),
            _ => None,
        }
    }

    pub(super) fn length(&self, name: &str) -> Option<Length> {
        match self.get(name)? {
            Value::Length(length) => Some(*length),
            _ => None,
        }
    }

    pub(super) fn real(&self, name: &str) -> Option<f64> {
        match self.get(name)? {
            Value::Real(real) => Some(*real),
            _ => None,
        }
    }

    pub(super) fn moment(&self, name: &str) -> Option<Moment> {
        match self.get(name)? {
            Value::Moment(moment) => Some(moment.clone()),
            _ => None,
        }
    }

    pub(super) fn day(&self, name: &str) -> Option<Day> {
        match self.get(name)? {
            Value::Day(day) => Some(*day),
            _ => None,
        }
    }

    pub(super) fn count(&self, name: &str) -> Option<u64> {
        match self.get(name)? {
            Value::Count(count) => Some(*count),
            _ => None,
        }
    }

    pub(super) fn is_true(&self, name: &str) -> bool {
        self.get(name) == Some(&Value::True)
    }

    pub(super) fn list(&self, name: &str) -> &[Self] {
        match self.get(name) {
            Some(Value::List(items)) => items,
            _ => &[],
        }
    }
}

/// The line that is read, for the columns of messages.
#[derive(Clone, Copy, Debug)]
pub(super) struct Line<'t>(pub(super) &'t str);

impl Line<'_> {
    /// A problem at a byte of the line.
    pub(super) fn problem(self, at: usize, what: Wrong) -> EventProblem {
        let before = self.0.get(..at).unwrap_or(self.0);
        EventProblem {
            column: before.chars().count() + 1,
            what,
        }
    }

    pub(super) fn not_an_object(self, error: NotAnObject) -> EventProblem {
        self.problem(error.at, Wrong::NotAnObject(error.why))
    }
}

/// One value, or what is wrong with it; nothing where its parts have their own problems.
fn value(
    field: &Field<'_>,
    spec: &KeySpec,
    line: Line<'_>,
    problems: &mut Vec<EventProblem>,
) -> Result<Value, Option<Wrong>> {
    let wrong = || Wrong::Value {
        key: spec.name,
        found: Excerpt::of(field.text),
        expected: expected(spec.kind),
    };
    match spec.kind {
        Kind::Entry | Kind::Line => {
            let count = field.text.parse().ok().filter(|count| *count > 0);
            count.map(Value::Count).ok_or_else(|| Some(wrong()))
        }
        Kind::True => match field.text {
            "true" => Ok(Value::True),
            _ => Err(Some(wrong())),
        },
        Kind::List(keys) => {
            let items = list(field.text, field.at).map_err(|_| Some(wrong()))?;
            if items.is_empty() {
                return Err(Some(wrong()));
            }
            let before = problems.len();
            let mut values = Vec::with_capacity(items.len());
            for (text, at) in items {
                match object(text, at) {
                    Ok(fields) => {
                        values.push(Values::read(&fields, (spec.name, keys), line, at, problems));
                    }
                    Err(_) => problems.push(line.problem(at, wrong())),
                }
            }
            if problems.len() > before {
                return Err(None);
            }
            Ok(Value::List(values))
        }
        _ => {
            let text: String = serde_json::from_str(field.text).map_err(|_| Some(wrong()))?;
            let text = text.trim();
            // A control character would reach every terminal that shows the entry.
            if text.is_empty() || text.chars().any(is_control) {
                return Err(Some(wrong()));
            }
            of_text(text, spec).ok_or_else(|| Some(text_wrong(text, spec)))
        }
    }
}

/// The value that a text is.
fn of_text(text: &str, spec: &KeySpec) -> Option<Value> {
    match spec.kind {
        Kind::Length(from, to) => {
            let length = length(text).ok()?;
            (from <= length && length <= to).then_some(Value::Length(length))
        }
        Kind::Mass => real(text, &MASSES)
            .filter(|kg| (0.0..=2e7).contains(kg))
            .map(Value::Real),
        Kind::Direction => real(text, &[("deg", 1.0)])
            .filter(|degrees| (0.0..=360.0).contains(degrees))
            .map(Value::Real),
        Kind::Temperature => real(text, &[("C", 1.0)])
            .filter(|degrees| (-60.0..=200.0).contains(degrees))
            .map(Value::Real),
        Kind::Volume => real(text, &VOLUMES)
            .filter(|volume| (0.0..=1e5).contains(volume))
            .map(Value::Real),
        Kind::Word(words) => words.contains(&text).then(|| Value::Text(text.to_owned())),
        Kind::Moment => Moment::parse(text).map(Value::Moment),
        Kind::Day => Day::parse(text).map(Value::Day),
        Kind::Digest => {
            let is_digest = text.len() == 64 && text.bytes().all(|b| b.is_ascii_hexdigit());
            is_digest.then(|| Value::Text(text.to_ascii_lowercase()))
        }
        _ => Some(Value::Text(text.to_owned())),
    }
}

/// What is wrong with a text that is no value of its kind.
fn text_wrong(text: &str, spec: &KeySpec) -> Wrong {
    let key = spec.name;
    let Kind::Length(from, to) = spec.kind else {
        return Wrong::Value {
            key,
            found: Excerpt::of(text),
            expected: expected(spec.kind),
        };
    };
    let read = match length(text) {
        Err(error) => return Wrong::Length { key, error },
        Ok(read) => read,
    };
    let limit = if read < from { from } else { to };
    let number = text.trim_end_matches(|c: char| !c.is_ascii_digit() && c != '.');
    let others = ["mm", "m", "in", "ft"].map(|unit| format!("{number} {unit}"));
    let fits = |text: &String| length(text).is_ok_and(|it| from <= it && it <= to);
    Wrong::Beyond {
        key,
        found: Excerpt::of(text),
        limit: limit.exact(if limit.abs() < Length::from_mm(1000) {
            Unit::Millimetre
        } else {
            Unit::Metre
        }),
        other: others.into_iter().find(fits),
    }
}

/// A length with its unit: a bare number is none.
fn length(text: &str) -> Result<Length, LengthError> {
    let rules = ParseOptions {
        bare: None,
        decimal: DecimalMark::Point,
    };
    read_length(text, &rules).map(|read| read.length)
}

const MASSES: [(&str, f64); 4] = [
    ("kg", 1.0),
    ("t", 1000.0),
    // The pound is 0.45359237 kg exactly (NIST SP 811).
    ("klb", 453.592_37),
    ("lb", 0.453_592_37),
];

const VOLUMES: [(&str, f64); 4] = [
    ("m3", 1.0),
    // 42 US gallons of 231 cubic inches (NIST SP 811).
    ("bbl", 0.158_987_294_928),
    ("l", 0.001),
    ("ft3", 0.028_316_846_592),
];

/// A number with one of some units, in the first of them.
fn real(text: &str, units: &[(&str, f64)]) -> Option<f64> {
    let (number, factor) = units.iter().find_map(|(unit, factor)| {
        let number = text.strip_suffix(unit)?.trim_end();
        Some((number, *factor))
    })?;
    let digits = number.strip_prefix('-').unwrap_or(number);
    let is_plain = digits.starts_with(|c: char| c.is_ascii_digit())
        && digits.bytes().all(|b| b.is_ascii_digit() || b == b'.');
    let count: f64 = is_plain.then(|| number.parse().ok())??;
    Some(count * factor).filter(|real| real.is_finite())
}

/// A text as JSON.
pub(super) fn quoted(text: &str) -> String {
    serde_json::Value::from(text).to_string()
}

/// A value as the journal carries it: as it was written, without spaces between its parts.
fn written(text: &str, kind: Kind) -> String {
    match kind {
        Kind::Entry | Kind::Line | Kind::True => text.to_owned(),
        Kind::List(keys) => {
            let items = list(text, 0).unwrap_or_default();
            let items: Vec<String> = items
                .into_iter()
                .map(|(item, _)| {
                    let fields = object(item, 0).unwrap_or_default();
                    let pairs = fields.iter().filter_map(|field| {
                        let spec = keys.iter().find(|spec| spec.name == field.key)?;
                        Some(format!(
                            "\"{}\":{}",
                            spec.name,
                            written(field.text, spec.kind)
                        ))
                    });
                    format!("{{{}}}", pairs.collect::<Vec<_>>().join(","))
                })
                .collect();
            format!("[{}]", items.join(","))
        }
        _ => serde_json::from_str::<String>(text)
            .map_or_else(|_| text.to_owned(), |plain| quoted(plain.trim())),
    }
}
