//! How many joints are in at first.

use crate::figures::{Basis, SlotFigures};

/// Before it is run the floor starts with nothing in; what is read stands as it is.
pub fn start(figures: &SlotFigures) -> usize {
    if figures.chain.basis == Basis::Read {
        count(figures)
    } else {
        0
    }
}

/// How many pieces there are to run.
pub fn count(figures: &SlotFigures) -> usize {
    figures.chain.string.pieces.len() + figures.chain.string.landing.len()
}
