//! Running the string: where its parts are after each joint, by the plan or by where it was landed.

use super::fits::AccessoryPlace;
use super::running::Running;
use super::slot::SlotFigures;
use crate::job::Hull;
use crate::measure::{Depth, Elevation, Length};
use crate::tally::Piece;

/// The string with so many pieces made up, the last of them landing pieces.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RunStep {
    /// How many pieces are in: conductor joints first, then landing pieces.
    pub pieces_in: usize,
    /// Length from the shoe to the top of what is in.
    pub length: Length,
    /// The shoe below RT when the top stands level with the stick-up surface.
    pub shoe_below_rotary: Depth,
    /// What the stick-up will be when the string reaches its place with these pieces in: positive
    /// when the top then still stands above the surface, negative by how much is lacking. `None`
    /// without a basis.
    pub stick_up_at_place: Option<Length>,
    /// The next piece, as an index of the tally; `None` when all are in.
    pub next: Option<usize>,
    /// Accessories to fit on the next piece.
    pub fit: Vec<AccessoryPlace>,
}

/// Every step from none in to all in, at the hull position of the stick-up.
pub fn run_steps(hull: &Hull, figures: &SlotFigures) -> Vec<RunStep> {
    (0..=pieces_to_run(figures))
        .map(|pieces_in| run_step(hull, figures, pieces_in))
        .collect()
}

/// How many pieces there are to run: those of the conductor, then those of the landing string.
pub fn pieces_to_run(figures: &SlotFigures) -> usize {
    let string = &figures.chain.string;
    string.pieces.len() + string.landing.len()
}

/// The step with so many pieces in; with all of them where there are fewer.
pub fn run_step(hull: &Hull, figures: &SlotFigures, pieces_in: usize) -> RunStep {
    let string = &figures.chain.string;
    let pieces_in = pieces_in.min(pieces_to_run(figures));
    let of_conductor = pieces_in.min(string.pieces.len());
    let conductor = of_conductor
        .checked_sub(1)
        .and_then(|last| string.pieces.get(last))
        .map_or(Length::ZERO, Piece::upper);
    let landing = string.landing.iter().take(pieces_in - of_conductor);
    let length = conductor + landing.map(|piece| piece.effective).sum();
    let next = match pieces_in.checked_sub(string.pieces.len()) {
        None => Some(pieces_in),
        Some(at) => string.landing.get(at).map(|piece| piece.joint),
    };
    let surface = hull.stick_up_surface();
    let lean = figures.chain.lean;
    let shoe_hanging: Elevation = surface - lean.rise(length);
    let at_place = figures.as_read().shoe;
    RunStep {
        pieces_in,
        length,
        shoe_below_rotary: hull.rotary.depth_of(shoe_hanging),
        stick_up_at_place: at_place.map(|shoe| shoe + lean.rise(length) - surface),
        next,
        fit: figures
            .accessories
            .iter()
            .filter(|place| place.piece == Some(pieces_in))
            .copied()
            .collect(),
    }
}

/// The step at which a string is by the journal: of the joints that hang, whichever they are.
pub fn entered_step(hull: &Hull, figures: &SlotFigures, running: &Running) -> RunStep {
    let surface = hull.stick_up_surface();
    let accessories = figures.accessories.iter();
    let lean = figures.chain.lean;
    RunStep {
        pieces_in: running.joints_run,
        length: running.hanging,
        shoe_below_rotary: hull.rotary.depth_of(surface - lean.rise(running.hanging)),
        stick_up_at_place: figures
            .as_read()
            .shoe
            .map(|shoe| shoe + lean.rise(running.hanging) - surface),
        next: running.next,
        fit: accessories
            .filter(|place| place.piece.is_some() && place.piece == running.next)
            .copied()
            .collect(),
    }
}
