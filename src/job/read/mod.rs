//! From the text of a job file to a [`Job`].

mod limits;
mod slot;

use std::ops::Range;
use std::sync::Arc;

use toml::de::DeTable;

use super::model::{
    Accessory, Allowance, Bench, Deck, Frame, Hull, Job, KeepOut, Pipe, Site, SlotSet, Uncertainty,
    Window,
};
use super::problem::{JobProblem, What};
use super::walk::{Section, Sign, Walk};
use crate::finding::Severity;
use crate::measure::{Elevation, Length, Unit};
use crate::tally::Pins;

/// Units of mass, the first one for bare numbers; the pound is 0.45359237 kg exactly (NIST SP 811).
const MASS: &[(&str, f64)] = &[("kg", 1.0), ("t", 1000.0), ("lb", 0.453_592_37)];
/// Units of mass per length.
const MASS_PER_LENGTH: &[(&str, f64)] = &[("kg/m", 1.0), ("lb/ft", 0.453_592_37 / 0.3048)];
/// Units of density.
const DENSITY: &[(&str, f64)] = &[("kg/m3", 1.0), ("kg/m³", 1.0)];

/// Density of steel unless the file gives another, kg/m3 (API 5L / ISO 3183, ASME B36.10M).
const STEEL: f64 = 7850.0;

/// Reads a job file; all its problems are reported together.
pub fn parse(text: &str) -> Result<Job, Vec<JobProblem>> {
    let mut walk = Walk::new(text);
    let (document, errors) = DeTable::parse_recoverable(text);
    if !errors.is_empty() {
        for error in errors {
            let span = error.span().unwrap_or(0..0);
            let at = text.get(span.clone()).unwrap_or_default();
            let message = match error.message() {
                repeated @ "duplicate key" => format!("{repeated} `{at}`; expected it once"),
                other => other.to_owned(),
            };
            walk.report(&span, What::Syntax(message));
        }
        return Err(walk.problems);
    }
    let root = Section::new("", document.get_ref(), 0..0);
    let job = read(&root, &mut walk);
    root.finish(&mut walk);
    walk.problems
        .sort_by_key(|problem| (problem.line, problem.column));
    match job {
        Some(job) if walk.problems.is_empty() => Ok(job),
        _ => Err(walk.problems),
    }
}

fn read<'t>(root: &Section<'t>, walk: &mut Walk<'t>) -> Option<Job> {
    format_version(root, walk);
    let heading = root.table(walk, "job");
    let (title, units, sea_datum) = if let Some(section) = heading {
        job_table(section, walk)
    } else {
        missing(root, walk, "job.units", "\"m\", \"ft\" or \"ft-in\"");
        missing(
            root,
            walk,
            "job.sea_datum",
            "the name of the zero of elevations, such as \"LAT\"",
        );
        (None, None, None)
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
    let benches = each(root, walk, "bench", bench);
    unique(root, walk, "bench");
    let frame = root
        .table(walk, "frame")
        .and_then(|section| frame(section, walk, &names));
    let block_mass = root.table(walk, "rig").and_then(|section| {
        let mass = section.real(walk, "block_mass", MASS);
        section.finish(walk);
        mass
    });
    let deck = if let Some(section) = root.table(walk, "deck") {
        deck(section, walk)
    } else {
        missing(
            root,
            walk,
            "deck.elevation",
            "the elevation of the plane on which the deck lands",
        );
        None
    };
    let cut = limits::cut(root, walk, &hulls);
    let open_above = limits::open_above(root, walk);
    let uncertainty = root
        .table(walk, "uncertainty")
        .map_or_else(Uncertainty::default, |section| {
            limits::uncertainty(section, walk)
        });
    Some(Job {
        title,
        units: units?,
        sea_datum: sea_datum?,
        site: site?,
        hulls,
        pipes,
        slots,
        allowances,
        keep_outs,
        accessories,
        benches,
        frame,
        block_mass,
        deck: deck?,
        cut: cut?,
        open_above,
        uncertainty,
    })
}

