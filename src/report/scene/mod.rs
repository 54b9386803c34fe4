//! What there is to draw of a job, to scale: every conductor with what lies on it and beside it, and what they are
//! seen against. The profile on the screen and the one on paper are drawn from this.

mod build;
mod ruler;

use crate::measure::{Elevation, Length};

pub use build::PlanesIn;
pub use ruler::{Tick, ruler};

/// A whole job, to be drawn.
#[derive(Clone, Debug, PartialEq)]
pub struct Scene {
    /// One for each slot, in the order of the job.
    pub lanes: Vec<Lane>,
    /// What runs across all conductors, the most important first.
    pub levels: Vec<Level>,
    /// What lies across some of them.
    pub bars: Vec<Bar>,
    /// The highest and the lowest point of all that is in it.
    pub highest: Elevation,
    /// The lowest.
    pub lowest: Elevation,
}

/// What a level is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LevelKind {
    /// The rotary table at a hull position.
    Rotary,
    /// The sea surface.
    Water,
    /// Elevation 0.
    SeaDatum,
    /// The seabed.
    Mudline,
}

/// A level that all conductors are seen against.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Level {
    /// Its elevation.
    pub at: Elevation,
    /// Its name.
    pub name: String,
    /// What it is.
    pub kind: LevelKind,
}

/// What a bar is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BarKind {
    /// The plane on which the deck lands.
    Deck,
    /// The base of the frame.
    Frame,
}

/// Something that lies across conductors.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Bar {
    /// Its elevation.
    pub at: Elevation,
    /// The slots that it lies across, by their indices.
    pub slots: Vec<usize>,
    /// Its name.
    pub name: String,
    /// What it is.
    pub kind: BarKind,
}

/// One conductor.
#[derive(Clone, Debug, PartialEq)]
pub struct Lane {
    /// The slot, by its index.
    pub slot: usize,
    /// The slot's name.
    pub name: String,
    /// The pipe that stays or will stay, from its upper end to the shoe; `None` without a basis.
    pub steel: Option<(Elevation, Elevation)>,
    /// The top of what is above the cut and will be cut off; `None` once it is, and where there is none.
    pub comes_off: Option<Elevation>,
    /// Make-up planes of what stays and of what comes off, from the bottom up.
    pub planes: Vec<Elevation>,
    /// The seabed here.
    pub mudline: Elevation,
    /// Points on it, the most important first.
    pub features: Vec<Feature>,
    /// Spans beside it.
    pub zones: Vec<Zone>,
}

/// What a point on a conductor is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FeatureKind {
    /// Where it is to be cut.
    Cut,
    /// Where it was cut.
    FinishedTop,
    /// The landing shoulder.
    Shoulder,
    /// The top of the string.
    Top,
    /// The shoe.
    Shoe,
    /// The lower edge of an accessory.
    Accessory,
    /// A connection that lies where none may.
    Misplaced,
}

/// A point on a conductor.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Feature {
    /// Its elevation.
    pub at: Elevation,
    /// What it is.
    pub kind: FeatureKind,
    /// The word that stands beside it.
    pub word: String,
}

/// What a span is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ZoneKind {
    /// No connection may lie in it.
    KeepOut,
    /// No connection may lie so near the cut.
    Clearance,
    /// Where the line may lie that the nearest mark finds (U on either side of the target).
    Blur,
    /// What the blade takes away, above the line.
    Kerf,
}

/// A span beside a conductor.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Zone {
    /// Its lower end.
    pub from: Elevation,
    /// Its upper end.
    pub to: Elevation,
    /// What it is.
    pub kind: ZoneKind,
    /// Why, or how much.
    pub word: String,
    /// The same for where there is little room.
    pub short: String,
}

impl Scene {
    /// How much there is of it.
    pub fn height(&self) -> Length {
        self.highest - self.lowest
    }
}
