//! Of the sheet: the marks, grouped by what they rest on, the nearest first.

use std::collections::BTreeSet;

use super::writer::SheetWriter;
use crate::figures::catalogue::Subject;
use crate::figures::{CutPlace, Mark, Reading, independent_groups};
use crate::report::words;
use crate::screens::parts::pen::StyledLine;
use crate::screens::theme::Role;

/// The marks, and the readings that each group of them rests on.
pub(super) fn lines(sheet: &mut SheetWriter<'_>, place: &CutPlace) {
    let show = sheet.state.show;
    let marks = words::marks_to_set_out(sheet.figures, place);
    let readings = readings(&marks);
    let letters = |mark: &Mark| {
        let rests = mark.rests_on();
        let places = rests
            .iter()
            .filter_map(|rest| readings.iter().position(|it| it == rest));
        places.map(letter).collect::<Vec<_>>().join(" ")
    };
    for group in independent_groups(&marks) {
        let of_group: Vec<&Mark> = group
            .iter()
            .filter_map(|at| marks.get(*at).copied())
            .collect();
        let of_readings: BTreeSet<usize> = of_group
            .iter()
            .flat_map(|mark| mark.rests_on())
            .filter_map(|rest| readings.iter().position(|it| *it == rest))
            .collect();
        let rests: Vec<String> = of_readings
            .iter()
            .filter_map(|at| {
                let reading = words::reading(sheet.view, sheet.figures, readings.get(*at)?, show);
                Some(format!("[{}] {reading}", letter(*at)))
            })
            .collect();
        let heading = words::group_rests_on(&rests, of_group.len());
        sheet.add_under(1, "", StyledLine::of(heading, Role::Label), None);
        for mark in of_group {
            let number = marks.iter().position(|it| it.from == mark.from);
            let label = words::mark_number(number.map_or(1, |at| at + 1));
            let way = words::direction(sheet.view, sheet.figures, mark);
            let u = words::known(show, &mark.distance);
            let mut line = sheet
                .both(mark.distance.value.abs())
                .and(format!("  U {u}"), Role::Plain)
                .and(format!("  {way}"), Role::Plain);
            // Where it does not rest on all that its group does, on which of them.
            if mark.rests_on().len() < of_readings.len() {
                line = line.and(format!("  on {}", letters(mark)), Role::Label);
            }
            sheet.add_under(4, &label, line, Some(Subject::Mark(mark.from)));
        }
    }
    if let Some(used) = words::elevations_used(sheet.view, sheet.figures, show) {
        sheet.text("elevations", &used, Role::Plain);
    }
}

/// The readings that the marks rest on, each once, in the order of the marks.
fn readings(marks: &[&Mark]) -> Vec<Reading> {
    let mut readings: Vec<Reading> = Vec::new();
    for reading in marks.iter().flat_map(|mark| mark.rests_on()) {
        if !readings.contains(&reading) {
            readings.push(reading);
        }
    }
    readings
}

/// The letter by which a reading is named beside the marks.
fn letter(place: usize) -> String {
    let letter = u8::try_from(place).ok().filter(|place| *place < 26);
    letter.map_or_else(
        || place.to_string(),
        |place| char::from(b'a' + place).to_string(),
    )
}
