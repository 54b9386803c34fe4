//! The JSON of `figures`, key by key as the contract has it.

use serde::Serialize;

use super::VERSION;
use super::json::{FORMAT, FlagJson, flags, pretty};
use super::number::Number;
use super::words::mark_name;
use crate::figures::{
    AccessoryPlace, AsCut, CutPlace, Figures, FrameFigures, SlotFigures, Spread, Variance,
    left_to_decide,
};
use crate::job::{Inputs, Slot};
use crate::measure::{Elevation, LengthFormat};
use crate::tally::Tally;

#[derive(Serialize)]
struct Tree<'a> {
    format: u32,
    job: JobJson<'a>,
    cut_hull: HullJson<'a>,
    slots: Vec<SlotJson<'a>>,
    frame: Option<FrameJson<'a>>,
    spread: SpreadJson,
    flags: Vec<FlagJson>,
    not_used: Vec<NotUsed<'a>>,
    digest: String,
    version: &'static str,
}

#[derive(Serialize)]
struct JobJson<'a> {
    title: Option<&'a str>,
    units: &'static str,
    sea_datum: &'a str,
}

#[derive(Serialize)]
struct HullJson<'a> {
    name: &'a str,
    rotary_m: Number,
}

#[derive(Serialize)]
struct NotUsed<'a> {
    file: &'a str,
    why: &'a str,
}

#[derive(Serialize)]
struct SlotJson<'a> {
    slot: &'a str,
    basis: &'static str,
    joints: usize,
    string_length_m: Number,
    landing_length_m: Number,
    stick_up_m: Option<Number>,
    top_elevation_m: Option<Number>,
    shoe: ShoeJson,
    shoulder: Option<ShoulderJson<'a>>,
    cut: CutJson<'a>,
    accessories: Vec<AccessoryJson<'a>>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    lists: Vec<ListJson<'a>>,
    flags: Vec<FlagJson>,
}

/// Another list of the string; its figures are null where it cannot be read.
#[derive(Serialize)]
struct ListJson<'a> {
    list: &'a str,
    file: String,
    difference_m: Option<Number>,
    differences: Option<usize>,
    not_decided: Option<usize>,
}

#[derive(Serialize)]
#[allow(
    clippy::struct_field_names,
    reason = "the keys of the file carry their unit"
)]
struct ShoeJson {
    elevation_m: Option<Number>,
    below_rotary_m: Option<Number>,
    below_mudline_m: Option<Number>,
    above_hole_bottom_m: Option<Number>,
}

#[derive(Serialize)]
struct ShoulderJson<'a> {
    joint: &'a str,
    elevation_m: Option<Number>,
    below_rotary_m: Option<Number>,
    above_mudline_m: Option<Number>,
    above_deck_m: Option<Number>,
}

#[derive(Serialize)]
struct CutJson<'a> {
    target_m: Number,
    allowances_m: Number,
    below_rotary_m: Number,
    rough_m: Option<Number>,
    joint: Option<&'a str>,
    above_lower_plane_m: Option<Number>,
    below_upper_plane_m: Option<Number>,
    offcut_length_m: Option<Number>,
    offcut_mass_kg: Option<Number>,
    marks: Vec<MarkJson<'a>>,
    as_cut: Option<AsCutJson>,
    already_cut: bool,
}

#[derive(Serialize)]
struct MarkJson<'a> {
    from: String,
    distance_m: Number,
    uncertainty_m: Option<Number>,
    rests_on: &'a [String],
}

#[derive(Serialize)]
struct AsCutJson {
    readings: usize,
    mean_m: Number,
    deviation_m: Number,
    out_of_level_m: Option<Number>,
    uncertainty_m: Option<Number>,
    state: Option<&'static str>,
    probability: Option<Number>,
}

#[derive(Serialize)]
struct AccessoryJson<'a> {
    name: &'a str,
    joint: Option<&'a str>,
    above_lower_plane_m: Option<Number>,
    elevation_m: Option<Number>,
    clear: Option<bool>,
}

#[derive(Serialize)]
struct FrameJson<'a> {
    slot: &'a str,
    base_elevation_m: Option<Number>,
    base_above_mudline_m: Option<Number>,
    uncertainty_m: Option<Number>,
    state: Option<&'static str>,
}

