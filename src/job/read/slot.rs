//! The slots of a job file: strings, their tallies, and what fixes their elevations.

use std::sync::Arc;

use super::super::bounds;
use super::super::list_names::RESERVED;
use super::super::model::{Hull, ListSource, Pipe, Plan, Slot, Window};
use super::super::problem::What;
use super::super::section::Section;
use super::super::walk::Walk;
use super::list::{conflicting, each, inside, missing};
use super::names::{is_empty_list, named, names, unique};
use super::reading::read_options;
use crate::measure::{Elevation, Length, visible};
use crate::tally::Options;

/// The slots; each has its pipe and its hull position with it.
pub(super) fn slots<'t>(
    root: &Section<'t>,
    walk: &mut Walk<'t>,
    hulls: &[Arc<Hull>],
    pipes: &[Arc<Pipe>],
) -> Vec<Slot> {
    let hull_names = names(root.names("hull"));
    let pipe_names: Vec<&str> = root
        .get("pipe")
        .and_then(|pipes| pipes.get_ref().as_table())
        .map_or_else(Vec::new, |pipes| {
            pipes.keys().map(|name| name.get_ref().as_ref()).collect()
        });
    let slots = each(root, walk, "slot", |section, walk| {
        slot(section, walk, (hulls, &hull_names), (pipes, &pipe_names))
    });
    if !root.has("slot") {
        missing(
            root,
            walk,
            "slot",
            "at least one [[slot]] with a name, a pipe and a tally",
        );
    }
    unique(root, walk, "slot");
    slots
}

fn elevations(window: Option<(Length, Length)>) -> Option<Window<Elevation>> {
    window.map(|(from, to)| Window {
        from: Elevation::above_datum(from),
        to: Elevation::above_datum(to),
    })
}

fn slot<'t>(
    section: &Section<'t>,
    walk: &mut Walk<'t>,
    (hulls, hull_names): (&[Arc<Hull>], &[&str]),
    (pipes, pipe_names): (&[Arc<Pipe>], &[&str]),
) -> Option<Slot> {
    let name = section.required_file_name(walk, "name", "the name of the slot");
    let (x, y) = (
        section.length(walk, &bounds::SLOT_X),
        section.length(walk, &bounds::SLOT_Y),
    );
    let pipe = section
        .required_text(walk, "pipe", "the name of a pipe")
        .and_then(|name| {
            named(section, walk, "pipe", &name, pipe_names)?;
            // One with a problem of its own is named, and missing here.
            pipes.iter().find(|pipe| pipe.name == name).cloned()
        });
    let tally = section
        .required_text(walk, "tally", "the path of the tally of record")
        .and_then(|path| inside(section, walk, "tally", &section.span_of("tally"), &path));
    let tally_at = walk.place(section.span_of("tally").start);
    let lists = section
        .table(walk, "lists")
        .map_or_else(Vec::new, |lists| list_sources(&lists, walk));
    let read = section
        .table(walk, "read")
        .map_or_else(Options::default, |read| read_options(read, walk));
    let read = Options {
        job_units: Some(walk.unit),
        least_loss: pipe
            .as_ref()
            .map(|pipe| pipe.least_loss())
            .unwrap_or_default(),
        pins_up: pipe.as_ref().is_some_and(|pipe| pipe.pins.up),
        ..read
    };
    // The numbers of a tally are shown so too.
    let running_joint = section.text(walk, "running_joint");
    let running_joint = running_joint.map(|number| visible(&number).into_owned());
    let shoulder_offset = section.length(walk, &bounds::SHOULDER_OFFSET);
    let stick_up = section.length(walk, &bounds::STICK_UP);
    let plan = plan(section, walk);
    let hull = match section.text(walk, "stick_up_hull") {
        None => hulls.first().cloned(),
        Some(name) => named(section, walk, "stick_up_hull", &name, hull_names)
            .and_then(|_| hulls.iter().find(|hull| hull.name == name).cloned()),
    };
    let mudline = section.elevation(walk, &bounds::SLOT_MUDLINE);
    let hole_bottom = section.elevation(walk, &bounds::HOLE_BOTTOM);
    let min_rathole = section
        .length(walk, &bounds::MIN_RATHOLE)
        .unwrap_or_default();
    let inclination = section.real(walk, &bounds::INCLINATION);
    let leg_deviation = section.length(walk, &bounds::LEG_DEVIATION);
    let leg_uncertainty = section.length(walk, &bounds::LEG_UNCERTAINTY);
    let cut_offset = section
        .length(walk, &bounds::CUT_OFFSET)
        .unwrap_or_default();
    let shoe_window = elevations(section.window(walk, &bounds::SHOE_WINDOW));
    let shoulder_window = elevations(section.window(walk, &bounds::SHOULDER_WINDOW));
    let top_window = elevations(section.window(walk, &bounds::TOP_WINDOW));
    let as_cut = section.lengths(walk, &bounds::AS_CUT).unwrap_or_default();
    if section.get("as_cut").is_some_and(is_empty_list) {
        let conflict = "is empty; expected the elevations measured round the finished top, or no such key before it is cut";
        conflicting(section, walk, "as_cut", conflict);
    }
    if section.has("running_joint") && !section.has("shoulder_offset") {
        let conflict =
            "needs shoulder_offset, the landing shoulder above that joint's lower make-up plane";
        conflicting(section, walk, "running_joint", conflict);
    }
    Some(Slot {
        name: name?,
        is_placed: x.is_some() && y.is_some(),
        x: x.unwrap_or_default(),
        y: y.unwrap_or_default(),
        pipe: pipe?,
        tally: tally?,
        tally_at,
        lists,
        read,
        running_joint,
        shoulder_offset,
        stick_up,
        plan,
        hull: hull?,
        mudline,
        hole_bottom,
        min_rathole,
        inclination,
        leg_deviation,
        leg_uncertainty,
        cut_offset,
        shoe_window,
        shoulder_window,
        top_window,
        as_cut: as_cut.into_iter().map(Elevation::above_datum).collect(),
        as_cut_setup: None,
        cropped: Vec::new(),
    })
}

