//! What is unlikely of an event before it is entered, though it could be: it is said where it is confirmed.

use crate::journal::{Event, Inputs, Source, StringState};

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
}

/// What is unlikely of an event as the job is now.
pub fn doubts(inputs: &Inputs, by: &str, event: &Event) -> Vec<Doubt> {
    let job = &inputs.job;
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
