//! What cuts are held to, how well readings are known, and what may stay undecided.

use super::super::model::{Cut, Uncertainty};
use super::super::quantity::Sign;
use super::super::section::Section;
use super::super::walk::Walk;
use super::names::named;
use crate::measure::Length;

/// Parts per million.
const SCALE: &[(&str, f64)] = &[("ppm", 1.0)];

/// Up to where an undecided difference between lists passes, unless the file says otherwise.
const OPEN_ABOVE: Length = Length::from_mm(5);

/// The limit of undecided differences between lists of one string.
pub(super) fn open_above<'t>(root: &Section<'t>, walk: &mut Walk<'t>) -> Length {
    let Some(section) = root.table(walk, "reconcile") else {
        return OPEN_ABOVE;
    };
    let above = section.length(walk, "open_above", Sign::NotNegative);
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
    let mut limit = |name| section.length(walk, name, Sign::NotNegative);
    let cut = Cut {
        hull,
        kerf: limit("kerf").unwrap_or_default(),
        rough_above: limit("rough_above"),
        tolerance: limit("tolerance"),
        spread: limit("spread"),
        level: limit("level"),
        clearance: limit("clearance"),
    };
    section.finish(walk);
    cut
}

pub(super) fn uncertainty<'t>(section: Section<'t>, walk: &mut Walk<'t>) -> Uncertainty {
    let tape_scale = section.real(walk, "tape_scale", SCALE).unwrap_or(0.0);
    let mut stated = |name| section.length(walk, name, Sign::NotNegative);
    let uncertainty = Uncertainty {
        strap: stated("strap"),
        connection: stated("connection").unwrap_or_default(),
        tape_scale,
        stick_up: stated("stick_up"),
        rotary: stated("rotary"),
        as_cut: stated("as_cut"),
        benchmark: stated("benchmark").unwrap_or_default(),
        mudline: stated("mudline").unwrap_or_default(),
    };
    section.finish(walk);
    uncertainty
}
