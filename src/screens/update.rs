//! What a key or a change of the files does to the state: a pure function, tested without a terminal.

use super::identity::DifferenceId;
use super::state::{Overlay, Place, Screen, State, start};
use super::{changes, cut, floor, overview, profile, reconcile, tally};
use crate::figures::{self, Figures, how};
use crate::job::Inputs;
use crate::reconcile::{Decision, Stands};
use std::path::PathBuf;

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
    /// The tally of record, or the other list, stands in a difference.
    Decide(Box<DifferenceId>, Stands),
    /// Enter a value that was measured again, for a difference.
    Measure(Box<DifferenceId>),
    /// The next list of the slot.
    NextList,
    /// Write the tally of record.
    WriteRecord,
    /// An effect has something to say.
    Said(String),
    /// Read the files again.
    Reload,
    /// The files were read again, or why they could not be.
    Reloaded(Box<Result<Inputs, String>>),
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
    /// Add a decision to a file of the job's folder.
    Decide {
        /// What is decided.
        of: Box<DifferenceId>,
        /// The file, relative to the folder.
        file: PathBuf,
        /// The decision.
        decision: Decision,
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

/// How far a movement goes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Step {
    /// So many back.
    Back(usize),
    /// So many on.
    On(usize),
    /// To the first.
    First,
    /// To the last.
    Last,
}

impl Step {
    /// The place after the step, among so many.
    pub(super) fn from(self, at: usize, count: usize) -> usize {
        let last = count.saturating_sub(1);
        match self {
            Self::Back(by) => at.saturating_sub(by),
            Self::On(by) => at.saturating_add(by).min(last),
            Self::First => 0,
            Self::Last => last,
        }
    }
}

/// Changes the state, and says what the driver must do.
pub fn update(state: &mut State, action: Action) -> Vec<Effect> {
    // A resize or a reload does not answer the person, so it does not take away what was said.
    if !matches!(
        action,
        Action::Resize(..) | Action::Reloaded(_) | Action::Said(_)
    ) {
        state.message = None;
    }
    let page = state.body_rows().saturating_sub(2).max(1);
    match action {
        Action::Quit => return vec![Effect::Quit],
        Action::Reload => return vec![Effect::Reload],
        Action::Resize(columns, rows) => state.size = (columns, rows),
        Action::Reloaded(read) => reloaded(state, *read),
        Action::Go(screen) => {
            state.overlay = Overlay::None;
            state.screen = screen;
            state.row = state.slot;
        }
        Action::Up => step(state, Step::Back(1)),
        Action::Down => step(state, Step::On(1)),
        Action::PageUp => step(state, Step::Back(page)),
        Action::PageDown => step(state, Step::On(page)),
        Action::Home => step(state, Step::First),
        Action::End => step(state, Step::Last),
        Action::Left | Action::Right => {
            let right = matches!(action, Action::Right);
            if state.screen == Screen::Overview && state.overlay == Overlay::None {
                let by = if right { Step::On(1) } else { Step::Back(1) };
                state.column = by.from(state.column, overview::COLUMNS);
            } else {
                turn(state, right);
            }
        }
        Action::NextSlot => turn(state, true),
        Action::PreviousSlot => turn(state, false),
        Action::Open => {
            let effects = open(state);
            state.settle();
            return effects;
        }
        Action::Decide(of, stands) => return reconcile::decide(state, &of, stands, String::new()),
        Action::Measure(of) => reconcile::measure(state, of),
        Action::NextList => reconcile::turn_list(state),
        Action::WriteRecord => return reconcile::write(state),
        Action::Said(text) => state.message = Some(text),
        Action::Back => {
            if state.overlay == Overlay::None {
                state.screen = Screen::Overview;
            }
            state.overlay = Overlay::None;
        }
        Action::Help => {
            state.overlay = match state.overlay {
                Overlay::Help(_) => Overlay::None,
                _ => Overlay::Help(0),
            }
        }
        Action::Units => state.show = state.show.next(),
        Action::Find => state.overlay = Overlay::Find(String::new()),
        Action::FindNext => tally::find(state),
        Action::Type(letter) => {
            if let Overlay::Find(text) | Overlay::Enter { text, .. } = &mut state.overlay
                && text.chars().count() < 60
            {
                text.push(letter);
            }
        }
        Action::Erase => {
            if let Overlay::Find(text) | Overlay::Enter { text, .. } = &mut state.overlay {
                text.pop();
            }
        }
        Action::Changes => {
            state.overlay = Overlay::Changes(0);
            state.seen = None;
        }
        Action::JointIn => floor::step(state, Step::On(1)),
        Action::JointOut => floor::step(state, Step::Back(1)),
        Action::ZoomIn => profile::zoom(state, true),
        Action::ZoomOut => profile::zoom(state, false),
        Action::Fit => state.view = state.whole_view(),
    }
    state.settle();
    Vec::new()
}

/// The next slot or the one before, round and round. The overview's row follows.
fn turn(state: &mut State, on: bool) {
    let slots = state.figures.slots.len().max(1);
    let by = if on { 1 } else { slots - 1 };
    state.slot = (state.slot + by) % slots;
    if state.screen == Screen::Overview {
        state.row = state.slot;
    }
    // Another slot may not have the figure that is open.
    if matches!(state.overlay, Overlay::How(..)) {
        state.overlay = Overlay::None;
    }
}

