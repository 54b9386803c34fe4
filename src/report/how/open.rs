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
        Subject::StringLength => Some(derivation.string_length()),
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
