//! What a job file fixes for several slots: allowances, keep-outs, accessories, benches, frame, deck.

use super::super::bounds;
use super::super::model::{Accessory, Allowance, Bench, Deck, Frame, KeepOut, Window};
use super::super::problem::What;
use super::super::section::Section;
use super::super::walk::Walk;
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

pub(super) fn bench<'t>(section: &Section<'t>, walk: &mut Walk<'t>) -> Option<Bench> {
    let name = section.required_text(walk, "name", "what the mark is called");
    let elevation = section.required_elevation(walk, &bounds::BENCH);
    let uncertainty = section.length(walk, &bounds::BENCH_UNCERTAINTY);
    Some(Bench {
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

pub(super) fn deck<'t>(section: Section<'t>, walk: &mut Walk<'t>) -> Option<Deck> {
    let elevation = section.required_elevation(walk, &bounds::DECK);
    let weight = section.real(walk, &bounds::DECK_WEIGHT);
    let cog = section.pair(walk, &bounds::COG);
    section.finish(walk);
    Some(Deck {
        elevation: elevation?,
        weight,
        cog,
    })
}