fn missing(root: &Section<'_>, walk: &mut Walk<'_>, key: &str, expected: &str) {
    let what = What::Missing {
        key: key.to_owned(),
        expected: expected.to_owned(),
    };
    walk.report(&root.span_of(""), what);
}

fn format_version<'t>(root: &Section<'t>, walk: &mut Walk<'t>) {
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

/// Every table of a list, each read by `item`; those with problems are left out.
fn each<'t, T>(
    root: &Section<'t>,
    walk: &mut Walk<'t>,
    name: &'static str,
    item: impl Fn(&Section<'t>, &mut Walk<'t>) -> Option<T>,
) -> Vec<T> {
    let mut items = Vec::new();
    for section in root.tables(walk, name) {
        items.extend(item(&section, walk));
        section.finish(walk);
    }
    items
}

/// The names that a list of tables gives, whether or not the rest of each table is sound: a slip in
/// one slot must not make every mention of it a slip as well.
fn names<'t>(entries: impl Iterator<Item = (&'t str, Range<usize>)>) -> Vec<&'t str> {
    entries.map(|(name, _)| name).collect()
}

fn unique(root: &Section<'_>, walk: &mut Walk<'_>, key: &'static str) {
    let mut seen: Vec<&str> = Vec::new();
    for (name, span) in root.names(key) {
        if !name.is_empty() && seen.contains(&name) {
            let conflict = format!("has the name {name:?} twice; expected each name once");
            walk.report(
                &span,
                What::Conflict {
                    key: key.to_owned(),
                    conflict,
                },
            );
        }
        seen.push(name);
    }
}

fn job_table<'t>(
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

fn site<'t>(section: Section<'t>, walk: &mut Walk<'t>) -> Option<Site> {
    let mudline = section.required_elevation(walk, "mudline");
    let water_density = section.real(walk, "water_density", DENSITY);
    let water_level = section.elevation(walk, "water_level");
    section.finish(walk);
    Some(Site {
        mudline: mudline?,
        water_density,
        water_level: water_level.unwrap_or(Elevation::above_datum(Length::ZERO)),
    })
}

fn hulls<'t>(root: &Section<'t>, walk: &mut Walk<'t>) -> Vec<Arc<Hull>> {
    let hulls = each(root, walk, "hull", |section, walk| {
        let name = section.required_text(walk, "name", "the name of the hull position");
        let rotary = section.required_elevation(walk, "rotary");
        let stick_up_from = section
            .length(walk, "stick_up_from", Sign::Any)
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

fn pipes<'t>(root: &Section<'t>, walk: &mut Walk<'t>) -> Vec<Arc<Pipe>> {
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

/// The index of a name among some, or a problem.
fn named(
    section: &Section<'_>,
    walk: &mut Walk<'_>,
    key: &str,
    name: &str,
    names: &[&str],
) -> Option<usize> {
    let found = names.iter().position(|known| *known == name);
    if found.is_none() {
        let what = What::Wrong {
            key: section.key(key),
            found: format!("the text {name:?}"),
            expected: one_of(names),
        };
        walk.report(&section.span_of(key), what);
    }
    found
}

fn one_of(names: &[&str]) -> String {
    let mut quoted: Vec<String> = Vec::with_capacity(names.len());
    for name in names.iter().filter(|name| !name.is_empty()) {
        let name = format!("{name:?}");
        if !quoted.contains(&name) {
            quoted.push(name);
        }
    }
    match quoted.as_slice() {
        [] => "a name that the file defines".to_owned(),
        [only] => format!("{only}, the only one defined"),
        several => format!("one of {}", several.join(", ")),
    }
}

fn slot_set<'t>(section: &Section<'t>, walk: &mut Walk<'t>, names: &[&str]) -> SlotSet {
    let Some(texts) = section.texts(walk, "slots") else {
        return SlotSet::All;
    };
    let mut slots = Vec::with_capacity(texts.len());
    for (text, span) in texts {
        if let Some(slot) = names.iter().position(|name| *name == text) {
            slots.push(slot);
        } else {
            let expected = one_of(names);
            walk.report(
                &span,
                What::Wrong {
                    key: section.key("slots"),
                    found: format!("the text {text:?}"),
                    expected,
                },
            );
        }
    }
    SlotSet::Some(slots)
}

fn allowance<'t>(section: &Section<'t>, walk: &mut Walk<'t>, names: &[&str]) -> Option<Allowance> {
    let why = section
        .text(walk, "why")
        .unwrap_or_else(|| "allowance".to_owned());
    let value = section.required_length(walk, "value", Sign::Any);
    let slots = slot_set(section, walk, names);
    Some(Allowance {
        why,
        value: value?,
        slots,
    })
}

