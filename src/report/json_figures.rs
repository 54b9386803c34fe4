//! The JSON of `figures`: the catalogue of figures as a tree, with flags and lists beside it.

use serde::ser::{SerializeMap, SerializeSeq};
use serde::{Serialize, Serializer};

use super::VERSION;
use super::json::{FORMAT, FlagJson, flags, pretty};
use super::json_running::{RunningJson, running};
use super::number::Number;
use super::words::{PROOF, keys_not_used, mark_name, reading_name};
use crate::figures::catalogue::{Entry, Value, of_job, of_slot};
use crate::figures::{Figures, ListFigures, SlotFigures, SlotView, Variance, left_to_decide};
use crate::job::Job;
use crate::journal::{Inputs, OtherList};
use crate::measure::{Elevation, LengthFormat};
use crate::signing::verify;

#[derive(Serialize)]
struct FiguresTree<'a> {
    format: u32,
    job: JobJson<'a>,
    cut_hull: HullJson<'a>,
    slots: Vec<SlotJson<'a>>,
    #[serde(flatten)]
    together: Node,
    flags: Vec<FlagJson>,
    journal: Option<JournalJson<'a>>,
    not_used: Vec<NotUsed>,
    rule: &'static str,
    digest: String,
    version: &'static str,
}

#[derive(Serialize)]
struct JobJson<'a> {
    title: Option<&'a str>,
    units: &'static str,
    sea_datum: &'a str,
}

#[derive(Serialize)]
struct HullJson<'a> {
    name: &'a str,
    rotary_m: Number,
}

/// The journal as it was read: how many entries, and the hash of the last.
#[derive(Serialize)]
struct JournalJson<'a> {
    entries: usize,
    head: &'a str,
}

#[derive(Serialize)]
struct NotUsed {
    file: &'static str,
    why: String,
}

#[derive(Serialize)]
struct SlotJson<'a> {
    slot: &'a str,
    #[serde(flatten)]
    figures: Node,
    running: RunningJson<'a>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    lists: Vec<ListJson<'a>>,
    flags: Vec<FlagJson>,
}

/// Another list of the string; its figures are null where it cannot be read.
#[derive(Serialize)]
struct ListJson<'a> {
    list: &'a str,
    file: String,
    difference_m: Option<Number>,
    differences: Option<usize>,
    not_decided: Option<usize>,
}

/// A part of the tree.
enum Node {
    Leaf(Leaf),
    Object(Vec<(String, Node)>),
    List(Vec<Node>),
}

/// The end of a branch.
enum Leaf {
    Null,
    Number(Number),
    Count(usize),
    Text(String),
    Truth(bool),
}

impl Serialize for Node {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        match self {
            Self::Leaf(Leaf::Null) => serializer.serialize_unit(),
            Self::Leaf(Leaf::Number(number)) => number.serialize(serializer),
            Self::Leaf(Leaf::Count(count)) => count.serialize(serializer),
            Self::Leaf(Leaf::Text(text)) => serializer.serialize_str(text),
            Self::Leaf(Leaf::Truth(truth)) => serializer.serialize_bool(*truth),
            Self::Object(entries) => {
                let mut map = serializer.serialize_map(Some(entries.len()))?;
                for (key, node) in entries {
                    map.serialize_entry(key, node)?;
                }
                map.end()
            }
            Self::List(items) => {
                let mut list = serializer.serialize_seq(Some(items.len()))?;
                for node in items {
                    list.serialize_element(node)?;
                }
                list.end()
            }
        }
    }
}

impl Node {
    /// A tree of entries, each at its key.
    fn of(entries: Vec<Entry>, leaf: impl Fn(Value) -> Self) -> Self {
        let mut root = Self::Object(Vec::new());
        for entry in entries {
            if let Some(key) = entry.key {
                root.put(&key, leaf(entry.value));
            }
        }
        root
    }

    /// Puts a node at a key such as `cut.marks[2].distance_m`. Items of a list come in order.
    fn put(&mut self, key: &str, node: Self) {
        let Self::Object(entries) = self else { return };
        let (first, rest) = key
            .split_once('.')
            .map_or((key, None), |(first, rest)| (first, Some(rest)));
        let (name, item) = first.split_once('[').map_or((first, None), |(name, item)| {
            (name, item.trim_end_matches(']').parse::<usize>().ok())
        });
        let at = entries.iter().position(|(known, _)| known == name);
        let at = at.unwrap_or_else(|| {
            let empty = match (item, rest) {
                (Some(_), _) => Self::List(Vec::new()),
                (None, Some(_)) => Self::Object(Vec::new()),
                (None, None) => Self::Leaf(Leaf::Null),
            };
            entries.push((name.to_owned(), empty));
            entries.len() - 1
        });
        let Some((_, place)) = entries.get_mut(at) else {
            return;
        };
        let place = match (place, item) {
            (Self::List(items), Some(item)) => {
                if item == items.len() {
                    items.push(Self::Object(Vec::new()));
                }
                let Some(place) = items.get_mut(item) else {
                    return;
                };
                place
            }
            (place, _) => place,
        };
        match rest {
            Some(rest) => place.put(rest, node),
            None => *place = node,
        }
    }
}

