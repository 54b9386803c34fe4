//! The lines of the sheet, from top to bottom.

use super::layout::list_columns;
use super::state::LineId;
use super::writer::{SheetLines, SheetWriter};
use super::{as_cut, marks, rest};
use crate::figures::catalogue::Subject;
use crate::figures::{CutStatus, Standing};
use crate::finding::Severity;
use crate::report::{PROOF, SCRIBE, words};
use crate::screens::parts::list::ListItem;
use crate::screens::parts::pen::StyledLine;
use crate::screens::state::State;
use crate::screens::theme::Role;

/// What may not be overlooked first: whether it may be cut, and what is flagged.
fn head(sheet: &mut SheetWriter<'_>, standing: &Standing) {
    let (state, figures) = (sheet.state, sheet.figures);
    let (role, words) = if state.old.is_some() {
        (Role::Old, words::OLD_STATE.to_owned())
    } else {
        let status = standing.status;
        (Role::of_status(status), words::cut_state(standing))
    };
    // The same code as on the printed slip, as long as nothing changed since.
    let slip = state.slips.get(sheet.slot).map_or("", String::as_str);
    let mut lines = vec![
        StyledLine::of(format!("Slot {}  ", sheet.view.slot.name), Role::Title)
            .and(format!(" {words} "), role)
            .and(format!("  slip {slip}"), Role::Label),
    ];
    lines.extend(words::fallen(standing.fallen).map(|text| StyledLine::of(text, Role::Check)));
    sheet.items.push(ListItem {
        lines,
        opens: (
            LineId::Head,
            Some(if figures.cut.as_cut.is_some() {
                Subject::AsCut
            } else {
                Subject::CutTarget
            }),
        ),
    });
    // What is flagged comes before anything that could be set out with a tape.
    for flag in words::head_flags(figures, standing) {
        let own = figures.flags.contains(flag);
        sheet.flag(own.then_some(sheet.slot), flag);
    }
}

/// The lines of the slot in front, in so many columns.
pub fn items(state: &State) -> SheetLines {
    let Some(((_, tally, figures), view)) = state.current().zip(state.view()) else {
        return Vec::new();
    };
    let Some(standing) = state.figures.standings.get(state.slot_index()) else {
        return Vec::new();
    };
    let mut sheet = SheetWriter {
        state,
        slot: state.slot_index(),
        view,
        tally,
        figures,
        width: usize::from(list_columns(state.size.0)).saturating_sub(2),
        items: Vec::new(),
    };
    head(&mut sheet, standing);
    as_cut::lines(&mut sheet);
    let old = state.old.as_ref().map(|_| words::OLD_MARKS.to_owned());
    let no_marks = old.or_else(|| words::no_marks(figures, standing, state.show));
    match (&no_marks, &figures.cut.place) {
        (None, Some(place)) => marks::lines(&mut sheet, place),
        (Some(why), _) if standing.status != CutStatus::Cut => {
            let line =
                StyledLine::of(" NO MARKS ", Role::Outside).and(format!(" {why}"), Role::Plain);
            sheet.add("Marks", line, None);
        }
        _ => {}
    }
    rest::target(&mut sheet, no_marks.is_none());
    if let Some(place) = &figures.cut.place {
        rest::placed(&mut sheet, place, no_marks.is_none());
    }
    rest::limits(&mut sheet);
    rest::chain(&mut sheet);
    let notes = figures.flags.iter();
    for flag in notes.filter(|flag| flag.severity == Severity::Note) {
        sheet.flag(Some(sheet.slot), flag);
    }
    sheet.text("scribed line", SCRIBE, Role::Label);
    sheet.text("proof", PROOF, Role::Label);
    let corrections = words::corrections_held(&state.inputs.job, &state.figures);
    sheet.text("corrections", &corrections, Role::Label);
    sheet.items
}
