//! Why one list may give another length or loss than is right: mistakes that people make, to within rounding.

use super::mistakes::{Mistake, corrections, loss_corrections};
use crate::measure::Length;
use crate::tally::Joint;

/// A mistake in one reading.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ReadingMistake {
    /// In writing it.
    Written(Mistake),
    /// The effective length is written in place of the overall one.
    LossTakenOff,
}

/// The mistakes that make the length `wrong` of a joint of `right`; `losses` are those that lists give it.
pub(super) fn of_length(
    joint: &Joint,
    (wrong, right): (Length, Length),
    losses: impl IntoIterator<Item = Length>,
    rounded: Length,
) -> Vec<ReadingMistake> {
    let agree = |one: Length, other: Length| (one - other).abs() <= rounded;
    let mut fits: Vec<ReadingMistake> = Vec::new();
    for (mistake, meant) in corrections(wrong, joint.written) {
        let mistake = ReadingMistake::Written(mistake);
        if agree(meant, right) && !fits.contains(&mistake) {
            fits.push(mistake);
        }
    }
    let mut losses = losses.into_iter().filter(|loss| !loss.is_zero());
    if losses.any(|loss| agree(right - loss, wrong)) {
        fits.push(ReadingMistake::LossTakenOff);
    }
    fits
}

/// The mistakes that make the loss `wrong` of a joint of `right`: it is left out, taken twice, or wrong in its digits.
pub(super) fn of_loss(
    joint: &Joint,
    (wrong, right): (Length, Length),
    rounded: Length,
) -> Vec<ReadingMistake> {
    let written = joint.loss_written.unwrap_or(joint.written);
    let mut fits = Vec::new();
    if wrong.is_zero() && right > rounded {
        fits.push(ReadingMistake::Written(Mistake::LossNotDeducted));
    }
    if !right.is_zero() && (wrong - right - right).abs() <= rounded {
        fits.push(ReadingMistake::Written(Mistake::LossDeductedTwice));
    }
    for (mistake, meant) in loss_corrections(wrong, written).iter().copied() {
        let mistake = ReadingMistake::Written(mistake);
        if (meant - right).abs() <= rounded && !fits.contains(&mistake) {
            fits.push(mistake);
        }
    }
    fits
}
