//! What the screens show: the job, its figures, and where the person is.

use crate::figures::{self, Basis, Figures, SlotFigures, how::Subject};
use crate::job::{Inputs, Slot};
use crate::measure::{Elevation, Length, LengthFormat};
use crate::tally::Tally;

/// The screens, in the order in which the job flows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Screen {
    /// A row a slot, and the flags.
    Overview,
    /// One string, joint by joint.
    Tally,
    /// Another list of the string against the tally of record.
    Reconcile,
    /// All conductors to scale.
    Profile,
    /// The sheet by which the cutter works.
    Cut,
    /// Very large figures for the floor.
    Floor,
}

impl Screen {
    /// All of them, in the order of their keys.
    pub const ALL: [Self; 6] = [
        Self::Overview,
        Self::Tally,
        Self::Reconcile,
        Self::Profile,
        Self::Cut,
        Self::Floor,
    ];

    /// Its name.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Overview => "Overview",
            Self::Tally => "Tally",
            Self::Reconcile => "Reconcile",
            Self::Profile => "Profile",
            Self::Cut => "Cut",
            Self::Floor => "Floor",
        }
    }
}

/// What lies over a screen.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Overlay {
    /// Nothing.
    None,
    /// What the screen shows and which keys work, from a line on.
    Help(usize),
    /// How a figure came about, from a step on.
    How(Subject, usize),
    /// What the changes of the files moved, from a line on.
    Moved(usize),
    /// A text too long for one line, from a line on.
    Words(String, usize),
    /// A joint being typed.
    Find(String),
    /// A measured length being typed, and then its note.
    Enter {
        /// The length, once it is read.
        value: Option<Length>,
        /// What is typed so far.
        text: String,
    },
}

/// Where the person is in one slot.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Place {
    /// The row of the tally.
    pub tally: usize,
    /// The line of the cut.
    pub cut: usize,
    /// How many pieces are in.
    pub pieces_in: usize,
    /// The other list in front, and the difference in it.
    pub list: usize,
    /// The difference in front.
    pub difference: usize,
}

/// The part of the profile that is in sight.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct View {
    /// The elevation of its upper edge.
    pub top: Elevation,
    /// How much of it is in sight.
    pub span: Length,
    /// The elevation that the cursor reads.
    pub cursor: Elevation,
}

/// Everything that the screens show.
#[derive(Clone, Debug)]
pub struct State {
    /// The job as last read without problems.
    pub inputs: Inputs,
    /// Its figures.
    pub figures: Figures,
    /// The unit.
    pub show: LengthFormat,
    /// The screen.
    pub screen: Screen,
    /// The slot.
    pub slot: usize,
    /// The row of the overview: slots, then flags.
    pub row: usize,
    /// The column of the overview.
    pub column: usize,
    /// Where the person is in each slot.
    pub places: Vec<Place>,
    /// The part of the profile in sight.
    pub view: View,
    /// What lies over the screen.
    pub overlay: Overlay,
    /// Something to say until the next key.
    pub message: Option<String>,
    /// What the changes of the files moved since the person last looked.
    pub moved: Vec<String>,
    /// The job and its figures as the person last saw them; what moved is told from here.
    pub seen: Option<Box<(Inputs, Figures)>>,
    /// Why the figures are old, where they are.
    pub old: Option<String>,
    /// What was last looked for.
    pub sought: String,
    /// Columns and rows of the terminal.
    pub size: (u16, u16),
}

/// Rows of the terminal that no screen has: the heading and the keys.
pub(super) const CHROME: u16 = 4;

impl State {
    /// Starts on the overview of a job.
    pub fn new(inputs: Inputs, size: (u16, u16)) -> Self {
        let figures = figures::of_folder(&inputs);
        let zero = Elevation::above_datum(Length::ZERO);
        let mut state = Self {
            show: LengthFormat::new(inputs.job.units),
            screen: Screen::Overview,
            slot: 0,
            row: 0,
            column: 0,
            places: figures.slots.iter().map(start).collect(),
            view: View {
                top: zero,
                span: Length::from_mm(1000),
                cursor: zero,
            },
            overlay: Overlay::None,
            message: None,
            moved: Vec::new(),
            seen: None,
            old: None,
            sought: String::new(),
            size,
            inputs,
            figures,
        };
        state.view = state.whole_view();
        state
    }

