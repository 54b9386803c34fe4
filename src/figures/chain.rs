//! The chain of one slot: where its parts are, from the stick-up down to the shoe. Everything else is
//! computed from it.

use std::sync::Arc;

use super::by_readings::ByReadings;
use super::lean::Lean;
use crate::job::{self, Elevations, Job, Slot};
use crate::measure::{Elevation, Length};
use crate::tally::{self, Kind, PipeString, Tally};

/// A slot with what belongs to it: its tally, and through the slot its pipe and its hull position.
#[derive(Clone, Copy, Debug)]
pub struct SlotView<'a> {
    /// The job.
    pub job: &'a Job,
    /// Its index in the job.
    pub index: usize,
    /// The slot.
    pub slot: &'a Slot,
    /// Its tally of record.
    pub tally: &'a Tally,
}

impl<'a> SlotView<'a> {
    /// Every slot of a job, with the tallies in the order of its slots.
    pub fn all(job: &'a Job, tallies: &'a [Tally]) -> impl Iterator<Item = Self> {
        let slots = job.slots.iter().zip(tallies).enumerate();
        slots.map(move |(index, (slot, tally))| Self {
            job,
            index,
            slot,
            tally,
        })
    }

    /// The same slot with another tally of its string.
    #[must_use]
    pub const fn with(self, tally: &'a Tally) -> Self {
        Self { tally, ..self }
    }

    /// The mudline at the slot.
    pub fn mudline(&self) -> Elevation {
        self.job.mudline(self.slot)
    }
}

/// What fixes a slot's elevations.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Basis {
    /// A stick-up that was read.
    Read,
    /// A plan.
    Planned,
    /// Nothing: there are no elevations.
    None,
}

impl Basis {
    /// The word in every output and in JSON.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Read => "read",
            Self::Planned => "planned",
            Self::None => "none",
        }
    }
}

/// The landing shoulder.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Shoulder {
    /// The running joint, as an index of the string's pieces.
    pub piece: usize,
    /// Where it is; `None` without a basis.
    pub elevation: Option<Elevation>,
}

/// What a plan fixes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PlanOf {
    /// The landing shoulder.
    Shoulder,
    /// The top.
    Top,
}

impl PlanOf {
    /// The word in JSON.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Shoulder => "shoulder",
            Self::Top => "top",
        }
    }
}

/// A plan, and how far the reading is from it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct PlanFigures {
    /// What it fixes.
    pub of: PlanOf,
    /// Its elevation as planned.
    pub planned: Elevation,
    /// The elevation that the stick-up gives, less the planned one; `None` until a stick-up is read.
    pub read_less_plan: Option<Length>,
}

/// Why there is no shoulder, or that there is one.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum RunningJoint {
    /// The job has none.
    NotGiven,
    /// It is this piece.
    At(usize),
    /// The tally has none.
    Missing,
    /// The tally has several.
    Several(Vec<usize>),
}

/// Where the parts of one slot are. It is made once and never changed.
#[derive(Clone, Debug, PartialEq)]
pub struct Chain {
    /// What fixes the elevations.
    pub basis: Basis,
    /// The string.
    pub string: PipeString,
    /// The stick-up that was read, or that must be read to land as planned.
    pub stick_up: Option<Length>,
    /// The top of the conductor.
    pub top: Option<Elevation>,
    /// The shoe.
    pub shoe: Option<Elevation>,
    /// The running joint, or why there is none.
    pub running: RunningJoint,
    /// The landing shoulder, where the job has one and the tally has its joint once.
    pub shoulder: Option<Shoulder>,
    /// How it leans.
    pub lean: Lean,
    /// RT at the hull position of the stick-up.
    pub rotary: Elevation,
    /// RT at the cut's hull position.
    pub cut_rotary: Elevation,
    /// The benches, in the order of the job.
    pub benches: Vec<Elevation>,
    /// The elevations by all readings, where these are in force and not those of the chain.
    pub by_readings: Option<Arc<ByReadings>>,
}

impl Chain {
    /// Hangs a string on the stick-up that was read, else on the plan.
    pub fn of(view: SlotView<'_>) -> Self {
        let SlotView { slot, tally, .. } = view;
        let string = PipeString::make_up(tally, slot.pipe.pins).cropped(&slot.cropped);
        let running = running_joint(slot, tally);
        let shoulder_height = match running {
            RunningJoint::At(piece) => string
                .pieces
                .get(piece)
                .zip(slot.shoulder_offset)
                .map(|(piece, offset)| piece.lower + offset),
            _ => None,
        };
        let surface = slot.hull.stick_up_surface();
        let lean = Lean::of(slot);
        let landing = lean.rise(string.landing_length);
        let length = lean.rise(string.length);
        let shoulder_height = shoulder_height.map(|it| lean.rise(it));
        let (basis, top) = match (slot.stick_up, slot.plan, shoulder_height) {
            (Some(stick_up), _, _) => (Basis::Read, Some(surface + stick_up - landing)),
            (None, Some(job::Plan::Top(top)), _) => (Basis::Planned, Some(top)),
            (None, Some(job::Plan::Shoulder(shoulder)), Some(height)) => {
                (Basis::Planned, Some(shoulder - height + length))
            }
            (None, Some(job::Plan::Shoulder(_)), None) | (None, None, _) => (Basis::None, None),
        };
        let shoe = top.map(|top| top - length);
        let shoulder = match running {
            RunningJoint::At(piece) => Some(Shoulder {
                piece,
                elevation: shoe
                    .zip(shoulder_height)
                    .map(|(shoe, height)| shoe + height),
            }),
            _ => None,
        };
        Self {
            basis,
            stick_up: top.map(|top| top + landing - surface),
            top,
            shoe,
            running,
            shoulder,
            lean,
            rotary: slot.hull.rotary,
            cut_rotary: view.job.cut.hull.rotary,
            benches: view.job.benches.iter().map(|it| it.elevation).collect(),
            by_readings: None,
            string,
        }
    }

