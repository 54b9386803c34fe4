//! The string that a tally makes: effective lengths, running sums and make-up planes.
//!
//! A tally in the sense of ISO 10405 / API RP 5C1: each joint measured from the outermost face of
//! the box to the point on the pin where the box face stops when made up; the sum is the unloaded
//! length of the string.

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
    pub fn upper(&self) -> Length {
        self.lower + self.effective
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
    pub pieces: Vec<Piece>,
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

        let mut height = Length::ZERO;
        let mut pieces = Vec::with_capacity(count);
        for (index, joint) in tally.joints.iter().take(count).enumerate() {
            let open_end = if pins.up {
                index + 1 == count
            } else {
                index == 0
            };
            let adds = effective(joint, !open_end);
            pieces.push(Piece {
                effective: adds,
                lower: height,
            });
            height += adds;
        }

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
            pieces,
            length: height,
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
            let mut above = self.pieces.iter_mut().skip(*joint);
            let Some(piece) = above.next() else { continue };
            piece.effective -= *length;
            for piece in above {
                piece.lower -= *length;
            }
            self.length -= *length;
        }
        self
    }

    /// The piece that contains a height above the shoe: on a make-up plane the upper one, at the
    /// very top the top one. `None` off the string.
    pub fn piece_at(&self, height: Length) -> Option<usize> {
        if height.is_negative() || height > self.length {
            return None;
        }
        let above = self.pieces.partition_point(|piece| piece.upper() <= height);
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
