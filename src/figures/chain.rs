//! One slot: the chain of elevations from the stick-up down to the shoe.

use super::connections::{self, Connection};
use super::cut::{self, Cut};
use super::lists::ListFigures;
use super::{checks, connections::gap};
use crate::flag::Flag;
use crate::job::{self, Job, Slot};
use crate::measure::{Elevation, Length};
use crate::tally::{self, Kind, PipeString, Tally};

/// What a slot's elevations hang on.
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
    /// The word on every face and in JSON.
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
    /// Where it stands; `None` without a basis.
    pub elevation: Option<Elevation>,
}

/// Where an accessory goes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct AccessoryPlace {
    /// Its index in the job.
    pub accessory: usize,
    /// The piece that spans its lower edge; `None` off the string or without a basis.
    pub piece: Option<usize>,
    /// Its lower edge above that piece's lower make-up plane.
    pub above_lower_plane: Option<Length>,
    /// Where its lower edge ends up; `None` without a basis.
    pub elevation: Option<Elevation>,
    /// Whether it touches no connection; `None` without a basis.
    pub clear: Option<bool>,
}

/// A connection that lies where none may.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct InKeepOut {
    /// The keep-out, as an index of the job.
    pub keep_out: usize,
    /// The connection, as an index of the slot's.
    pub connection: usize,
}

/// The figures of one slot.
#[derive(Clone, Debug, PartialEq)]
pub struct SlotFigures {
    /// What the elevations hang on.
    pub basis: Basis,
    /// The string.
    pub string: PipeString,
    /// The stick-up that was read, or that must be read to land as planned.
    pub stick_up: Option<Length>,
    /// The top of the conductor.
    pub top: Option<Elevation>,
    /// The shoe.
    pub shoe: Option<Elevation>,
    /// The landing shoulder, where the job has one and the tally has its joint once.
    pub shoulder: Option<Shoulder>,
    /// Every connection from the bottom up, the open box at the top included; empty without a basis.
    pub connections: Vec<Connection>,
    /// The cut.
    pub cut: Cut,
    /// The accessories of this slot.
    pub accessories: Vec<AccessoryPlace>,
    /// The other lists of the string; `None` for those that cannot be read.
    pub lists: Vec<Option<ListFigures>>,
    /// Connections that stay and lie where none may.
    pub in_keep_outs: Vec<InKeepOut>,
    /// What there is to say.
    pub flags: Vec<Flag>,
}

impl SlotFigures {
    /// The elevation of a height above the shoe.
    pub fn elevation_of(&self, above_shoe: Length) -> Option<Elevation> {
        self.shoe.map(|shoe| shoe + above_shoe)
    }

    /// The number of a piece's joint; blank where there is no such piece.
    pub fn number<'a>(&self, tally: &'a Tally, piece: usize) -> &'a str {
        let joint = self
            .string
            .pieces
            .get(piece)
            .and_then(|piece| tally.joints.get(piece.joint));
        joint.map_or("", |joint| &joint.number)
    }

    /// What heights on a piece count from: its lower make-up plane, or the lower end of the bottom
    /// joint, which has none.
    pub fn counted_from(&self, tally: &Tally, piece: usize) -> String {
        let what = if piece == 0 {
            "lower end"
        } else {
            "lower make-up plane"
        };
        format!("{what} of {}", self.number(tally, piece))
    }

    /// The elevation of a piece's lower make-up plane.
    pub fn lower_plane(&self, piece: usize) -> Option<Elevation> {
        self.elevation_of(self.string.pieces.get(piece)?.lower)
    }
}

/// Why there is no shoulder, or that there is one.
pub(super) enum RunningJoint {
    /// The job has none.
    NotAsked,
    /// It is this piece.
    At(usize),
    /// The tally has none.
    Missing,
    /// The tally has several.
    Several(Vec<usize>),
}

/// Finds the running joint: by its number, else the one row of kind `running`.
pub(super) fn running_joint(slot: &Slot, tally: &Tally) -> RunningJoint {
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
        (None, None) => RunningJoint::NotAsked,
    }
}

