//! A form: the fields of an event, what is typed into them, and the event that they make.

use crate::journal::{Draft, EventSpec, KeySpec, Kind, Moment};
use crate::measure::{
    DecimalMark, Length, LengthError, ParseOptions, ParsedLength, Unit, read_length,
};
use crate::report::words;

/// How many groups of a list a form has: two marks of a scribed line, four readings round a top.
const MARKS: usize = 2;
const READINGS: usize = 4;

/// One field.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Field {
    /// The key that it fills.
    pub key: &'static str,
    /// The list that it belongs to, and the group in it, from 0.
    pub group: Option<(&'static str, usize)>,
    /// What it holds.
    pub kind: Kind,
    /// Whether it must be filled.
    pub needed: bool,
    /// What is typed.
    pub text: String,
    /// What it may be, where that is a list.
    pub choices: Vec<String>,
    /// Whether what it holds was offered or chosen, not typed: the first letter typed takes its place.
    pub is_offered: bool,
}

/// Where a form is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Stage {
    /// It is filled in.
    Filling,
    /// What is wrong with it, in words.
    Wrong(Vec<String>),
    /// It is shown once more before it is entered.
    Confirming,
    /// A reading is far from what is expected: this field is typed again. The first text of it.
    Again(usize, String),
}

/// A form.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Form {
    /// The event.
    pub event: &'static EventSpec,
    /// The fields; the first is who enters.
    pub fields: Vec<Field>,
    /// The field that is typed into.
    pub at: usize,
    /// Where it is.
    pub stage: Stage,
    /// Whether a far reading was typed twice.
    pub is_sure: bool,
    /// Whether Esc was pressed once over what is typed.
    pub is_leaving: bool,
    /// The unit of bare numbers.
    pub unit: Unit,
    /// The time of the clock, for times of the day; `None` where it is not known.
    pub now: Option<Moment>,
}

impl Field {
    /// Types a letter into it.
    pub fn type_letter(&mut self, letter: char) {
        if std::mem::take(&mut self.is_offered) {
            self.text.clear();
        }
        self.text.push(letter);
    }

    /// Erases the last letter.
    pub fn erase(&mut self) {
        self.is_offered = false;
        self.text.pop();
    }
}

impl Form {
    /// An empty form; `choices` are what the fields of a kind may be, by their key.
    pub fn new(
        event: &'static EventSpec,
        unit: Unit,
        choices: impl Fn(&KeySpec) -> Vec<String>,
    ) -> Self {
        let field = |spec: &KeySpec, group| Field {
            key: spec.name,
            group,
            kind: spec.kind,
            needed: spec.needed,
            text: String::new(),
            is_offered: false,
            choices: match spec.kind {
                Kind::Word(words) => words.iter().map(|word| (*word).to_owned()).collect(),
                _ => choices(spec),
            },
        };
        let mut fields = vec![field(&BY, None)];
        for spec in event.keys {
            if is_by_program(event.name, spec.name) {
                continue;
            }
            match spec.kind {
                Kind::List(keys) => {
                    let groups = if spec.name == "marks" {
                        MARKS
                    } else {
                        READINGS
                    };
                    for group in 0..groups {
                        let at = Some((spec.name, group));
                        fields.extend(keys.iter().map(|key| field(key, at)));
                    }
                }
                _ => fields.push(field(spec, None)),
            }
        }
        fields.extend([field(&AT, None), field(&SOURCE, None)]);
        Self {
            event,
            at: 1.min(fields.len().saturating_sub(1)),
            fields,
            stage: Stage::Filling,
            is_sure: false,
            is_leaving: false,
            unit,
            now: None,
        }
    }

    /// Fills a field.
    #[must_use]
    pub fn with(mut self, key: &str, text: &str) -> Self {
        if let Some(field) = self.fields.iter_mut().find(|field| field.key == key) {
            text.clone_into(&mut field.text);
            field.is_offered = true;
        }
        self
    }

    /// Goes to a field.
    #[must_use]
    pub fn from(mut self, key: &str) -> Self {
        let found = self.fields.iter().position(|field| field.key == key);
        self.at = found.unwrap_or(self.at);
        self
    }

    /// What is typed into the first field of a key.
    pub fn text(&self, key: &str) -> &str {
        let mut fields = self.fields.iter();
        fields
            .find(|field| field.key == key)
            .map_or("", |field| &field.text)
    }

