//! What the screens say once, of what a key or a change of the files came to: data, whose sentences
//! are in [`words::said`](super::words::said).

use std::path::PathBuf;

use crate::finding::Code;
use crate::job::DecisionsUnreadable;
use crate::measure::{Length, LengthError};
use crate::reconcile::{Refusal, Topic};
use crate::tally::{FileNote, SkipReason};

/// A difference between two lists of a string, by names.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DifferenceName {
    /// The slot.
    pub slot: String,
    /// The other list.
    pub list: String,
    /// The joint's number.
    pub joint: String,
    /// What differs.
    pub topic: Topic,
}

/// Why something that was in front of a person is no longer what it was.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Gone {
    /// Its slot is not in the job any more.
    Slot,
    /// Its list is not in the job any more.
    List,
    /// Its list cannot be read any more.
    ListUnreadable,
    /// The two lists agree about it now.
    Agrees,
    /// The lists say something else now.
    Figures,
}

/// What lay over a screen and was closed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Closed {
    /// A measured length being typed.
    Entry(DifferenceName, Gone),
    /// A difference.
    Difference(DifferenceName, Gone),
    /// How a figure of this slot came about.
    Figure(String),
    /// A flag.
    Flag(Code),
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
    /// A difference: what of which joint.
    Difference(Topic, String),
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
    /// There is no difference to open.
    NoDifference,
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
    NotDecided(DifferenceName, Gone),
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
    /// A measured length without a note.
    NoteMissing,
    /// A decision that is on the disk.
    Decided {
        /// The number of its entry.
        seq: u64,
        /// What of the joint.
        topic: Topic,
        /// Its number.
        joint: String,
    },
    /// Nobody has said who decides.
    WhoDecides,
    /// A tally of record that is on the disk.
    RecordWritten {
        /// The file.
        file: PathBuf,
        /// How many differences are not decided in it.
        open: usize,
    },
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
