//! What a key or a change of the files does to the state: a pure function, tested without a terminal.

use super::levels::LevelsPage;
use super::movement::Movement;
use super::overlay::Overlay;
use super::parts::{help, how, texts};
use super::reload::{self, reloaded};
use super::screen::Screen;
use super::state::State;
use super::{
    copying, cut, deck, entry, floor, holds, levels, overview, palette, profile, reconcile, record,
    signing, tally,
};

use super::loaded::Loaded;
use crate::report::said::Said;

pub use super::action::{Action, Effect};

/// How many letters can be typed.
const TYPED: usize = 60;
/// The same in a field of a form, which may be a note.
const TYPED_IN_FORM: usize = 300;

/// Changes the state, and says what the driver must do.
pub fn update(state: &mut State, action: Action) -> Vec<Effect> {
    // A resize or a reload does not answer the person, so it does not take away what was said.
    if !matches!(
        action,
        Action::Resize(..) | Action::Reloaded(_) | Action::Said(_) | Action::Clock(_)
    ) {
        state.message = None;
    }
    let page = state.body_rows().saturating_sub(2).max(1);
    match action {
        Action::Quit => return vec![Effect::Quit],
        Action::Reload => return vec![Effect::Reload],
        Action::Resize(columns, rows) => state.size = (columns, rows),
        Action::Reloaded(read) => read_again(state, *read),
        Action::Go(screen) => {
            state.overlay = Overlay::None;
            state.screen = screen;
            state.overview.flag = None;
            look(state);
        }
        Action::Up => step(state, Movement::Back(1)),
        Action::Down => step(state, Movement::On(1)),
        Action::PageUp => step(state, Movement::Back(page)),
        Action::PageDown => step(state, Movement::On(page)),
        Action::Home => step(state, Movement::First),
        Action::End => step(state, Movement::Last),
        Action::Left => sideways(state, Movement::Back(1), false),
        Action::Right => sideways(state, Movement::On(1), true),
        Action::NextSlot => turn(state, true),
        Action::PreviousSlot => turn(state, false),
        Action::Open => return open(state),
        Action::Lists(action) => return reconcile::act(state, action),
        Action::Said(said) => {
            reconcile::written(state, &said);
            signing::answered(state, &said);
            entry::answered(state, &said);
            reconcile::answered(state, &said);
            state.message = Some(said);
        }
        Action::Clock(now) => state.now = Some(now),
        Action::Menu => state.overlay = Overlay::Menu(0),
        Action::Enter(event) => entry::open(state, event),
        Action::Holds => holds::open(state),
        Action::Sign => return signing::sign(state),
        Action::OnPaper => signing::on_paper(state),
        Action::Strike => record::strike(state),
        Action::NextPerson => entry::next_person(state),
        Action::Filter if state.screen == Screen::Reconcile => reconcile::filter(state),
        Action::Filter => state.record.of_slot = !state.record.of_slot,
        Action::Back => back(state),
        Action::Help => {
            state.overlay = match state.overlay {
                Overlay::Help(_) => Overlay::None,
                _ => Overlay::Help(0),
            }
        }
        Action::Units => {
            state.show = state.show.next();
            reload::name_changes(state);
        }
        Action::Find => state.overlay = Overlay::Find(String::new()),
        Action::FindNext => tally::find(state),
        Action::Type(letter) => type_letter(state, letter),
        Action::Paste(pasted) => paste(state, &pasted),
        Action::Erase => erase(state),
        Action::Changes => {
            state.overlay = Overlay::Changes(0);
            state.looked = true;
        }
        Action::JointIn => floor::step(state, Movement::On(1)),
        Action::JointOut => floor::step(state, Movement::Back(1)),
        Action::Palette => palette::open(state),
        Action::Copy => return copying::copy(state),
        Action::Mouse => {
            state.mouse = !state.mouse;
            state.message = Some(Said::Mouse(state.mouse));
            return vec![Effect::Mouse(state.mouse)];
        }
        Action::ToSlot(slot) => to_slot(state, slot),
        Action::ToRow(row) => to_row(state, row),
        Action::ToPoint(row) => levels::move_to(state, LevelsPage::Points, row),
        Action::ZoomIn => profile::zoom(state, true),
        Action::ZoomOut => profile::zoom(state, false),
        Action::TallyOrder => tally::turn(state),
        Action::FeatureDown => profile::jump(state, true),
        Action::FeatureUp => profile::jump(state, false),
        Action::Fit => state.view = state.whole_view(),
    }
    Vec::new()
}

/// Takes what was read again, and all that hangs on it.
fn read_again(state: &mut State, read: Result<Loaded, String>) {
    reloaded(state, read);
    look(state);
    if matches!(state.overlay, Overlay::Hold { .. }) {
        holds::open(state);
    }
    signing::refresh(state);
    if let Some(said) = reconcile::refresh(state) {
        state.message = Some(said);
    }
}

