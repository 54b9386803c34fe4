//! What a reading is expected to be before it is entered: a difference from it is shown, and a large one is
//! asked for twice.

use super::chain::SlotView;
use super::levels::Levels;
use super::limits::{LEAST_OFF, after_joint};
use super::network::ReadNetwork;
use super::whole::Figures;
use crate::journal::{Event, Inputs, Record, struck};
use crate::levels::LIMIT;
use crate::measure::Length;

/// What is compared.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum ExpectedOf {
    /// The stick-up after a joint: before, and the joint's effective length.
    StickUpAfter,
    /// The stick-up of a string at rest: as planned.
    StickUpPlanned,
    /// The same, as read before.
    StickUpRead,
    /// RT at the hull position: as job.toml states it.
    Rotary,
    /// A distance of the scribed line from a mark.
    Mark(String),
    /// A reading of the finished top: the target.
    Target,
    /// A height difference: what the readings so far say of it.
    Rise,
}

/// A reading and what it is expected to be.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Expected {
    /// What is compared.
    pub of: ExpectedOf,
    /// What is expected.
    pub expected: Length,
    /// What is to be entered.
    pub found: Length,
    /// By how much it may be off before it is asked for twice.
    pub allowed: Length,
}

impl Expected {
    /// By how much the reading is off.
    pub fn off(&self) -> Length {
        self.found - self.expected
    }

    /// Whether it is off by more than it may be.
    pub fn is_far(&self) -> bool {
        self.off().abs() > self.allowed
    }
}

/// What the readings of an event are expected to be; nothing where there is nothing to compare them with.
pub fn expected(inputs: &Inputs, figures: &Figures, event: &Event) -> Vec<Expected> {
    let job = &inputs.job;
    let index = event
        .slot()
        .and_then(|name| job.slots.iter().position(|slot| slot.name == name));
    match event {
        Event::JointRun(run) => {
            let both = run.before.zip(run.after);
            let adds = both.and_then(|_| adds(inputs, event, index?));
            let expected = both.zip(adds).map(|((before, after), adds)| Expected {
                of: ExpectedOf::StickUpAfter,
                expected: before + adds,
                found: after,
                allowed: after_joint(&job.uncertainty).unwrap_or(LEAST_OFF),
            });
            expected.into_iter().collect()
        }
        Event::StickUp(read) if read.state.is_at_rest() => {
            let of_slot = index.and_then(|index| stick_up(inputs, figures, index, &read.hull));
            let expected = of_slot.map(|(of, expected)| Expected {
                of,
                expected,
                found: read.value,
                allowed: job.agree.plan,
            });
            expected.into_iter().collect()
        }
        Event::HullPosition { hull, rotary, .. } => {
            let mut hulls = inputs.stated.hulls.iter();
            let stated = hulls.find(|it| it.name == *hull);
            let expected = stated.map(|stated| Expected {
                of: ExpectedOf::Rotary,
                expected: stated.rotary.height(),
                found: rotary.height(),
                allowed: job.agree.raise,
            });
            expected.into_iter().collect()
        }
        Event::Scribe(scribe) => {
            let cut = index
                .and_then(|index| figures.slots.get(index))
                .map(|it| &it.cut);
            let marks = cut
                .and_then(|cut| cut.place.as_ref())
                .map(|it| &it.all_marks);
            let distance = |from: &str| {
                let mut marks = marks.into_iter().flatten();
                marks
                    .find(|mark| mark.from.name(job) == from)
                    .map(|mark| mark.distance.value)
            };
            let marks = scribe.marks.iter();
            marks
                .filter_map(|mark| {
                    Some(Expected {
                        of: ExpectedOf::Mark(mark.from.clone()),
                        expected: distance(&mark.from)?,
                        found: mark.distance,
                        allowed: job.agree.marks,
                    })
                })
                .collect()
        }
        Event::Reading { .. } => of_reading(inputs, event).into_iter().collect(),
        Event::AsCut(read) => {
            let target = index
                .and_then(|index| figures.slots.get(index))
                .map(|it| it.cut.target);
            let readings = read.readings.iter();
            readings
                .filter_map(|reading| {
                    Some(Expected {
                        of: ExpectedOf::Target,
                        expected: target?.height(),
                        found: reading.value.height(),
                        allowed: job.agree.plan,
                    })
                })
                .collect()
        }
        _ => Vec::new(),
    }
}

/// What the readings so far say of a height difference.
fn of_reading(inputs: &Inputs, event: &Event) -> Option<Expected> {
    let Event::Reading {
        from,
        to,
        rise,
        sigma,
        instrument,
        ..
    } = event
    else {
        return None;
    };
    let (expected, u) = between(inputs, from, to)?;
    let of_instrument = || inputs.record.sigma_of(instrument.as_deref());
    let sigma = sigma.or_else(of_instrument).unwrap_or_default();
    // What both ends have in common is not taken off: the limit is wide rather than narrow.
    let by_chance = LIMIT * (sigma.real_metres().powi(2) + u * u).sqrt();
    let allowed = Length::nearest_to_metres(by_chance).unwrap_or(LEAST_OFF);
    Some(Expected {
        of: ExpectedOf::Rise,
        expected,
        found: *rise,
        allowed: allowed.max(LEAST_OFF),
    })
}

/// The height difference of two points by the readings so far, and its standard deviation in metres at most; `None`
/// where they do not say it.
fn between(inputs: &Inputs, from: &str, to: &str) -> Option<(Length, f64)> {
    let levels = Levels::of(ReadNetwork::of_job(inputs)).ok()?;
    let point = |name: &str| {
        let at = levels.read.network.find(name)?;
        levels.adjusted.points.get(at)
    };
    let (from, to) = (point(from)?, point(to)?);
    let u = from.sigma()? + to.sigma()?;
    Some((to.elevation - from.elevation, u))
}

/// By how much the string becomes longer with a joint that is about to be run.
fn adds(inputs: &Inputs, event: &Event, slot: usize) -> Option<Length> {
    let next = inputs.journal.next_seq();
    let mut entries = inputs.journal.entries.clone();
    let last = entries.last().map(|entry| entry.at.clone());
    let now = last.unwrap_or_else(crate::journal::Moment::epoch);
    entries.push(crate::journal::Entry {
        seq: next,
        at: now.clone(),
        entered: now,
        by: String::new(),
        from_paper: false,
        name: "joint-run",
        event: event.clone(),
        own: String::new(),
        hash: String::new(),
    });
    let record = Record::of(inputs.known(), &entries, &struck(&entries));
    let hanging = &record.slots.get(slot)?.hanging;
    hanging
        .iter()
        .find(|it| it.seq == next)
        .map(|it| it.what.adds)
}

/// The stick-up that is expected at a hull position: as the string stands, else as planned.
fn stick_up(
    inputs: &Inputs,
    figures: &Figures,
    slot: usize,
    hull: &str,
) -> Option<(ExpectedOf, Length)> {
    let view: SlotView<'_> = SlotView::all(&inputs.job, &inputs.tallies).nth(slot)?;
    let chain = figures.slots.get(slot)?.as_read();
    let mut hulls = inputs.job.hulls.iter();
    let surface = hulls.find(|it| it.name == hull)?.stick_up_surface();
    let top = chain.top? + chain.lean.rise(chain.string.landing_length);
    let of = if view.slot.stick_up.is_some() {
        ExpectedOf::StickUpRead
    } else {
        ExpectedOf::StickUpPlanned
    };
    Some((of, top - surface))
}
