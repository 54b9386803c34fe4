//! The job's own table, the site, and the hull positions of a job file.

use std::path::PathBuf;
use std::sync::Arc;

use super::super::bounds;
use super::super::model::{AirGap, Hull, Site};
use super::super::problem::What;
use super::super::section::Section;
use super::super::walk::Walk;
use super::list::{conflicting, each, inside, missing};
use super::names::unique;
use crate::measure::{Elevation, Length, Unit};

pub(super) fn format_version<'t>(root: &Section<'t>, walk: &mut Walk<'t>) {
    let Some(value) = root.get("format") else {
        missing(root, walk, "format", "format = 1");
        return;
    };
    if value
        .get_ref()
        .as_integer()
        .is_none_or(|number| number.as_str() != "1" || number.radix() != 10)
    {
        walk.wrong(value, "format".to_owned(), "1, the only format so far");
    }
}

/// What the job's own table says.
pub(super) struct Heading {
    pub(super) title: Option<String>,
    pub(super) units: Unit,
    pub(super) sea_datum: String,
    pub(super) pool: Option<(PathBuf, (usize, usize))>,
}

pub(super) fn job_table<'t>(section: Section<'t>, walk: &mut Walk<'t>) -> Option<Heading> {
    let words = [
        ("m", Unit::Metre),
        ("ft", Unit::Foot),
        ("ft-in", Unit::FootInch),
    ];
    let title = section.text(walk, "title");
    let units = section.word(walk, "units", &words);
    if !section.has("units") {
        let what = What::Missing {
            key: "job.units".to_owned(),
            expected: "\"m\", \"ft\" or \"ft-in\"".to_owned(),
        };
        walk.report(&section.span_of(""), what);
    }
    walk.unit = units.unwrap_or(Unit::Metre);
    let sea_datum = section.required_text(
        walk,
        "sea_datum",
        "the name of the zero of elevations, such as \"LAT\"",
    );
    let pool = section
        .text(walk, "pool")
        .and_then(|path| inside(&section, walk, "pool", &section.span_of("pool"), &path));
    let pool_at = walk.place(section.span_of("pool").start);
    section.finish(walk);
    Some(Heading {
        title,
        units: units?,
        sea_datum: sea_datum?,
        pool: pool.map(|path| (path, pool_at)),
    })
}

pub(super) fn site<'t>(section: Section<'t>, walk: &mut Walk<'t>) -> Option<Site> {
    let mudline = section.required_elevation(walk, &bounds::SITE_MUDLINE);
    let water_density = section.real(walk, &bounds::WATER_DENSITY);
    let water_level = section.elevation(walk, &bounds::WATER_LEVEL);
    section.finish(walk);
    Some(Site {
        mudline: mudline?,
        water_density,
        water_level: water_level.unwrap_or(Elevation::above_datum(Length::ZERO)),
    })
}

/// The air gap as read: all three of its keys, or none.
fn air_gap<'t>(section: &Section<'t>, walk: &mut Walk<'t>) -> Option<AirGap> {
    let keys = ["air_gap", "water_at_reading", "rotary_above_hull"];
    let gap = section.length(walk, &bounds::AIR_GAP);
    let water = section.elevation(walk, &bounds::WATER_AT_READING);
    let rotary_above_hull = section.length(walk, &bounds::ROTARY_ABOVE_HULL);
    let given = keys.iter().find(|key| section.has(key));
    if let Some(given) = given
        && keys.iter().any(|key| !section.has(key))
    {
        let conflict = "stands without the others; expected air_gap, water_at_reading and rotary_above_hull, or none of them";
        conflicting(section, walk, given, conflict);
    }
    Some(AirGap {
        gap: gap?,
        water: water?,
        rotary_above_hull: rotary_above_hull?,
    })
}

pub(super) fn hulls<'t>(root: &Section<'t>, walk: &mut Walk<'t>) -> Vec<Arc<Hull>> {
    let hulls = each(root, walk, "hull", |section, walk| {
        let name = section.required_text(walk, "name", "the name of the hull position");
        let rotary = section.required_elevation(walk, &bounds::ROTARY);
        let stick_up_from = section.length(walk, &bounds::STICK_UP_FROM);
        let raised = section.length(walk, &bounds::RAISED);
        if raised.is_some() && section.path == "hull[1]" {
            let conflict = "is given at the first hull position; expected it at a later one: it is how far the hull was raised from the position before";
            conflicting(section, walk, "raised", conflict);
        }
        let air_gap = air_gap(section, walk);
        Some(Arc::new(Hull {
            name: name?,
            rotary: rotary?,
            stick_up_from: stick_up_from.unwrap_or_default(),
            surface_is_stated: stick_up_from.is_some(),
            raised,
            air_gap,
        }))
    });
    if !root.has("hull") {
        missing(
            root,
            walk,
            "hull",
            "at least one [[hull]] with a name and the elevation of its rotary",
        );
    }
    unique(root, walk, "hull");
    hulls
}
