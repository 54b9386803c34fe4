//! One entry of the catalogue.

use super::subject::Subject;
use crate::figures::estimate::Variance;
use crate::figures::marks::{MarkFrom, Reading};
use crate::figures::verdict::Verdict;
use crate::measure::{Depth, Elevation, Length};

/// What a figure is. Those of one slot, or of the job as a whole, have each their own.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FigureId {
    /// What fixes the elevations.
    Basis,
    /// The inclination of the conductor.
    Inclination,
    /// By which elevations it is cut.
    Elevations,
    /// All readings as a whole, where there are no more than the chain's.
    Adjusted,
    /// The top by all readings.
    AdjustedTop,
    /// U of that.
    AdjustedTopUncertainty,
    /// RT at the cut's hull position by all readings.
    AdjustedRotary,
    /// U of that.
    AdjustedRotaryUncertainty,
    /// The top by all readings less that of the chain.
    TopLessChain,
    /// By how much both may differ.
    TopLimit,
    /// RT at the cut's hull position by all readings less that of the chain.
    RotaryLessChain,
    /// By how much both may differ.
    RotaryLimit,
    /// How many joints the conductor has.
    Joints,
    /// Length from the shoe to the top of the conductor.
    StringLength,
    /// Height of the landing string above the conductor's top.
    LandingLength,
    /// The stick-up, read or to be read.
    StickUp,
    /// The top of the conductor.
    Top,
    /// The plan as a whole, where there is none.
    Plan,
    /// What the plan fixes.
    PlanOf,
    /// Its elevation as planned.
    Planned,
    /// The same by the stick-up, less the plan.
    ReadLessPlan,
    /// The shoe.
    Shoe,
    /// The shoe below RT at the stick-up's hull position.
    ShoeBelowRotary,
    /// The shoe below the mudline.
    ShoeBelowMudline,
    /// The shoe above the bottom of the hole.
    ShoeAboveHoleBottom,
    /// The landing shoulder as a whole, where there is none.
    Shoulder,
    /// The running joint.
    ShoulderJoint,
    /// The landing shoulder.
    ShoulderElevation,
    /// The landing shoulder below RT at the stick-up's hull position.
    ShoulderBelowRotary,
    /// The landing shoulder above the mudline.
    ShoulderAboveMudline,
    /// The landing shoulder above the deck plane.
    ShoulderAboveDeck,
    /// Whether the conductor may be cut.
    CutStatus,
    /// The elevation of the finished top.
    CutTarget,
    /// All allowances together.
    Allowances,
    /// The cut below RT at the cut's hull position.
    CutBelowRotary,
    /// The elevation of a first, rough cut.
    RoughCut,
    /// The joint that contains the cut.
    CutJoint,
    /// The cut above that joint's lower make-up plane.
    CutAboveLowerPlane,
    /// The cut below that joint's upper make-up plane.
    CutBelowUpperPlane,
    /// The kerf to the nearest connection.
    CutToConnection,
    /// The kerf to the landing shoulder.
    CutToShoulder,
    /// Length of the off-cut.
    OffcutLength,
    /// Mass of the off-cut.
    OffcutMass,
    /// The marks as a whole, where there are none.
    Marks,
    /// What a mark is measured from.
    Mark(MarkFrom),
    /// The distance of a mark.
    MarkDistance(MarkFrom),
    /// U of a mark.
    MarkUncertainty(MarkFrom),
    /// The readings that a mark rests on.
    MarkReadings(MarkFrom),
    /// The finished top as a whole, where it is not judged.
    AsCut,
    /// How many readings of the finished top are judged.
    AsCutReadings,
    /// Their mean.
    AsCutMean,
    /// The mean less the target.
    AsCutDeviation,
    /// Highest less lowest reading.
    OutOfLevel,
    /// How far its low side is below its high side, by the best plane of its rim.
    RimAcross,
    /// The direction of its low side.
    RimLowSide,
    /// How far its readings are off that plane.
    RimOffPlane,
    /// U of the mean.
    AsCutUncertainty,
    /// The verdict on the finished top as a whole.
    AsCutState,
    /// The verdict on its height.
    HeightState,
    /// The verdict on how level it is.
    LevelState,
    /// U of how level it is.
    LevelUncertainty,
    /// The probability of conformity.
    AsCutProbability,
    /// The accessories as a whole, where there are none.
    Accessories,
    /// The name of an accessory, by its index among the slot's.
    Accessory(usize),
    /// The joint that it goes on.
    AccessoryJoint(usize),
    /// Its lower edge above that joint's lower make-up plane.
    AccessoryHeight(usize),
    /// The elevation of its lower edge.
    AccessoryElevation(usize),
    /// Whether it touches no connection.
    AccessoryClear(usize),
    /// The height of every make-up plane above the shoe.
    Planes,
    /// The frame as a whole, where there is none.
    Frame,
    /// The slot that carries the frame.
    FrameSlot,
    /// The elevation of the frame's base.
    FrameBase,
    /// The frame's base above the mudline.
    FrameAboveMudline,
    /// U of that height.
    FrameUncertainty,
    /// The verdict on it.
    FrameState,
    /// How many conductors are cut and measured.
    Cuts,
    /// The spread of the cuts.
    Spread,
    /// U of the spread.
    SpreadUncertainty,
    /// The verdict on it.
    SpreadState,
}

