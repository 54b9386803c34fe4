//! The terms of the uncertainties of a chain's elevations and lengths.

use std::sync::Arc;

use super::by_readings::MarkPoint;
use super::chain::{Chain, SlotView};
use super::estimate::{Estimate, Source, Term, Variance};
use crate::job::{Hull, Uncertainty};
use crate::measure::{Elevation, Length};
use crate::tally::PipeString;

/// RT at the slot's hull position or at another.
pub(super) fn rotary(stated: &Uncertainty, hull: &Arc<Hull>) -> Term {
    Term::plain(Source::Rotary(Arc::clone(hull)), "rotary", stated.rotary)
}

/// The top, by RT, the stick-up, and the landing string that it was read on; or as all readings have it.
pub(super) fn of_top(view: SlotView<'_>, chain: &Chain) -> Estimate<Option<Elevation>> {
    let string = &chain.string;
    let terms = of_height(view, chain, string.pieces.len(), string.length);
    Estimate::new(chain.top, terms).known_by(adjusted(chain, MarkPoint::Top))
}

/// How well a point of a chain is known by all readings, where these are in force and say it.
pub(super) fn adjusted(chain: &Chain, point: MarkPoint) -> Option<Variance> {
    chain.by_readings.as_ref()?.known(point)
}

/// A make-up plane, the lower one of the piece `lowest`: the top, and the joints between. Without the
/// tape's scale, which is common to all that is taped and so is one term over all of it.
fn of_joints(view: SlotView<'_>, chain: &Chain, lowest: usize) -> Vec<Term> {
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
    if taped > 0 {
        let connections = string.connections_from(lowest) + string.landing.len();
        terms.extend(of_lengths(view.index, stated, taped, connections));
    }
    terms
}

/// How far a string is taped from the top of its landing string down to so far above the shoe.
fn taped_from_top(chain: &Chain, above_shoe: Length) -> Length {
    chain.string.landing_length + chain.string.length - above_shoe
}

/// A make-up plane, with the tape's scale over all that was taped from the top down to it; or as all readings have it.
pub fn of_plane(view: SlotView<'_>, chain: &Chain, lowest: usize) -> Estimate<Option<Elevation>> {
    let plane = chain.string.pieces.get(lowest).map(|piece| piece.lower);
    let terms = of_height(view, chain, lowest, plane.unwrap_or(chain.string.length));
    Estimate::new(chain.lower_plane(lowest), terms)
        .known_by(adjusted(chain, MarkPoint::Plane(lowest)))
}

/// A height above the shoe in or at the lower end of the piece `lowest`, with the tape's scale over all
/// that was taped from the top down to it; none where nothing was.
pub(super) fn of_height(
    view: SlotView<'_>,
    chain: &Chain,
    lowest: usize,
    above_shoe: Length,
) -> Vec<Term> {
    let mut terms = of_joints(view, chain, lowest);
    let taped = taped_from_top(chain, above_shoe);
    if !taped.is_zero() {
        terms.push(Term::tape_scale(taped, view.job.uncertainty.tape_scale));
    }
    terms
}

/// Setting out a mark from a plane or the top, by one tape from the top of the landing string down to
/// the target: the joints between, the tape's scale over all of it, and the marking itself.
pub(super) fn of_mark_on_string(
    view: SlotView<'_>,
    chain: &Chain,
    lowest: usize,
    target_above_shoe: Length,
) -> Vec<Term> {
    let stated = &view.job.uncertainty;
    let mut terms = of_joints(view, chain, lowest);
    let taped = taped_from_top(chain, target_above_shoe);
    terms.push(Term::tape_scale(taped, stated.tape_scale));
    terms.push(marking(stated));
    terms
}

/// Setting out a mark by a drop of the tape from a level reference.
pub(super) fn of_drop(stated: &Uncertainty, reference: Term, drop: Length) -> Vec<Term> {
    vec![
        reference,
        Term::tape_scale(drop.abs(), stated.tape_scale),
        marking(stated),
    ]
}

/// Every mark is set out once more with the tape.
fn marking(stated: &Uncertainty) -> Term {
    Term::plain(Source::Marking, "stick_up", stated.stick_up)
}

/// So many joints strapped and connections made up.
fn of_lengths(slot: usize, stated: &Uncertainty, joints: usize, connections: usize) -> [Term; 2] {
    [
        Term::several(Source::Straps(slot), "strap", joints, stated.strap),
        Term::several(
            Source::MakeUps(slot),
            "connection",
            connections,
            stated.connection,
        ),
    ]
}

/// A string's length: each joint strapped, each connection made up, and the tape's scale that is common
/// to all.
pub fn string_length(stated: &Uncertainty, slot: usize, string: &PipeString) -> Estimate<Length> {
    let connections = string.connections_from(0);
    let mut terms = of_lengths(slot, stated, string.pieces.len(), connections).to_vec();
    terms.push(Term::tape_scale(string.length, stated.tape_scale));
    Estimate::new(string.length, terms)
}

/// The mean of a finished top: the survey's own uncertainty and its benchmark, not reduced by averaging.
pub(super) fn of_as_cut(stated: &Uncertainty, slot: usize) -> Vec<Term> {
    vec![
        Term::plain(Source::Survey(slot), "as_cut", stated.as_cut),
        Term::plain(Source::Benchmark, "benchmark", stated.benchmark),
    ]
}

/// The highest less the lowest of so many readings round a finished top.
pub(super) fn of_level(stated: &Uncertainty, slot: usize, readings: usize) -> Vec<Term> {
    let (key, sigma) = stated.of_rim();
    vec![Term::range(Source::Rim(slot), key, readings, sigma)]
}

/// The highest less the lowest of so many finished tops: what their survey has in common cancels, where it
/// is one set-up of the instrument.
pub(super) fn of_spread(stated: &Uncertainty, cuts: usize, one_setup: bool) -> Vec<Term> {
    let mut terms = vec![Term::range(
        Source::Surveys(cuts),
        "as_cut",
        cuts,
        stated.as_cut,
    )];
    if !one_setup {
        terms.push(Term::range(
            Source::Benchmarks(cuts),
            "benchmark",
            cuts,
            stated.benchmark,
        ));
    }
    terms
}
