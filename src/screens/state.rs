//! What the screens show: the job, its figures, and where the person is.

use std::collections::BTreeMap;
use std::path::PathBuf;

use super::cursor::SlotCursor;
use super::deck::DeckCursor;
use super::entry::Form;
use super::levels::LevelsCursor;
use super::loaded::Loaded;
use super::overlay::Overlay;
use super::overview;
use super::parts::kept::Kept;
use super::parts::list::ListItem;
use super::parts::table::ScreenTable;
use super::profile::View;
use super::reconcile::Deciding;
use super::record::RecordCursor;
use super::screen::Screen;
use super::tally::{FilledColumns, JointNames, TallyOrder};
use crate::figures::{Figures, Levels, Seating, SlotFigures, SlotLists, SlotView};
use crate::job::Slot;
use crate::journal::{Inputs, Moment, Placed};
use crate::measure::{Elevation, Length, LengthFormat};
use crate::report::said::Said;
use crate::report::words;
use crate::tally::Tally;

/// A tally of record that was written.
#[derive(Clone, Debug, PartialEq)]
pub struct WrittenRecord {
    /// Its slot.
    pub slot: String,
    /// Its file, relative to the job's folder.
    pub file: PathBuf,
    /// The SHA-256 of its bytes.
    pub sha256: String,
    /// How many things are not decided in it.
    pub open: usize,
    /// The lists, with all decisions, that it was made of.
    pub made_of: Box<SlotLists>,
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
    /// The name of the slot in front.
    pub slot: String,
    /// Where the cursor of the overview is.
    pub overview: overview::OverviewCursor,
    /// Where the person is in each slot, by its name.
    pub cursors: BTreeMap<String, SlotCursor>,
    /// The part of the profile in sight.
    pub view: View,
    /// What lies over the screen.
    pub overlay: Overlay,
    /// Something to say until the next key.
    pub message: Option<Said>,
    /// What changed in the files since the person last looked.
    pub changes: Vec<String>,
    /// The job and its figures as the person last saw them; what changed is told from here.
    pub seen: Option<Box<(Inputs, Figures)>>,
    /// Whether the person has looked at what changed since then.
    pub looked: bool,
    /// Why the figures are old, where they are.
    pub old: Option<String>,
    /// Why the copy of the journal in the second folder is behind, where it is.
    pub copy_behind: Option<String>,
    /// Who enters, by initials.
    pub person: Option<String>,
    /// The tally of record that was written last.
    pub written: Option<WrittenRecord>,
    /// The lists of which a tally of record is being written.
    pub writing: Option<Box<SlotLists>>,
    /// Decisions that are being written.
    pub deciding: Option<Box<Deciding>>,
    /// A form whose event is being written.
    pub sent: Option<Box<Form>>,
    /// The file of the private key that each person typed last, by initials.
    pub key_files: BTreeMap<String, String>,
    /// Where the person is in the record.
    pub record: RecordCursor,
    /// All readings of heights, adjusted, or why they are not.
    pub levels: Result<Levels, String>,
    /// Where the person is among them.
    pub at_level: LevelsCursor,
    /// The deck on its tops, or why it is not seated; `None` until someone looks.
    pub seating: Option<Result<Seating, String>>,
    /// Where the person is on the deck.
    pub at_deck: DeckCursor,
    /// The time of the clock, where something is counted down; `None` until the driver says it.
    pub now: Option<Moment>,
    /// For each slot in which columns of its tally anything stands.
    pub filled: Vec<FilledColumns>,
    /// By slot, what its joints are called.
    pub names: Vec<JointNames>,
    /// By slot, the code of its slip.
    pub slips: Vec<String>,
    /// The row of each slot, for a unit, plain signs or not, and old figures or not, of this reading.
    pub(super) slot_table: Kept<(LengthFormat, bool, bool), ScreenTable<'static>>,
    /// The flags of all slots in lines, for a unit and so many columns, of this reading.
    pub(super) flag_items: Kept<(LengthFormat, u16), Vec<ListItem<()>>>,
    /// Which end of a string is at the top of its tally.
    pub tally_order: TallyOrder,
    /// Whether the screens have the mouse.
    pub mouse: bool,
    /// What was last looked for.
    pub sought: String,
    /// Columns and rows of the terminal.
    pub size: (u16, u16),
}

/// The least terminal: columns and rows.
pub const LEAST: (u16, u16) = (80, 24);

/// Rows of the terminal that no screen has: the heading and the keys.
pub(super) const CHROME: u16 = 4;

