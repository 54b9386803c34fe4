//! The journal. Quantities are exact; an entry is named by its number.

use serde::Serialize;

use super::names::Named;
use crate::measure::{Elevation, Length};

/// In what a line of the journal does not follow from the one before.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub enum BrokenLine {
    /// It is no line of a journal.
    NotALine,
    /// Its text is not that of its hash.
    Changed,
    /// It does not name the line before it, or its number is not the next.
    NotNext,
}

/// The stick-ups before and after a joint.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct StickUpAt {
    /// The joint.
    pub joint: String,
    /// The entry.
    pub seq: u64,
    /// The stick-up after it that its length gives.
    pub expected: Length,
    /// The one that was read.
    pub found: Length,
}

/// Where the scribed line is by one mark.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct FoundByMark {
    /// The mark, by its name in JSON.
    pub mark: String,
    /// The elevation.
    pub elevation: Elevation,
    /// Whether that is by what is stated of the mark's point, and not by all readings.
    pub is_as_stated: bool,
}

/// The journal.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub enum JournalFinding {
    /// It is not whole.
    Broken {
        /// The changed line or the next.
        number: usize,
        /// How it shows.
        by: BrokenLine,
    },
    /// Its last line was cut off.
    Torn {
        /// Its number.
        number: usize,
    },
    /// The clock went back.
    ClockBack {
        /// The entries whose clock was behind that of the one before.
        entries: Named<u64>,
    },
    /// The hull moves.
    HullMoving {
        /// The entry.
        seq: u64,
        /// Why it moves.
        why: String,
    },
    /// RT at hull positions by the journal and by the job file.
    RotaryDiffers {
        /// Hull position, RT as stated, RT as entered, and the entry.
        hulls: Vec<(String, Elevation, Elevation, u64)>,
        /// How far they may differ.
        allowed: Length,
    },
    /// A stick-up by the journal and by the job file.
    StickUpDiffers {
        /// The hull position.
        hull: String,
        /// As stated.
        stated: Length,
        /// As entered.
        found: Length,
        /// The entry.
        seq: u64,
        /// How far they may differ.
        allowed: Length,
    },
    /// Two stick-ups at rest.
    TopMoved {
        /// The entries.
        entries: (u64, u64),
        /// The tops.
        tops: (Elevation, Elevation),
        /// How far they may differ.
        allowed: Length,
    },
    /// Stick-ups before and after joints that do not agree with their lengths.
    StickUpOff {
        /// The joints.
        joints: Named<StickUpAt>,
        /// How far expected and found may differ.
        allowed: Length,
    },
    /// The scribed line by marks that do not agree.
    ScribeApart {
        /// The entry.
        seq: u64,
        /// Two marks, how far the lines by them are apart, and how far they may be.
        apart: Vec<(FoundByMark, FoundByMark, Length)>,
        /// Marks by which the line is off the target, and how far it may be.
        off: Vec<(FoundByMark, Length)>,
        /// The target.
        target: Elevation,
    },
    /// The joints that were run are not those of the tally of record.
    AsRunDiffers {
        /// How many were run.
        run: usize,
        /// How many the tally has.
        tally: usize,
        /// The first place, counted from the shoe, at which they differ.
        place: usize,
        /// The joint that was run there.
        joint_run: Option<String>,
        /// The joint of the tally there.
        joint_listed: Option<String>,
    },
    /// The target was released and differs now.
    TargetMoved {
        /// The target as signed.
        signed: Elevation,
        /// The target now.
        now: Elevation,
        /// The entry of the signature.
        seq: u64,
    },
    /// Who may sign was changed after signatures.
    SignersChanged {
        /// The entries of the signatures.
        entries: Named<u64>,
    },
    /// The elevations rest on a stick-up that was read while the string hung.
    FromHungReading {
        /// The entry.
        seq: u64,
    },
    /// The string was slacked off too early.
    SlackedOffEarly {
        /// The entry.
        seq: u64,
        /// When.
        at: String,
        /// From when it may be.
        until: String,
    },
    /// Readings by instruments past their due day.
    InstrumentExpired {
        /// The instrument, its due day, the day of the reading, and the entry.
        readings: Named<(String, String, String, u64)>,
    },
    /// Readings by instruments that were never entered.
    InstrumentUnstated {
        /// The instrument and the entry.
        readings: Named<(String, u64)>,
    },
    /// The tally of record is another file than was adopted.
    TallyChanged {
        /// The file.
        file: String,
        /// The entry that adopted it.
        seq: u64,
    },
    /// Decisions of two persons on one thing.
    DecisionsContradict {
        /// What of which joint, and two of those who decided it.
        things: Named<(String, String, String, String)>,
    },
    /// The blade is off the line.
    BladeOffLine {
        /// The entry.
        seq: u64,
        /// The lowest and the highest of its readings above the line.
        range: (Length, Length),
        /// How far it may be off, either way.
        allowed: Length,
    },
    /// A final cut without a release.
    CutNotReleased {
        /// The entry.
        seq: u64,
        /// Whether no stick-up says that the string was landed.
        is_planned: bool,
    },
    /// Signed statements without an entry.
    StatementsWithoutEntry {
        /// Their files.
        files: Named<String>,
    },
    /// Entries that do not fit the job.
    NotUsed {
        /// The entry, and why.
        entries: Named<(u64, String)>,
    },
}
