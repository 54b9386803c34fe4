//! What the overview's cursor can be on: the figures of the slots, then the flags.

use crate::figures::SlotFigures;
use crate::figures::catalogue::Subject;
use crate::finding::Flag;
use crate::screens::identity::FlagId;
use crate::screens::state::State;

/// How many columns can be gone through with left and right.
pub const COLUMNS: usize = 10;

/// The flags of all slots and of the job, the worst first; the slot each belongs to.
pub fn flags(state: &State) -> Vec<(Option<usize>, &Flag)> {
    let mut all: Vec<(Option<usize>, &Flag)> = state
        .figures
        .flags
        .iter()
        .map(|flag| (None, flag))
        .collect();
    for (index, slot) in state.figures.slots.iter().enumerate() {
        all.extend(slot.flags.iter().map(|flag| (Some(index), flag)));
    }
    all.sort_by(|(_, a), (_, b)| b.severity.cmp(&a.severity).then(a.code.cmp(&b.code)));
    all
}

/// The figure in a column that can be opened.
pub fn subject(column: usize, figures: &SlotFigures) -> Option<Subject> {
    Some(match column {
        1 => Subject::StickUp,
        3 => Subject::StringLength,
        4 => Subject::Shoe,
        5 => Subject::Shoulder,
        6 | 9 if figures.cut.as_cut.is_some() => Subject::AsCut,
        6 => Subject::Top,
        7 => Subject::CutTarget,
        8 => Subject::Offcut,
        _ => return None,
    })
}

/// The same, by what they are.
fn ids(state: &State) -> Vec<FlagId> {
    let all = flags(state).into_iter();
    all.map(|(slot, flag)| FlagId::of(&state.inputs, &state.figures, slot, flag))
        .collect()
}

/// The row that the cursor is on, slots first, then flags; `None` where its flag is gone.
pub fn row(state: &State) -> Option<usize> {
    let Some(flag) = &state.overview.flag else {
        return Some(state.slot_index());
    };
    Some(state.figures.slots.len() + flag.find(&ids(state))?)
}

/// The flag that is meant; `None` where it is gone.
pub fn flag_of<'a>(state: &'a State, id: &FlagId) -> Option<&'a Flag> {
    let flags = flags(state);
    flags.get(id.find(&ids(state))?).map(|(_, flag)| *flag)
}
