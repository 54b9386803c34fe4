//! What a job file fixes for several slots: allowances, keep-outs, accessories, benches, frame, deck.

use super::super::bounds;
use std::sync::Arc;

use super::super::model::{
    Accessory, Allowance, Bench, Deck, DeckDepth, Frame, Hull, KeepOut, Window,
};
use super::super::problem::What;
use super::super::section::Section;
use super::super::walk::Walk;
use super::list::conflicting;
use super::names::{named, slot_set};
use crate::finding::Severity;

pub(super) fn allowance<'t>(
    section: &Section<'t>,
    walk: &mut Walk<'t>,
    names: &[&str],
) -> Option<Allowance> {
    let why = section
        .text(walk, "why")
        .unwrap_or_else(|| "allowance".to_owned());
    let value = section.required_length(walk, &bounds::ALLOWANCE);
    let slots = slot_set(section, walk, names);
    Some(Allowance {
        why,
        value: value?,
        slots,
    })
}

pub(super) fn keep_out<'t>(
    section: &Section<'t>,
    walk: &mut Walk<'t>,
    names: &[&str],
) -> Option<KeepOut> {
    let from = section.required_elevation(walk, &bounds::KEEP_OUT_FROM);
    let to = section.required_elevation(walk, &bounds::KEEP_OUT_TO);
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

pub(super) fn accessory<'t>(
    section: &Section<'t>,
    walk: &mut Walk<'t>,
    names: &[&str],
) -> Option<Accessory> {
    let name = section.required_text(walk, "name", "what is fixed to the conductor");
    let slots = slot_set(section, walk, names);
    let elevation = section.required_elevation(walk, &bounds::ACCESSORY);
    let length = section
        .length(walk, &bounds::ACCESSORY_LENGTH)
        .unwrap_or_default();
    Some(Accessory {
        name: name?,
        slots,
        elevation: elevation?,
        length,
    })
}

pub(super) fn bench<'t>(
    section: &Section<'t>,
    walk: &mut Walk<'t>,
    hulls: &[Arc<Hull>],
    names: &[&str],
) -> Option<Bench> {
    let name = section.required_text(walk, "name", "what the mark is called");
    let elevation = section.required_elevation(walk, &bounds::BENCH);
    let uncertainty = section.length(walk, &bounds::BENCH_UNCERTAINTY);
    let hull = hull_named(section, walk, "hull", hulls, names);
    Some(Bench {
        hull,
        name: name?,
        elevation: elevation?,
        uncertainty,
    })
}

pub(super) fn frame<'t>(
    section: Section<'t>,
    walk: &mut Walk<'t>,
    names: &[&str],
) -> Option<Frame> {
    let slot = section
        .required_text(
            walk,
            "slot",
            "the slot whose running joint carries the frame",
        )
        .and_then(|slot| named(&section, walk, "slot", &slot, names));
    let ring_above_base = section.required_length(walk, &bounds::RING_ABOVE_BASE);
    let window = section
        .window(walk, &bounds::BASE_ABOVE_MUDLINE)
        .map(|(from, to)| Window { from, to });
    let weight = section.real(walk, &bounds::FRAME_WEIGHT);
    section.finish(walk);
    Some(Frame {
        slot: slot?,
        ring_above_base: ring_above_base?,
        base_above_mudline: window,
        weight,
    })
}

/// The hull position that a key names, if it is a valid one.
fn hull_named<'t>(
    section: &Section<'t>,
    walk: &mut Walk<'t>,
    key: &'static str,
    hulls: &[Arc<Hull>],
    names: &[&str],
) -> Option<Arc<Hull>> {
    let name = section.text(walk, key)?;
    named(section, walk, key, &name, names)?;
    hulls.iter().find(|hull| hull.name == name).cloned()
}

/// The deck; its depth below RT is at the cut's hull position unless it says otherwise.
pub(super) fn deck<'t>(
    section: Section<'t>,
    walk: &mut Walk<'t>,
    (hulls, names): (&[Arc<Hull>], &[&str]),
    cut_hull: Option<&Arc<Hull>>,
) -> Option<Deck> {
    let elevation = section.required_elevation(walk, &bounds::DECK);
    let depth = section.length(walk, &bounds::BELOW_ROTARY);
    let key = "below_rotary_hull";
    let hull = hull_named(&section, walk, key, hulls, names);
    let hull = hull.or_else(|| cut_hull.filter(|_| !section.has(key)).cloned());
    if section.has(key) && !section.has("below_rotary") {
        let conflict = "needs below_rotary, the depth of the deck's plane below RT there";
        conflicting(&section, walk, key, conflict);
    }
    let seat_within = section.length(walk, &bounds::SEAT_WITHIN);
    let weight = section.real(walk, &bounds::DECK_WEIGHT);
    let cog = section.pair(walk, &bounds::COG);
    section.finish(walk);
    Some(Deck {
        elevation: elevation?,
        below_rotary: depth
            .zip(hull)
            .map(|(depth, hull)| DeckDepth { depth, hull }),
        seat_within,
        weight,
        cog,
    })
}
