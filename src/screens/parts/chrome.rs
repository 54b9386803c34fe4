//! What stands round every screen: its name and the others, the job, messages, and the keys that
//! work here. And what lies over a screen.

use super::pen::{Pen, StyledLine, cells, width};
use super::{help, how, texts};
use crate::finding::Severity;
use crate::report::words;
use crate::screens::action::Action;
use crate::screens::commands::commands;
use crate::screens::overlay::Overlay;
use crate::screens::screen::Screen;
use crate::screens::state::{CHROME, LEAST, State};
use crate::screens::theme::Role;
use crate::screens::{
    cut, deck, entry, floor, holds, levels, overview, palette, profile, reconcile, record, signing,
    tally,
};

pub fn draw(state: &State, pen: &mut Pen<'_>) {
    let (width, height) = (pen.area.width, pen.area.height);
    if width < LEAST.0 || height < LEAST.1 {
        let text = words::too_small(LEAST, (width, height));
        // Broken rather than cut short: this line is all there is.
        let lines = StyledLine::of(text, Role::Plain).wrapped(usize::from(width).max(9), 0);
        for (row, line) in lines.iter().enumerate() {
            pen.line(0, cells(row), line);
        }
        return;
    }
    top(state, &mut pen.part(0, 0, width, 1));
    let message = state.message();
    let is_asked = matches!(
        state.overlay,
        Overlay::Find(_) | Overlay::Who(_) | Overlay::Measured { .. }
    );
    let over_two = message
        .as_ref()
        .filter(|_| !is_asked && state.old.is_none())
        .and_then(|message| over_two_rows(message, width));
    match (&message, over_two) {
        // What is wrong with what is typed stands above it.
        (Some(message), _) if is_asked => {
            pen.text(1, 1, message, Role::Check);
            said(state, &mut pen.part(0, 2, width, 1));
        }
        // What is longer than a row takes that of the status too.
        (_, Some([first, second])) => {
            pen.text(1, 1, &first, Role::Title);
            pen.text(1, 2, &second, Role::Title);
        }
        _ => {
            status(state, &mut pen.part(0, 1, width, 1));
            said(state, &mut pen.part(0, 2, width, 1));
        }
    }
    {
        let mut body = pen.part(0, 3, width, height - CHROME);
        match &state.overlay {
            Overlay::Help(at) => scrolled(&mut body, &help::lines(state), *at),
            Overlay::How { slot, figure, at } => {
                how::draw(state, &mut body, (slot, figure), *at);
            }
            Overlay::Changes(at)
            | Overlay::Flag(_, at)
            | Overlay::Thing(_, at)
            | Overlay::Level(_, at) => {
                scrolled(&mut body, &texts::lines(state), *at);
            }
            Overlay::Hold { lines, at } => holds::draw(state, &mut body, lines, *at),
            Overlay::Menu(at) => entry::draw_menu(&mut body, *at),
            Overlay::Palette(of) => palette::draw(state, &mut body, of),
            Overlay::Form(form) => entry::draw_form(state, &mut body, form),
            Overlay::Sign(of) => signing::draw(state, &mut body, of),
            Overlay::Deciding(of) => reconcile::draw_deciding(state, &mut body, of),
            Overlay::None | Overlay::Find(_) | Overlay::Who(_) | Overlay::Measured { .. } => {
                match state.screen {
                    Screen::Overview => overview::draw(state, &mut body),
                    Screen::Tally => tally::draw(state, &mut body),
                    Screen::Reconcile => reconcile::draw(state, &mut body),
                    Screen::Profile => profile::draw(state, &mut body),
                    Screen::Cut => cut::draw(state, &mut body),
                    Screen::Floor => floor::draw(state, &mut body),
                    Screen::Levels => levels::draw(state, &mut body),
                    Screen::Deck => deck::draw(state, &mut body),
                    Screen::Record => record::draw(state, &mut body),
                }
            }
        }
    }
    keys(state, &mut pen.part(0, height - 1, width, 1));
}

/// A message that is longer than a row, broken between words; what is longer than two is cut at its end.
fn over_two_rows(message: &str, columns: u16) -> Option<[String; 2]> {
    let room = usize::from(columns).saturating_sub(2);
    if width(message) <= room {
        return None;
    }
    let mut first = String::new();
    for word in message.split_inclusive(' ') {
        if width(&first) + width(word.trim_end()) > room {
            break;
        }
        first.push_str(word);
    }
    let rest = message.strip_prefix(first.as_str()).unwrap_or_default();
    // A word longer than a row has no place to be broken at.
    (!first.is_empty()).then(|| [first.trim_end().to_owned(), rest.to_owned()])
}

