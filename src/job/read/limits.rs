//! The tolerances of cuts, the uncertainties of readings, and the limit of undecided differences.

use super::super::bounds;
use super::super::model::{Cut, Uncertainty};
use super::super::section::Section;
use super::super::walk::Walk;
use super::names::named;
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

pub(super) fn cut<'t>(root: &Section<'t>, walk: &mut Walk<'t>, hulls: &[&str]) -> Cut {
    let last = hulls.len().saturating_sub(1);
    let Some(section) = root.table(walk, "cut") else {
        return Cut {
            hull: last,
            kerf: Length::ZERO,
            rough_above: None,
            tolerance: None,
            spread: None,
            level: None,
            clearance: None,
        };
    };
    let hull = section
        .text(walk, "hull")
        .and_then(|hull| named(&section, walk, "hull", &hull, hulls))
        .unwrap_or(last);
    let mut limit = |row| section.length(walk, row);
    let cut = Cut {
        hull,
        kerf: limit(&bounds::KERF).unwrap_or_default(),
        rough_above: limit(&bounds::ROUGH_ABOVE),
        tolerance: limit(&bounds::TOLERANCE),
        spread: limit(&bounds::SPREAD),
        level: limit(&bounds::LEVEL),
        clearance: limit(&bounds::CLEARANCE),
    };
    section.finish(walk);
    cut
}

pub(super) fn uncertainty<'t>(section: Section<'t>, walk: &mut Walk<'t>) -> Uncertainty {
    let tape_scale = section.real(walk, &bounds::TAPE_SCALE).unwrap_or(0.0);
    let mut stated = |row| section.length(walk, row);
    let uncertainty = Uncertainty {
        strap: stated(&bounds::U_STRAP),
        connection: stated(&bounds::U_CONNECTION).unwrap_or_default(),
        tape_scale,
        stick_up: stated(&bounds::U_STICK_UP),
        rotary: stated(&bounds::U_ROTARY),
        as_cut: stated(&bounds::U_AS_CUT),
        benchmark: stated(&bounds::U_BENCHMARK).unwrap_or_default(),
        mudline: stated(&bounds::U_MUDLINE).unwrap_or_default(),
    };
    section.finish(walk);
    uncertainty
}
