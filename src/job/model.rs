//! A valid job. Lengths are exact; elevations are above the sea datum; masses are real numbers.

use std::path::PathBuf;
use std::sync::Arc;

use super::correction::Correction;
use super::people::People;
use super::slot_set::SlotSet;
use crate::finding::Severity;
use crate::measure::{Elevation, Length, Unit};
use crate::tally::{Options, Pins};

/// A job whose references all lead somewhere. A slot has its pipe and its hull position with it; indices of
/// slots are into the list of this job.
#[derive(Clone, Debug)]
pub struct Job {
    /// The title, where one is given.
    pub title: Option<String>,
    /// The unit of bare numbers in the file, and of what is shown: metres, feet, or feet and inches.
    pub units: Unit,
    /// The name of the zero of all elevations.
    pub sea_datum: String,
    /// The list of the pipe on deck, relative to the job's folder, with the line and column of the key that
    /// names it.
    pub pool: Option<(PathBuf, (usize, usize))>,
    /// Who may enter and sign.
    pub people: People,
    /// The site.
    pub site: Site,
    /// The hull positions in order of time; never empty.
    pub hulls: Vec<Arc<Hull>>,
    /// The kinds of pipe.
    pub pipes: Vec<Arc<Pipe>>,
    /// The slots in the order of the file; never empty.
    pub slots: Vec<Slot>,
    /// Lines added to the cut targets.
    pub allowances: Vec<Allowance>,
    /// Elevations in which no connection may lie.
    pub keep_outs: Vec<KeepOut>,
    /// What is fixed to conductors as they run.
    pub accessories: Vec<Accessory>,
    /// Corrections of measured lengths.
    pub corrections: Vec<Correction>,
    /// Marks of known elevation.
    pub benches: Vec<Bench>,
    /// The braced frame, where there is one.
    pub frame: Option<Frame>,
    /// What the weight indicator reads with nothing hung, in kg.
    pub block_mass: Option<f64>,
    /// The deck.
    pub deck: Deck,
    /// How it is cut.
    pub cut: CutSpec,
    /// How far two ways to one figure may differ.
    pub agree: Agree,
    /// Standard uncertainties, each `None` where it is not stated.
    pub uncertainty: Uncertainty,
    /// An undecided difference between lists of one string that moves an elevation by more than this is
    /// flagged.
    pub open_above: Length,
}

/// The site.
#[derive(Clone, Debug)]
pub struct Site {
    /// The seabed, unless a slot has its own.
    pub mudline: Elevation,
    /// Density of the water in kg/m3.
    pub water_density: Option<f64>,
    /// The sea surface.
    pub water_level: Elevation,
}

/// One setting of the jack-up's hull, and of its cantilever where skidding moves the rotary.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Hull {
    /// Its name.
    pub name: String,
    /// The top face of the rotary table.
    pub rotary: Elevation,
    /// Height above RT of the surface from which stick-ups are measured.
    pub stick_up_from: Length,
    /// Whether that height is stated; else it is taken to be 0.
    pub surface_is_stated: bool,
    /// How far the hull was raised from the position before it: a second way to its RT.
    pub raised: Option<Length>,
    /// The air gap as read: another way to its RT.
    pub air_gap: Option<AirGap>,
}

/// A reading of the air gap.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct AirGap {
    /// The underside of the hull above the sea surface.
    pub gap: Length,
    /// The sea surface at that moment.
    pub water: Elevation,
    /// RT above the underside of the hull.
    pub rotary_above_hull: Length,
}

impl AirGap {
    /// The RT that it comes to.
    pub fn rotary(&self) -> Elevation {
        self.water + self.gap + self.rotary_above_hull
    }
}

impl Hull {
    /// The name of the surface that stick-ups are measured from.
    pub const fn surface_name(&self) -> &'static str {
        if self.stick_up_from.is_zero() {
            "RT"
        } else {
            "SPIDER"
        }
    }

    /// The elevation of the surface from which stick-ups are measured.
    pub fn stick_up_surface(&self) -> Elevation {
        self.rotary + self.stick_up_from
    }
}

