//! What is kept of entries: of each thing that they say the entry, and of each slot what it comes to.

use std::collections::BTreeMap;

use super::entry::Entry;
use super::event::{AsCutReadings, AtRim, HoldSigned, JointRun, MadeOf, Scribe, StickUp};
use super::joints::Source;
use super::time::{Day, Moment};
use crate::measure::Length;
use crate::tally::Joint;

/// Something that an entry says, with the entry.
#[derive(Clone, Debug, PartialEq)]
pub struct Said<T> {
    /// The number of the entry.
    pub seq: u64,
    /// When it happened.
    pub at: Moment,
    /// Who entered it.
    pub by: String,
    /// What it says.
    pub what: T,
}

impl<T> Said<T> {
    pub(super) fn of(entry: &Entry, what: T) -> Self {
        Self {
            seq: entry.seq,
            at: entry.at.clone(),
            by: entry.by.clone(),
            what,
        }
    }

    /// The order in which things happened.
    pub const fn order(&self) -> (i64, u64) {
        (self.at.seconds(), self.seq)
    }
}

/// A joint that hangs.
#[derive(Clone, Debug, PartialEq)]
pub struct Hanging {
    /// What was entered.
    pub run: JointRun,
    /// The joint as its list has it.
    pub joint: Joint,
    /// Which list that is.
    pub source: Source,
    /// By how much the string became longer with it.
    pub adds: Length,
}

/// What is decided: of what, of which joint, and of which line where its number occurs more than once.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Thing {
    /// `length`, `makeup-loss`, `presence`, `place` or `number`.
    pub of: String,
    /// The joint's number.
    pub joint: String,
    /// The line that lists it.
    pub line: Option<u64>,
}

/// What someone decided.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Decided {
    /// A list's name, or `measured`.
    pub choice: String,
    /// The value, where it was measured.
    pub value: Option<Length>,
    /// Why.
    pub note: Option<String>,
    /// What the lists said.
    pub made_of: Vec<MadeOf>,
}

/// What was cropped off a joint.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Crop {
    /// The joint, as an index of the tally of record.
    pub joint: usize,
    /// How much.
    pub length: Length,
}

/// What was accepted as it is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Waiver {
    /// The flag's code.
    pub flag: String,
    /// Why.
    pub why: String,
    /// The digest of what the flag said.
    pub of: Option<String>,
}

/// Grout or cement in place.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Placed {
    /// Grout or cement.
    pub what: String,
    /// Until when the string must not be slacked off.
    pub until: Moment,
}

/// What the journal says of one slot.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct SlotRecord {
    /// The joints run and not pulled, in order.
    pub hanging: Vec<Said<Hanging>>,
    /// Whether any joint was ever run.
    pub was_run: bool,
    /// Joints that were run and that no list has any more.
    pub lost: usize,
    /// Who decided what of which joint, until someone set it to open.
    pub decided: BTreeMap<Thing, BTreeMap<String, Said<Decided>>>,
    /// The stick-ups, in the order in which they were read.
    pub stick_ups: Vec<Said<StickUp>>,
    /// What was cropped.
    pub crops: Vec<Said<Crop>>,
    /// The frame's heading, and its base above the mudline.
    pub frame: Option<Said<(Option<f64>, Option<Length>)>>,
    /// The scribed line.
    pub scribe: Option<Said<Scribe>>,
    /// The blade above the line.
    pub cutter: Option<Said<Vec<AtRim<Length>>>>,
    /// The gap over it that was found when the deck was landed, and the shim that was set there.
    pub deck_landed: Option<Said<(Length, Option<Length>)>>,
    /// The first, rough cut.
    pub rough_cut: Option<u64>,
    /// The final cut.
    pub final_cut: Option<u64>,
    /// Elevations round the finished top.
    pub as_cut: Option<Said<AsCutReadings>>,
    /// Grout or cement in place.
    pub placed: Vec<Said<Placed>>,
    /// Hook loads before landing and after, in kg.
    pub hook_loads: Vec<Said<(f64, bool)>>,
    /// The tally of record: its file and digest.
    pub tally: Option<Said<(String, String)>>,
    /// Checks that are waived.
    pub waivers: Vec<Said<Waiver>>,
    /// Signatures.
    pub signed: Vec<Said<HoldSigned>>,
    /// Joints whose connections are made up.
    pub connections: BTreeMap<String, String>,
}

/// An instrument.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Instrument {
    /// Its name.
    pub id: String,
    /// What it is.
    pub what: String,
    /// The last day up to which its calibration is good.
    pub due: Day,
    /// How well it reads a height difference, one standard deviation, where that is stated.
    pub sigma: Option<Length>,
}