pub(super) fn compute(job: &Job, index: usize, slot: &Slot, tally: &Tally) -> SlotFigures {
    // The job's own checks have made sure that the index of the pipe and of the hull lead somewhere;
    // a slot without them cannot be built, so the empty answers below are never given.
    let pipe = job.pipes.get(slot.pipe);
    let pins = pipe.map(|pipe| pipe.pins).unwrap_or_default();
    let string = PipeString::make_up(tally, pins);
    let running = running_joint(slot, tally);
    let shoulder_height = match running {
        RunningJoint::At(piece) => string
            .pieces
            .get(piece)
            .zip(slot.shoulder_offset)
            .map(|(piece, offset)| piece.lower + offset),
        _ => None,
    };
    let surface = job.hulls.get(slot.hull).map(job::Hull::stick_up_surface);
    let (basis, top) = match slot.basis {
        job::Basis::StickUp(stick_up) => (
            Basis::Read,
            surface.map(|surface| surface + stick_up - string.landing_length),
        ),
        job::Basis::PlanTop(top) => (Basis::Planned, Some(top)),
        job::Basis::PlanShoulder(shoulder) => match shoulder_height {
            Some(height) => (Basis::Planned, Some(shoulder - height + string.length)),
            None => (Basis::None, None),
        },
        job::Basis::None => (Basis::None, None),
    };
    let stick_up = top
        .zip(surface)
        .map(|(top, surface)| top + string.landing_length - surface);
    let shoe = top.map(|top| top - string.length);
    let shoulder = match running {
        RunningJoint::At(piece) => Some(Shoulder {
            piece,
            elevation: shoe
                .zip(shoulder_height)
                .map(|(shoe, height)| shoe + height),
        }),
        _ => None,
    };
    let connections = match (shoe, pipe) {
        (Some(shoe), Some(pipe)) => connections::all(pipe, tally, &string, shoe),
        _ => Vec::new(),
    };
    let mut figures = SlotFigures {
        basis,
        stick_up,
        top,
        shoe,
        shoulder,
        connections,
        cut: cut::target(job, index, slot),
        accessories: Vec::new(),
        in_keep_outs: Vec::new(),
        lists: Vec::new(),
        flags: Vec::new(),
        string,
    };
    cut::place(job, slot, &mut figures);
    figures.accessories = accessories(job, index, &figures);
    figures.in_keep_outs = in_keep_outs(job, index, &figures);
    figures.flags = tally::review(tally, &figures.string, pins);
    figures
        .flags
        .extend(checks::slot(job, slot, tally, &figures, &running));
    figures
}

/// Keep-outs are open intervals, and those connections count that stay: whose plane lies below the
/// cut, or all where there is none. The open box at the top is no connection yet.
fn in_keep_outs(job: &Job, index: usize, figures: &SlotFigures) -> Vec<InKeepOut> {
    let cut = figures.cut.place.as_ref().map(|_| figures.cut.target);
    let mut found = Vec::new();
    for (keep_out, zone) in job.keep_outs.iter().enumerate() {
        if !zone.slots.has(index) {
            continue;
        }
        for (number, connection) in figures.connections.iter().enumerate() {
            let stays = !connection.open_box && cut.is_none_or(|cut| connection.plane < cut);
            if stays && connection.from < zone.to && connection.to > zone.from {
                found.push(InKeepOut {
                    keep_out,
                    connection: number,
                });
            }
        }
    }
    found
}

fn accessories(job: &Job, index: usize, figures: &SlotFigures) -> Vec<AccessoryPlace> {
    let places = job
        .accessories
        .iter()
        .enumerate()
        .filter(|(_, accessory)| accessory.slots.has(index));
    places
        .map(|(number, accessory)| {
            let (from, to) = (accessory.elevation, accessory.elevation + accessory.length);
            let height = figures.shoe.map(|shoe| from - shoe);
            let piece = height.and_then(|height| figures.string.piece_at(height));
            let lower = piece
                .and_then(|piece| figures.string.pieces.get(piece))
                .map(|piece| piece.lower);
            AccessoryPlace {
                accessory: number,
                piece,
                above_lower_plane: height.zip(lower).map(|(height, lower)| height - lower),
                elevation: figures.shoe.map(|_| from),
                clear: figures.shoe.map(|_| {
                    let touches = |connection: &Connection| {
                        gap(connection.from, connection.to, from, to).is_zero()
                    };
                    !figures.connections.iter().any(touches)
                }),
            }
        })
        .collect()
}