/// Closes what lies on top, or goes back to the overview.
fn back(state: &mut State) {
    if let Overlay::Form(form) = state.overlay.clone() {
        entry::leave(state, form);
        return;
    }
    if matches!(state.overlay, Overlay::Sign(_)) {
        if signing::back(state) {
            holds::open(state);
        }
        return;
    }
    if let Overlay::Palette(palette) = state.overlay.clone() {
        state.overlay = palette.under;
        return;
    }
    if state.overlay == Overlay::None {
        let whole = state.whole_view();
        if state.screen == Screen::Profile && state.view.span < whole.span {
            state.view = profile::View {
                cursor: state.view.cursor,
                ..whole
            };
            return;
        }
        state.screen = Screen::Overview;
    }
    state.overlay = Overlay::None;
}

/// Works out what the screen in front shows and no other does.
fn look(state: &mut State) {
    if state.screen == Screen::Deck {
        deck::work(state);
    }
}

fn type_letter(state: &mut State, letter: char) {
    match &mut state.overlay {
        Overlay::Form(form) => type_into(form, letter),
        Overlay::Sign(of) => {
            if let Some(text) = signing::typed_mut(of).filter(|text| text.len() < TYPED_IN_FORM) {
                text.push(letter);
            }
        }
        Overlay::Find(text) | Overlay::Who(text) | Overlay::Measured { text, .. }
            if text.chars().count() < TYPED =>
        {
            text.push(letter);
        }
        Overlay::Palette(palette) if palette.text.chars().count() < TYPED => {
            palette.text.push(letter);
            palette.at = 0;
        }
        Overlay::Deciding(of) if of.note.chars().count() < TYPED_IN_FORM => of.note.push(letter),
        _ => {}
    }
}

/// Takes the letters of a paste where something is typed, as many as there is room for.
fn paste(state: &mut State, pasted: &str) {
    let letters = pasted.chars().filter(|letter| !letter.is_control());
    match &mut state.overlay {
        Overlay::Form(form) => {
            for letter in letters.take(TYPED_IN_FORM) {
                type_into(form, letter);
            }
        }
        Overlay::Sign(of) => {
            if let Some(text) = signing::typed_mut(of) {
                text.extend(letters.take(TYPED_IN_FORM));
            }
        }
        Overlay::Deciding(of) => {
            let room = TYPED_IN_FORM.saturating_sub(of.note.chars().count());
            of.note.extend(letters.take(room));
        }
        Overlay::Palette(palette) => {
            let room = TYPED.saturating_sub(palette.text.chars().count());
            palette.text.extend(letters.take(room));
            palette.at = 0;
        }
        Overlay::Find(text) | Overlay::Who(text) | Overlay::Measured { text, .. } => {
            let room = TYPED.saturating_sub(text.chars().count());
            text.extend(letters.take(room));
        }
        _ => state.message = Some(Said::PasteIgnored),
    }
}

fn erase(state: &mut State) {
    match &mut state.overlay {
        Overlay::Form(form) if form.stage != entry::Stage::Confirming => {
            if let Some(field) = form.field_mut() {
                field.erase();
            }
        }
        Overlay::Sign(of) => {
            if let Some(text) = signing::typed_mut(of) {
                text.pop();
            }
        }
        Overlay::Deciding(of) => {
            of.note.pop();
        }
        Overlay::Palette(palette) => {
            palette.text.pop();
            palette.at = 0;
        }
        Overlay::Find(text) | Overlay::Who(text) | Overlay::Measured { text, .. } => {
            text.pop();
        }
        _ => {}
    }
}

/// Types a letter into the field of a form.
fn type_into(form: &mut entry::Form, letter: char) {
    if form.stage == entry::Stage::Confirming {
        return;
    }
    if let Some(field) = form.field_mut()
        && field.text.chars().count() < TYPED_IN_FORM
    {
        field.type_letter(letter);
    }
}

/// A column of the overview, a list of Reconcile; elsewhere the next slot or the one before.
fn sideways(state: &mut State, movement: Movement, on: bool) {
    if matches!(state.overlay, Overlay::Form(_)) {
        entry::turn_choice(state, on);
        return;
    }
    if state.screen == Screen::Overview && state.overlay == Overlay::None {
        overview::turn_column(state, movement);
    } else if state.screen == Screen::Levels && state.overlay == Overlay::None {
        levels::sideways(state);
    } else if state.screen == Screen::Deck && state.overlay == Overlay::None {
        deck::sideways(state, movement);
    } else if state.screen == Screen::Reconcile && state.overlay == Overlay::None {
        reconcile::sideways(state, movement);
    } else {
        turn(state, on);
    }
}

/// The next slot or the one before, round and round.
fn turn(state: &mut State, on: bool) {
    let slots = state.figures.slots.len().max(1);
    let by = if on { 1 } else { slots - 1 };
    to_slot(state, (state.slot_index() + by) % slots);
}

/// Puts the cursor on a row of what is in front, as a click does.
fn to_row(state: &mut State, row: usize) {
    match &mut state.overlay {
        Overlay::Palette(palette) => palette.at = row,
        Overlay::Menu(at) | Overlay::Hold { at, .. } => *at = row,
        Overlay::None => match state.screen {
            Screen::Overview => overview::move_to(state, row),
            Screen::Tally => tally::move_to(state, row),
            Screen::Reconcile => reconcile::move_to(state, row),
            Screen::Cut => cut::move_to(state, row),
            Screen::Record => record::move_to(state, row),
            Screen::Levels => levels::move_to(state, LevelsPage::Readings, row),
            Screen::Profile | Screen::Floor | Screen::Deck => {}
        },
        _ => {}
    }
}

