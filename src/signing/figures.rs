//! The figures of a slot as a statement signs them: every figure that JSON has, by its key.

use std::fmt::Write as _;

use crate::figures::catalogue::{Entry, FigureId, Value, of_slot};
use crate::figures::{Figures, Reading, SlotView};
use crate::finding::{Flag, Severity};
use crate::job::Job;
use crate::journal::{DigestWriter, Inputs};
use crate::measure::{Depth, Elevation, Length};
use crate::tally::Tally;

/// One figure that is signed for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SignedFigure {
    /// Its key in the JSON of `figures`; marks and accessories by their names.
    pub key: String,
    /// Its value, exact, with its unit.
    pub text: String,
}

/// By so much real values may differ and are still the same, in their unit.
const SAME: f64 = 1e-9;

impl SignedFigure {
    /// Whether another value of this figure is the same: exactly, or within 1e-9 where it is a real number.
    pub fn is_same_as(&self, other: &str) -> bool {
        let is_real = ["uncertainty_m", "limit_m", "_kg", "probability"]
            .iter()
            .any(|ending| self.key.ends_with(ending));
        let number = |text: &str| text.split(' ').next().and_then(|it| it.parse::<f64>().ok());
        self.text == other
            || (is_real
                && number(&self.text)
                    .zip(number(other))
                    .is_some_and(|(one, other)| (one - other).abs() <= SAME))
    }
}

/// Every figure of a slot, then its flags that stop or are to be checked, and those of the job that
/// concern it.
pub fn signed_figures(inputs: &Inputs, figures: &Figures, slot: usize) -> Vec<SignedFigure> {
    let mut views = SlotView::all(&inputs.job, &inputs.tallies);
    let (Some(view), Some(of_view), Some(standing)) = (
        views.nth(slot),
        figures.slots.get(slot),
        figures.standings.get(slot),
    ) else {
        return Vec::new();
    };
    let job = &inputs.job;
    let entries = of_slot(view, of_view, standing.status);
    let mut signed: Vec<SignedFigure> = entries
        .iter()
        .filter_map(|entry| {
            Some(SignedFigure {
                key: named_key(entry, job, view)?,
                text: text(job, &entry.value),
            })
        })
        .collect();
    signed.extend(limits(job));
    signed.push(SignedFigure {
        key: format!("{OWN}tally.joints_sha256"),
        text: joints_digest(view.tally),
    });
    signed.extend(scribe(inputs, slot));
    let flags = of_view.flags.iter().chain(&standing.of_job);
    let mut flags: Vec<&Flag> = flags
        .filter(|flag| flag.severity > Severity::Note)
        .collect();
    flags.sort_by(|a, b| b.severity.cmp(&a.severity).then(a.code.cmp(&b.code)));
    signed.extend(flags.into_iter().map(|flag| {
        let waived = if flag.counts() { "" } else { ", waived" };
        SignedFigure {
            key: format!("flags.{}", flag.code.name()),
            text: format!("{}{waived}", flag.severity.word()),
        }
    }));
    signed
}

/// What begins the keys of what is signed beside the figures.
pub(super) const OWN: &str = "signed.";

/// What the finished top is judged by.
fn limits(job: &Job) -> Vec<SignedFigure> {
    let cut = &job.cut;
    let limits = [
        ("tolerance_m", cut.tolerance),
        ("level_m", cut.level),
        ("spread_m", cut.spread),
        ("clearance_m", cut.clearance),
        ("kerf_m", Some(cut.kerf)),
    ];
    let limit = |(name, value): (&str, Option<Length>)| SignedFigure {
        key: format!("{OWN}limits.{name}"),
        text: value.map_or_else(|| "not stated".to_owned(), metres),
    };
    limits.into_iter().map(limit).collect()
}

/// A digest of the joints in their order, as a string is run by them: number, serial, kind, length and loss. Remarks
/// and the form of the file are no part of it.
fn joints_digest(tally: &Tally) -> String {
    let mut text = DigestWriter::default();
    for joint in &tally.joints {
        let length = joint.length.unwrap_or_default();
        let loss = joint.makeup_loss.map(Length::nm);
        let serial = joint.serial.as_deref().unwrap_or_default();
        let kind = joint.kind.map_or("", |kind| kind.name());
        let _ = writeln!(
            text,
            "{:?} {serial:?} {kind} {} {loss:?}",
            joint.number.as_str(),
            length.nm()
        );
    }
    text.finish()
}

