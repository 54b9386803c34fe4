//! What a change of the files moved, each figure by name.

use super::state::State;
use crate::figures::{Figures, SlotFigures};
use crate::job::Folder;
use crate::measure::{Elevation, Length};

/// Every figure that differs between what is shown and what was read.
pub(super) fn between(state: &State, folder: &Folder, figures: &Figures) -> Vec<String> {
    let mut moved = Vec::new();
    let before = |name: &str| {
        let slots = &state.folder.job.slots;
        let index = slots.iter().position(|slot| slot.name == name)?;
        state.figures.slots.get(index)
    };
    for (slot, now) in folder.job.slots.iter().zip(&figures.slots) {
        match before(&slot.name) {
            Some(before) => of_slot(state, &slot.name, before, now, &mut moved),
            None => moved.push(format!("{}: new slot", slot.name)),
        }
    }
    for slot in &state.folder.job.slots {
        if !folder.job.slots.iter().any(|now| now.name == slot.name) {
            moved.push(format!("{}: slot is gone", slot.name));
        }
    }
    let (spread, now) = (state.figures.spread.value, figures.spread.value);
    if spread != now {
        moved.push(match spread.zip(now) {
            Some((before, now)) => format!("spread {}", state.show.small_signed(now - before)),
            None => "spread: now known or no longer known".to_owned(),
        });
    }
    moved
}

fn of_slot(
    state: &State,
    name: &str,
    before: &SlotFigures,
    now: &SlotFigures,
    moved: &mut Vec<String>,
) {
    let mut say = |what: &str, before: Option<Length>, now: Option<Length>| match (before, now) {
        (Some(before), Some(now)) if before != now => {
            let by = now - before;
            let unit = state.show.heading();
            let unit = if unit == "ft-in" {
                String::new()
            } else {
                format!(" {unit}")
            };
            moved.push(format!("{name}: {what} {}{unit}", state.show.signed(by)));
        }
        (None, Some(now)) => {
            moved.push(format!("{name}: {what} is now {}", state.show.text(now)));
        }
        (Some(_), None) => moved.push(format!("{name}: {what} is no longer known")),
        _ => {}
    };
    let height = |elevation: Option<Elevation>| elevation.map(Elevation::height);
    let shoulder = |figures: &SlotFigures| height(figures.shoulder.and_then(|it| it.elevation));
    let offcut = |figures: &SlotFigures| figures.cut.place.as_ref().map(|it| it.offcut_length);
    let below = |figures: &SlotFigures| Some(figures.cut.below_rotary.downward());
    let as_cut = |figures: &SlotFigures| figures.cut.as_cut.as_ref().map(|it| it.mean.rounded());
    say("cut below RT", below(before), below(now));
    say(
        "cut target",
        Some(before.cut.target.height()),
        Some(now.cut.target.height()),
    );
    say("top", height(before.top), height(now.top));
    say("shoulder", shoulder(before), shoulder(now));
    say("shoe", height(before.shoe), height(now.shoe));
    say(
        "string length",
        Some(before.string.length),
        Some(now.string.length),
    );
    say("stick-up", before.stick_up, now.stick_up);
    say("off-cut", offcut(before), offcut(now));
    say("as cut", as_cut(before), as_cut(now));
    if before.basis != now.basis {
        moved.push(format!(
            "{name}: {}, was {}",
            now.basis.word(),
            before.basis.word()
        ));
    }
    let joints = (before.string.pieces.len(), now.string.pieces.len());
    if joints.0 != joints.1 {
        moved.push(format!("{name}: {} joints, was {}", joints.1, joints.0));
    }
}
