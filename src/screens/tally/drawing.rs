//! A thin drawing of the string beside its rows: a row a joint, with what lies on it.

use crate::figures::SlotFigures;
use crate::screens::parts::pen::Pen;
use crate::screens::state::State;
use crate::screens::theme::Role;

/// Its columns.
pub(super) const WIDE: u16 = 6;

/// Draws one joint, by its index in the tally.
pub(super) fn joint(state: &State, pen: &mut Pen<'_>, y: u16, index: usize) {
    let Some((_, _, figures)) = state.current() else {
        return;
    };
    let glyphs = pen.theme.glyphs;
    let plain = !pen.theme.has_colour() || pen.theme.is_ascii();
    let solid = |without: char| if plain { without } else { glyphs.block };
    let pieces = figures.chain.string.pieces.len();
    let place = figures.cut.place.as_ref();
    // What is or will be cut off, and the landing string, are outlines.
    let comes_off = place.is_some_and(|place| index > place.piece) || index >= pieces;
    if comes_off {
        pen.sign(2, y, glyphs.gone, Role::Label);
        pen.sign(4, y, glyphs.gone, Role::Label);
    } else {
        for x in 2..5 {
            pen.sign(x, y, solid(glyphs.steel), Role::Steel);
        }
    }
    if passes_keep_out(state, figures, index) {
        for x in [1, 5] {
            pen.sign(x, y, glyphs.keep_out, Role::KeepOut);
        }
    }
    if figures.accessories.iter().any(|it| it.piece == Some(index)) {
        for x in 2..5 {
            pen.sign(x, y, solid(glyphs.accessory), Role::Accessory);
        }
    }
    if figures.chain.shoulder.is_some_and(|it| it.piece == index) {
        for x in 1..6 {
            pen.sign(x, y, solid(glyphs.shoulder), Role::Shoulder);
        }
    }
    if place.is_some_and(|place| place.piece == index) {
        for x in 1..6 {
            pen.sign(x, y, glyphs.cut, Role::Cut);
        }
    }
}

fn passes_keep_out(state: &State, figures: &SlotFigures, index: usize) -> bool {
    let chain = &figures.chain;
    let planes = chain.lower_plane(index).zip(chain.upper_plane(index));
    planes.is_some_and(|(lower, upper)| {
        let mut zones = state.inputs.job.keep_outs.iter();
        zones.any(|it| it.slots.has(state.slot_index()) && it.from < upper && lower < it.to)
    })
}