    /// The field that is typed into.
    pub fn field_mut(&mut self) -> Option<&mut Field> {
        self.is_leaving = false;
        // Another value is looked at as if it were typed for the first time.
        self.is_sure = false;
        if matches!(self.stage, Stage::Wrong(_)) {
            self.stage = Stage::Filling;
        }
        self.fields.get_mut(self.at)
    }

    /// The first field that must be filled and is not. Groups of a list after the first need not be.
    pub fn first_missing(&self) -> Option<usize> {
        self.fields.iter().position(|field| {
            let is_begun = field.group.is_none_or(|(list, group)| {
                group == 0 || self.group(list, group).any(|it| !it.text.is_empty())
            });
            field.needed && is_begun && field.text.trim().is_empty()
        })
    }

    fn group(&self, list: &str, group: usize) -> impl Iterator<Item = &Field> {
        let list = list.to_owned();
        let fields = self.fields.iter();
        fields.filter(move |it| it.group.is_some_and(|(l, g)| l == list && g == group))
    }

    /// Whether what a field holds is hidden: the first mark while the second is measured.
    pub fn is_hidden(&self, index: usize) -> bool {
        let group = |index: usize| self.fields.get(index).and_then(|field| field.group);
        self.event.name == "scribe"
            && matches!(self.stage, Stage::Filling | Stage::Wrong(_))
            && self
                .fields
                .get(index)
                .is_some_and(|it| it.key == "distance" && !it.text.is_empty())
            && group(index) == Some(("marks", 0))
            && group(self.at).is_some_and(|(_, at)| at > 0)
    }

    /// The event as one JSON object.
    pub fn json(&self) -> String {
        let mut pairs: Vec<String> = vec![format!("\"event\":{}", quoted(self.event.name))];
        let mut lists: Vec<&str> = Vec::new();
        for field in &self.fields {
            match field.group {
                None if field.text.trim().is_empty() => {}
                None => pairs.push(self.pair(field)),
                Some((list, _)) if lists.contains(&list) => {}
                Some((list, _)) => {
                    lists.push(list);
                    let items: Vec<String> = (0..MARKS.max(READINGS))
                        .map(|group| {
                            let fields = self.group(list, group);
                            let filled = fields.filter(|it| !it.text.trim().is_empty());
                            filled.map(|it| self.pair(it)).collect::<Vec<_>>()
                        })
                        .filter(|pairs| !pairs.is_empty())
                        .map(|pairs| format!("{{{}}}", pairs.join(",")))
                        .collect();
                    pairs.push(format!("\"{list}\":[{}]", items.join(",")));
                }
            }
        }
        format!("{{{}}}", pairs.join(","))
    }

    fn pair(&self, field: &Field) -> String {
        let value = self.value(field);
        match field.kind {
            Kind::Entry | Kind::Line => format!("\"{}\":{value}", field.key),
            _ => format!("\"{}\":{}", field.key, quoted(&value)),
        }
    }

    /// What is typed, with its unit.
    pub fn value(&self, field: &Field) -> String {
        let text = field.text.trim();
        let with = |unit: &str| {
            let is_bare = text.ends_with(|c: char| c.is_ascii_digit());
            if is_bare {
                format!("{text} {unit}")
            } else {
                text.to_owned()
            }
        };
        match field.kind {
            // A form such as 3-4½ has a unit in a job in feet and inches alone: it is written out.
            Kind::Length(..) if read_length(text, &ParseOptions::default()).is_err() => self
                .read(field)
                .map_or_else(|_| text.to_owned(), |read| read.length.exact(self.unit)),
            Kind::Moment => {
                // Grout is waited for; all else is over when it is entered.
                let found = self.now.as_ref();
                let found = found.and_then(|now| now.at_clock(text, field.key == "until"));
                found.map_or_else(|| text.to_owned(), |it| it.to_string())
            }
            Kind::Direction => with("deg"),
            Kind::Temperature => with("C"),
            Kind::Mass => with("t"),
            Kind::Volume => with("m3"),
            _ => text.to_owned(),
        }
    }

    /// The length that is typed.
    pub fn length(&self, field: &Field) -> Option<Length> {
        self.read(field).ok().map(|read| read.length)
    }

