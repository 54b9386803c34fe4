//! All that there is to say of a reading or a point.

use super::rows::worked;
use super::state::OpenedLevel;
use crate::report::words;
use crate::screens::parts::pen::StyledLine;
use crate::screens::state::State;
use crate::screens::theme::Role;

/// The lines of what is opened; none where it is gone.
pub fn lines(state: &State, of: &OpenedLevel, width: usize) -> Vec<StyledLine> {
    let Some(levels) = worked(state) else {
        return Vec::new();
    };
    let show = state.show;
    let mut lines = Vec::new();
    let mut add = |line: StyledLine| lines.extend(line.wrapped(width, 4));
    match of {
        OpenedLevel::Reading(of) => {
            let mut all = 0..levels.adjusted.readings.len();
            let Some(at) = all.find(|at| levels.is_reading(*at, of)) else {
                return Vec::new();
            };
            add(StyledLine::of(words::reading_of(of), Role::Title));
            for (what, value) in words::reading_steps(levels, at, show) {
                let value =
                    StyledLine::of(format!("{what}: "), Role::Label).and(value, Role::Plain);
                add(value);
            }
        }
        OpenedLevel::Point(name) => {
            let Some(at) = levels.read.network.find(name) else {
                return Vec::new();
            };
            let point = levels.adjusted.points.get(at);
            let fixed = levels.read.network.points.get(at);
            let is_fixed = fixed.is_some_and(|it| it.fixed.is_some());
            if let Some(it) = point {
                let text = words::point(name, it.elevation, (is_fixed, levels.u_of(at)), show);
                add(StyledLine::of(text, Role::Title));
            }
            let readings = levels.read.network.readings.iter().enumerate();
            for (at, _) in readings.filter(|(_, it)| it.from == at || it.to == at) {
                let found = levels.reading(at).zip(levels.read.shown.get(at));
                if let (Some((name, shown)), Some(it)) = (found, levels.adjusted.readings.get(at)) {
                    let is_suspect = levels.is_suspect(at);
                    let said = words::reading_said(&name, *shown, (it, is_suspect), show);
                    let role = if is_suspect { Role::Check } else { Role::Plain };
                    add(StyledLine::of(said, role));
                }
            }
        }
    }
    lines
}