/// The value of a figure; `None` where it is not known.
#[derive(Clone, Debug, PartialEq)]
pub enum Value {
    /// A length.
    Length(Option<Length>),
    /// An elevation above the sea datum.
    Elevation(Option<Elevation>),
    /// A depth below a reference.
    Depth(Option<Depth>),
    /// An expanded uncertainty.
    Uncertainty(Option<Variance>),
    /// By how much two ways may differ, in metres, which need not be a whole number of nanometres.
    Limit(Option<f64>),
    /// A direction in degrees.
    Direction(Option<f64>),
    /// A mass in kg.
    Mass(Option<f64>),
    /// A probability.
    Probability(Option<f64>),
    /// A count.
    Count(usize),
    /// A name, such as that of a joint.
    Name(Option<String>),
    /// One of a few words that scripts rely on.
    Word(&'static str),
    /// A verdict.
    Verdict(Option<Verdict>),
    /// Yes or no.
    Truth(Option<bool>),
    /// What a mark is measured from.
    From(MarkFrom),
    /// Readings.
    Readings(Vec<Reading>),
    /// Several lengths.
    Lengths(Vec<Length>),
    /// A whole that is not there.
    Absent,
    /// A list that is empty.
    Empty,
}

/// One figure.
#[derive(Clone, Debug, PartialEq)]
pub struct Entry {
    /// What it is.
    pub id: FigureId,
    /// Its key in the JSON of `figures`, below its slot or at the top level: `cut.marks[2].distance_m`;
    /// `None` where JSON does not have it.
    pub key: Option<String>,
    /// Its value.
    pub value: Value,
    /// What opens how it came about.
    pub subject: Option<Subject>,
    /// Whether it follows from another entry, so that a change of it is not told by itself.
    pub follows: bool,
}

impl Entry {
    pub(super) fn new(id: FigureId, key: impl Into<String>, value: Value) -> Self {
        Self {
            id,
            key: Some(key.into()),
            value,
            subject: None,
            follows: false,
        }
    }

    /// An entry that JSON does not have.
    pub(super) const fn beside(id: FigureId, value: Value) -> Self {
        Self {
            id,
            key: None,
            value,
            subject: None,
            follows: false,
        }
    }

    #[must_use]
    pub(super) const fn opens(mut self, subject: Subject) -> Self {
        self.subject = Some(subject);
        self
    }

    #[must_use]
    pub(super) const fn that_follows(mut self) -> Self {
        self.follows = true;
        self
    }
}