/// Brings a slot to the front.
fn to_slot(state: &mut State, slot: usize) {
    let target = |state: &State| state.current().map(|(_, _, it)| it.cut.target);
    let before = target(state);
    state.bring_to_front(slot);
    // A cursor on the cut of one slot goes to the cut of the next.
    if before == Some(state.view.cursor) {
        state.view.cursor = target(state).unwrap_or(state.view.cursor);
    }
    if state.screen == Screen::Overview {
        state.overview.flag = None;
    }
    // What lies on top is of the slot that was in front.
    if matches!(state.overlay, Overlay::Hold { .. }) {
        holds::open(state);
    }
    if matches!(
        state.overlay,
        Overlay::How { .. } | Overlay::Thing(..) | Overlay::Sign(_)
    ) {
        state.overlay = Overlay::None;
    }
}

fn step(state: &mut State, movement: Movement) {
    let lines = overlay_lines(state);
    let movement = match &state.overlay {
        // A step may take two lines, and none is passed over.
        Overlay::How { slot, figure, at } => {
            movement.at_most(how::in_sight(state, (slot, figure), *at))
        }
        _ => movement,
    };
    match &mut state.overlay {
        Overlay::Form(form) => {
            match movement {
                Movement::Back(_) | Movement::First => entry::turn(form, false),
                Movement::On(_) | Movement::Last => entry::turn(form, true),
            }
            return;
        }
        Overlay::Hold { lines, at } => {
            *at = movement.from(*at, lines.len());
            return;
        }
        Overlay::Menu(at) => {
            *at = movement.from(*at, entry::offered().len());
            return;
        }
        Overlay::Palette(palette) => {
            palette.at = movement.from(palette.at, lines);
            return;
        }
        Overlay::Help(at)
        | Overlay::How { at, .. }
        | Overlay::Changes(at)
        | Overlay::Flag(_, at)
        | Overlay::Level(_, at)
        | Overlay::Thing(_, at) => {
            *at = movement.from(*at, lines);
            return;
        }
        Overlay::Sign(_) => {
            signing::step(state, movement);
            return;
        }
        Overlay::Find(_) | Overlay::Who(_) | Overlay::Measured { .. } | Overlay::Deciding(_) => {
            return;
        }
        Overlay::None => {}
    }
    match state.screen {
        Screen::Overview => overview::step(state, movement),
        Screen::Tally => tally::step(state, movement),
        Screen::Cut => cut::step(state, movement),
        Screen::Reconcile => reconcile::step(state, movement),
        Screen::Profile => profile::step(state, movement),
        Screen::Floor => floor::step(state, movement),
        Screen::Levels => levels::step(state, movement),
        Screen::Deck => deck::step(state, movement),
        Screen::Record => record::step(state, movement),
    }
}

/// How many places there are to scroll to in what lies on top.
fn overlay_lines(state: &State) -> usize {
    let places = |lines: usize| (lines + 2).saturating_sub(state.body_rows());
    match &state.overlay {
        Overlay::Help(_) => places(help::lines(state).len()),
        Overlay::How { slot, figure, at } => how::places(state, (slot, figure), *at),
        Overlay::Changes(_) | Overlay::Flag(..) | Overlay::Level(..) | Overlay::Thing(..) => {
            places(texts::lines(state).len())
        }
        Overlay::Palette(_) => palette::count(state),
        Overlay::None
        | Overlay::Find(_)
        | Overlay::Who(_)
        | Overlay::Measured { .. }
        | Overlay::Deciding(_)
        | Overlay::Menu(_)
        | Overlay::Hold { .. }
        | Overlay::Form(_)
        | Overlay::Sign(_) => 0,
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
        Overlay::Who(text) => {
            entry::is_person(state, &text);
            return Vec::new();
        }
        Overlay::Measured { of, text } => {
            reconcile::measured(state, &of, &text);
            return Vec::new();
        }
        Overlay::Palette(palette) => return palette::run(state, *palette),
        Overlay::Deciding(of) => return reconcile::confirm(state, of),
        Overlay::Form(form) => return entry::accept(state, form),
        Overlay::Sign(_) => return signing::accept(state),
        Overlay::Hold { .. } => {
            holds::follow(state);
            return Vec::new();
        }
        Overlay::Menu(at) => {
            if let Some(event) = entry::offered().get(at) {
                entry::open(state, event.name);
            }
            return Vec::new();
        }
        _ => {}
    }
    match state.screen {
        Screen::Overview => overview::open(state),
        Screen::Tally => tally::open(state),
        Screen::Reconcile => reconcile::open(state),
        Screen::Cut => cut::open(state),
        Screen::Floor => floor::open(state),
        Screen::Levels => levels::open(state),
        Screen::Profile => profile::open(state),
        Screen::Deck | Screen::Record => {}
    }
    Vec::new()
}
