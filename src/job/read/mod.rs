//! From the text of a job file to a [`Job`].

mod correction;
mod fixed;
mod limits;
mod list;
mod names;
mod people;
mod pipe;
mod reading;
mod site;
mod slot;

use toml::de::DeTable;

use super::bounds;
use super::model::{Job, Uncertainty};
use super::problem::{JobProblem, What};
use super::section::Section;
use super::walk::Walk;
use correction::correction;
use fixed::{accessory, allowance, bench, deck, frame, keep_out};
use list::{each, missing};
use names::{names, unique};
use people::people;
use pipe::pipes;
use site::{format_version, hulls, job_table, site};

/// Reads a job file; all its problems are reported together.
pub fn parse(text: &str) -> Result<Job, Vec<JobProblem>> {
    let mut walk = Walk::new(text);
    let (document, errors) = DeTable::parse_recoverable(text);
    if !errors.is_empty() {
        for error in errors {
            let span = error.span().unwrap_or(0..0);
            let at = text.get(span.clone()).unwrap_or_default();
            let message = match error.message() {
                repeated @ "duplicate key" => format!(
                    "{repeated} `{at}`; expected it once (of several, each is headed with two brackets: [[{at}]])"
                ),
                other => format!("{other}{}", hint(other)),
            };
            walk.report(&span, What::Syntax(message));
        }
        return Err(walk.finish());
    }
    let root = Section::new("", document.get_ref(), 0..0);
    let job = read(&root, &mut walk);
    root.finish(&mut walk);
    let problems = walk.finish();
    match job {
        Some(job) if problems.is_empty() => Ok(job),
        _ => Err(problems),
    }
}

/// What is most often behind a message of TOML, in the words of someone who writes a job.
fn hint(message: &str) -> &'static str {
    if message.contains("string values must be quoted") {
        " (a text, or a number with its unit, is written in quotes, such as \"12.5 m\"; a minus is -)"
    } else if message.contains("unexpected key or value") {
        " (the decimal mark of a number is a point)"
    } else if message.contains("mantissa") {
        " (a number has a digit before its point)"
    } else {
        ""
    }
}

fn read<'t>(root: &Section<'t>, walk: &mut Walk<'t>) -> Option<Job> {
    format_version(root, walk);
    let heading = root.table(walk, "job");
    let heading = if let Some(section) = heading {
        job_table(section, walk)
    } else {
        missing(root, walk, "job.units", "\"m\", \"ft\" or \"ft-in\"");
        missing(
            root,
            walk,
            "job.sea_datum",
            "the name of the zero of elevations, such as \"LAT\"",
        );
        None
    };
    let site = if let Some(section) = root.table(walk, "site") {
        site(section, walk)
    } else {
        missing(root, walk, "site.mudline", "the elevation of the seabed");
        None
    };
    let hulls = hulls(root, walk);
    let pipes = pipes(root, walk);
    let slots = slot::slots(root, walk, &hulls, &pipes);
    let names = names(root.names("slot"));
    let allowances = each(root, walk, "allowance", |section, walk| {
        allowance(section, walk, &names)
    });
    let keep_outs = each(root, walk, "keep_out", |section, walk| {
        keep_out(section, walk, &names)
    });
    let accessories = each(root, walk, "accessory", |section, walk| {
        accessory(section, walk, &names)
    });
    let corrections = each(root, walk, "correction", |section, walk| {
        correction(section, walk, &names)
    });
    correction::twice(root, walk, &corrections);
    let hull_names = self::names(root.names("hull"));
    let benches = each(root, walk, "bench", |section, walk| {
        bench(section, walk, &hulls, &hull_names)
    });
    unique(root, walk, "bench");
    let frame = root
        .table(walk, "frame")
        .and_then(|section| frame(section, walk, &names));
    let block_mass = root.table(walk, "rig").and_then(|section| {
        let mass = section.real(walk, &bounds::BLOCK_MASS);
        section.finish(walk);
        mass
    });
    let cut = limits::cut(root, walk, &hulls);
    let deck = if let Some(section) = root.table(walk, "deck") {
        let cut_hull = cut.as_ref().map(|cut| &cut.hull);
        deck(section, walk, (&hulls, &hull_names), cut_hull)
    } else {
        missing(
            root,
            walk,
            "deck.elevation",
            "the elevation of the plane on which the deck lands",
        );
        None
    };
    let agree = limits::agree(root, walk);
    let open_above = limits::open_above(root, walk);
    let uncertainty = root
        .table(walk, "uncertainty")
        .map_or_else(Uncertainty::default, |section| {
            limits::uncertainty(section, walk)
        });
    let people = people(root, walk);
    let heading = heading?;
    Some(Job {
        title: heading.title,
        units: heading.units,
        sea_datum: heading.sea_datum,
        pool: heading.pool,
        people,
        site: site?,
        hulls,
        pipes,
        slots,
        allowances,
        keep_outs,
        accessories,
        benches,
        corrections,
        frame,
        block_mass,
        deck: deck?,
        cut: cut?,
        agree,
        open_above,
        uncertainty,
    })
}
