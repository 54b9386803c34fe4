//! What can lie over a screen. Each says what it speaks of, so that it is never shown of something
//! else once the files were read again.

use super::entry::Form;
use super::identity::{FigureKey, FlagId};
use super::levels::OpenedLevel;
use super::reconcile::{Deciding, ThingId};
use super::screen::Screen;
use super::signing::{SignStage, Signing};
use crate::job::{Hold, Role};

/// Where a line leads.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Leads {
    /// Nowhere.
    Nowhere,
    /// To a screen.
    Screen(Screen),
    /// To the statement of a hold point, to be signed in a role.
    Sign(Hold, Role),
    /// To the form of an event, with the flag that it is about.
    Form(&'static str, Option<&'static str>),
}

/// One line of what a hold point lacks.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct HoldLine {
    /// What it says.
    pub text: String,
    /// Where it leads.
    pub leads: Leads,
}

/// The palette.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Palette {
    /// What is typed.
    pub text: String,
    /// Which of the commands it names is in front.
    pub at: usize,
    /// What lies under it, where its commands work.
    pub under: Overlay,
}

/// What lies over a screen.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Overlay {
    /// Nothing.
    None,
    /// What the screen shows and which keys work, from a line on.
    Help(usize),
    /// How a figure came about.
    How {
        /// The slot's name.
        slot: String,
        /// Its figure.
        figure: FigureKey,
        /// From which step on.
        at: usize,
    },
    /// What changed in the files, from a line on.
    Changes(usize),
    /// What a flag says, from a line on.
    Flag(FlagId, usize),
    /// What the lists say of a joint, from a line on.
    Thing(Box<ThingId>, usize),
    /// All of a reading or a point, from a line on.
    Level(Box<OpenedLevel>, usize),
    /// What is about to be decided, with its reason being typed.
    Deciding(Box<Deciding>),
    /// The events that can be entered, with the cursor on one.
    Menu(usize),
    /// A form being filled in.
    Form(Box<Form>),
    /// What the next hold point of the slot in front lacks, with the cursor on a line.
    Hold {
        /// The lines.
        lines: Vec<HoldLine>,
        /// The cursor.
        at: usize,
    },
    /// A statement that is read and signed.
    Sign(Box<Signing>),
    /// The commands, one being typed.
    Palette(Box<Palette>),
    /// A joint being typed.
    Find(String),
    /// The initials of the one who enters, being typed.
    Who(String),
    /// A value that was measured again, being typed.
    Measured {
        /// Of what.
        of: Box<ThingId>,
        /// What is typed so far.
        text: String,
    },
}

impl Overlay {
    /// Whether letters go into it.
    pub fn is_typed_into(&self) -> bool {
        match self {
            Self::Find(_)
            | Self::Who(_)
            | Self::Measured { .. }
            | Self::Deciding(_)
            | Self::Palette(_)
            | Self::Form(_) => true,
            Self::Sign(of) => !matches!(of.stage, SignStage::Reading(_)),
            _ => false,
        }
    }
}
