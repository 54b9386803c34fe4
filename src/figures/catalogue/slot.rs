//! The figures of one slot.

use super::entry::{Entry, FigureId, Value};
use super::subject::Subject;
use crate::figures::adjusted::Compared;
use crate::figures::as_cut::AsCut;
use crate::figures::chain::{Chain, SlotView};
use crate::figures::cut::CutPlace;
use crate::figures::estimate::Estimate;
use crate::figures::slot::SlotFigures;
use crate::figures::status::CutStatus;
use crate::measure::{Elevation, Length};
use crate::tally::Piece;

/// Every figure of a slot, in the order of JSON.
pub fn of_slot(view: SlotView<'_>, figures: &SlotFigures, status: CutStatus) -> Vec<Entry> {
    let mut entries = Vec::with_capacity(64);
    chain(view, figures, &mut entries);
    plan(view, figures, &mut entries);
    shoulder(view, figures, &mut entries);
    cut(view, figures, status, &mut entries);
    accessories(view, figures, &mut entries);
    adjusted(figures, &mut entries);
    let planes = figures.chain.string.pieces.iter();
    entries.push(Entry::beside(
        FigureId::Planes,
        Value::Lengths(planes.map(Piece::upper).collect()),
    ));
    entries
}

/// The depth of a point below RT at the stick-up's hull position.
fn below_rotary(chain: &Chain, point: Option<Elevation>) -> Value {
    Value::Depth(point.map(|point| chain.rotary.depth_of(point)))
}

fn name(view: SlotView<'_>, figures: &SlotFigures, piece: usize) -> Value {
    let number = figures.chain.number(view.tally, piece);
    Value::Name(Some(number.to_owned()))
}

fn chain(view: SlotView<'_>, figures: &SlotFigures, entries: &mut Vec<Entry>) {
    use FigureId as Id;
    let chain = &figures.chain;
    let length = |length: Option<Length>| Value::Length(length);
    let shoe = chain.shoe;
    let mudline = view.mudline();
    entries.extend([
        Entry::new(Id::Basis, "basis", Value::Word(chain.basis.word())),
        Entry::new(
            Id::Elevations,
            "elevations",
            Value::Word(chain.elevations().word()),
        ),
        Entry::new(
            Id::Inclination,
            "inclination_deg",
            Value::Direction(view.slot.inclination),
        ),
        Entry::new(
            Id::Joints,
            "joints",
            Value::Count(chain.string.pieces.len()),
        ),
        Entry::new(
            Id::StringLength,
            "string_length_m",
            length(Some(chain.string.length)),
        )
        .opens(Subject::StringLength),
        Entry::new(
            Id::LandingLength,
            "landing_length_m",
            length(Some(chain.string.landing_length)),
        ),
        Entry::new(Id::StickUp, "stick_up_m", length(chain.stick_up)).opens(Subject::StickUp),
        Entry::new(Id::Top, "top_elevation_m", Value::Elevation(chain.top)).opens(Subject::Top),
        Entry::new(Id::Shoe, "shoe.elevation_m", Value::Elevation(shoe)).opens(Subject::Shoe),
        Entry::new(
            Id::ShoeBelowRotary,
            "shoe.below_rotary_m",
            below_rotary(chain, shoe),
        )
        .opens(Subject::Shoe)
        .that_follows(),
        Entry::new(
            Id::ShoeBelowMudline,
            "shoe.below_mudline_m",
            length(shoe.map(|shoe| mudline - shoe)),
        )
        .opens(Subject::Shoe)
        .that_follows(),
        Entry::new(
            Id::ShoeAboveHoleBottom,
            "shoe.above_hole_bottom_m",
            length(
                shoe.zip(view.slot.hole_bottom)
                    .map(|(shoe, bottom)| shoe - bottom),
            ),
        )
        .that_follows(),
    ]);
}

/// What all readings say beside the chain.
fn adjusted(figures: &SlotFigures, entries: &mut Vec<Entry>) {
    use FigureId as Id;
    let Some(found) = &figures.adjusted else {
        entries.push(Entry::new(Id::Adjusted, "adjusted", Value::Absent).that_follows());
        return;
    };
    let of = |it: Option<&Compared>, ids: [Id; 4], name: &str| {
        let [at, u, less, limit] = ids;
        let entry = |id, key: String, value| Entry::new(id, key, value);
        [
            entry(
                at,
                format!("adjusted.{name}_m"),
                Value::Elevation(it.map(|it| it.adjusted)),
            ),
            entry(
                u,
                format!("adjusted.{name}_uncertainty_m"),
                Value::Uncertainty(it.and_then(|it| it.variance)),
            )
            .that_follows(),
            entry(
                less,
                format!("adjusted.{name}_less_chain_m"),
                Value::Length(it.and_then(Compared::less_chain)),
            )
            .that_follows(),
            entry(
                limit,
                format!("adjusted.{name}_limit_m"),
                Value::Limit(it.and_then(|it| it.limit)),
            )
            .that_follows(),
        ]
    };
    let top = [
        Id::AdjustedTop,
        Id::AdjustedTopUncertainty,
        Id::TopLessChain,
        Id::TopLimit,
    ];
    let rotary = [
        Id::AdjustedRotary,
        Id::AdjustedRotaryUncertainty,
        Id::RotaryLessChain,
        Id::RotaryLimit,
    ];
    entries.extend(of(found.top.as_ref(), top, "top"));
    entries.extend(of(Some(&found.rotary), rotary, "rotary"));
}

