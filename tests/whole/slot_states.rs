//! How far a slot has come, which marks check each other, and what one scene gives.

use kerfmark::figures::{Mark, SlotState, independent_groups, of_inputs};
use kerfmark::folder::open;
use kerfmark::measure::LengthFormat;
use kerfmark::report::scene::{FeatureKind, Scene, ZoneKind};
use kerfmark::signing::note_signatures;

use crate::common::on_screen::sample;

#[test]
fn marks_of_different_groups_share_no_reading_and_those_of_one_hang_together() {
    let inputs = open(&sample("four-slots")).expect("a job");
    let figures = of_inputs(&inputs);
    let mut seen = 0;
    for slot in &figures.slots {
        let Some(place) = &slot.cut.place else {
            continue;
        };
        let marks: Vec<&Mark> = place.all_marks.iter().collect();
        let groups = independent_groups(&marks);
        let all: usize = groups.iter().map(Vec::len).sum();
        assert_eq!(all, marks.len(), "each mark is in one group");
        let shares = |one: usize, other: usize| {
            let readings = marks[other].rests_on();
            marks[one].rests_on().iter().any(|it| readings.contains(it))
        };
        for (at, group) in groups.iter().enumerate() {
            for other in groups.iter().skip(at + 1).flatten() {
                assert!(group.iter().all(|mark| !shares(*mark, *other)));
            }
            for mark in group.iter().filter(|_| group.len() > 1) {
                let mut others = group.iter().filter(|it| *it != mark);
                assert!(others.any(|other| shares(*mark, *other)));
                seen += 1;
            }
        }
    }
    assert!(seen >= 8, "{seen}");
}

#[test]
fn a_slot_is_planned_landed_cut_and_signed_by_what_is_known_of_it() {
    let states = |name: &str| {
        let inputs = open(&sample(name)).expect("a job");
        let mut figures = of_inputs(&inputs);
        note_signatures(&inputs, &mut figures);
        let slots = 0..figures.slots.len();
        let states: Vec<SlotState> = slots.filter_map(|slot| figures.state(slot)).collect();
        states
    };
    assert_eq!(
        states("four-slots"),
        [
            SlotState::Landed,
            SlotState::Landed,
            SlotState::Cut,
            SlotState::Planned
        ]
    );
    // A night with a journal: all that sign for the finished top did.
    assert_eq!(states("one-night"), [SlotState::Signed]);
}

#[test]
fn a_scene_has_the_kerf_above_the_line_and_the_same_on_both_sides_of_it_for_u() {
    let inputs = open(&sample("four-slots")).expect("a job");
    let figures = of_inputs(&inputs);
    let show = LengthFormat::new(inputs.job.units);
    let scene = Scene::of(&inputs, &figures, show, None);
    for (lane, slot) in scene.lanes.iter().zip(&figures.slots) {
        let target = slot.cut.target;
        let zone = |kind| lane.zones.iter().find(|it| it.kind == kind);
        if slot.cut.is_cut() {
            assert!(zone(ZoneKind::Kerf).is_none() && lane.comes_off.is_none());
            let mut features = lane.features.iter();
            assert!(features.any(|it| it.kind == FeatureKind::FinishedTop));
            continue;
        }
        let kerf = zone(ZoneKind::Kerf).expect("a kerf");
        assert_eq!((kerf.from, kerf.to), (target, target + inputs.job.cut.kerf));
        let blur = zone(ZoneKind::Blur).expect("how well the line is found");
        assert_eq!(blur.to - target, target - blur.from);
        let clearance = zone(ZoneKind::Clearance).expect("a clearance");
        assert_eq!(clearance.to - kerf.to, target - clearance.from);
        assert_eq!(lane.steel.map(|(top, _)| top), Some(target));
        assert_eq!(lane.comes_off, slot.chain.top);
    }
}
