//! What is unlikely of an event before it is entered, though it could be: it is said where it is confirmed.

use super::network::{ReadNetwork, top_point};
use crate::journal::{Event, Inputs, Source, StringState, struck};
use crate::measure::Length;

/// Levels are read no better, and what is off by more is asked about: metres are written for millimetres.
const LEAST_SIGMA: Length = Length::from_nm(50_000);
const MOST_SIGMA: Length = Length::from_mm(150);

/// Something unlikely.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Doubt {
    /// A joint is pulled that is not the topmost: how many hang above it.
    NotTopmost(usize),
    /// A joint is run in a string that is at rest: the entry of its stick-up.
    AtRest(u64),
    /// A string is at rest of which joints of its tally do not hang: how many.
    NotAllRun(usize),
    /// Another joint than the tally lists next.
    NotNext(String),
    /// Who sets something and who checks it is one person.
    CheckedBySame,
    /// Points that no reading names yet.
    NewPoints(Vec<String>),
    /// An entry says the same of the same points: it may be one reading entered twice.
    SameReading(u64),
    /// A standard deviation as no reading of heights has.
    Sigma(Length),
}

/// The points that readings may be between: those of the job's strings, and all that readings name.
pub fn known_points(inputs: &Inputs) -> Vec<String> {
    let network = ReadNetwork::of_job(inputs).network;
    let mut known: Vec<String> = network.points.into_iter().map(|it| it.name).collect();
    let slots = inputs.job.slots.iter();
    known.extend(slots.map(|slot| top_point(&slot.name)));
    known.sort_unstable();
    known.dedup();
    known
}

/// Whether a name is that of a point of a slot's string, though no reading names it yet.
fn is_of_job(inputs: &Inputs, name: &str) -> bool {
    let slots = inputs.job.slots.iter().zip(&inputs.tallies);
    let mut points = slots.filter_map(|(slot, tally)| {
        let point = name.strip_prefix(slot.name.as_str())?.strip_prefix('.')?;
        Some((point, tally))
    });
    points.any(|(point, tally)| match point.strip_prefix("plane@") {
        Some(joint) => tally.joints.iter().any(|it| it.number == *joint),
        None => matches!(point, "top" | "shoe" | "shoulder" | "cut" | "mudline"),
    })
}

/// The last entry that says the same as a reading, where it is not struck.
fn same_reading(inputs: &Inputs, event: &Event) -> Option<u64> {
    let gone = struck(&inputs.journal.entries);
    let mut entries = inputs.journal.entries.iter().rev();
    let same = entries.find(|entry| entry.event == *event && !gone.contains(&entry.seq));
    same.map(|entry| entry.seq)
}

/// What is unlikely of an event as the job is now.
pub fn doubts(inputs: &Inputs, by: &str, event: &Event) -> Vec<Doubt> {
    let job = &inputs.job;
    if let Event::Reading {
        from, to, sigma, ..
    } = event
    {
        let known = ReadNetwork::of_job(inputs);
        let new = [from, to].into_iter();
        let new = new.filter(|name| known.network.find(name).is_none() && !is_of_job(inputs, name));
        let new: Vec<String> = new.cloned().collect();
        let mut all: Vec<Doubt> = Vec::new();
        all.extend((!new.is_empty()).then_some(Doubt::NewPoints(new)));
        all.extend(same_reading(inputs, event).map(Doubt::SameReading));
        let is_likely = |sigma: &Length| (LEAST_SIGMA..=MOST_SIGMA).contains(sigma);
        all.extend(sigma.filter(|it| !is_likely(it)).map(Doubt::Sigma));
        return all;
    }
    let index = event
        .slot()
        .and_then(|name| job.slots.iter().position(|slot| slot.name == name));
    let Some((said, tally)) = index.and_then(|index| {
        let said = inputs.record.slots.get(index)?;
        Some((said, inputs.tallies.get(index)?))
    }) else {
        return Vec::new();
    };
    let at_rest = said
        .stick_ups
        .iter()
        .rev()
        .find(|it| it.what.state.is_at_rest());
    let mut all = Vec::new();
    match event {
        Event::JointPulled { joint, .. } => {
            let mut hanging = said.hanging.iter().rev();
            let above = hanging.position(|it| it.what.run.joint == *joint);
            all.extend(above.filter(|above| *above > 0).map(Doubt::NotTopmost));
        }
        Event::JointRun(run) => {
            all.extend(at_rest.map(|it| Doubt::AtRest(it.seq)));
            let listed = tally.joints.get(said.hanging.len());
            let other = listed.filter(|listed| listed.number != run.joint);
            all.extend(other.map(|listed| Doubt::NotNext(listed.number.to_string())));
        }
        Event::StickUp(read) if read.state != StringState::Hung && said.was_run => {
            let hangs = |at: usize| {
                said.hanging
                    .iter()
                    .any(|it| it.what.source == Source::Tally(at))
            };
            let missing = (0..tally.joints.len()).filter(|at| !hangs(*at)).count();
            all.extend((missing > 0).then_some(Doubt::NotAllRun(missing)));
        }
        Event::CutterSet { checked_by, .. } if checked_by == by => all.push(Doubt::CheckedBySame),
        _ => {}
    }
    all
}
