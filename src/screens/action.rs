//! What can happen to the state, and what the driver must do of it.

use std::path::PathBuf;

use super::loaded::Loaded;
use crate::journal::Moment;
use crate::report::RecordFile;
use crate::report::said::Said;
use crate::screens::reconcile::ThingId;
use crate::screens::screen::Screen;
use crate::screens::signing::ToSign;

/// What can happen.
#[derive(Clone, Debug)]
pub enum Action {
    /// Go to a screen.
    Go(Screen),
    /// Up.
    Up,
    /// Down.
    Down,
    /// Left.
    Left,
    /// Right.
    Right,
    /// A page up.
    PageUp,
    /// A page down.
    PageDown,
    /// To the first.
    Home,
    /// To the last.
    End,
    /// The next slot.
    NextSlot,
    /// The slot before.
    PreviousSlot,
    /// Open what is selected.
    Open,
    /// Back.
    Back,
    /// Explain the screen.
    Help,
    /// Switch units.
    Units,
    /// Look for a joint.
    Find,
    /// The next that was looked for.
    FindNext,
    /// A letter of what is looked for.
    Type(char),
    /// A text that was pasted.
    Paste(String),
    /// Take a letter back.
    Erase,
    /// Show what changed.
    Changes,
    /// One more joint in.
    JointIn,
    /// One less.
    JointOut,
    /// Look closer.
    ZoomIn,
    /// See more.
    ZoomOut,
    /// See all.
    Fit,
    /// List the joints the other way round.
    TallyOrder,
    /// To the next thing further down.
    FeatureDown,
    /// To the next thing further up.
    FeatureUp,
    /// Something of the lists of a string.
    Lists(ListAction),
    /// Show the events that can be entered.
    Menu,
    /// Open the form of an event.
    Enter(&'static str),
    /// Show what the next hold point lacks.
    Holds,
    /// Sign the statement that was read.
    Sign,
    /// Sign on paper, or with a key again.
    OnPaper,
    /// Strike the entry under the cursor.
    Strike,
    /// Another person enters.
    NextPerson,
    /// List the entries of all slots, or of the one in front.
    Filter,
    /// Show the commands by name.
    Palette,
    /// Copy the figure under the cursor.
    Copy,
    /// Take the mouse, or give it back.
    Mouse,
    /// Put the cursor on a row of what is shown.
    ToRow(usize),
    /// Put the cursor on a point of the levels.
    ToPoint(usize),
    /// Bring a slot to the front.
    ToSlot(usize),
    /// An effect has something to say.
    Said(Said),
    /// The clock says this.
    Clock(Moment),
    /// Read the files again.
    Reload,
    /// The files were read again, or why they could not be.
    Reloaded(Box<Result<Loaded, String>>),
    /// The terminal has another size: columns and rows.
    Resize(u16, u16),
    /// Quit.
    Quit,
}

/// What can happen to the lists of the string in front.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ListAction {
    /// Take what the list under the cursor says of the thing in front.
    Take,
    /// Enter a value that was measured again, for the thing in front.
    Measure,
    /// Set the thing in front open again.
    Reopen,
    /// Take what most lists say wherever nobody has decided.
    TakeMajority,
    /// Keep what the tally of record says where lists differ by rounding alone.
    KeepRounded,
    /// Take the person's last decision back.
    TakeBack,
    /// Write the tally of record, as text or as a workbook.
    Write(RecordFile),
    /// Adopt the tally of record that was written.
    Adopt,
}

/// What the driver must do.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Effect {
    /// Leave.
    Quit,
    /// Read the files again.
    Reload,
    /// Enter an event, one JSON object.
    Enter(String),
    /// Hand a text to the terminal, to be copied.
    Copy(String),
    /// Take the mouse, or give it back.
    Mouse(bool),
    /// Sign a statement.
    Sign(Box<ToSign>),
    /// Enter decisions, one after the other.
    Decide(Vec<ToDecide>),
    /// Adopt a file of the job as a slot's tally of record.
    Adopt {
        /// The slot.
        slot: String,
        /// The file, relative to the job's folder.
        file: PathBuf,
        /// The SHA-256 of its bytes as they were written.
        sha256: String,
        /// Who adopts it.
        by: String,
    },
    /// Write a new file into a folder of the job's folder.
    Write {
        /// The folder, relative to the job's.
        folder: PathBuf,
        /// The name without its ending; a number follows where it is taken.
        stem: String,
        /// Its ending.
        ending: &'static str,
        /// What to write.
        bytes: Vec<u8>,
        /// How many things are not decided in it.
        open: usize,
    },
}

/// A decision to be entered, if what it is about is still what was seen.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ToDecide {
    /// The event, one JSON object.
    pub event: String,
    /// What it is about, as it was seen.
    pub thing: ThingId,
}