    fn read(&self, field: &Field) -> Result<ParsedLength, LengthError> {
        let rules = ParseOptions {
            bare: Some(self.unit),
            decimal: DecimalMark::Point,
        };
        read_length(field.text.trim(), &rules)
    }

    /// Lengths that are none, in words.
    fn no_lengths(&self) -> Vec<String> {
        let filled = self.fields.iter().filter(|it| !it.text.trim().is_empty());
        let lengths = filled.filter(|it| matches!(it.kind, Kind::Length(..)));
        let wrong = lengths.filter_map(|it| Some((it.key, self.read(it).err()?)));
        wrong
            .map(|(key, error)| format!("{}: {error}", words::field_label(key)))
            .collect()
    }

    /// The event, or what is wrong with it in words.
    pub fn draft(&self) -> Result<Draft, Vec<String>> {
        let no_lengths = self.no_lengths();
        if !no_lengths.is_empty() {
            return Err(no_lengths);
        }
        Draft::read(&self.json(), None)
            .map_err(|problems| problems.iter().map(|it| it.what.to_string()).collect())
    }
}

/// Whether the program adds a key by itself.
fn is_by_program(event: &str, key: &str) -> bool {
    matches!(
        (event, key),
        ("waiver", "of") | ("handover", "open") | ("decision", "line" | "made_of" | "taken_from")
    )
}

const BY: KeySpec = KeySpec {
    name: "by",
    kind: Kind::Person,
    needed: true,
};
const AT: KeySpec = KeySpec {
    name: "at",
    kind: Kind::Moment,
    needed: false,
};
const SOURCE: KeySpec = KeySpec {
    name: "source",
    kind: Kind::Word(&["", "paper"]),
    needed: false,
};

fn quoted(text: &str) -> String {
    serde_json::Value::from(text).to_string()
}

#[cfg(test)]
mod tests {
    use super::{Form, Stage};
    use crate::journal::{EVENTS, event_named};
    use crate::measure::Unit;

    fn form(name: &str) -> Form {
        let event = event_named(name).expect("an event");
        Form::new(event, Unit::Metre, |_| Vec::new()).with("by", "NK")
    }

    #[test]
    fn a_bare_number_takes_the_unit_of_the_job_and_a_stated_one_is_kept() {
        let filled = |value: &str| {
            form("stick-up")
                .with("slot", "A")
                .with("hull", "low")
                .with("state", "landed")
                .with("value", value)
        };
        assert!(filled("-1.12").json().contains("\"value\":\"-1.12 m\""));
        assert!(filled("1120 mm").json().contains("\"value\":\"1120 mm\""));
        let mut feet = filled("3-4½");
        feet.unit = Unit::FootInch;
        assert!(feet.draft().is_ok(), "{}", feet.json());
        assert!(filled("1.1.2").draft().is_err());
    }

    #[test]
    fn groups_that_are_not_begun_are_left_out() {
        let mut scribe = form("scribe").with("slot", "A").with("checked_by", "TM");
        for (key, text) in [("from", "rotary"), ("distance", "12")] {
            scribe = scribe.with(key, text);
        }
        assert_eq!(
            scribe.first_missing(),
            scribe
                .fields
                .iter()
                .rposition(|it| it.key == "by" && it.group == Some(("marks", 0)))
        );
        let json = scribe.json();
        assert!(
            json.contains("\"marks\":[{\"from\":\"rotary\",\"distance\":\"12 m\"}]"),
            "{json}"
        );
    }

    #[test]
    fn the_first_mark_is_hidden_while_the_second_is_typed() {
        let mut scribe = form("scribe").with("distance", "12.002");
        let first = scribe
            .fields
            .iter()
            .position(|it| it.key == "distance")
            .expect("a field");
        scribe.at = first;
        assert!(!scribe.is_hidden(first));
        scribe.at = first + 2;
        assert!(scribe.is_hidden(first));
        scribe.stage = Stage::Confirming;
        assert!(!scribe.is_hidden(first));
    }

    #[test]
    fn every_event_that_a_person_enters_has_a_form() {
        for event in EVENTS.iter().filter(|event| !event.by_program) {
            let form = Form::new(event, Unit::Metre, |_| Vec::new());
            assert!(form.fields.len() >= 3, "{}", event.name);
            assert!(form.first_missing().is_some());
        }
    }
}
