//! What the screens say once, of what a key or a change of the files came to: data, whose sentences
//! are in [`words::said`](super::words::said).

use std::path::PathBuf;

use crate::finding::Code;
use crate::job::DecisionsUnreadable;
use crate::measure::{Length, LengthError};
use crate::reconcile::{Refusal, Topic};
use crate::tally::{FileNote, SkipReason};

/// Something of a joint in the lists of its string, by names.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ThingName {
    /// The slot.
    pub slot: String,
    /// The joint's number.
    pub joint: String,
    /// What of it.
    pub of: Topic,
}

/// Why something that was in front of a person is no longer what it was.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Gone {
    /// Its slot is not in the job any more.
    Slot,
    /// No list has the joint any more.
    Joint,
    /// The lists say something else now.
    Figures,
    /// Someone decided it meanwhile, or took a decision back: who decides now, and what.
    Decided(Vec<(String, String)>),
}

/// What lay over a screen and was closed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Closed {
    /// A decision about to be made.
    Deciding(ThingName, Gone),
    /// What the lists say of something.
    Thing(ThingName, Gone),
    /// How a figure of this slot came about.
    Figure(String),
    /// A flag.
    Flag(Code),
    /// A reading or a point of the levels.
    Level,
}

/// A row of the tally.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum RowName {
    /// A joint, by its number.
    Joint(String),
    /// A line that is not read as a joint.
    Line(u32),
    /// A note on the file.
    Note,
}

/// What the cursor was on and is no longer there.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Lost {
    /// A slot.
    Slot(String),
    /// A flag.
    Flag(Code),
    /// A row of the tally.
    Row(RowName),
    /// A list.
    List(String),
    /// Something of a joint.
    Thing(Topic, String),
    /// A line of the cut screen.
    CutLine,
}

/// What the screens say once.
#[derive(Clone, Debug, PartialEq)]
pub enum Said {
    /// An event that is on the disk.
    Entered {
        /// Its number.
        seq: u64,
        /// What it is.
        event: &'static str,
    },
    /// An event that is not, and why, in the words of the error.
    NotEntered(String),
    /// A statement that is signed: its file, and the number of its entry.
    Signed {
        /// The file.
        file: String,
        /// The number.
        seq: u64,
        /// Whether it is to be signed by pen.
        on_paper: bool,
    },
    /// A statement that is not, and why.
    NotSigned(String),
    /// A statement that was not read to its end.
    ReadFirst,
    /// Nobody has said who signs.
    WhoSigns,
    /// Enter on a field that must be filled.
    FieldMissing(&'static str),
    /// Esc over a form in which something is typed.
    LeaveForm,
    /// Who enters from now on.
    EntersNow(String),
    /// There is no figure to open.
    NoFigure,
    /// Nothing says how many joints are run.
    CountNotKnown,
    /// The list changed below the joint that was said to be next.
    CountAgain,
    /// There is nothing under the cursor to copy.
    NothingToCopy,
    /// This was handed to the terminal to be copied.
    Copied(String),
    /// The screens have the mouse, or gave it back.
    Mouse(bool),
    /// Nothing differs that could be opened.
    NothingDiffers,
    /// There is no list to make a tally of record with.
    NoList,
    /// There are no elevations to open.
    NoElevations,
    /// A landing piece has none to open.
    LandingPiece,
    /// A line is not read as a joint.
    NotAJoint {
        /// The line of the file.
        line: u32,
        /// Why.
        why: SkipReason,
    },
    /// A note on the file.
    Note(FileNote),
    /// Nothing matches what was looked for.
    NoJoint(String),
    /// A joint that matches what was looked for.
    JointFound {
        /// Its number.
        joint: String,
        /// Its serial, where that is what matches.
        serial: Option<String>,
        /// Whether it is just what was looked for, or contains it.
        is_it: bool,
        /// What was looked for.
        sought: String,
    },
    /// A paste where nothing is being typed.
    PasteIgnored,
    /// A decision that is not taken, because what it is about changed.
    NotDecided(ThingName, Gone),
    /// What was about to be decided is not what it was: it is shown anew.
    LookAgain(ThingName, Gone),
    /// A choice of what stands already.
    StandsAlready(ThingName),
    /// The list under the cursor does not have the joint, so that it says nothing of it.
    ListSaysNothing {
        /// The list.
        list: String,
        /// The joint.
        joint: String,
    },
    /// Nothing of the slot is decided by most lists and by nobody yet.
    NoMajority,
    /// Nothing differs from the tally of record by rounding alone.
    NothingRounded,
    /// Nothing is decided that could be opened again.
    NotDecidedYet(ThingName),
    /// The person has decided nothing here that could be taken back.
    NothingToTakeBack(String),
    /// A decision that is not taken, because those before it cannot be read.
    CorrectDecisions(DecisionsUnreadable),
    /// A measured length that cannot be.
    Refused(Length, Refusal),
    /// Something that has no length.
    NotMeasurable,
    /// A joint that nobody can measure any more.
    Landed {
        /// Its slot.
        slot: String,
        /// Its number.
        joint: String,
    },
    /// What was typed is no length.
    NoLength(LengthError),
    /// What was typed is no length of a joint.
    NoJointLength(String),
    /// A decision that needs a reason, without one.
    NoteMissing,
    /// Decisions that are on the disk.
    Decided {
        /// The number of the last entry.
        seq: u64,
        /// How many there are.
        count: usize,
        /// The first.
        first: ThingName,
    },
    /// Some decisions are on the disk, and the next is not.
    DecidedInPart {
        /// How many are.
        count: usize,
        /// How many are not.
        left: usize,
        /// Why, in words.
        why: String,
    },
    /// No tally of record is made, and why, in words.
    NoRecord(String),
    /// Nobody has said who decides.
    WhoDecides,
    /// A tally of record that is on the disk.
    RecordWritten {
        /// The file.
        file: PathBuf,
        /// How many differences are not decided in it.
        open: usize,
        /// The SHA-256 of its bytes.
        sha256: String,
    },
    /// No tally of record was written that could be adopted.
    NothingWritten,
    /// The lists, or what is decided of them, are others than when the tally of record was written.
    WrittenIsOld(PathBuf),
    /// A tally of record that could not be written.
    RecordNotWritten {
        /// The file.
        file: PathBuf,
        /// Why, in the words of the error.
        error: String,
    },
    /// No name is free.
    NamesTaken {
        /// The name without number and ending.
        stem: String,
        /// How many names were tried.
        tried: usize,
    },
    /// The files were read again.
    ReadAgain {
        /// What was closed for it.
        closed: Option<Closed>,
        /// What the cursor lost.
        lost: Option<Lost>,
        /// Each change, in words.
        changes: Vec<String>,
    },
}
