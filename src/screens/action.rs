//! What can happen to the state, and what the driver must do of it.

use std::path::PathBuf;

use crate::folder::Loaded;
use crate::journal::Moment;
use crate::reconcile::{Stands, Topic};
use crate::report::said::Said;
use crate::screens::identity::DifferenceId;
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
    /// The tally of record, or the other list, applies to a difference.
    Decide(Box<DifferenceId>, Stands),
    /// Enter a value that was measured again, for a difference.
    Measure(Box<DifferenceId>),
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
    /// The next list of the slot.
    NextList,
    /// Write the tally of record.
    WriteRecord,
    /// Adopt the tally of record that was written.
    Adopt,
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

/// What the driver must do.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Effect {
    /// Leave.
    Quit,
    /// Read the files again.
    Reload,
    /// Enter an event, one JSON object.
    Enter(String),
    /// Sign a statement.
    Sign(Box<ToSign>),
    /// Enter a decision, one JSON object.
    Decide {
        /// The event.
        event: String,
        /// What of the joint.
        topic: Topic,
        /// Its number.
        joint: String,
    },
    /// Adopt a file of the job as a slot's tally of record.
    Adopt {
        /// The slot.
        slot: String,
        /// The file, relative to the job's folder.
        file: PathBuf,
        /// Who adopts it.
        by: String,
    },
    /// Write a new file into a folder of the job's folder.
    Write {
        /// The slot whose tally it is.
        slot: String,
        /// The other list that went into it.
        list: String,
        /// The folder, relative to the job's.
        folder: PathBuf,
        /// The name without its ending; a number follows where it is taken.
        stem: String,
        /// What to write.
        text: String,
        /// How many differences are not decided in it.
        open: usize,
    },
}
