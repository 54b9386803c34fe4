//! Opening a figure: which derivation belongs to it.

use super::derivation::{Derivation, How};
use crate::figures::Figures;
use crate::figures::catalogue::Subject;
use crate::journal::Inputs;
use crate::measure::LengthFormat;

/// A figure of a slot; `None` where there is no such figure. Its steps may be left out.
pub fn figure(
    inputs: &Inputs,
    figures: &Figures,
    slot: usize,
    subject: Subject,
    show: LengthFormat,
) -> Option<How> {
    match subject {
        Subject::StringLength => {
            let derivation = Derivation::of(inputs, figures, slot, show)?;
            Some(derivation.string_length_alone())
        }
        _ => how(inputs, figures, slot, subject, show),
    }
}

/// Most steps that are made at once. Only the length of a string has as many as it has joints.
const MOST_STEPS: usize = 1_000;

/// How a figure came about, as far as its steps are wanted.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PartOfHow {
    /// With some of its steps: all of them, but for lists of a thousand joints and more.
    pub how: How,
    /// Which of all steps is the first of these, counted from 0.
    pub first: usize,
    /// How many there are in all.
    pub all: usize,
}

/// How a figure of a slot came about, with its steps around one of them; `None` where there is no such figure.
pub fn part(
    inputs: &Inputs,
    figures: &Figures,
    slot: usize,
    (subject, step): (Subject, usize),
    show: LengthFormat,
) -> Option<PartOfHow> {
    let derivation = Derivation::of(inputs, figures, slot, show)?;
    let joints = derivation.figures.chain.string.pieces.len();
    if subject == Subject::StringLength && joints > MOST_STEPS {
        // Half of them before it, so that those in sight are among them wherever one scrolls to.
        let first = step.saturating_sub(MOST_STEPS / 2).min(joints - MOST_STEPS);
        return Some(PartOfHow {
            how: derivation.string_length(first..first + MOST_STEPS),
            first,
            all: joints,
        });
    }
    let how = how(inputs, figures, slot, subject, show)?;
    Some(PartOfHow {
        first: 0,
        all: how.steps.len(),
        how,
    })
}

/// How a figure of a slot came about; `None` where there is no such figure.
pub fn how(
    inputs: &Inputs,
    figures: &Figures,
    slot: usize,
    subject: Subject,
    show: LengthFormat,
) -> Option<How> {
    let derivation = Derivation::of(inputs, figures, slot, show)?;
    match subject {
        Subject::StringLength => {
            let joints = derivation.figures.chain.string.pieces.len();
            Some(derivation.string_length(0..joints))
        }
        Subject::StickUp => derivation.stick_up(),
        Subject::Top => derivation.top(),
        Subject::Shoe => derivation.shoe(),
        Subject::Shoulder => derivation.shoulder(),
        Subject::CutTarget => Some(derivation.cut_target()),
        Subject::CutBelowRotary => Some(derivation.cut_below_rotary()),
        Subject::CutPlace => derivation.cut_place(),
        Subject::Mark(from) => derivation.mark(from),
        Subject::Offcut => derivation.offcut(),
        Subject::AsCut => derivation.as_cut(),
        Subject::Accessory(index) => derivation.accessory(index),
        Subject::Plane(piece) => derivation.plane(piece),
        Subject::Frame => derivation.frame(figures.frame.as_ref()?),
        Subject::Run(pieces_in) => derivation.run(pieces_in),
    }
}