/// The scribed line as it was measured: a release rests on it.
fn scribe(inputs: &Inputs, slot: usize) -> Vec<SignedFigure> {
    let said = inputs
        .record
        .slots
        .get(slot)
        .and_then(|it| it.scribe.as_ref());
    let Some(said) = said else {
        return Vec::new();
    };
    let figure = |key: String, text: String| SignedFigure { key, text };
    let marks = said.what.marks.iter().map(|mark| {
        let text = format!("{}, {}", metres(mark.distance), mark.by);
        figure(format!("scribe.marks[{}].measured", mark.from), text)
    });
    let mut all: Vec<SignedFigure> = marks.collect();
    all.push(figure(
        "scribe.checked_by".to_owned(),
        said.what.checked_by.clone(),
    ));
    all
}

/// The key with a mark or an accessory by its name: a list that loses one moves the others.
fn named_key(entry: &Entry, job: &Job, view: SlotView<'_>) -> Option<String> {
    let key = entry.key.as_ref()?;
    let name = match entry.id {
        FigureId::Mark(from)
        | FigureId::MarkDistance(from)
        | FigureId::MarkUncertainty(from)
        | FigureId::MarkReadings(from) => from.name(job),
        FigureId::Accessory(index)
        | FigureId::AccessoryJoint(index)
        | FigureId::AccessoryHeight(index)
        | FigureId::AccessoryElevation(index)
        | FigureId::AccessoryClear(index) => {
            let here = job.accessories.iter().filter(|it| it.slots.has(view.index));
            here.map(|it| it.name.as_str())
                .nth(index)
                .unwrap_or_default()
                .to_owned()
        }
        _ => return Some(key.clone()),
    };
    let (before, rest) = key.split_once('[')?;
    let (_, after) = rest.split_once(']')?;
    Some(format!("{before}[{name}]{after}"))
}

/// A figure that is not known.
pub(super) const UNKNOWN: &str = "not known";

/// A value in exact metres, or as it is.
fn text(job: &Job, value: &Value) -> String {
    let metres = |length: Option<Length>| length.map(metres);
    let known = match value {
        Value::Length(length) => metres(*length),
        Value::Elevation(elevation) => metres(elevation.map(Elevation::height)),
        Value::Depth(depth) => metres(depth.map(Depth::downward)),
        Value::Uncertainty(variance) => variance.map(|it| format!("{:.9} m", it.expanded_metres())),
        Value::Limit(limit) => limit.map(|it| format!("{it:.9} m")),
        Value::Direction(degrees) => degrees.map(|it| format!("{it:.3} deg")),
        Value::Mass(mass) => mass.map(|mass| format!("{mass:.6} kg")),
        Value::Probability(chance) => chance.map(|chance| format!("{chance:.9}")),
        Value::Count(count) => Some(count.to_string()),
        Value::Name(name) => name.clone(),
        Value::Word(word) => Some((*word).to_owned()),
        Value::Verdict(verdict) => verdict.map(|verdict| verdict.word().to_owned()),
        Value::Truth(truth) => truth.map(|truth| if truth { "yes" } else { "no" }.to_owned()),
        Value::From(from) => Some(from.name(job)),
        Value::Readings(readings) => {
            let names: Vec<String> = readings.iter().map(|it| reading(job, it)).collect();
            Some(names.join("; "))
        }
        Value::Lengths(lengths) => {
            let all: Vec<String> = lengths.iter().map(|it| self::metres(*it)).collect();
            Some(all.join("; "))
        }
        Value::Absent => None,
        Value::Empty => Some("none".to_owned()),
    };
    known.unwrap_or_else(|| UNKNOWN.to_owned())
}

/// Exact metres with four decimals at least.
fn metres(length: Length) -> String {
    let exact = length.exact_metres();
    let (whole, decimals) = exact.split_once('.').unwrap_or((&exact, ""));
    format!("{whole}.{decimals:0<4} m")
}

fn reading(job: &Job, reading: &Reading) -> String {
    match reading {
        Reading::Rotary(hull) => format!("rotary@{}", hull.name),
        Reading::StickUp(hull) => format!("stick-up@{}", hull.name),
        Reading::Tally => "tally".to_owned(),
        Reading::Bench(index) => {
            let bench = job.benches.get(*index).map_or("", |bench| &bench.name);
            format!("bench {bench}")
        }
    }
}
