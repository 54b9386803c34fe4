//! What the rows of a table hold, in the order of the page.

use std::borrow::Cow;

use compact_str::CompactString;

use super::grid::Grid;
use super::limits::MAX_READING;
use super::number_order::NumberOrder;
use crate::measure::{Length, ParsedLength, Unit, visible_lines};
use crate::tally::claim::{Claim, Claimed};
use crate::tally::joint::{Joint, Kind};
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
    /// The joints whose kinds have their place at an end: shoes, tops and landing joints.
    pub(super) ends: Vec<(usize, Kind)>,
    /// What the joint numbers tell of the order.
    pub(super) numbers: NumberOrder,
    /// How many bytes their texts take beside them.
    pub(super) kept: usize,
}

/// What the string that is made of a joint, and the search for repeats, take.
const DERIVED: usize = size_of::<Length>() + size_of::<u64>();

impl FoundRows {
    /// Notes what the number and the kind of the next joint tell.
    pub(super) fn note(&mut self, number: &str, kind: Option<Kind>) {
        self.numbers.take(number, kind);
        if let Some(kind @ (Kind::Shoe | Kind::Top | Kind::Landing)) = kind {
            self.ends.push((self.joints.len(), kind));
        }
    }

    /// Counts what the texts of the next joint take beside it.
    pub(super) fn keep(&mut self, inside: [&str; 2], remarks: Option<&str>) {
        // What has no room in a joint, and what keeping it by itself takes, as allocators go.
        const APART: usize = 16;
        let long = |text: &str| {
            let is_long = text.len() > size_of::<CompactString>();
            if is_long { text.len() + APART } else { 0 }
        };
        let boxed = size_of::<CompactString>() + APART;
        self.kept += inside.into_iter().map(long).sum::<usize>();
        self.kept += remarks.map_or(0, |text| boxed + long(text));
    }

    /// Whether all this takes more bytes than there is room for, or what is made of it once the file is closed does.
    pub(super) fn is_beyond(&self, room: usize) -> bool {
        let joints = self.joints.len();
        let held = joints * size_of::<Joint>()
            + self.skipped.len() * size_of::<Skipped>()
            + self.ends.len() * size_of::<(usize, Kind)>()
            + self.claims.len() * size_of::<Claim>()
            + self.unknown_kinds.len() * size_of::<UnknownKind>()
            + self.kept;
        held > room || held + joints * DERIVED > MAX_READING
    }

    /// Lists a row that is not used as a joint.
    pub(super) fn skip(&mut self, grid: &Grid<'_>, row: usize, why: SkipReason) {
        let joined = grid.joined(row);
        let text = match visible_lines(&joined) {
            Cow::Borrowed(_) => joined,
            Cow::Owned(shown) => shown,
        };
        self.kept += text.capacity();
        self.skipped.push(Skipped {
            line: grid.line(row),
            why,
            text,
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