    /// The slot in front, with its tally and figures.
    pub(super) fn current(&self) -> Option<(&Slot, &Tally, &SlotFigures)> {
        self.of(self.slot)
    }

    /// A slot with its tally and figures.
    pub(super) fn of(&self, slot: usize) -> Option<(&Slot, &Tally, &SlotFigures)> {
        Some((
            self.inputs.job.slots.get(slot)?,
            self.inputs.tallies.get(slot)?,
            self.figures.slots.get(slot)?,
        ))
    }

    /// Where the person is in the slot in front.
    pub(super) fn place(&self) -> Place {
        self.places.get(self.slot).copied().unwrap_or_default()
    }

    /// The number of a piece's joint, or of a landing piece.
    pub(super) fn number(&self, slot: usize, joint: usize) -> &str {
        let tally = self.inputs.tallies.get(slot);
        tally
            .and_then(|tally| tally.joints.get(joint))
            .map_or("", |joint| joint.number.as_str())
    }

    /// Rows that a screen has.
    pub(super) fn body_rows(&self) -> usize {
        usize::from(self.size.1.saturating_sub(CHROME)).max(1)
    }

    /// The view that holds all there is.
    pub(super) fn whole_view(&self) -> View {
        let job = &self.inputs.job;
        let mut all = vec![job.deck.elevation];
        all.extend(job.hulls.iter().map(|hull| hull.stick_up_surface()));
        all.extend(job.slots.iter().map(|slot| job.mudline(slot)));
        for figures in &self.figures.slots {
            all.extend(figures.top);
            all.extend(figures.shoe);
        }
        let highest = all.iter().max().copied().unwrap_or(job.deck.elevation);
        let lowest = all.iter().min().copied().unwrap_or(job.deck.elevation);
        let margin = Length::from_nm((highest - lowest).nm() / 20) + Length::from_mm(500);
        let cursor = self
            .current()
            .map_or(job.deck.elevation, |(_, _, figures)| figures.cut.target);
        View {
            top: highest + margin,
            span: (highest - lowest) + margin + margin,
            cursor,
        }
    }

    /// Keeps every position inside what there is.
    pub(super) fn settle(&mut self) {
        let slots = self.figures.slots.len();
        self.slot = self.slot.min(slots.saturating_sub(1));
        // The overview's cursor stands on the slot in front, unless it is among the flags.
        if self.row < slots {
            self.row = self.slot;
        }
        self.row = self
            .row
            .min((slots + super::overview::flags(self).len()).saturating_sub(1));
        self.column = self.column.min(super::overview::COLUMNS - 1);
        self.places.truncate(slots);
        for (index, figures) in self.figures.slots.iter().enumerate() {
            let pieces = figures.string.pieces.len() + figures.string.landing.len();
            if let Some(place) = self.places.get_mut(index) {
                place.pieces_in = place.pieces_in.min(pieces);
            } else {
                self.places.push(start(figures));
            }
        }
        let whole = self.whole_view();
        self.view.cursor = self.view.cursor.clamp(whole.top - whole.span, whole.top);
        let rows = super::tally::rows(self);
        let lines = super::cut::count(self);
        let differences = super::reconcile::count(self);
        if let Some(place) = self.places.get_mut(self.slot) {
            place.tally = place.tally.min(rows.saturating_sub(1));
            place.cut = place.cut.min(lines.saturating_sub(1));
            place.difference = place.difference.min(differences.saturating_sub(1));
        }
    }
}

/// Before it is run the floor starts with nothing in; what is read stands as it is.
pub(super) fn start(figures: &SlotFigures) -> Place {
    let pieces = figures.string.pieces.len() + figures.string.landing.len();
    Place {
        pieces_in: if figures.basis == Basis::Read {
            pieces
        } else {
            0
        },
        ..Place::default()
    }
}
