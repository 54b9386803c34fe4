//! The kinds of pipe of a job file.

use super::super::model::Pipe;
use super::super::problem::What;
use super::super::quantity::Sign;
use super::super::section::Section;
use super::super::walk::Walk;
use super::list::missing;
use super::units::{DENSITY, MASS, MASS_PER_LENGTH};
use crate::tally::Pins;

/// Density of steel unless the file gives another, kg/m3 (API 5L / ISO 3183, ASME B36.10M).
const STEEL: f64 = 7850.0;

pub(super) fn pipes<'t>(root: &Section<'t>, walk: &mut Walk<'t>) -> Vec<Pipe> {
    let Some(section) = root.table(walk, "pipe") else {
        missing(
            root,
            walk,
            "pipe",
            "at least one pipe, such as [pipe.main] with od and wall",
        );
        return Vec::new();
    };
    let mut pipes = Vec::new();
    for (name, value) in section.entries() {
        let Some(table) = value.get_ref().as_table() else {
            let expected = format!("a table, [pipe.{name}]");
            walk.wrong(value, format!("pipe.{name}"), expected);
            continue;
        };
        let section = Section::new(format!("pipe.{name}"), table, value.span());
        pipes.extend(pipe(name, &section, walk));
        section.finish(walk);
    }
    pipes
}

fn pipe<'t>(name: &str, section: &Section<'t>, walk: &mut Walk<'t>) -> Option<Pipe> {
    let od = section.required_length(walk, "od", Sign::Positive);
    let thickness = section.required_length(walk, "wall", Sign::Positive);
    if let (Some(od), Some(thickness)) = (od, thickness)
        && thickness.times(2) > od
    {
        let conflict =
            "is more than half the outside diameter; expected a wall that leaves a bore".to_owned();
        walk.report(
            &section.span_of("wall"),
            What::Conflict {
                key: section.key("wall"),
                conflict,
            },
        );
    }
    let density = section.real(walk, "density", DENSITY);
    let weighed_mass_per_metre = section.real(walk, "mass_per_metre", MASS_PER_LENGTH);
    let connector_mass = section.real(walk, "connector_mass", MASS);
    let up = section
        .word(walk, "pin", &[("down", false), ("up", true)])
        .unwrap_or(false);
    let nominal_loss = section.length(walk, "makeup_loss", Sign::NotNegative);
    let connection_below = section.length(walk, "connection_below", Sign::NotNegative);
    let connection_above = section.length(walk, "connection_above", Sign::NotNegative);
    Some(Pipe {
        name: name.to_owned(),
        od: od?,
        wall: thickness?,
        density: density.unwrap_or(STEEL),
        weighed_mass_per_metre,
        connector_mass,
        pins: Pins { up, nominal_loss },
        connection_below,
        connection_above,
    })
}
