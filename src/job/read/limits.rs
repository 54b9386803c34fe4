//! What cuts are held to, how well readings are known, and what may stay undecided.

use std::sync::Arc;

use super::super::model::{Cut, Hull, Uncertainty};
use super::super::walk::{Section, Sign, Walk};
use super::{named, names};
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

pub(super) fn cut<'t>(root: &Section<'t>, walk: &mut Walk<'t>, hulls: &[Arc<Hull>]) -> Option<Cut> {
    let last = hulls.last().cloned();
    let Some(section) = root.table(walk, "cut") else {
        return Some(Cut {
            hull: last?,
            kerf: Length::ZERO,
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
            let hull_names = names(root.names("hull"));
            named(&section, walk, "hull", &name, &hull_names)
                .and_then(|_| hulls.iter().find(|hull| hull.name == name).cloned())
        }
    };
    let mut limit = |name| section.length(walk, name, Sign::NotNegative);
    let (kerf, rough_above, tolerance) = (limit("kerf"), limit("rough_above"), limit("tolerance"));
    let (spread, level, clearance) = (limit("spread"), limit("level"), limit("clearance"));
    section.finish(walk);
    Some(Cut {
        hull: hull?,
        kerf: kerf.unwrap_or_default(),
        rough_above,
        tolerance,
        spread,
        level,
        clearance,
    })
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