    /// The same string with the elevations by all readings in the place of its own.
    pub(super) fn hung_by(&self, all: ByReadings) -> Self {
        Self {
            top: Some(all.top.elevation),
            shoe: all.planes.first().map(|it| it.elevation),
            shoulder: self.shoulder.map(|shoulder| Shoulder {
                elevation: all.shoulder.as_ref().map(|it| it.elevation),
                ..shoulder
            }),
            rotary: all.rotary.elevation,
            cut_rotary: all.cut_rotary.elevation,
            benches: all.benches.iter().map(|it| it.elevation).collect(),
            by_readings: Some(Arc::new(all)),
            ..self.clone()
        }
    }

    /// RT at a hull position as this chain has it: that of its stick-up, that of the cut, else as stated.
    pub fn rotary_at(&self, slot: &Slot, job: &Job, hull: &job::Hull) -> Elevation {
        if hull.name == job.cut.hull.name {
            self.cut_rotary
        } else if hull.name == slot.hull.name {
            self.rotary
        } else {
            hull.rotary
        }
    }

    /// By which elevations it hangs.
    pub const fn elevations(&self) -> Elevations {
        match self.by_readings {
            Some(_) => Elevations::Adjusted,
            None => Elevations::Chain,
        }
    }

    /// The elevation of a piece's lower make-up plane.
    pub fn lower_plane(&self, piece: usize) -> Option<Elevation> {
        match &self.by_readings {
            Some(all) => all.plane(piece),
            None => Some(self.shoe? + self.lean.rise(self.string.pieces.get(piece)?.lower)),
        }
    }

    /// The elevation of a piece's upper make-up plane; of the top piece, of the top.
    pub fn upper_plane(&self, piece: usize) -> Option<Elevation> {
        if piece + 1 == self.string.pieces.len() {
            self.top
        } else {
            self.lower_plane(piece + 1)
        }
    }

    /// The piece that has an elevation: on a make-up plane the upper one, at the very top the top one. `None` off the
    /// string, and without a basis.
    pub fn piece_at(&self, at: Elevation) -> Option<usize> {
        match &self.by_readings {
            Some(all) => all.piece_at(at),
            None if self.lean.is_upright() => self.string.piece_at(at - self.shoe?),
            None => {
                let (shoe, top) = (self.shoe?, self.top?);
                if at < shoe || at > top {
                    return None;
                }
                let pieces = &self.string.pieces;
                let above = pieces.count_below(|it| shoe + self.lean.rise(it.upper()) <= at);
                Some(above.min(pieces.len().saturating_sub(1)))
            }
        }
    }

    /// The elevation of the landing shoulder.
    pub fn shoulder_elevation(&self) -> Option<Elevation> {
        self.shoulder.and_then(|shoulder| shoulder.elevation)
    }

    /// What the plan fixes as planned, and as the reading has it; `None` without a plan.
    pub fn plan(&self, slot: &Slot) -> Option<PlanFigures> {
        let (of, planned, now) = match slot.plan? {
            job::Plan::Shoulder(planned) => (PlanOf::Shoulder, planned, self.shoulder_elevation()),
            job::Plan::Top(planned) => (PlanOf::Top, planned, self.top),
        };
        let now = now.filter(|_| self.basis == Basis::Read);
        Some(PlanFigures {
            of,
            planned,
            read_less_plan: now.map(|now| now - planned),
        })
    }

    /// The number of a piece's joint; blank where there is no such piece.
    pub fn number<'t>(&self, tally: &'t Tally, piece: usize) -> &'t str {
        let joint = self.string.joint(tally, piece);
        joint.map_or("", |joint| &joint.number)
    }
}

/// Finds the running joint: by its number, else the one row of kind `running`.
fn running_joint(slot: &Slot, tally: &Tally) -> RunningJoint {
    let count = tally.conductor_joints();
    let all = |test: &dyn Fn(&tally::Joint) -> bool| -> Vec<usize> {
        tally
            .joints
            .iter()
            .take(count)
            .enumerate()
            .filter(|(_, joint)| test(joint))
            .map(|(index, _)| index)
            .collect()
    };
    match (&slot.running_joint, slot.shoulder_offset) {
        (Some(number), _) => match all(&|joint| *joint.number == **number).as_slice() {
            [] => RunningJoint::Missing,
            [one] => RunningJoint::At(*one),
            several => RunningJoint::Several(several.to_vec()),
        },
        (None, Some(_)) => match all(&|joint| joint.kind == Some(Kind::Running)).as_slice() {
            [one] => RunningJoint::At(*one),
            _ => RunningJoint::Missing,
        },
        (None, None) => RunningJoint::NotGiven,
    }
}
