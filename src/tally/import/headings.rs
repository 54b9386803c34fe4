//! The headings of columns, in one row or in two.

use super::cell_text::starts_as_number;
use super::grid::Grid;
use super::synonyms::{Field, recognise, split_heading};
use super::units::is_units_row;
use crate::measure::Unit;

/// The headings of the plain form; only the first two of them must be there.
const PLAIN: [&str; 6] = [
    "joint",
    "length",
    "serial",
    "kind",
    "makeup_loss",
    "remarks",
];

/// What the heading of one column says.
#[derive(Clone, Debug)]
pub(super) struct HeadingRole {
    pub(super) heading: String,
    pub(super) name: String,
    pub(super) field: Option<Field>,
    pub(super) rank: usize,
    pub(super) unit: Option<Unit>,
    /// Whether this column holds the inches to the feet of the column before it.
    pub(super) inches: bool,
}

impl HeadingRole {
    pub(super) fn of_heading(heading: &str) -> Self {
        let (name, unit) = split_heading(heading);
        let known = recognise(&name);
        Self {
            heading: heading.split_whitespace().collect::<Vec<_>>().join(" "),
            name,
            field: known.map(|(field, _)| field),
            rank: known.map_or(0, |(_, rank)| rank),
            unit,
            inches: false,
        }
    }

    /// This heading with the one above it: it says what the column is where it can, alone or as the
    /// second half of a name.
    fn under(self, above: &Self) -> Self {
        if self.heading.is_empty() {
            return above.clone();
        }
        let heading = format!("{} {}", above.heading, self.heading);
        let joined = format!("{} {}", above.name, self.name);
        let known = recognise(&self.name).or_else(|| recognise(&joined));
        // Losses may be in inches beside lengths in feet, so that they take no unit on trust.
        let is_loss = known.is_some_and(|(field, _)| field == Field::Loss);
        let unit = above.unit.filter(|_| !is_loss);
        Self {
            name: if self.field.is_some() {
                self.name
            } else {
                joined
            },
            field: known.map(|(field, _)| field),
            rank: known.map_or(0, |(_, rank)| rank),
            unit: self.unit.or(unit),
            inches: false,
            heading,
        }
    }

    /// Whether the heading is nothing but feet.
    pub(super) fn is_feet(&self) -> bool {
        self.field.is_none() && Unit::from_word(&self.name) == Some(Unit::Foot)
    }

    /// Whether the heading is nothing but inches.
    pub(super) fn is_inches(&self) -> bool {
        self.field.is_none() && Unit::from_word(&self.name) == Some(Unit::Inch)
    }
}

pub(super) fn is_plain(roles: &[HeadingRole]) -> bool {
    let known = |role: &HeadingRole| {
        let bare = role
            .heading
            .split(['(', '['])
            .next()
            .unwrap_or_default()
            .trim()
            .to_owned();
        PLAIN.contains(&bare.as_str())
    };
    roles.iter().all(known)
}

/// The headings of a header of two rows, where the row under `upper` names columns again: an upper
/// heading such as `Length`, merged over several columns, with `Effective` and `Overall` under it.
///
/// `None` where the row under it does no such thing. Without this the upper heading would name the
/// first of the columns that it is above, whatever that one holds.
pub(super) fn of_two_rows(
    grid: &Grid,
    upper: usize,
    roles: &[HeadingRole],
) -> Option<Vec<HeadingRole>> {
    let lower = upper + 1;
    let adjoins = grid.line(lower) == grid.line(upper).saturating_add(1);
    let field = |column: usize| roles.get(column).and_then(|role| role.field);
    if !adjoins
        || grid.cells(lower).any(starts_as_number)
        || is_units_row(grid, lower, field)
        || !roles.iter().any(|role| role.field == Some(Field::Joint))
    {
        return None;
    }
    let under = |column: usize| HeadingRole::of_heading(grid.cell(lower, column));
    let width = roles.len().max(grid.width(lower));
    let names_again = (0..width).any(|column| {
        let lower = under(column).field;
        lower.is_some_and(Field::is_length) && lower != field(column)
    });
    // What is under the joint is a name of joints, or a joint of this table begins there.
    let joint_follows = (0..width)
        .filter(|column| field(*column) == Some(Field::Joint))
        .any(|column| !under(column).heading.is_empty() && under(column).field.is_none());
    if !names_again || joint_follows {
        return None;
    }
    let mut above: Option<&HeadingRole> = None;
    let mut both = Vec::with_capacity(width);
    for column in 0..width {
        let below = under(column);
        let own = roles.get(column).filter(|role| !role.heading.is_empty());
        // A heading is above the blank cells after it, where these have something under them.
        above = own.or(above.filter(|_| !below.heading.is_empty()));
        both.push(match above {
            Some(above) => below.under(above),
            None => below,
        });
    }
    Some(both)
}