fn plan(view: SlotView<'_>, figures: &SlotFigures, entries: &mut Vec<Entry>) {
    use FigureId as Id;
    let Some(plan) = figures.chain.plan(view.slot) else {
        entries.push(Entry::new(Id::Plan, "plan", Value::Absent).that_follows());
        return;
    };
    entries.extend([
        Entry::new(Id::PlanOf, "plan.of", Value::Word(plan.of.word())).that_follows(),
        Entry::new(
            Id::Planned,
            "plan.planned_m",
            Value::Elevation(Some(plan.planned)),
        ),
        Entry::new(
            Id::ReadLessPlan,
            "plan.read_less_plan_m",
            Value::Length(plan.read_less_plan),
        )
        .that_follows(),
    ]);
}

fn shoulder(view: SlotView<'_>, figures: &SlotFigures, entries: &mut Vec<Entry>) {
    use FigureId as Id;
    let Some(shoulder) = figures.chain.shoulder else {
        entries.push(Entry::new(Id::Shoulder, "shoulder", Value::Absent).that_follows());
        return;
    };
    let at = shoulder.elevation;
    let above = |reference: Elevation| Value::Length(at.map(|at| at - reference));
    let entry = |id, key: &str, value| {
        Entry::new(id, format!("shoulder.{key}"), value).opens(Subject::Shoulder)
    };
    entries.extend([
        entry(
            Id::ShoulderJoint,
            "joint",
            name(view, figures, shoulder.piece),
        ),
        entry(Id::ShoulderElevation, "elevation_m", Value::Elevation(at)),
        entry(
            Id::ShoulderBelowRotary,
            "below_rotary_m",
            below_rotary(&figures.chain, at),
        )
        .that_follows(),
        entry(
            Id::ShoulderAboveMudline,
            "above_mudline_m",
            above(view.mudline()),
        )
        .that_follows(),
        entry(
            Id::ShoulderAboveDeck,
            "above_deck_m",
            above(view.job.deck.elevation),
        )
        .that_follows(),
    ]);
}

fn cut(view: SlotView<'_>, figures: &SlotFigures, status: CutStatus, entries: &mut Vec<Entry>) {
    use FigureId as Id;
    let cut = &figures.cut;
    let place = cut.place.as_ref();
    let length = |of: fn(&CutPlace) -> Length| Value::Length(place.map(of));
    let entry = |id, key: &str, value| Entry::new(id, format!("cut.{key}"), value);
    let joint = place.map_or(Value::Name(None), |place| name(view, figures, place.piece));
    entries.extend([
        entry(Id::CutStatus, "status", Value::Word(status.word())),
        entry(
            Id::CutTarget,
            "target_m",
            Value::Elevation(Some(cut.target)),
        )
        .opens(Subject::CutTarget),
        entry(
            Id::Allowances,
            "allowances_m",
            Value::Length(Some(cut.allowances)),
        )
        .opens(Subject::CutTarget),
        entry(
            Id::CutBelowRotary,
            "below_rotary_m",
            Value::Depth(Some(cut.below_rotary)),
        )
        .opens(Subject::CutBelowRotary),
        entry(Id::RoughCut, "rough_m", Value::Elevation(cut.rough)),
        entry(Id::CutJoint, "joint", joint).opens(Subject::CutPlace),
        entry(
            Id::CutAboveLowerPlane,
            "above_lower_plane_m",
            length(|place| place.above_lower_plane),
        )
        .opens(Subject::CutPlace)
        .that_follows(),
        entry(
            Id::CutBelowUpperPlane,
            "below_upper_plane_m",
            length(|place| place.below_upper_plane),
        )
        .opens(Subject::CutPlace)
        .that_follows(),
        Entry::beside(
            Id::CutToConnection,
            Value::Length(place.and_then(|place| place.to_connection)),
        )
        .opens(Subject::CutPlace),
        Entry::beside(
            Id::CutToShoulder,
            Value::Length(place.and_then(|place| place.to_shoulder)),
        )
        .opens(Subject::CutPlace),
        entry(
            Id::OffcutLength,
            "offcut_length_m",
            length(|place| place.offcut_length),
        )
        .opens(Subject::Offcut),
        entry(
            Id::OffcutMass,
            "offcut_mass_kg",
            Value::Mass(place.map(|place| place.offcut_mass)),
        )
        .opens(Subject::Offcut),
    ]);
    marks(place, entries);
    as_cut(cut.as_cut.as_ref(), entries);
}

