//! Beside the large figures, where there is room: the joints that come next, and what was entered last.

use crate::figures::RunStep;
use crate::journal::{Entry, struck};
use crate::report::words;
use crate::screens::parts::pen::{Pen, StyledLine, cells};
use crate::screens::parts::table::{Align, ScreenTable, head};
use crate::screens::state::State;
use crate::screens::theme::Role;

/// The last entries of the slot in front and of the job that are not struck, the last one first.
pub fn entries(state: &State, most: usize) -> Vec<&Entry> {
    let all = &state.inputs.journal.entries;
    let gone = struck(all);
    let of_slot = |entry: &&Entry| {
        let slot = entry.event.slot();
        slot.is_none_or(|slot| slot == state.slot) && !gone.contains(&entry.seq)
    };
    all.iter().rev().filter(of_slot).take(most).collect()
}

/// An entry as a line.
pub fn line(entry: &Entry) -> StyledLine {
    let when = entry.at.to_string();
    let clock = when.get(11..16).unwrap_or_default();
    StyledLine::of(
        format!("{:>4} {clock} {} ", entry.seq, entry.by),
        Role::Label,
    )
    .and(format!("{} ", entry.name), Role::Plain)
    .and(words::entry(entry), Role::Label)
}

/// Draws both.
pub fn draw(state: &State, pen: &mut Pen<'_>, step: Option<&RunStep>) {
    let (wide, high) = (pen.area.width, pen.area.height);
    let half = high / 2;
    let mut y = 0;
    if let Some(first) = step.and_then(|step| step.next) {
        pen.text(0, 0, words::COMING, Role::Label);
        joints(
            state,
            &mut pen.part(0, 1, wide, half.saturating_sub(2)),
            first,
        );
        y = half;
    }
    pen.text(0, y, words::ENTERED_LAST, Role::Label);
    let room = usize::from(wide);
    let shown = usize::from(high.saturating_sub(y + 1));
    let entries = entries(state, shown);
    if entries.is_empty() {
        pen.text(0, y + 1, words::NO_ENTRIES, Role::Label);
    }
    let lines = entries
        .into_iter()
        .flat_map(|it| line(it).wrapped(room, 15));
    for (row, line) in (y + 1..).zip(lines.take(shown)) {
        pen.line(0, row, &line);
    }
}

/// The joints from one on, each with what is fitted on it.
fn joints(state: &State, pen: &mut Pen<'_>, first: usize) {
    let Some((_, tally, figures)) = state.current() else {
        return;
    };
    let rows = usize::from(pen.area.height.saturating_sub(1));
    let mut table = ScreenTable::new(vec![
        head("joint", Align::Left, 9),
        head("serial", Align::Left, 5),
        head("length", Align::Point, 8),
        head("fit", Align::Left, 7),
    ]);
    for (index, joint) in tally.joints.iter().enumerate().skip(first).take(rows) {
        let length = joint.length;
        let mut fit: Vec<&str> = figures
            .accessories
            .iter()
            .filter(|place| place.piece == Some(index))
            .filter_map(|place| state.inputs.job.accessories.get(place.accessory))
            .map(|accessory| accessory.name.as_str())
            .collect();
        if figures.chain.shoulder.is_some_and(|it| it.piece == index) {
            fit.insert(0, words::SHOULDER);
        }
        table.add(vec![
            (joint.number.to_string(), Role::Title),
            (
                joint.serial.as_deref().unwrap_or_default().to_owned(),
                Role::Plain,
            ),
            (
                length.map_or_else(String::new, |it| state.show.number(it)),
                Role::Plain,
            ),
            (fit.join(", "), Role::Accessory),
        ]);
    }
    let shown = table.len();
    table.draw(pen, 0..shown, None, None);
    let below = tally.joints.len().saturating_sub(first + rows);
    if below > 0 {
        let y = cells(shown + 1);
        pen.text(1, y, &words::more(0, below), Role::Label);
    }
}
