//! The points of a slot's string, and where they lie on it.

use super::read::top_point;
use crate::figures::chain::{Chain, RunningJoint};
use crate::job::Slot;
use crate::measure::Length;
use crate::tally::Tally;

/// A point of a slot's string.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum StringPoint {
    Shoe,
    /// The lower make-up plane of a piece.
    Plane(usize),
    Shoulder,
    Top,
}

/// A slot with where its string's parts are.
pub(super) struct HungSlot<'a> {
    pub(super) at: usize,
    pub(super) slot: &'a Slot,
    pub(super) tally: &'a Tally,
    pub(super) chain: Chain,
}

/// The points of a slot's string in a network, by their indices.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(in crate::figures) struct StringPoints {
    /// The lower make-up plane of each piece, from the shoe up; empty where the string is not divided at each.
    pub(in crate::figures) planes: Vec<usize>,
    /// The landing shoulder.
    pub(in crate::figures) shoulder: Option<usize>,
}

impl HungSlot<'_> {
    /// The piece of the landing shoulder, and the shoulder's height above its lower plane.
    pub(super) fn shoulder(&self) -> Option<(usize, Length)> {
        let offset = self.slot.shoulder_offset?;
        match self.chain.running {
            RunningJoint::At(piece) => Some((piece, offset)),
            _ => None,
        }
    }

    /// Whether a shoulder lies between the planes of its joint.
    pub(super) fn is_on_its_joint(&self, (piece, offset): (usize, Length)) -> bool {
        let piece = self.chain.string.pieces.get(piece);
        piece.is_some_and(|it| !offset.is_negative() && it.lower + offset <= it.upper())
    }

    /// A point of the string: its height above the shoe, and the piece in which it is or that begins there; past the last
    /// for the top.
    pub(super) fn height(&self, point: StringPoint) -> Option<(Length, usize)> {
        let string = &self.chain.string;
        match point {
            StringPoint::Shoe => Some((Length::ZERO, 0)),
            StringPoint::Top => Some((string.length, string.pieces.len())),
            StringPoint::Plane(piece) => Some((string.pieces.get(piece)?.lower, piece)),
            StringPoint::Shoulder => {
                let (piece, offset) = self.shoulder()?;
                Some((string.pieces.get(piece)?.lower + offset, piece))
            }
        }
    }

    /// The point of a name, where it is one of this string.
    pub(super) fn point(&self, name: &str) -> Option<StringPoint> {
        let rest = name
            .strip_prefix(self.slot.name.as_str())?
            .strip_prefix('.')?;
        match rest {
            "shoe" => Some(StringPoint::Shoe),
            "top" => Some(StringPoint::Top),
            "shoulder" => self.shoulder().map(|_| StringPoint::Shoulder),
            other => {
                let joint = other.strip_prefix("plane@")?;
                let pieces = 0..self.chain.string.pieces.len();
                let mut pieces = pieces.filter(|it| self.chain.number(self.tally, *it) == joint);
                pieces.next().map(StringPoint::Plane)
            }
        }
    }

    pub(super) fn name(&self, point: StringPoint) -> String {
        let slot = &self.slot.name;
        match point {
            StringPoint::Shoe => format!("{slot}.shoe"),
            StringPoint::Top => top_point(slot),
            StringPoint::Shoulder => format!("{slot}.shoulder"),
            StringPoint::Plane(piece) => {
                format!("{slot}.plane@{}", self.chain.number(self.tally, piece))
            }
        }
    }
}
