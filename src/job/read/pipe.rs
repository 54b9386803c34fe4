//! The kinds of pipe of a job file.

use std::sync::Arc;

use super::super::bounds;
use super::super::model::{Joining, Pipe};
use super::super::problem::What;
use super::super::section::Section;
use super::super::walk::Walk;
use super::list::missing;
use crate::tally::Pins;

/// Density of steel unless the file gives another, kg/m3 (API 5L / ISO 3183, ASME B36.10M).
const STEEL: f64 = 7850.0;

pub(super) fn pipes<'t>(root: &Section<'t>, walk: &mut Walk<'t>) -> Vec<Arc<Pipe>> {
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
        pipes.extend(pipe(name, &section, walk).map(Arc::new));
        section.finish(walk);
    }
    pipes
}

fn pipe<'t>(name: &str, section: &Section<'t>, walk: &mut Walk<'t>) -> Option<Pipe> {
    let od = section.required_length(walk, &bounds::OD);
    let thickness = section.required_length(walk, &bounds::WALL);
    if let (Some(od), Some(thickness)) = (od, thickness)
        && thickness.times(2) >= od
    {
        let conflict =
            "is half the outside diameter or more; expected a wall that leaves a bore".to_owned();
        walk.report(
            &section.span_of("wall"),
            What::Conflict {
                key: section.key("wall"),
                conflict,
            },
        );
    }
    let density = section.real(walk, &bounds::STEEL_DENSITY);
    let weighed_mass_per_metre = section.real(walk, &bounds::MASS_PER_METRE);
    let connector_mass = section.real(walk, &bounds::CONNECTOR_MASS);
    let up = section
        .word(walk, "pin", &[("down", false), ("up", true)])
        .unwrap_or(false);
    let joining = section
        .word(
            walk,
            "connection",
            &[("connector", Joining::Connector), ("weld", Joining::Weld)],
        )
        .unwrap_or_default();
    let nominal_loss = match joining {
        Joining::Connector => section.length(walk, &bounds::MAKEUP_LOSS),
        Joining::Weld => section.length(walk, &bounds::MAKEUP_LOSS_OF_WELD),
    };
    let connection_below = section.length(walk, &bounds::CONNECTION_BELOW);
    let connection_above = section.length(walk, &bounds::CONNECTION_ABOVE);
    Some(Pipe {
        name: name.to_owned(),
        od: od?,
        wall: thickness?,
        density: density.unwrap_or(STEEL),
        weighed_mass_per_metre,
        connector_mass,
        pins: Pins { up, nominal_loss },
        joining,
        connection_below,
        connection_above,
    })
}
