//! What can be opened to show how it came about.

use crate::figures::chain::Basis;
use crate::figures::marks::MarkFrom;
use crate::figures::whole::Figures;

/// A figure, or a few that belong together, that can be opened.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Subject {
    /// The length of the string.
    StringLength,
    /// The stick-up, read or to be read.
    StickUp,
    /// The top.
    Top,
    /// The shoe.
    Shoe,
    /// The landing shoulder.
    Shoulder,
    /// The cut's target.
    CutTarget,
    /// The cut below RT.
    CutBelowRotary,
    /// Which joint the cut lies in, and how far from connections.
    CutPlace,
    /// A mark.
    Mark(MarkFrom),
    /// The off-cut.
    Offcut,
    /// The finished top.
    AsCut,
    /// An accessory, by its index among the slot's.
    Accessory(usize),
    /// The lower make-up plane of a piece.
    Plane(usize),
    /// The frame's base, of the slot that carries it.
    Frame,
    /// The string with so many pieces in.
    Run(usize),
}

/// The figures of a slot that can be opened, in the order in which they are shown; marks nearest first.
/// Make-up planes are left out: each joint's row opens its own.
pub fn subjects(whole: &Figures, slot: usize) -> Vec<Subject> {
    let Some(figures) = whole.slots.get(slot) else {
        return Vec::new();
    };
    let mut subjects = vec![Subject::StringLength];
    if figures.chain.basis != Basis::None {
        subjects.extend([Subject::StickUp, Subject::Top, Subject::Shoe]);
    }
    if figures.chain.shoulder_elevation().is_some() {
        subjects.push(Subject::Shoulder);
    }
    subjects.extend([Subject::CutTarget, Subject::CutBelowRotary]);
    if let Some(place) = &figures.cut.place {
        subjects.push(Subject::CutPlace);
        let marks = place.nearest_first().into_iter();
        subjects.extend(marks.map(|mark| Subject::Mark(mark.from)));
        subjects.push(Subject::Offcut);
    }
    if figures.cut.as_cut.is_some() {
        subjects.push(Subject::AsCut);
    }
    let accessories = figures.accessories.iter().enumerate();
    let placed = accessories.filter(|(_, place)| place.piece.is_some());
    subjects.extend(placed.map(|(index, _)| Subject::Accessory(index)));
    let frame = whole.frame.as_ref().filter(|frame| frame.slot == slot);
    if frame.is_some_and(|frame| frame.base.is_some()) {
        subjects.push(Subject::Frame);
    }
    subjects
}