fn plan<'t>(section: &Section<'t>, walk: &mut Walk<'t>) -> Option<Plan> {
    let shoulder = section.elevation(walk, &bounds::PLAN_SHOULDER);
    let top = section.elevation(walk, &bounds::PLAN_TOP);
    if section.has("plan_shoulder") && section.has("plan_top") {
        let conflict = "and plan_top are both given; expected one of them".to_owned();
        walk.report(
            &section.span_of("plan_shoulder"),
            What::Conflict {
                key: section.key("plan_shoulder"),
                conflict,
            },
        );
    }
    shoulder.map(Plan::Shoulder).or_else(|| top.map(Plan::Top))
}

/// The other lists of a slot: each a path, or a table with the path and the list that it was made from.
fn list_sources<'t>(lists: &Section<'t>, walk: &mut Walk<'t>) -> Vec<ListSource> {
    let entries = lists.file_entries(walk);
    let names: Vec<&str> = entries.iter().map(|(name, _)| *name).collect();
    let mut sources = Vec::new();
    for (name, value) in entries {
        if RESERVED.contains(&name) {
            let expected =
                "another name: a decision says record, as-run, measured and open of something else";
            walk.wrong(value, lists.key(name), expected);
            continue;
        }
        if let Some(path) = value.get_ref().as_str() {
            let path = inside(lists, walk, name, &value.span(), path);
            sources.extend(path.map(|path| ListSource {
                name: name.to_owned(),
                path,
                from: None,
            }));
        } else if let Some(table) = value.get_ref().as_table() {
            let section = Section::new(lists.key(name), table, value.span());
            let path = section.required_text(walk, "file", "the path of a tally");
            let path = path
                .and_then(|path| inside(&section, walk, "file", &section.span_of("file"), &path));
            let from = section.text(walk, "from");
            if let Some(from) = &from {
                let others: Vec<&str> = names.iter().copied().filter(|it| *it != name).collect();
                named(&section, walk, "from", from, &others);
            }
            section.finish(walk);
            sources.extend(path.map(|path| ListSource {
                name: name.to_owned(),
                path,
                from,
            }));
        } else {
            let expected = "the path of a tally, or { file = \"...\", from = \"another list\" }";
            walk.wrong(value, lists.key(name), expected);
        }
    }
    sources
}
