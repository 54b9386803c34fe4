//! What keys do among readings and points.

use super::rows::{point, point_place, points, reading, reading_place, readings, worked};
use super::state::{LevelsPage, OpenedLevel};
use crate::figures::ReadingOf;
use crate::finding::ReadingRef;
use crate::screens::movement::Movement;
use crate::screens::overlay::Overlay;
use crate::screens::state::State;

/// Goes to a reading that was entered, between these points.
pub fn entered(state: &mut State, seq: u64, points: [&str; 2]) {
    let [from, to] = points.map(|it| it.trim().to_owned());
    state.at_level.page = LevelsPage::Readings;
    state.at_level.reading = Some(ReadingRef {
        of: ReadingOf::Journal(seq).word(),
        from,
        to,
        line: None,
        entry: Some(seq),
    });
}

/// Moves the cursor.
pub fn step(state: &mut State, movement: Movement) {
    let Some(levels) = worked(state) else { return };
    let page = state.at_level.page;
    let (at, count) = match page {
        LevelsPage::Readings => {
            let listed = readings(levels);
            (reading_place(state, levels, &listed), listed.len())
        }
        LevelsPage::Points => {
            let listed = points(levels);
            (point_place(state, levels, &listed), listed.len())
        }
    };
    move_to(state, page, movement.from(at, count));
}

/// Moves the cursor to a row of the readings or of the points.
pub fn move_to(state: &mut State, page: LevelsPage, row: usize) {
    let Some(levels) = worked(state) else { return };
    match page {
        LevelsPage::Readings => {
            let listed = readings(levels);
            state.at_level.reading = listed.get(row).and_then(|at| levels.reading(*at));
        }
        LevelsPage::Points => {
            let listed = points(levels);
            let name = listed.get(row).map(|at| levels.read.network.name(*at));
            state.at_level.point = name.map(str::to_owned);
        }
    }
    state.at_level.page = page;
}

/// From the readings to the points and back.
pub const fn sideways(state: &mut State) {
    state.at_level.page = match state.at_level.page {
        LevelsPage::Readings => LevelsPage::Points,
        LevelsPage::Points => LevelsPage::Readings,
    };
}

/// Opens what is under the cursor.
pub fn open(state: &mut State) {
    let Some(levels) = worked(state) else { return };
    let of = match state.at_level.page {
        LevelsPage::Readings => reading(state, levels)
            .and_then(|at| levels.reading(at))
            .map(OpenedLevel::Reading),
        LevelsPage::Points => point(state, levels)
            .map(|at| OpenedLevel::Point(levels.read.network.name(at).to_owned())),
    };
    if let Some(of) = of {
        state.overlay = Overlay::Level(Box::new(of), 0);
    }
}

/// The reading under the cursor as it was read, or the elevation of the point.
pub fn copied(state: &State) -> Option<String> {
    let levels = worked(state)?;
    match state.at_level.page {
        LevelsPage::Readings => {
            let read = levels.read.shown.get(reading(state, levels)?)?;
            Some(state.show.text(*read))
        }
        LevelsPage::Points => {
            let point = levels.adjusted.points.get(point(state, levels)?)?;
            Some(state.show.text(point.elevation.height()))
        }
    }
}