/// From so many columns on the names of the screens stand apart from their keys, and the job's title beside them.
const WIDE: u16 = 100;

/// The screens, and the job where there is room.
fn top(state: &State, pen: &mut Pen<'_>) {
    let wide = pen.area.width >= WIDE;
    let mut x = 0;
    for (index, screen) in Screen::ALL.into_iter().enumerate() {
        let is_here = screen == state.screen;
        let (key, name) = (index + 1, screen.name());
        let from = x;
        x = match (is_here, wide) {
            (true, true) => pen.text(x, 0, &format!(" {key} {name} "), Role::Chip),
            (true, false) => pen.text(x, 0, &format!("{key}{name}"), Role::Chip) + 1,
            (false, true) => {
                let after = pen.text(x, 0, &format!(" {key} "), Role::Key);
                pen.text(after, 0, &format!("{name} "), Role::Label)
            }
            // All names fit into eighty columns, with the key right before each.
            (false, false) => {
                let after = pen.text(x, 0, &key.to_string(), Role::Key);
                pen.text(after, 0, name, Role::Label) + 1
            }
        };
        pen.target((from, 0, x - from), Action::Go(screen));
    }
    if title_fits(state, pen.area.width) {
        title(state, &mut pen.part(x + 2, 0, u16::MAX, 1), true);
    }
}

/// Columns of the screens in the top line, where they stand apart from their keys.
const SCREENS: usize = 92;

/// Whether the whole title of the job has room in the top line; else it stands on the line for messages.
fn title_fits(state: &State, columns: u16) -> bool {
    let title = state.inputs.job.title.as_deref().unwrap_or("(no title)");
    columns >= WIDE && SCREENS + width(title) + 2 <= usize::from(columns)
}

/// The title of the job, shortened between words where it must be.
fn title(state: &State, pen: &mut Pen<'_>, at_right: bool) {
    let title = state.inputs.job.title.as_deref().unwrap_or("(no title)");
    let room = usize::from(pen.area.width).saturating_sub(1);
    let title = words::shortened(title, room);
    if at_right {
        pen.right(0, &format!("{title} "), Role::Label);
    } else {
        pen.text(1, 0, &title, Role::Label);
    }
}

/// The state of the job in ten words, and at the right who enters and the slots.
fn status(state: &State, pen: &mut Pen<'_>) {
    let mut line = StyledLine::default();
    let counts = state.figures.flag_counts();
    let severities = [Severity::Stop, Severity::Check, Severity::Note];
    for (severity, count) in severities.into_iter().zip(counts) {
        // Notes matter where there is nothing else.
        let is_told = count > 0 && (severity > Severity::Note || counts == [0, 0, count]);
        if is_told {
            let text = words::flags_of(severity, count);
            line = line
                .and(format!(" {text} "), Role::of_severity(severity))
                .and(" ", Role::Plain);
        }
    }
    if line.0.is_empty() {
        line = line.and(
            format!("{} {} ", words::NO_FLAGS, pen.theme.glyphs.dot),
            Role::Plain,
        );
    }
    let slots = &state.figures.slots;
    let cut = slots.iter().filter(|slot| slot.cut.is_cut()).count();
    let unit = words::unit_in_full(state.show.unit());
    let text = words::status_of_cuts(cut, slots.len(), unit, pen.theme.glyphs.dot);
    line = line.and(text, Role::Plain);
    if state.mouse {
        line = line.and(words::WITH_MOUSE, Role::Label);
    }
    let end = pen.line(1, 0, &line);
    slots_at_right(state, pen, end);
}

/// Who enters, whether the copy is behind, and the slots with the one in front.
fn slots_at_right(state: &State, pen: &mut Pen<'_>, end: u16) {
    let names = &state.inputs.job.slots;
    let in_front = state.slot_index();
    let mut before = StyledLine::default();
    if state.copy_behind.is_some() {
        before = before
            .and(format!(" {} ", words::COPY_BEHIND), Role::Check)
            .and("  ", Role::Plain);
    }
    if let Some(who) = &state.person {
        before = before.and(format!("{who} enters  "), Role::Label);
    }
    let all: usize = names.iter().map(|slot| width(&slot.name) + 2).sum();
    let room = usize::from(pen.area.width.saturating_sub(end + 2));
    if before.width() + all <= room {
        let mut x = pen.area.width.saturating_sub(cells(before.width() + all));
        x = pen.line(x, 0, &before);
        for (index, slot) in names.iter().enumerate() {
            let role = if index == in_front {
                Role::Chip
            } else {
                Role::Plain
            };
            let from = x;
            x = pen.text(x, 0, &format!(" {} ", slot.name), role);
            pen.target((from, 0, x - from), Action::ToSlot(index));
        }
        return;
    }
    // Where there are too many to name, the one in front and how many.
    let line = before
        .and(format!(" {} ", state.slot), Role::Chip)
        .and(words::one_of(in_front + 1, names.len()), Role::Label);
    let from = pen.area.width.saturating_sub(cells(line.width()));
    pen.line(from.max(end + 1), 0, &line);
}

