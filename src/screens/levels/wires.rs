//! How points hang together: each reading a line between the rows of its two points.

use std::collections::BTreeMap;

use crate::figures::Levels;

/// So many lines are placed at most: more are no picture.
const PLACED: usize = 1000;

/// What a line is drawn as.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Wire {
    /// Nothing checks it.
    Loose,
    /// Others check it.
    Checked,
    /// It is the one under the cursor, or at the point under it.
    Selected,
    /// It is suspected.
    Suspect,
}

/// A line from one row to another, in a column.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct WireLine {
    pub(super) column: usize,
    pub(super) from: usize,
    pub(super) to: usize,
    pub(super) wire: Wire,
    /// How many readings it stands for.
    pub(super) count: usize,
}

/// The lines that fit into so many columns, and how many readings do not. Short ones stand nearest to the names; those
/// under the cursor and those suspected are never left out for others.
pub(super) fn wires(
    levels: &Levels,
    rows: &[usize],
    selected: impl Fn(usize) -> bool,
    columns: usize,
) -> (Vec<WireLine>, usize) {
    let mut row_of = vec![None; levels.adjusted.points.len()];
    for (row, point) in rows.iter().enumerate() {
        if let Some(place) = row_of.get_mut(*point) {
            *place = Some(row);
        }
    }
    let row_of = |point: usize| row_of.get(point).copied().flatten();
    let mut found: BTreeMap<(usize, usize), (Wire, usize)> = BTreeMap::new();
    let readings = levels.read.network.readings.iter().enumerate();
    for (at, reading) in readings {
        let Some((one, other)) = row_of(reading.from).zip(row_of(reading.to)) else {
            continue;
        };
        let (from, to) = (one.min(other), one.max(other));
        let redundancy = levels.adjusted.readings.get(at).map(|it| it.redundancy);
        let wire = if levels.is_suspect(at) {
            Wire::Suspect
        } else if selected(at) {
            Wire::Selected
        } else if redundancy.flatten().is_some_and(|it| it > 0.0) {
            Wire::Checked
        } else {
            Wire::Loose
        };
        let line = found.entry((from, to)).or_insert((wire, 0));
        *line = (line.0.max(wire), line.1 + 1);
    }
    let mut lines: Vec<WireLine> = found
        .into_iter()
        .map(|((from, to), (wire, count))| WireLine {
            column: 0,
            from,
            to,
            wire,
            count,
        })
        .collect();
    lines.sort_by_key(|it| (it.wire < Wire::Selected, it.to - it.from, it.from));
    let beyond = lines.iter().skip(PLACED).map(|it| it.count).sum::<usize>();
    lines.truncate(PLACED);
    let mut taken: Vec<Vec<(usize, usize)>> = vec![Vec::new(); columns];
    let mut left_out = beyond;
    let mut shown = Vec::with_capacity(lines.len());
    for line in lines {
        let is_free = |column: &Vec<(usize, usize)>| {
            let mut spans = column.iter();
            spans.all(|(from, to)| line.to < *from || line.from > *to)
        };
        match taken.iter().position(is_free) {
            Some(column) => {
                if let Some(spans) = taken.get_mut(column) {
                    spans.push((line.from, line.to));
                }
                shown.push(WireLine { column, ..line });
            }
            None => left_out += line.count,
        }
    }
    (shown, left_out)
}