fn step(state: &mut State, step: Step) {
    let lines = overlay_lines(state);
    match &mut state.overlay {
        Overlay::Help(at) | Overlay::How(_, at) | Overlay::Changes(at) | Overlay::Words(_, at) => {
            *at = step.from(*at, lines);
            return;
        }
        Overlay::Find(_) | Overlay::Enter { .. } => return,
        Overlay::None => {}
    }
    match state.screen {
        Screen::Overview => {
            let slots = state.figures.slots.len();
            state.row = step.from(state.row, slots + overview::flags(state).len());
            if state.row < slots {
                state.slot = state.row;
            }
        }
        Screen::Tally => {
            let rows = tally::rows(state);
            if let Some(place) = state.places.get_mut(state.slot) {
                place.tally = step.from(place.tally, rows);
            }
        }
        Screen::Cut => {
            let lines = cut::count(state);
            if let Some(place) = state.places.get_mut(state.slot) {
                place.cut = step.from(place.cut, lines);
            }
        }
        Screen::Reconcile => reconcile::step(state, step),
        Screen::Profile => profile::step(state, step),
        Screen::Floor => floor::step(state, step),
    }
}

/// How many places there are to scroll to in what lies on top.
fn overlay_lines(state: &State) -> usize {
    match &state.overlay {
        Overlay::Help(_) => (super::help::lines(state).len() + 2).saturating_sub(state.body_rows()),
        Overlay::How(subject, _) => super::how::places(state, *subject),
        Overlay::Changes(_) | Overlay::Words(..) => {
            (super::chrome::overlay_lines(state).len() + 2).saturating_sub(state.body_rows())
        }
        Overlay::None | Overlay::Find(_) | Overlay::Enter { .. } => 0,
    }
}

fn open(state: &mut State) -> Vec<Effect> {
    match state.overlay.clone() {
        Overlay::Find(text) => {
            state.sought = text;
            state.overlay = Overlay::None;
            tally::find(state);
            return Vec::new();
        }
        Overlay::Enter { of, value, text } => return reconcile::entered(state, of, value, &text),
        _ => {}
    }
    match state.screen {
        Screen::Overview => overview::open(state),
        Screen::Tally => tally::open(state),
        Screen::Reconcile => reconcile::open(state),
        Screen::Cut => cut::open(state),
        Screen::Floor => {
            let pieces_in = state.place().pieces_in;
            show_how(state, Some(how::Subject::Run(pieces_in)));
        }
        Screen::Profile => {}
    }
    Vec::new()
}

/// Opens how a figure came about, or says that there is nothing to open.
pub(super) fn show_how(state: &mut State, subject: Option<how::Subject>) {
    match subject.filter(|subject| super::how::of(state, *subject).is_some()) {
        Some(subject) => state.overlay = Overlay::How(subject, 0),
        None => state.message = Some("there is no figure here to open".to_owned()),
    }
}

fn reloaded(state: &mut State, read: Result<Inputs, String>) {
    let inputs = match read {
        Ok(inputs) => inputs,
        Err(reason) => {
            // What was said before gives way: why the figures are old matters more.
            state.message = None;
            state.old = Some(reason);
            return;
        }
    };
    let figures = figures::of_folder(&inputs);
    // Slots keep what belongs to them by their names: the one in front, and where one was in each.
    let at = |name: &str| {
        let mut slots = inputs.job.slots.iter();
        slots.position(|slot| slot.name == name)
    };
    let found = state.current().and_then(|(slot, _, _)| at(&slot.name));
    let mut places: Vec<Place> = figures.slots.iter().map(start).collect();
    for (index, slot) in state.inputs.job.slots.iter().enumerate() {
        let Some(now) = at(&slot.name) else { continue };
        let basis = |all: &Figures, index: usize| all.slots.get(index).map(|slot| slot.basis);
        let (Some(was), Some(place)) = (state.places.get(index), places.get_mut(now)) else {
            continue;
        };
        // A slot whose stick-up was read meanwhile starts anew on the floor, with all in.
        let pieces_in = if basis(&state.figures, index) == basis(&figures, now) {
            was.pieces_in
        } else {
            place.pieces_in
        };
        *place = Place { pieces_in, ..*was };
    }
    let old_folder = std::mem::replace(&mut state.inputs, inputs);
    let old_figures = std::mem::replace(&mut state.figures, figures);
    // Told from what the person last looked at, so that a second change hides nothing of the first.
    let seen = state
        .seen
        .get_or_insert_with(|| Box::new((old_folder, old_figures)));
    state.changes = changes::between(
        state.show,
        (&seen.0, &seen.1),
        (&state.inputs, &state.figures),
    );
    state.message = Some(match state.changes.len() {
        0 => "files read again: no figure and no flag changed".to_owned(),
        1 => state.changes.join(""),
        many => format!(
            "{many} changes (m lists them): {}",
            state.changes.join("; ")
        ),
    });
    if state.changes.is_empty() {
        state.seen = None;
    }
    state.places = places;
    state.slot = found.unwrap_or(0);
    if state.row >= state.figures.slots.len() {
        state.row = state.slot;
    }
    state.old = None;
    reconcile::refuse_what_is_gone(state);
    if matches!(state.overlay, Overlay::How(..)) {
        state.overlay = Overlay::None;
    }
}
