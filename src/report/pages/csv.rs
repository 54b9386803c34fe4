//! The record as rows: status, target, marks and tally of each slot, for a spreadsheet.

use csv::WriterBuilder;

use super::parts::Choice;
use crate::figures::{CutStatus, Figures, SlotView};
use crate::journal::Inputs;
use crate::measure::Length;
use crate::report::words;

/// The columns.
const HEADER: [&str; 7] = [
    "slot",
    "what",
    "name",
    "value_m",
    "uncertainty_m",
    "says",
    "line",
];

/// The rows as CSV. Lengths are exact metres; the digest and the head of the journal are rows of their own.
pub fn rows(inputs: &Inputs, figures: &Figures, choice: &Choice) -> Result<String, csv::Error> {
    let mut writer = WriterBuilder::new().from_writer(Vec::new());
    writer.write_record(HEADER)?;
    let metres = |length: Length| length.exact_metres();
    let digest = inputs.digest();
    writer.write_record(["", "inputs", "digest", "", "", &digest, ""])?;
    writer.write_record(["", "journal", "head", "", "", inputs.journal.head(), ""])?;
    writer.write_record(["", "caution", "", "", "", words::CAUTION_SHORT, ""])?;
    let slots = figures.slots.iter().zip(&figures.standings);
    for (view, (of_slot, standing)) in SlotView::all(&inputs.job, &inputs.tallies).zip(slots) {
        if choice.slot.is_some_and(|only| only != view.index) {
            continue;
        }
        let name = view.slot.name.as_str();
        let state = words::cut_state(standing);
        writer.write_record([name, "status", standing.status.word(), "", "", &state, ""])?;
        let target = metres(of_slot.cut.target.height());
        writer.write_record([name, "target", "", &target, "", "", ""])?;
        let is_marked = matches!(standing.status, CutStatus::Check | CutStatus::Clear);
        if let Some(place) = of_slot.cut.place.as_ref().filter(|_| is_marked) {
            for mark in words::marks_to_set_out(of_slot, place) {
                let distance = metres(mark.distance.value);
                let u = mark
                    .distance
                    .expanded()
                    .map_or_else(|| "not stated".to_owned(), metres);
                let from = mark.from.name(&inputs.job);
                let says = words::direction(view, of_slot, mark);
                writer.write_record([name, "mark", &from, &distance, &u, &says, ""])?;
            }
        }
        let pieces = &of_slot.chain.string.pieces;
        for (piece, joint) in pieces.iter().zip(&view.tally.joints) {
            let length = joint.length.map_or_else(String::new, metres);
            let line = joint.line.to_string();
            let number = joint.number.as_str();
            writer.write_record([name, "joint", number, &length, "", "", &line])?;
            let running = metres(piece.upper());
            writer.write_record([name, "running total", number, &running, "", "", &line])?;
        }
    }
    let bytes = writer
        .into_inner()
        .map_err(csv::IntoInnerError::into_error)?;
    Ok(String::from_utf8_lossy(&bytes).into_owned())
}