fn marks(place: Option<&CutPlace>, entries: &mut Vec<Entry>) {
    use FigureId as Id;
    let Some(place) = place else {
        entries.push(Entry::new(Id::Marks, "cut.marks", Value::Empty).that_follows());
        return;
    };
    for (index, mark) in place.marks.iter().enumerate() {
        let from = mark.from;
        let entry = |id, key: &str, value| {
            Entry::new(id, format!("cut.marks[{index}].{key}"), value).opens(Subject::Mark(from))
        };
        entries.extend([
            entry(Id::Mark(from), "from", Value::From(from)).that_follows(),
            entry(
                Id::MarkDistance(from),
                "distance_m",
                Value::Length(Some(mark.distance.value)),
            ),
            entry(
                Id::MarkUncertainty(from),
                "uncertainty_m",
                Value::Uncertainty(mark.distance.variance()),
            ),
            entry(
                Id::MarkReadings(from),
                "rests_on",
                Value::Readings(mark.rests_on()),
            )
            .that_follows(),
        ]);
    }
}

fn as_cut(as_cut: Option<&AsCut>, entries: &mut Vec<Entry>) {
    use FigureId as Id;
    let Some(as_cut) = as_cut else {
        entries.push(Entry::new(Id::AsCut, "cut.as_cut", Value::Absent).that_follows());
        return;
    };
    let entry = |id, key: &str, value| {
        Entry::new(id, format!("cut.as_cut.{key}"), value).opens(Subject::AsCut)
    };
    entries.extend([
        entry(Id::AsCutReadings, "readings", Value::Count(as_cut.readings)),
        entry(
            Id::AsCutMean,
            "mean_m",
            Value::Length(Some(as_cut.mean.value.rounded())),
        ),
        entry(
            Id::AsCutDeviation,
            "deviation_m",
            Value::Length(Some(as_cut.deviation.rounded())),
        )
        .that_follows(),
        entry(
            Id::OutOfLevel,
            "out_of_level_m",
            Value::Length(as_cut.out_of_level.as_ref().map(|it| it.value)),
        ),
        entry(
            Id::RimAcross,
            "rim_across_m",
            Value::Length(as_cut.rim.map(|it| it.across)),
        )
        .that_follows(),
        entry(
            Id::RimLowSide,
            "rim_low_side_deg",
            Value::Direction(as_cut.rim.and_then(|it| it.low_side)),
        )
        .that_follows(),
        entry(
            Id::RimOffPlane,
            "rim_off_plane_m",
            Value::Length(as_cut.rim.map(|it| it.off_plane)),
        )
        .that_follows(),
        entry(
            Id::AsCutUncertainty,
            "uncertainty_m",
            Value::Uncertainty(as_cut.mean.variance()),
        ),
        entry(Id::AsCutState, "state", Value::Verdict(as_cut.verdict)),
        entry(
            Id::AsCutProbability,
            "probability",
            Value::Probability(as_cut.probability),
        )
        .that_follows(),
        entry(
            Id::HeightState,
            "height_state",
            Value::Verdict(as_cut.height),
        ),
        entry(Id::LevelState, "level_state", Value::Verdict(as_cut.level)),
        entry(
            Id::LevelUncertainty,
            "level_uncertainty_m",
            Value::Uncertainty(as_cut.out_of_level.as_ref().and_then(Estimate::variance)),
        ),
    ]);
}

fn accessories(view: SlotView<'_>, figures: &SlotFigures, entries: &mut Vec<Entry>) {
    use FigureId as Id;
    if figures.accessories.is_empty() {
        entries.push(Entry::new(Id::Accessories, "accessories", Value::Empty).that_follows());
    }
    for (index, place) in figures.accessories.iter().enumerate() {
        let accessory = view.job.accessories.get(place.accessory);
        let entry = |id, key: &str, value| {
            Entry::new(id, format!("accessories[{index}].{key}"), value)
                .opens(Subject::Accessory(index))
        };
        let joint = place
            .piece
            .map_or(Value::Name(None), |piece| name(view, figures, piece));
        entries.extend([
            entry(
                Id::Accessory(index),
                "name",
                Value::Name(accessory.map(|accessory| accessory.name.clone())),
            )
            .that_follows(),
            entry(Id::AccessoryJoint(index), "joint", joint),
            entry(
                Id::AccessoryHeight(index),
                "above_lower_plane_m",
                Value::Length(place.above_lower_plane),
            ),
            entry(
                Id::AccessoryElevation(index),
                "elevation_m",
                Value::Elevation(place.elevation),
            )
            .that_follows(),
            entry(
                Id::AccessoryClear(index),
                "clear",
                Value::Truth(place.clear),
            )
            .that_follows(),
        ]);
    }
}