impl State {
    /// Starts on the overview of a job.
    pub fn new(inputs: Inputs, size: (u16, u16)) -> Self {
        let Loaded {
            inputs,
            figures,
            slips,
            names,
            filled,
            levels,
        } = Loaded::from(inputs);
        let zero = Elevation::above_datum(Length::ZERO);
        let mut state = Self {
            show: LengthFormat::new(inputs.job.units),
            screen: Screen::Overview,
            slot: inputs
                .job
                .slots
                .first()
                .map_or_else(String::new, |slot| slot.name.clone()),
            overview: overview::OverviewCursor::default(),
            cursors: BTreeMap::new(),
            view: View {
                top: zero,
                span: Length::from_mm(1000),
                cursor: zero,
            },
            overlay: Overlay::None,
            message: None,
            changes: Vec::new(),
            seen: None,
            looked: false,
            old: None,
            copy_behind: None,
            person: None,
            written: None,
            writing: None,
            deciding: None,
            sent: None,
            key_files: BTreeMap::new(),
            record: RecordCursor::default(),
            levels,
            at_level: LevelsCursor::default(),
            seating: None,
            at_deck: DeckCursor::default(),
            now: None,
            filled,
            names,
            slips,
            slot_table: Kept::default(),
            flag_items: Kept::default(),
            tally_order: TallyOrder::default(),
            mouse: false,
            sought: String::new(),
            size,
            inputs,
            figures,
        };
        state.view = state.whole_view();
        state
    }

    /// What there is to say until the next key, in the unit in use.
    pub fn message(&self) -> Option<String> {
        let said = self.message.as_ref()?;
        Some(words::said(said, self.show))
    }

    /// Which of the job's slots has a name.
    pub fn index_of(&self, slot: &str) -> Option<usize> {
        let mut slots = self.inputs.job.slots.iter();
        slots.position(|it| it.name == slot)
    }

    /// Which of the job's slots is in front.
    pub fn slot_index(&self) -> usize {
        self.index_of(&self.slot).unwrap_or(0)
    }

    /// Brings a slot to the front.
    pub(super) fn bring_to_front(&mut self, slot: usize) {
        if let Some(slot) = self.inputs.job.slots.get(slot) {
            self.slot.clone_from(&slot.name);
        }
    }

    /// The slot in front, with its tally and figures.
    pub(super) fn current(&self) -> Option<(&Slot, &Tally, &SlotFigures)> {
        self.of(self.slot_index())
    }

    /// A slot with its tally and figures.
    pub(super) fn of(&self, slot: usize) -> Option<(&Slot, &Tally, &SlotFigures)> {
        Some((
            self.inputs.job.slots.get(slot)?,
            self.inputs.tallies.get(slot)?,
            self.figures.slots.get(slot)?,
        ))
    }

    /// The slot in front with what belongs to it, as the sentences want it.
    pub(super) fn view(&self) -> Option<SlotView<'_>> {
        let (slot, tally, _) = self.current()?;
        Some(SlotView {
            job: &self.inputs.job,
            index: self.slot_index(),
            slot,
            tally,
        })
    }

    /// Where the person is in the slot in front.
    pub(super) fn cursor(&self) -> Option<&SlotCursor> {
        self.cursors.get(&self.slot)
    }

    /// The same, to move it.
    pub(super) fn cursor_mut(&mut self) -> &mut SlotCursor {
        self.cursors.entry(self.slot.clone()).or_default()
    }

    /// How many joints hang in the slot in front by the journal; `None` where it has no joint of it.
    pub(super) fn entered(&self) -> Option<usize> {
        let run = self.figures.running.get(self.slot_index())?.joints_run;
        (run > 0).then_some(run)
    }

    /// The grout or cement that was placed last in a slot, until a stick-up was read after its time.
    pub(super) fn placed(&self, slot: usize) -> Option<&Placed> {
        let said = self.inputs.record.slots.get(slot)?;
        let placed = said.placed.iter().map(|it| &it.what);
        let placed = placed.max_by_key(|it| it.until.seconds())?;
        let until = placed.until.seconds();
        let read_after = said.stick_ups.iter().any(|it| it.at.seconds() >= until);
        (!read_after).then_some(placed)
    }

    /// Whether the picture changes as time goes: something is counted down.
    pub fn counts_down(&self) -> bool {
        self.screen == Screen::Floor && self.placed(self.slot_index()).is_some()
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
            all.extend(figures.chain.top);
            all.extend(figures.chain.shoe);
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
}
