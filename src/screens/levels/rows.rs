//! Readings and points in the order in which they are listed.

use crate::figures::Levels;
use crate::levels::SuspectReading;
use crate::screens::state::State;

use super::state::LevelsPage;

/// The readings by their indices: those that are suspected first, in that order, then as they stand.
pub(super) fn readings(levels: &Levels) -> Vec<usize> {
    let suspects = levels.suspects.iter().flat_map(|it| &it.readings);
    let mut listed: Vec<usize> = suspects
        .filter_map(|of| match of {
            SuspectReading::Reading(at) => Some(*at),
            SuspectReading::Tape => None,
        })
        .collect();
    let all = 0..levels.adjusted.readings.len();
    let others: Vec<usize> = all.filter(|at| !levels.is_suspect(*at)).collect();
    listed.extend(others);
    listed
}

/// The points by their indices, the highest first.
pub(super) fn points(levels: &Levels) -> Vec<usize> {
    let mut listed: Vec<usize> = (0..levels.adjusted.points.len()).collect();
    let height = |at: &usize| levels.adjusted.points.get(*at).map(|it| it.elevation);
    listed.sort_by_key(|at| std::cmp::Reverse(height(at)));
    listed
}

/// The levels of the job, where they could be worked out.
pub(super) fn worked(state: &State) -> Option<&Levels> {
    state.levels.as_ref().ok()
}

/// The place of the cursor among the readings that are listed.
pub(super) fn reading_place(state: &State, levels: &Levels, listed: &[usize]) -> usize {
    let Some(of) = &state.at_level.reading else {
        return 0;
    };
    let same = listed.iter().position(|at| levels.is_reading(*at, of));
    // Lines move when rows are written above them.
    let alike = || listed.iter().position(|at| levels.is_alike(*at, of));
    same.or_else(alike).unwrap_or(0)
}

/// The place of the cursor among the points that are listed.
pub(super) fn point_place(state: &State, levels: &Levels, listed: &[usize]) -> usize {
    let cursor = state.at_level.point.as_ref();
    let name = |at: usize| levels.read.network.name(at);
    let place = cursor.and_then(|of| listed.iter().position(|at| name(*at) == of));
    place.unwrap_or(0)
}

/// The reading under the cursor, by its index.
pub(super) fn reading(state: &State, levels: &Levels) -> Option<usize> {
    let listed = readings(levels);
    listed.get(reading_place(state, levels, &listed)).copied()
}

/// The point under the cursor, by its index; `None` where the keys move over readings.
pub(super) fn point(state: &State, levels: &Levels) -> Option<usize> {
    if state.at_level.page != LevelsPage::Points {
        return None;
    }
    let listed = points(levels);
    listed.get(point_place(state, levels, &listed)).copied()
}
