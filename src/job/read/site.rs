//! The job's own table, the site, and the hull positions of a job file.

use std::sync::Arc;

use super::super::bounds;
use super::super::model::{Hull, Site};
use super::super::problem::What;
use super::super::section::Section;
use super::super::walk::Walk;
use super::list::{each, missing};
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

pub(super) fn job_table<'t>(
    section: Section<'t>,
    walk: &mut Walk<'t>,
) -> (Option<String>, Option<Unit>, Option<String>) {
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
    section.finish(walk);
    (title, units, sea_datum)
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

pub(super) fn hulls<'t>(root: &Section<'t>, walk: &mut Walk<'t>) -> Vec<Arc<Hull>> {
    let hulls = each(root, walk, "hull", |section, walk| {
        let name = section.required_text(walk, "name", "the name of the hull position");
        let rotary = section.required_elevation(walk, &bounds::ROTARY);
        let stick_up_from = section
            .length(walk, &bounds::STICK_UP_FROM)
            .unwrap_or_default();
        Some(Arc::new(Hull {
            name: name?,
            rotary: rotary?,
            stick_up_from,
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
