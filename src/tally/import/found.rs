//! What the rows of a table hold, in the order of the page.

use super::grid::Grid;
use crate::measure::{ParsedLength, Unit, visible_lines};
use crate::tally::claim::{Claim, Claimed};
use crate::tally::joint::Joint;
use crate::tally::remarks::{SkipReason, Skipped, UnknownKind};

/// Joints, claims and lines that are not used.
pub(super) struct FoundRows {
    pub(super) joints: Vec<Joint>,
    pub(super) claims: Vec<Claim>,
    pub(super) skipped: Vec<Skipped>,
    /// Words in the column of kinds that are no kind.
    pub(super) unknown_kinds: Vec<UnknownKind>,
    /// The unit of the length column, once it is known.
    pub(super) unit: Option<Unit>,
}

impl FoundRows {
    /// Lists a row that is not used as a joint.
    pub(super) fn skip(&mut self, grid: &Grid<'_>, row: usize, why: SkipReason) {
        self.skipped.push(Skipped {
            line: grid.line(row),
            why,
            text: visible_lines(&grid.joined(row)).into_owned(),
        });
    }

    pub(super) fn claim(&mut self, line: u32, claimed: Claimed, reading: ParsedLength) {
        self.claims.push(Claim {
            line,
            claimed,
            value: reading.length,
            last_place: reading.last_place,
        });
    }
}