/// How joints of pipe are held together.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Joining {
    /// By connectors: the pin is swallowed by the box.
    #[default]
    Connector,
    /// By welds, with a root gap between the ends that makes the string longer.
    Weld,
}

impl Joining {
    /// The least make-up loss: of a weld 20 mm below 0, more than any root gap.
    pub const fn least_loss(self) -> Length {
        match self {
            Self::Connector => Length::ZERO,
            Self::Weld => Length::from_mm(-20),
        }
    }
}

/// One kind of pipe.
#[derive(Clone, Debug)]
pub struct Pipe {
    /// Its name.
    pub name: String,
    /// Outside diameter.
    pub od: Length,
    /// Wall thickness.
    pub wall: Length,
    /// Density of the steel in kg/m3.
    pub density: f64,
    /// Weighed mass in kg/m, where one is given.
    pub weighed_mass_per_metre: Option<f64>,
    /// Mass of a made-up pair of connectors in kg.
    pub connector_mass: Option<f64>,
    /// Pins up or down, and the nominal make-up loss.
    pub pins: Pins,
    /// How its joints are held together.
    pub joining: Joining,
    /// How far a connection reaches below its make-up plane.
    pub connection_below: Option<Length>,
    /// How far a connection reaches above its make-up plane.
    pub connection_above: Option<Length>,
}

impl Pipe {
    /// The least make-up loss of its joints.
    pub const fn least_loss(&self) -> Length {
        self.joining.least_loss()
    }
}

/// The lowest and the highest value allowed, both in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Window<T> {
    /// The lowest.
    pub from: T,
    /// The highest.
    pub to: T,
}

impl<T: PartialOrd> Window<T> {
    /// Whether a value lies inside, limits in.
    pub fn holds(&self, value: &T) -> bool {
        self.from <= *value && *value <= self.to
    }
}

/// Where a string shall be.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Plan {
    /// Where its landing shoulder shall be.
    Shoulder(Elevation),
    /// Where its top shall be.
    Top(Elevation),
}

/// The plan position of a conductor, and its string.
#[derive(Clone, Debug)]
pub struct Slot {
    /// Its name.
    pub name: String,
    /// Plan position.
    pub x: Length,
    /// Plan position.
    pub y: Length,
    /// Whether both are stated.
    pub is_placed: bool,
    /// Its pipe: one of the job's.
    pub pipe: Arc<Pipe>,
    /// The tally of record, relative to the job's folder.
    pub tally: PathBuf,
    /// Line and column of the key that names it, for messages.
    pub tally_at: (usize, usize),
    /// Other lists of the same string: name and path.
    pub lists: Vec<ListSource>,
    /// Answers to the reader's questions.
    pub read: Options,
    /// The joint number of the running joint.
    pub running_joint: Option<String>,
    /// The landing shoulder above the running joint's lower make-up plane.
    pub shoulder_offset: Option<Length>,
    /// The top of the string above the surface from which stick-ups are measured, where it was read;
    /// negative below. It wins over the plan.
    pub stick_up: Option<Length>,
    /// Where the string shall be.
    pub plan: Option<Plan>,
    /// The hull position of the stick-up: one of the job's.
    pub hull: Arc<Hull>,
    /// The seabed at this slot, where it has its own.
    pub mudline: Option<Elevation>,
    /// The bottom of the hole.
    pub hole_bottom: Option<Elevation>,
    /// The least height of the shoe above the bottom of the hole.
    pub min_rathole: Length,
    /// The inclination of the conductor in degrees, where it was surveyed.
    pub inclination: Option<f64>,
    /// How much longer the deck's leg is here than designed, where it was surveyed.
    pub leg_deviation: Option<Length>,
    /// The standard uncertainty of that.
    pub leg_uncertainty: Option<Length>,
    /// Added to the deck's elevation for this slot's cut.
    pub cut_offset: Length,
    /// Where the shoe may be.
    pub shoe_window: Option<Window<Elevation>>,
    /// Where the landing shoulder may be.
    pub shoulder_window: Option<Window<Elevation>>,
    /// Where the top may be.
    pub top_window: Option<Window<Elevation>>,
    /// Elevations measured round the finished top; empty before it is cut.
    pub as_cut: Vec<Elevation>,
    /// The instrument's set-up when that was measured, where it is stated.
    pub as_cut_setup: Option<String>,
    /// What was cropped off joints of the tally of record since it was made, by their indices.
    pub cropped: Vec<(usize, Length)>,
}