fn expanded(variance: Option<Variance>) -> Option<Number> {
    variance.map(|variance| Number::real(variance.expanded_metres(), 9))
}

/// A value as JSON has it: lengths in metres.
fn leaf(inputs: &Inputs, view: Option<(SlotView<'_>, &SlotFigures)>, value: Value) -> Node {
    let number = |number: Option<Number>| number.map_or(Leaf::Null, Leaf::Number);
    let text = |text: Option<String>| text.map_or(Leaf::Null, Leaf::Text);
    Node::Leaf(match value {
        Value::Length(length) => number(length.map(Number::metres)),
        Value::Elevation(elevation) => number(elevation.map(Number::elevation)),
        Value::Depth(depth) => number(depth.map(Number::depth)),
        Value::Uncertainty(variance) => number(expanded(variance)),
        Value::Limit(limit) => number(limit.map(|it| Number::real(it, 9))),
        Value::Direction(degrees) => number(degrees.map(|it| Number::real(it, 3))),
        Value::Mass(mass) => number(mass.map(|mass| Number::real(mass, 6))),
        Value::Probability(chance) => number(chance.map(|chance| Number::real(chance, 9))),
        Value::Count(count) => Leaf::Count(count),
        Value::Name(name) => text(name),
        Value::Word(word) => Leaf::Text(word.to_owned()),
        Value::Verdict(verdict) => text(verdict.map(|verdict| verdict.word().to_owned())),
        Value::Truth(truth) => truth.map_or(Leaf::Null, Leaf::Truth),
        Value::From(from) => Leaf::Text(mark_name(&inputs.job, from)),
        Value::Readings(readings) => {
            let words = |it| {
                let text = view.map_or_else(String::new, |(view, figures)| {
                    reading_name(view, figures, it)
                });
                Node::Leaf(Leaf::Text(text))
            };
            return Node::List(readings.iter().map(words).collect());
        }
        Value::Lengths(lengths) => {
            let metres = |length| Node::Leaf(Leaf::Number(Number::metres(length)));
            return Node::List(lengths.into_iter().map(metres).collect());
        }
        Value::Absent => Leaf::Null,
        Value::Empty => return Node::List(Vec::new()),
    })
}

/// The whole tree as text.
pub fn figures(inputs: &Inputs, figures: &Figures) -> Result<String, serde_json::Error> {
    let verified = verify(inputs);
    let job = &inputs.job;
    let format = LengthFormat::new(job.units);
    let rotary: Elevation = job.cut.hull.rotary;
    let slots = SlotView::all(job, &inputs.tallies)
        .zip(figures.slots.iter().zip(&figures.standings))
        .zip(inputs.lists.iter().zip(&figures.lists));
    pretty(&FiguresTree {
        format: FORMAT,
        job: JobJson {
            title: job.title.as_deref(),
            units: job.units.name(),
            sea_datum: &job.sea_datum,
        },
        cut_hull: HullJson {
            name: &job.cut.hull.name,
            rotary_m: Number::elevation(rotary),
        },
        slots: slots
            .map(|((view, (of_view, standing)), (others, lists))| SlotJson {
                slot: &view.slot.name,
                figures: Node::of(of_slot(view, of_view, standing.status), |value| {
                    leaf(inputs, Some((view, of_view)), value)
                }),
                running: running(inputs, figures, view, &verified),
                lists: lists_json(others, lists),
                flags: flags(&of_view.flags, format),
            })
            .collect(),
        together: Node::of(of_job(job, figures), |value| leaf(inputs, None, value)),
        flags: flags(&figures.flags, format),
        journal: inputs.journal.is_there.then(|| JournalJson {
            entries: inputs.journal.entries.len(),
            head: inputs.journal.head(),
        }),
        not_used: not_used(job),
        rule: PROOF,
        digest: inputs.digest(),
        version: VERSION,
    })
}

/// Keys of the job file that no figure is computed from.
fn not_used(job: &Job) -> Vec<NotUsed> {
    let keys = job.not_used();
    let all = (!keys.is_empty()).then(|| NotUsed {
        file: "job.toml",
        why: keys_not_used(&keys),
    });
    all.into_iter().collect()
}

fn lists_json<'a>(others: &'a [OtherList], figures: &[Option<ListFigures>]) -> Vec<ListJson<'a>> {
    let lists = others.iter().zip(figures);
    lists
        .map(|(list, figures)| {
            let figures = figures.as_ref();
            ListJson {
                list: &list.name,
                file: crate::job::name_of(&list.path),
                difference_m: figures.map(|it| Number::metres(it.bridge.difference())),
                differences: figures.map(|it| it.differences.len()),
                not_decided: figures.map(|it| left_to_decide(list, it)),
            }
        })
        .collect()
}
