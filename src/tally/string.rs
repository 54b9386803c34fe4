//! The string that a tally makes: effective lengths, running sums and make-up planes.
//!
//! A tally in the sense of ISO 10405 / API RP 5C1: each joint measured from the outermost face of
//! the box to the point on the pin where the box face stops when made up; the sum is the unloaded
//! length of the string.

use std::fmt;

use super::joint::Joint;
use super::model::Tally;
use crate::measure::Length;

/// Which end of a joint carries the pin, and what a blank make-up loss counts as.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Pins {
    /// Pins up: the upper end of each joint enters the joint above. Otherwise pins down.
    pub up: bool,
    /// The make-up loss of joints whose own is blank.
    pub nominal_loss: Option<Length>,
}

/// One joint of the conductor in its place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Piece {
    /// What it adds to the string.
    pub effective: Length,
    /// The height of its lower make-up plane above the shoe (for the bottom joint: of its lower end).
    pub lower: Length,
}

impl Piece {
    /// The height of its upper make-up plane above the shoe (for the top joint: of the top).
    pub fn upper(self) -> Length {
        self.lower + self.effective
    }
}

/// The joints of a conductor in their places: a height for each plane, from which the lengths follow.
#[derive(Clone, PartialEq, Eq)]
pub struct Pieces {
    /// The heights of the planes above the shoe, from that of its lower end to the top.
    planes: Vec<Length>,
}

impl Pieces {
    /// Pieces of these effective lengths, shoe first.
    fn of(lengths: impl ExactSizeIterator<Item = Length>) -> Self {
        let mut planes = Vec::with_capacity(lengths.len() + 1);
        let mut height = Length::ZERO;
        planes.push(height);
        planes.extend(lengths.map(|length| {
            height += length;
            height
        }));
        Self { planes }
    }

    /// How many there are.
    pub fn len(&self) -> usize {
        self.planes.len().saturating_sub(1)
    }

    /// Whether there is none.
    pub fn is_empty(&self) -> bool {
        self.len() == 0
    }

    /// One of them, counted from 0 at the shoe.
    pub fn get(&self, piece: usize) -> Option<Piece> {
        let (lower, upper) = (self.planes.get(piece)?, self.planes.get(piece + 1)?);
        Some(Piece {
            effective: *upper - *lower,
            lower: *lower,
        })
    }

    /// All of them, shoe first.
    pub fn iter(&self) -> impl DoubleEndedIterator<Item = Piece> + ExactSizeIterator + Clone {
        self.planes.windows(2).map(|planes| {
            // Windows of two have two.
            let lower = planes.first().copied().unwrap_or_default();
            let upper = planes.last().copied().unwrap_or_default();
            Piece {
                effective: upper - lower,
                lower,
            }
        })
    }

    /// How many of the lowest are below something, which those above are not.
    pub fn count_below(&self, is_below: impl Fn(Piece) -> bool) -> usize {
        let (mut from, mut to) = (0, self.len());
        while from < to {
            let middle = from.midpoint(to);
            if self.get(middle).is_some_and(&is_below) {
                from = middle + 1;
            } else {
                to = middle;
            }
        }
        from
    }

    /// Takes so much off one of them: those above come down.
    fn crop(&mut self, piece: usize, length: Length) {
        for plane in self.planes.iter_mut().skip(piece.saturating_add(1)) {
            *plane -= length;
        }
    }

    fn top(&self) -> Length {
        self.planes.last().copied().unwrap_or_default()
    }
}

impl fmt::Debug for Pieces {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_list().entries(self.iter()).finish()
    }
}

/// One landing joint or tool above the conductor.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct LandingPiece {
    /// Its index in the tally.
    pub joint: usize,
    /// What it adds to the height of the stick-up.
    pub effective: Length,
}

