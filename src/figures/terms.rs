//! The terms of the uncertainties of a chain's elevations and lengths.

use std::sync::Arc;

use super::chain::{Chain, SlotView};
use super::estimate::{Estimate, Source, Term};
use crate::job::{Hull, Uncertainty};
use crate::measure::Length;
use crate::tally::PipeString;

/// RT at the slot's hull position or at another.
pub(super) fn rotary(stated: &Uncertainty, hull: &Arc<Hull>) -> Term {
    Term::plain(Source::Rotary(Arc::clone(hull)), "rotary", stated.rotary)
}

/// The top: RT, the stick-up, and the landing string that it was read on.
pub(super) fn of_top(view: SlotView<'_>, chain: &Chain) -> Vec<Term> {
    of_plane(view, chain, chain.string.pieces.len())
}

/// A make-up plane, the lower one of the piece `lowest`: the top, and the joints between. The tape's
/// scale is common to all of them and to the landing string, so it acts on their whole length.
pub fn of_plane(view: SlotView<'_>, chain: &Chain, lowest: usize) -> Vec<Term> {
    let stated = &view.job.uncertainty;
    let hull = &view.slot.hull;
    let mut terms = vec![
        rotary(stated, hull),
        Term::plain(
            Source::StickUp(view.index, Arc::clone(hull)),
            "stick_up",
            stated.stick_up,
        ),
    ];
    let string = &chain.string;
    let joints = string.pieces.len() - lowest.min(string.pieces.len());
    let taped = joints + string.landing.len();
    if taped == 0 {
        return terms;
    }
    let connections = string.connections_from(lowest) + string.landing.len();
    let length = string
        .pieces
        .iter()
        .skip(lowest)
        .map(|piece| piece.effective)
        .sum::<Length>()
        + string.landing_length;
    terms.extend(of_lengths(view.index, stated, taped, connections, length));
    terms
}

/// So many joints strapped, connections made up, and the tape's scale over all of them.
fn of_lengths(
    slot: usize,
    stated: &Uncertainty,
    joints: usize,
    connections: usize,
    length: Length,
) -> [Term; 3] {
    [
        Term::several(Source::Straps(slot), "strap", joints, stated.strap),
        Term::several(
            Source::MakeUps(slot),
            "connection",
            connections,
            Some(stated.connection),
        ),
        Term::tape_scale(length, stated.tape_scale),
    ]
}

/// A string's length: each joint strapped, each connection made up, and the tape's scale that is common
/// to all.
pub fn string_length(stated: &Uncertainty, slot: usize, string: &PipeString) -> Estimate<Length> {
    let terms = of_lengths(
        slot,
        stated,
        string.pieces.len(),
        string.connections_from(0),
        string.length,
    );
    Estimate::new(string.length, terms.to_vec())
}

/// The mean of a finished top: the survey's own uncertainty and its benchmark, not reduced by averaging.
pub(super) fn of_as_cut(stated: &Uncertainty, slot: usize) -> Vec<Term> {
    vec![
        Term::plain(Source::Survey(slot), "as_cut", stated.as_cut),
        Term::plain(Source::Benchmark, "benchmark", Some(stated.benchmark)),
    ]
}