fn keep_out<'t>(section: &Section<'t>, walk: &mut Walk<'t>, names: &[&str]) -> Option<KeepOut> {
    let from = section.required_elevation(walk, "from");
    let to = section.required_elevation(walk, "to");
    if let (Some(from), Some(to)) = (from, to)
        && from >= to
    {
        let conflict = "is not below `to`; expected the lower end first".to_owned();
        walk.report(
            &section.span_of("from"),
            What::Conflict {
                key: section.key("from"),
                conflict,
            },
        );
    }
    let why = section
        .text(walk, "why")
        .unwrap_or_else(|| "keep-out".to_owned());
    let words = [("check", Severity::Check), ("stop", Severity::Stop)];
    let severity = section
        .word(walk, "severity", &words)
        .unwrap_or(Severity::Check);
    let slots = slot_set(section, walk, names);
    Some(KeepOut {
        from: from?,
        to: to?,
        why,
        severity,
        slots,
    })
}

fn accessory<'t>(section: &Section<'t>, walk: &mut Walk<'t>, names: &[&str]) -> Option<Accessory> {
    let name = section.required_text(walk, "name", "what is fixed to the conductor");
    let slots = slot_set(section, walk, names);
    let elevation = section.required_elevation(walk, "elevation");
    let length = section
        .length(walk, "length", Sign::NotNegative)
        .unwrap_or_default();
    Some(Accessory {
        name: name?,
        slots,
        elevation: elevation?,
        length,
    })
}

fn bench<'t>(section: &Section<'t>, walk: &mut Walk<'t>) -> Option<Bench> {
    let name = section.required_text(walk, "name", "what the mark is called");
    let elevation = section.required_elevation(walk, "elevation");
    let uncertainty = section.length(walk, "uncertainty", Sign::NotNegative);
    Some(Bench {
        name: name?,
        elevation: elevation?,
        uncertainty,
    })
}

fn frame<'t>(section: Section<'t>, walk: &mut Walk<'t>, names: &[&str]) -> Option<Frame> {
    let slot = section
        .required_text(
            walk,
            "slot",
            "the slot whose running joint carries the frame",
        )
        .and_then(|slot| named(&section, walk, "slot", &slot, names));
    let ring_above_base = section.required_length(walk, "ring_above_base", Sign::Any);
    let window = section
        .window(walk, "base_above_mudline")
        .map(|(from, to)| Window { from, to });
    let weight = section.real(walk, "weight", MASS);
    section.finish(walk);
    Some(Frame {
        slot: slot?,
        ring_above_base: ring_above_base?,
        base_above_mudline: window,
        weight,
    })
}

fn deck<'t>(section: Section<'t>, walk: &mut Walk<'t>) -> Option<Deck> {
    let elevation = section.required_elevation(walk, "elevation");
    let weight = section.real(walk, "weight", MASS);
    let cog = section.pair(walk, "cog");
    section.finish(walk);
    Some(Deck {
        elevation: elevation?,
        weight,
        cog,
    })
}
