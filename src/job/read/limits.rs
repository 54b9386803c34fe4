//! The tolerances of cuts, the uncertainties of readings, and the limit of undecided differences.

use std::sync::Arc;

use super::super::bounds;
use super::super::model::{Agree, CutSpec, Elevations, Hull, Uncertainty};
use super::super::section::Section;
use super::super::walk::Walk;
use super::names::{named, names};
use crate::measure::Length;

/// Up to where an undecided difference between lists passes, unless the file says otherwise.
const OPEN_ABOVE: Length = Length::from_mm(5);

/// The limit of undecided differences between lists of one string.
pub(super) fn open_above<'t>(root: &Section<'t>, walk: &mut Walk<'t>) -> Length {
    let Some(section) = root.table(walk, "reconcile") else {
        return OPEN_ABOVE;
    };
    let above = section.length(walk, &bounds::OPEN_ABOVE);
    section.finish(walk);
    above.unwrap_or(OPEN_ABOVE)
}

/// How far two ways to one figure may differ.
pub(super) fn agree<'t>(root: &Section<'t>, walk: &mut Walk<'t>) -> Agree {
    let defaults = Agree::default();
    let Some(section) = root.table(walk, "agree") else {
        return defaults;
    };
    let mut stated = |row| section.length(walk, row);
    let agree = Agree {
        plan: stated(&bounds::AGREE_PLAN).unwrap_or(defaults.plan),
        raise: stated(&bounds::AGREE_RAISE).unwrap_or(defaults.raise),
        air_gap: stated(&bounds::AGREE_AIR_GAP).unwrap_or(defaults.air_gap),
        deck: stated(&bounds::AGREE_DECK).unwrap_or(defaults.deck),
        marks: stated(&bounds::AGREE_MARKS).unwrap_or(defaults.marks),
    };
    section.finish(walk);
    agree
}

/// How the conductors are cut; `None` where its hull position is not one of the valid ones.
pub(super) fn cut<'t>(
    root: &Section<'t>,
    walk: &mut Walk<'t>,
    hulls: &[Arc<Hull>],
) -> Option<CutSpec> {
    let last = hulls.last().cloned();
    let Some(section) = root.table(walk, "cut") else {
        return Some(CutSpec {
            elevations: Elevations::default(),
            hull: last?,
            kerf: Length::ZERO,
            kerf_is_stated: false,
            rough_above: None,
            tolerance: None,
            spread: None,
            level: None,
            clearance: None,
        });
    };
    let hull = match section.text(walk, "hull") {
        None => last,
        Some(name) => {
            let known = names(root.names("hull"));
            named(&section, walk, "hull", &name, &known)
                .and_then(|_| hulls.iter().find(|hull| hull.name == name).cloned())
        }
    };
    let elevations = section.word(walk, "elevations", &Elevations::WORDS);
    let mut limit = |row| section.length(walk, row);
    let (kerf, rough_above) = (limit(&bounds::KERF), limit(&bounds::ROUGH_ABOVE));
    let (tolerance, spread) = (limit(&bounds::TOLERANCE), limit(&bounds::SPREAD));
    let (level, clearance) = (limit(&bounds::LEVEL), limit(&bounds::CLEARANCE));
    section.finish(walk);
    Some(CutSpec {
        elevations: elevations.unwrap_or_default(),
        hull: hull?,
        kerf: kerf.unwrap_or_default(),
        kerf_is_stated: kerf.is_some(),
        rough_above,
        tolerance,
        spread,
        level,
        clearance,
    })
}

pub(super) fn uncertainty<'t>(section: Section<'t>, walk: &mut Walk<'t>) -> Uncertainty {
    let tape_scale = section.real(walk, &bounds::TAPE_SCALE);
    let mut stated = |row| section.length(walk, row);
    let uncertainty = Uncertainty {
        strap: stated(&bounds::U_STRAP),
        connection: stated(&bounds::U_CONNECTION),
        tape_scale,
        stick_up: stated(&bounds::U_STICK_UP),
        rotary: stated(&bounds::U_ROTARY),
        as_cut: stated(&bounds::U_AS_CUT),
        rim: stated(&bounds::U_RIM),
        benchmark: stated(&bounds::U_BENCHMARK),
        mudline: stated(&bounds::U_MUDLINE),
    };
    section.finish(walk);
    uncertainty
}