/// Another list of a slot's string.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ListSource {
    /// What the job calls it.
    pub name: String,
    /// The file, relative to the job's folder.
    pub path: PathBuf,
    /// The list that it was made from, where the job says so: then it is no second witness.
    pub from: Option<String>,
}

/// A line added to the cut target; positive cuts higher.
#[derive(Clone, Debug)]
pub struct Allowance {
    /// What it is for.
    pub why: String,
    /// How much.
    pub value: Length,
    /// Where.
    pub slots: SlotSet,
}

/// Elevations in which no connection may lie.
#[derive(Clone, Debug)]
pub struct KeepOut {
    /// The lower end.
    pub from: Elevation,
    /// The upper end.
    pub to: Elevation,
    /// Why.
    pub why: String,
    /// How much it matters.
    pub severity: Severity,
    /// Where.
    pub slots: SlotSet,
}

/// What is fixed to a conductor as it runs: a centraliser, guide, seal or ladder.
#[derive(Clone, Debug)]
pub struct Accessory {
    /// Its name.
    pub name: String,
    /// Where.
    pub slots: SlotSet,
    /// Where its lower edge must end up.
    pub elevation: Elevation,
    /// Its length upward.
    pub length: Length,
}

/// A mark of known elevation from which cuts can be measured.
#[derive(Clone, Debug)]
pub struct Bench {
    /// Its name.
    pub name: String,
    /// Its elevation.
    pub elevation: Elevation,
    /// Its standard uncertainty, where it is stated.
    pub uncertainty: Option<Length>,
    /// The hull position at which it has this elevation, where it is on the rig.
    pub hull: Option<Arc<Hull>>,
}

/// The braced frame that one string's landing shoulder carries.
#[derive(Clone, Debug)]
pub struct Frame {
    /// Index of the slot whose running joint carries it.
    pub slot: usize,
    /// Its landing ring above its own base.
    pub ring_above_base: Length,
    /// Window for the base's height above the mudline.
    pub base_above_mudline: Option<Window<Length>>,
    /// Submerged mass in kg.
    pub weight: Option<f64>,
}

/// The deck.
#[derive(Clone, Debug)]
pub struct Deck {
    /// The plane on which it lands, at a slot with offset 0.
    pub elevation: Elevation,
    /// The same plane below RT, as the order gives it: a second way to it.
    pub below_rotary: Option<DeckDepth>,
    /// Its mass in kg.
    pub weight: Option<f64>,
    /// Its centre of gravity in plan.
    pub cog: Option<(Length, Length)>,
    /// How far a top may lie from one plane.
    pub seat_within: Option<Length>,
}

/// The plane on which the deck lands, below RT at a hull position.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DeckDepth {
    /// How far below RT.
    pub depth: Length,
    /// At which hull position.
    pub hull: Arc<Hull>,
}

impl DeckDepth {
    /// The elevation that it comes to.
    pub fn elevation(&self) -> Elevation {
        self.hull.rotary - self.depth
    }
}

