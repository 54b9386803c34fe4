//! How points hang together: each reading a line between the rows of its two points.

use crate::figures::Levels;

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
    let row_of = |point: usize| rows.iter().position(|it| *it == point);
    let mut lines: Vec<WireLine> = Vec::new();
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
        let same = lines.iter_mut().find(|it| (it.from, it.to) == (from, to));
        if let Some(line) = same {
            line.wire = line.wire.max(wire);
            line.count += 1;
        } else {
            lines.push(WireLine {
                column: 0,
                from,
                to,
                wire,
                count: 1,
            });
        }
    }
    lines.sort_by_key(|it| (it.wire < Wire::Selected, it.to - it.from, it.from));
    let mut taken: Vec<Vec<(usize, usize)>> = vec![Vec::new(); columns];
    let mut left_out = 0;
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
