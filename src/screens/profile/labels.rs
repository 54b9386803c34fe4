//! Labels beside a drawing: each on the row of its elevation, or on a free row nearby with a leader to its own. A label
//! on another row without one would be read as a figure of that row.

use crate::measure::Elevation;
use crate::screens::parts::pen::{Pen, width};
use crate::screens::theme::Role;

/// How far from its row a label may stand.
const FAR: u16 = 4;

/// What stands beside a row.
pub struct Label {
    /// Its elevation.
    pub at: Elevation,
    /// The row.
    pub row: u16,
    /// What it says, the longest first; a shorter one where there is no room.
    pub texts: Vec<String>,
    /// Its look.
    pub role: Role,
}

impl Label {
    /// How many cells it takes in full.
    pub fn width(&self) -> usize {
        self.texts.first().map_or(0, |text| width(text))
    }

    /// The longest text that fits; all of a figure or none of it: a figure cut short is another figure.
    fn fitting(&self, room: usize) -> Option<&str> {
        let mut texts = self.texts.iter();
        texts.find(|text| width(text) <= room).map(String::as_str)
    }
}

/// Which rows have a label, and which a leader in the column before.
struct Taken {
    /// The elevation of what stands on each row.
    labels: Vec<Option<Elevation>>,
    leaders: Vec<bool>,
}

impl Taken {
    fn has_label(&self, row: u16) -> bool {
        self.labels.get(usize::from(row)) != Some(&None)
    }

    fn has_leader(&self, row: u16) -> bool {
        self.leaders.get(usize::from(row)) != Some(&false)
    }

    /// The nearest row without a label that a leader can reach from that of a label, and the rows that it passes. What
    /// is higher than the label on its row goes above that.
    fn reached(&self, label: &Label) -> Option<(u16, Vec<u16>)> {
        let from = label.row;
        let there = self.labels.get(usize::from(from)).copied().flatten();
        let is_higher = there.is_some_and(|there| label.at > there);
        let places = (1..=FAR).flat_map(|far| {
            let (below, above) = (from.checked_add(far), from.checked_sub(far));
            if is_higher {
                [above, below]
            } else {
                [below, above]
            }
        });
        places.flatten().find_map(|row| {
            let between: Vec<u16> = (from.min(row) + 1..from.max(row)).collect();
            let is_open = !self.has_label(row)
                && !self.has_leader(row)
                && between.iter().all(|it| !self.has_leader(*it));
            is_open.then_some((row, between))
        })
    }

    fn take(&mut self, row: u16, at: Elevation, passed: &[u16]) {
        if let Some(label) = self.labels.get_mut(usize::from(row)) {
            *label = Some(at);
        }
        for row in passed {
            if let Some(leader) = self.leaders.get_mut(usize::from(*row)) {
                *leader = true;
            }
        }
    }
}

/// Writes labels, the most important first, from a column on that is one after that of the leaders.
pub fn write(pen: &mut Pen<'_>, x: u16, labels: &[Label]) {
    let rows = usize::from(pen.area.height);
    // A free cell after each keeps it off what lies behind.
    let room = usize::from(pen.area.width.saturating_sub(x + 1));
    let mut taken = Taken {
        labels: vec![None; rows],
        leaders: vec![false; rows],
    };
    let mut displaced = Vec::new();
    for label in labels {
        let Some(text) = label.fitting(room) else {
            continue;
        };
        if taken.has_label(label.row) {
            displaced.push((label, text));
        } else {
            put(pen, (x, label.row), text, label.role);
            taken.take(label.row, label.at, &[]);
        }
    }
    let Some(column) = x.checked_sub(1) else {
        return;
    };
    let glyphs = pen.theme.glyphs;
    for (label, text) in displaced {
        let Some((row, between)) = taken.reached(label) else {
            continue;
        };
        let [below, above] = glyphs.leaders;
        let corner = if row > label.row { below } else { above };
        pen.sign(column, row, corner, Role::Quiet);
        for row in &between {
            pen.sign(column, *row, glyphs.wall, Role::Quiet);
        }
        put(pen, (x, row), text, label.role);
        let passed: Vec<u16> = between.into_iter().chain([row]).collect();
        taken.take(row, label.at, &passed);
    }
}

/// A space after a label keeps it off what lies behind.
fn put(pen: &mut Pen<'_>, (x, row): (u16, u16), text: &str, role: Role) {
    let end = pen.text(x, row, text, role);
    pen.text(end, row, " ", Role::Plain);
}