#[derive(Serialize)]
struct SpreadJson {
    cuts: usize,
    value_m: Option<Number>,
    uncertainty_m: Option<Number>,
    state: Option<&'static str>,
}

fn expanded(variance: Option<Variance>) -> Option<Number> {
    variance.map(|variance| Number::real(variance.expanded_metres(), 9))
}

/// The whole tree as text.
pub fn figures(inputs: &Inputs, figures: &Figures) -> Result<String, serde_json::Error> {
    let job = &inputs.job;
    let datum = job.deck.elevation;
    let (hull, rotary) = job
        .hulls
        .get(job.cut.hull)
        .map_or(("", datum), |hull| (hull.name.as_str(), hull.rotary));
    let slots = job.slots.iter().zip(&inputs.tallies).zip(&figures.slots);
    pretty(&Tree {
        format: FORMAT,
        job: JobJson {
            title: job.title.as_deref(),
            units: job.units.name(),
            sea_datum: &job.sea_datum,
        },
        cut_hull: HullJson {
            name: hull,
            rotary_m: Number::elevation(rotary),
        },
        slots: slots
            .map(|((slot, tally), figures)| slot_json(inputs, slot, tally, figures))
            .collect(),
        frame: figures
            .frame
            .as_ref()
            .map(|frame| frame_json(inputs, frame)),
        spread: spread_json(&figures.spread),
        flags: flags(&figures.flags, LengthFormat::new(inputs.job.units)),
        not_used: inputs
            .not_used
            .iter()
            .map(|(file, why)| NotUsed { file, why })
            .collect(),
        digest: inputs.digest(),
        version: VERSION,
    })
}

fn number_of<'a>(tally: &'a Tally, figures: &SlotFigures, piece: usize) -> Option<&'a str> {
    let piece = figures.string.pieces.get(piece)?;
    tally.joints.get(piece.joint).map(|joint| &*joint.number)
}

fn slot_json<'a>(
    inputs: &'a Inputs,
    slot: &'a Slot,
    tally: &'a Tally,
    figures: &'a SlotFigures,
) -> SlotJson<'a> {
    let job = &inputs.job;
    let rotary = job.hulls.get(slot.hull).map(|hull| hull.rotary);
    let below_rotary = |point: Option<Elevation>| {
        rotary
            .zip(point)
            .map(|(rotary, point)| Number::depth(rotary.depth_of(point)))
    };
    let mudline = job.mudline(slot);
    let shoe = figures.shoe;
    SlotJson {
        slot: &slot.name,
        basis: figures.basis.word(),
        joints: figures.string.pieces.len(),
        string_length_m: Number::metres(figures.string.length),
        landing_length_m: Number::metres(figures.string.landing_length),
        stick_up_m: figures.stick_up.map(Number::metres),
        top_elevation_m: figures.top.map(Number::elevation),
        shoe: ShoeJson {
            elevation_m: shoe.map(Number::elevation),
            below_rotary_m: below_rotary(shoe),
            below_mudline_m: shoe.map(|shoe| Number::metres(mudline - shoe)),
            above_hole_bottom_m: shoe
                .zip(slot.hole_bottom)
                .map(|(shoe, bottom)| Number::metres(shoe - bottom)),
        },
        shoulder: figures.shoulder.map(|shoulder| ShoulderJson {
            joint: number_of(tally, figures, shoulder.piece).unwrap_or_default(),
            elevation_m: shoulder.elevation.map(Number::elevation),
            below_rotary_m: below_rotary(shoulder.elevation),
            above_mudline_m: shoulder
                .elevation
                .map(|elevation| Number::metres(elevation - mudline)),
            above_deck_m: shoulder
                .elevation
                .map(|elevation| Number::metres(elevation - job.deck.elevation)),
        }),
        cut: cut_json(inputs, tally, figures),
        accessories: figures
            .accessories
            .iter()
            .map(|place| accessory_json(inputs, tally, figures, place))
            .collect(),
        lists: lists_json(inputs, slot, figures),
        flags: flags(&figures.flags, LengthFormat::new(inputs.job.units)),
    }
}

