//! What a cursor, an overlay or an effect speaks of, by names and figures that a reload of the files
//! does not move; never by a place in a list.

use crate::figures::catalogue::Subject;
use crate::figures::{Figures, MarkFrom, SlotFigures};
use crate::finding::{Code, Flag, Place};
use crate::job::Job;
use crate::journal::Inputs;
use crate::report::words;
use crate::tally::{Joint, Tally};

/// A joint of a tally.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct JointId {
    /// Its number.
    pub number: String,
    /// The line that lists it.
    pub line: u32,
}

impl JointId {
    pub(super) fn of(joint: &Joint) -> Self {
        Self {
            number: joint.number.to_string(),
            line: joint.line,
        }
    }

    /// Where it is in the tally now. Lines move when rows are added above them: a number that occurs
    /// once is the same joint on another line.
    pub(super) fn find(&self, tally: &Tally) -> Option<usize> {
        let same = |joint: &&Joint| joint.number.as_str() == self.number;
        let on_its_line = |joint: &Joint| same(&joint) && joint.line == self.line;
        // Lines mostly rise from joint to joint, or fall where a list begins with the top: no long one is gone through.
        let joints = &tally.joints;
        let rising = joints.partition_point(|joint| joint.line < self.line);
        let falling = joints.partition_point(|joint| joint.line > self.line);
        let guessed = [rising, falling].into_iter();
        let mut guessed = guessed.filter(|at| joints.get(*at).is_some_and(on_its_line));
        let found = guessed
            .next()
            .or_else(|| joints.iter().position(on_its_line));
        let once = || tally.joints.iter().filter(same).count() == 1;
        found.or_else(|| {
            let mut joints = tally.joints.iter();
            once().then(|| joints.position(|joint| same(&joint)))?
        })
    }
}

/// A figure of a slot that can be opened.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum FigureKey {
    /// One of which a slot has one.
    Only(Subject),
    /// A mark, by the name of what it is measured from.
    Mark(String),
    /// An accessory, by its name.
    Accessory(String),
    /// The lower make-up plane of a joint.
    Plane(JointId),
}

fn accessory_names(job: &Job, figures: &SlotFigures) -> Vec<String> {
    let all = 0..figures.accessories.len();
    all.map(|index| words::accessory_name(job, figures, index))
        .collect()
}

/// What the mark of a name is measured from; `None` where the slot has no such mark now.
fn mark_of(job: &Job, figures: &SlotFigures, name: &str) -> Option<MarkFrom> {
    let mut marks = figures.cut.place.as_ref()?.marks.iter();
    let found = marks.find(|mark| words::mark_name(job, mark.from) == name);
    found.map(|mark| mark.from)
}

impl FigureKey {
    /// A figure of a slot, by what a reload does not move.
    pub(super) fn of(
        inputs: &Inputs,
        figures: &Figures,
        slot: usize,
        subject: Subject,
    ) -> Option<Self> {
        let of_slot = figures.slots.get(slot)?;
        Some(match subject {
            Subject::Mark(from) => Self::Mark(words::mark_name(&inputs.job, from)),
            Subject::Accessory(at) => {
                Self::Accessory(accessory_names(&inputs.job, of_slot).get(at)?.clone())
            }
            Subject::Plane(at) => {
                Self::Plane(JointId::of(inputs.tallies.get(slot)?.joints.get(at)?))
            }
            only => Self::Only(only),
        })
    }

    /// Which figure of the slot it is now.
    pub fn subject(&self, inputs: &Inputs, figures: &Figures, slot: usize) -> Option<Subject> {
        let of_slot = figures.slots.get(slot)?;
        let at = |names: Vec<String>, name: &String| names.iter().position(|it| it == name);
        Some(match self {
            Self::Only(subject) => *subject,
            Self::Mark(name) => Subject::Mark(mark_of(&inputs.job, of_slot, name)?),
            Self::Accessory(name) => {
                Subject::Accessory(at(accessory_names(&inputs.job, of_slot), name)?)
            }
            Self::Plane(joint) => Subject::Plane(joint.find(inputs.tallies.get(slot)?)?),
        })
    }
}

/// Where a flag leads.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum PlaceId {
    /// Another list, by its name.
    List(String),
    /// A joint.
    Joint(JointId),
    /// A line of the tally file.
    Line(u32),
    /// An accessory, by its name.
    Accessory(String),
    /// The whole, the cut or the shoulder, of which a slot has one.
    Only,
}

/// A flag of a slot, or of the job.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FlagId {
    /// The slot's name; `None` for a flag of the job as a whole.
    pub slot: Option<String>,
    /// What it is about.
    pub code: Code,
    /// Where it leads.
    pub place: PlaceId,
}

impl FlagId {
    /// A flag of the slot of this index, or of the job.
    pub(super) fn of(inputs: &Inputs, figures: &Figures, slot: Option<usize>, flag: &Flag) -> Self {
        let named = |list: usize| inputs.lists.get(slot?)?.get(list);
        let joint = |at: usize| inputs.tallies.get(slot?)?.joints.get(at);
        let accessory = |at: usize| {
            let all = accessory_names(&inputs.job, figures.slots.get(slot?)?);
            all.get(at).cloned()
        };
        let place = match flag.place {
            Place::List(list) => named(list).map(|it| PlaceId::List(it.name.clone())),
            Place::Joint(at) => joint(at).map(|it| PlaceId::Joint(JointId::of(it))),
            Place::Line(line) => Some(PlaceId::Line(line)),
            Place::Accessory(at) => accessory(at).map(PlaceId::Accessory),
            Place::Whole | Place::Cut | Place::Shoulder => None,
        };
        let slot = slot.and_then(|slot| inputs.job.slots.get(slot));
        Self {
            slot: slot.map(|slot| slot.name.clone()),
            code: flag.code,
            place: place.unwrap_or(PlaceId::Only),
        }
    }

    /// Where it is among flags now: the same, or the only one of its code in its slot.
    pub(super) fn find(&self, flags: &[Self]) -> Option<usize> {
        let like = |it: &Self| it.slot == self.slot && it.code == self.code;
        let same = flags.iter().position(|it| it == self);
        same.or_else(|| {
            let only = flags.iter().filter(|it| like(it)).count() == 1;
            only.then(|| flags.iter().position(like))?
        })
    }
}