/// The banner of old figures, which stays whatever else is said; a joint being typed; a message.
fn said(state: &State, pen: &mut Pen<'_>) {
    let typing = match &state.overlay {
        Overlay::Find(text) => Some(("find joint or serial: ".to_owned(), text)),
        Overlay::Who(text) => Some(("who enters, by initials: ".to_owned(), text)),
        Overlay::Measured { of, text } => {
            let key = &of.key;
            let asked = words::asked(&of.slot, &key.joint, key.of, state.show);
            Some((asked, text))
        }
        _ => None,
    };
    let mut x = 0;
    if let Some(reason) = &state.old {
        let reason = reason.split_whitespace().collect::<Vec<_>>().join(" ");
        // With the separator of the system behind it.
        let folder = state.inputs.root.join("").display().to_string();
        let reason = reason.replace(&folder, "");
        let banner = if typing.is_some() || state.message.is_some() {
            " OLD FIGURES ".to_owned()
        } else {
            format!(" OLD FIGURES: {reason} ")
        };
        x = pen.text(0, 0, &banner, Role::Old);
    }
    if let Some((asked, text)) = typing {
        let end = pen.text(x + 1, 0, &asked, Role::Label);
        // Of a text that is too long its end is in sight, where the next letter goes.
        let room = usize::from(pen.area.width.saturating_sub(end + 1));
        let hidden = text.chars().count().saturating_sub(room);
        let shown: String = text.chars().skip(hidden).collect();
        let end = pen.text(end, 0, &shown, Role::Title);
        pen.text(end, 0, " ", Role::Selected);
    } else if let Some(message) = state.message() {
        pen.text(x + 1, 0, &message, Role::Title);
    } else if let Some(why) = state.copy_behind.as_ref().filter(|_| state.old.is_none()) {
        pen.text(1, 0, &words::copy_behind(why), Role::Plain);
    } else if state.old.is_none() && !title_fits(state, pen.area.width) {
        title(state, pen, false);
    }
}

/// The keys that work here: those of the screen as far as there is room, help and quit always.
fn keys(state: &State, pen: &mut Pen<'_>) {
    let listed = commands()
        .filter(|command| !command.short.is_empty() && command.is_available(state))
        .map(|command| (command.id, command.hint, command.short));
    // Why figures are old is never left out for want of room.
    let is_old = state.old.is_some();
    let is_always = |id: &str| id == "help" || id == "quit" || (is_old && id == "changes");
    let (always, own): (Vec<_>, Vec<_>) = listed.partition(|(id, ..)| is_always(id));
    let moves = (!state.overlay.is_typed_into()).then_some(("move", "Arrows", "move"));
    // Each with the two spaces before it; before the first there is one.
    let needs = |(_, hint, short): &(&str, &str, &str)| width(hint) + width(short) + 3;
    let reserved: usize = always.iter().map(needs).sum();
    let mut room = (usize::from(pen.area.width) + 1).saturating_sub(reserved);
    let mut fits = |command: &(&str, &str, &str)| {
        let left = room.checked_sub(needs(command));
        room = left.unwrap_or(room);
        left.is_some()
    };
    let own = moves.into_iter().chain(own).filter(|it| fits(it));
    let shown: Vec<_> = own.chain(always.iter().copied()).collect();
    let mut line = StyledLine::default();
    for (at, (_, hint, short)) in shown.into_iter().enumerate() {
        let before = if at == 0 { "" } else { "  " };
        line = line
            .and(before, Role::Plain)
            .and(hint, Role::Key)
            .and(format!(" {short}"), Role::Label);
    }
    pen.line(1, 0, &line);
}

fn scrolled(pen: &mut Pen<'_>, lines: &[StyledLine], at: usize) {
    let all = usize::from(pen.area.height);
    let more = lines.len() > all;
    let height = if more { all.saturating_sub(1) } else { all };
    let first = at.min(lines.len().saturating_sub(height));
    for (row, line) in lines.iter().skip(first).take(height).enumerate() {
        pen.line(1, cells(row), line);
    }
    if more {
        let below = lines.len().saturating_sub(first + height);
        let text = if below > 0 {
            format!(" {} ", words::more_below(below))
        } else {
            " the end (Up, PgUp) ".to_owned()
        };
        pen.right(cells(height), &text, Role::Selected);
    }
}