fn lists_json<'a>(inputs: &'a Inputs, slot: &Slot, figures: &SlotFigures) -> Vec<ListJson<'a>> {
    let index = inputs
        .job
        .slots
        .iter()
        .position(|other| other.name == slot.name);
    let lists = index.and_then(|index| inputs.lists.get(index));
    let lists = lists.into_iter().flatten().zip(&figures.lists);
    lists
        .map(|(list, figures)| {
            let figures = figures.as_ref();
            ListJson {
                list: &list.name,
                file: crate::job::name_of(&list.path),
                difference_m: figures.map(|it| Number::metres(it.bridge.difference())),
                differences: figures.map(|it| it.differences.len()),
                not_decided: figures.map(|it| left_to_decide(list, it)),
            }
        })
        .collect()
}

fn cut_json<'a>(inputs: &'a Inputs, tally: &'a Tally, figures: &'a SlotFigures) -> CutJson<'a> {
    let cut = &figures.cut;
    let place = cut.place.as_ref();
    CutJson {
        target_m: Number::elevation(cut.target),
        allowances_m: Number::metres(cut.allowances),
        below_rotary_m: Number::depth(cut.below_rotary),
        rough_m: cut.rough.map(Number::elevation),
        joint: place.and_then(|place| number_of(tally, figures, place.piece)),
        above_lower_plane_m: place.map(|place| Number::metres(place.above_lower_plane)),
        below_upper_plane_m: place.map(|place| Number::metres(place.below_upper_plane)),
        offcut_length_m: place.map(|place| Number::metres(place.offcut_length)),
        offcut_mass_kg: place.map(|place| Number::real(place.offcut_mass, 6)),
        marks: place.map_or_else(Vec::new, |place| marks_json(inputs, place)),
        as_cut: cut.as_cut.as_ref().map(as_cut_json),
        already_cut: cut.is_cut(),
    }
}

fn marks_json<'a>(inputs: &'a Inputs, place: &'a CutPlace) -> Vec<MarkJson<'a>> {
    let mark = |mark: &'a crate::figures::Mark| MarkJson {
        from: mark_name(&inputs.job, mark.from),
        distance_m: Number::metres(mark.distance),
        uncertainty_m: expanded(mark.variance),
        rests_on: &mark.rests_on,
    };
    place.marks.iter().map(mark).collect()
}

fn as_cut_json(as_cut: &AsCut) -> AsCutJson {
    AsCutJson {
        readings: as_cut.readings,
        mean_m: Number::metres(as_cut.mean.rounded()),
        deviation_m: Number::metres(as_cut.deviation.rounded()),
        out_of_level_m: as_cut.out_of_level.map(Number::metres),
        uncertainty_m: expanded(as_cut.variance),
        state: as_cut.verdict.map(crate::figures::Verdict::word),
        probability: as_cut
            .probability
            .map(|probability| Number::real(probability, 9)),
    }
}

fn accessory_json<'a>(
    inputs: &'a Inputs,
    tally: &'a Tally,
    figures: &SlotFigures,
    place: &AccessoryPlace,
) -> AccessoryJson<'a> {
    AccessoryJson {
        name: inputs
            .job
            .accessories
            .get(place.accessory)
            .map_or("", |accessory| &accessory.name),
        joint: place
            .piece
            .and_then(|piece| number_of(tally, figures, piece)),
        above_lower_plane_m: place.above_lower_plane.map(Number::metres),
        elevation_m: place.elevation.map(Number::elevation),
        clear: place.clear,
    }
}

fn frame_json<'a>(inputs: &'a Inputs, frame: &FrameFigures) -> FrameJson<'a> {
    FrameJson {
        slot: inputs
            .job
            .slots
            .get(frame.slot)
            .map_or("", |slot| &slot.name),
        base_elevation_m: frame.base.map(Number::elevation),
        base_above_mudline_m: frame.above_mudline.map(Number::metres),
        uncertainty_m: expanded(frame.variance),
        state: frame.verdict.map(crate::figures::Verdict::word),
    }
}

fn spread_json(spread: &Spread) -> SpreadJson {
    SpreadJson {
        cuts: spread.cuts,
        value_m: spread.value.map(Number::metres),
        uncertainty_m: expanded(spread.variance),
        state: spread.verdict.map(crate::figures::Verdict::word),
    }
}