/// The joints of one conductor made up end to end, and the landing string on top of them.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PipeString {
    /// The conductor's joints, shoe first, each at its index in the tally; never empty.
    pub pieces: Pieces,
    /// Length from the shoe to the top of the conductor.
    pub length: Length,
    /// The landing joints, lowest first.
    pub landing: Vec<LandingPiece>,
    /// Height of the top of the landing string above the top of the conductor.
    pub landing_length: Length,
    /// Pins up rather than down.
    pub pins_up: bool,
}

impl PipeString {
    /// Makes up the joints of a tally.
    ///
    /// Pins down: `e_1 = L_1`, `e_i = L_i - m_i` above it; pins up: `e_i = L_i - m_i` below the top
    /// joint, `e_n = L_n`. The loss at the open pin end is never deducted. With pins up the landing
    /// string takes the loss of the conductor's top joint, whose pin it swallows.
    pub fn make_up(tally: &Tally, pins: Pins) -> Self {
        let count = tally.conductor_joints();
        let loss = |joint: &Joint| {
            joint
                .makeup_loss
                .or(pins.nominal_loss)
                .unwrap_or(Length::ZERO)
        };
        let full = |joint: &Joint| joint.length.unwrap_or(Length::ZERO);
        let effective = |joint: &Joint, made_up: bool| {
            if made_up && joint.effective().is_none() {
                full(joint) - loss(joint)
            } else {
                full(joint)
            }
        };

        let joints = tally.joints.iter().take(count).enumerate();
        let pieces = Pieces::of(joints.map(|(index, joint)| {
            let open_end = if pins.up {
                index + 1 == count
            } else {
                index == 0
            };
            effective(joint, !open_end)
        }));

        let mut landing: Vec<LandingPiece> = Vec::new();
        for (index, joint) in tally.joints.iter().enumerate().skip(count) {
            let topmost = index + 1 == tally.joints.len();
            let mut adds = effective(joint, !(pins.up && topmost));
            if pins.up && index == count {
                let top_joint = index.checked_sub(1).and_then(|top| tally.joints.get(top));
                adds -= top_joint
                    .filter(|top| top.effective().is_none())
                    .map_or(Length::ZERO, loss);
            }
            landing.push(LandingPiece {
                joint: index,
                effective: adds,
            });
        }
        let landing_length = landing.iter().map(|piece| piece.effective).sum();
        Self {
            length: pieces.top(),
            pieces,
            landing,
            landing_length,
            pins_up: pins.up,
        }
    }

    /// The joint that a piece is, in the tally that the string was made up from; `None` where there is no such piece.
    pub fn joint<'t>(&self, tally: &'t Tally, piece: usize) -> Option<&'t Joint> {
        tally
            .joints
            .get(piece)
            .filter(|_| piece < self.pieces.len())
    }

    /// The same string with so much cropped off some of its joints, by their indices in the tally.
    #[must_use]
    pub fn cropped(mut self, crops: &[(usize, Length)]) -> Self {
        for (joint, length) in crops {
            self.pieces.crop(*joint, *length);
        }
        self.length = self.pieces.top();
        self
    }

    /// The piece that contains a height above the shoe: on a make-up plane the upper one, at the
    /// very top the top one. `None` off the string.
    pub fn piece_at(&self, height: Length) -> Option<usize> {
        if height.is_negative() || height > self.length {
            return None;
        }
        let above = self.pieces.count_below(|piece| piece.upper() <= height);
        Some(above.min(self.pieces.len().saturating_sub(1)))
    }

    /// How many connections the joints from `lowest` up to the top have made up with their own pin.
    pub fn connections_from(&self, lowest: usize) -> usize {
        let joints = self.pieces.len().saturating_sub(lowest);
        let open_end_counts = self.pins_up || lowest == 0;
        if open_end_counts {
            joints.saturating_sub(1)
        } else {
            joints
        }
    }

    /// Index in the tally of the joint whose pin is open: the shoe joint with pins down, the topmost
    /// piece with pins up.
    pub fn open_end(&self) -> usize {
        if self.pins_up {
            (self.pieces.len() + self.landing.len()).saturating_sub(1)
        } else {
            0
        }
    }
}