/// How far two ways to one figure may differ before it is flagged.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Agree {
    /// A reading and its plan.
    pub plan: Length,
    /// An RT and the RT before it with the height by which the hull was raised.
    pub raise: Length,
    /// An RT and the air gap.
    pub air_gap: Length,
    /// The deck's elevation and its depth below RT.
    pub deck: Length,
    /// Two marks that are set out.
    pub marks: Length,
}

impl Default for Agree {
    fn default() -> Self {
        Self {
            plan: Length::from_mm(250),
            raise: Length::from_mm(20),
            air_gap: Length::from_mm(250),
            deck: Length::from_mm(1),
            marks: Length::from_mm(5),
        }
    }
}

/// By which elevations the conductors are cut.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Elevations {
    /// Those of each slot's chain: RT, the stick-up, the tally.
    #[default]
    Chain,
    /// Those that agree best with all readings.
    Adjusted,
}

impl Elevations {
    /// The words in files, with what each is.
    pub const WORDS: [(&'static str, Self); 2] =
        [("chain", Self::Chain), ("adjusted", Self::Adjusted)];

    /// The word in files and in JSON.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Chain => "chain",
            Self::Adjusted => "adjusted",
        }
    }
}

/// How the conductors are cut, and how well.
#[derive(Clone, Debug)]
pub struct CutSpec {
    /// By which elevations.
    pub elevations: Elevations,
    /// The hull position from which the cut is measured: one of the job's.
    pub hull: Arc<Hull>,
    /// The width of material that the cut removes.
    pub kerf: Length,
    /// Whether that is stated; else nothing is taken off for it.
    pub kerf_is_stated: bool,
    /// A first, rough cut this much above the final one.
    pub rough_above: Option<Length>,
    /// How far each cut may be from its target, above or below.
    pub tolerance: Option<Length>,
    /// Highest to lowest of the cuts' deviations from their targets.
    pub spread: Option<Length>,
    /// Highest to lowest round one cut.
    pub level: Option<Length>,
    /// Least distance of the cut from a connection and from the shoulder.
    pub clearance: Option<Length>,
}

/// Standard uncertainties. They are `None` where they are not stated, and nothing is proven with them.
#[derive(Clone, Debug, Default)]
pub struct Uncertainty {
    /// The strapped length of each joint.
    pub strap: Option<Length>,
    /// Each make-up.
    pub connection: Option<Length>,
    /// The tape's scale, common to all that it measures: parts per million.
    pub tape_scale: Option<f64>,
    /// A stick-up or any one marking reading.
    pub stick_up: Option<Length>,
    /// The rotary table's elevation.
    pub rotary: Option<Length>,
    /// One cut against another.
    pub as_cut: Option<Length>,
    /// One reading of a top against another of the same top, where it is stated.
    pub rim: Option<Length>,
    /// The height reference of the as-cut survey, common to all cuts.
    pub benchmark: Option<Length>,
    /// The mudline.
    pub mudline: Option<Length>,
}

impl Uncertainty {
    /// One reading of a top against another of the same top, with the key that states it: `rim`, else
    /// that of one cut against another.
    pub fn of_rim(&self) -> (&'static str, Option<Length>) {
        match self.rim {
            Some(rim) => ("rim", Some(rim)),
            None => ("as_cut", self.as_cut),
        }
    }
}

impl Job {
    /// Keys that are given, read and checked, and that no figure is computed from yet.
    pub fn not_used(&self) -> Vec<&'static str> {
        [("deck.weight", self.deck.weight.is_some())]
            .into_iter()
            .filter(|(_, is_given)| *is_given)
            .map(|(key, _)| key)
            .collect()
    }

    /// The hull position before one, in the order of the file.
    pub fn hull_before(&self, hull: &Hull) -> Option<&Arc<Hull>> {
        let at = self.hulls.iter().position(|it| it.name == hull.name)?;
        self.hulls.get(at.checked_sub(1)?)
    }

    /// The seabed at a slot.
    pub fn mudline(&self, slot: &Slot) -> Elevation {
        slot.mudline.unwrap_or(self.site.mudline)
    }
}
