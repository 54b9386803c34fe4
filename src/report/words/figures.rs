//! The names of figures, and their values in the units in use.

use super::places::direction;
use super::verdicts::stated;
use crate::figures::catalogue::{FigureId, Value};
use crate::figures::{AccessoryPlace, MarkFrom, SlotFigures, SlotView, Verdict};
use crate::job::Job;
use crate::measure::{Depth, Elevation, LengthFormat};

/// What people call a figure of a slot.
pub fn figure_name(view: SlotView<'_>, figures: &SlotFigures, id: FigureId) -> String {
    let accessory = |index: usize| accessory_name(view.job, figures, index);
    let mark = |from: MarkFrom| {
        let place = figures.cut.place.as_ref();
        let mark = place.and_then(|place| place.marks.iter().find(|mark| mark.from == from));
        mark.map_or_else(String::new, |mark| direction(view, figures, mark))
    };
    match id {
        FigureId::Mark(from) => format!("reference of the mark {}", mark(from)),
        FigureId::MarkDistance(from) => format!("mark {}", mark(from)),
        FigureId::MarkUncertainty(from) => format!("U of the mark {}", mark(from)),
        FigureId::MarkReadings(from) => format!("readings of the mark {}", mark(from)),
        FigureId::Accessory(index) => format!("accessory {}", accessory(index)),
        FigureId::AccessoryJoint(index) => format!("{} goes on", accessory(index)),
        FigureId::AccessoryHeight(index) => {
            format!("{} above its lower plane", accessory(index))
        }
        FigureId::AccessoryElevation(index) => {
            format!("elevation of {}", accessory(index))
        }
        FigureId::AccessoryClear(index) => {
            format!("{} clear of connections", accessory(index))
        }
        other => plain_name(other).to_owned(),
    }
}

/// The name of an accessory of a slot, by its index among the slot's; where several have one name, all but
/// the first are told by their number.
pub fn accessory_name(job: &Job, figures: &SlotFigures, index: usize) -> String {
    let name = |place: &AccessoryPlace| {
        let accessory = job.accessories.get(place.accessory);
        accessory.map_or("an accessory", |accessory| accessory.name.as_str())
    };
    let Some(own) = figures.accessories.get(index).map(name) else {
        return String::new();
    };
    let before = figures.accessories.iter().take(index);
    match before.filter(|place| name(place) == own).count() {
        0 => own.to_owned(),
        count => format!("{own} ({})", count + 1),
    }
}

/// The name of a figure that there is once in a slot, or once in the job.
pub const fn plain_name(id: FigureId) -> &'static str {
    match id {
        FigureId::Basis => "basis",
        FigureId::Inclination => "inclination",
        FigureId::Elevations => "elevations used",
        FigureId::Adjusted | FigureId::AdjustedTop => "top by all readings",
        FigureId::AdjustedTopUncertainty => "U of the top by all readings",
        FigureId::AdjustedRotary => "RT by all readings",
        FigureId::AdjustedRotaryUncertainty => "U of RT by all readings",
        FigureId::TopLessChain => "top by all readings less the chain's",
        FigureId::TopLimit => "limit of that difference",
        FigureId::RotaryLessChain => "RT by all readings less the chain's",
        FigureId::RotaryLimit => "limit of that difference of RT",
        FigureId::Joints => "count of joints",
        FigureId::StringLength => "string length",
        FigureId::LandingLength => "landing string",
        FigureId::StickUp => "stick-up",
        FigureId::Top => "top",
        FigureId::Plan => "plan",
        FigureId::PlanOf => "what the plan fixes",
        FigureId::Planned => "planned elevation",
        FigureId::ReadLessPlan => "stick-up less plan",
        FigureId::Shoe => "shoe",
        FigureId::ShoeBelowRotary => "shoe below RT",
        FigureId::ShoeBelowMudline => "shoe below the mudline",
        FigureId::ShoeAboveHoleBottom => "shoe above the bottom of the hole",
        FigureId::Shoulder | FigureId::ShoulderElevation => "shoulder",
        FigureId::ShoulderJoint => "running joint",
        FigureId::ShoulderBelowRotary => "shoulder below RT",
        FigureId::ShoulderAboveMudline => "shoulder above the mudline",
        FigureId::ShoulderAboveDeck => "shoulder above the deck plane",
        FigureId::CutStatus => "status of the cut",
        FigureId::CutTarget => "cut target",
        FigureId::Allowances => "allowances",
        FigureId::CutBelowRotary => "cut below RT",
        FigureId::RoughCut => "rough cut",
        FigureId::CutJoint => "cut lies in",
        FigureId::CutAboveLowerPlane => "cut above the lower make-up plane",
        FigureId::CutBelowUpperPlane => "cut below the upper make-up plane",
        FigureId::CutToConnection => "cut to the nearest connection",
        FigureId::CutToShoulder => "cut to the shoulder",
        FigureId::OffcutLength => "off-cut",
        FigureId::OffcutMass => "off-cut's mass",
        FigureId::AsCut | FigureId::AsCutMean => "finished top",
        FigureId::AsCutReadings => "readings of the finished top",
        FigureId::AsCutDeviation => "deviation of the finished top",
        FigureId::OutOfLevel => "out of level",
        FigureId::RimAcross => "tilt of the rim, across the pipe",
        FigureId::RimLowSide => "low side of the rim",
        FigureId::RimOffPlane => "rim off its plane",
        FigureId::AsCutUncertainty => "U of the finished top",
        FigureId::AsCutState => "verdict on the finished top",
        FigureId::HeightState => "verdict on its height",
        FigureId::LevelState => "verdict on its level",
        FigureId::LevelUncertainty => "U of its level",
        FigureId::AsCutProbability => "probability of conformity",
        FigureId::Planes => "make-up planes above the shoe",
        FigureId::Frame => "frame",
        FigureId::FrameSlot => "slot of the frame",
        FigureId::FrameBase => "frame's base",
        FigureId::FrameAboveMudline => "frame's base above the mudline",
        FigureId::FrameUncertainty => "U of the frame's base",
        FigureId::FrameState => "verdict on the frame's base",
        FigureId::Cuts => "count of cuts",
        FigureId::Spread => "spread",
        FigureId::SpreadUncertainty => "U of the spread",
        FigureId::SpreadState => "verdict on the spread",
        FigureId::Marks
        | FigureId::Mark(_)
        | FigureId::MarkDistance(_)
        | FigureId::MarkUncertainty(_)
        | FigureId::MarkReadings(_) => "marks",
        FigureId::Accessories
        | FigureId::Accessory(_)
        | FigureId::AccessoryJoint(_)
        | FigureId::AccessoryHeight(_)
        | FigureId::AccessoryElevation(_)
        | FigureId::AccessoryClear(_) => "accessories",
    }
}

/// What became of a figure: from one value to another; `None` where that is nothing to tell.
pub fn change(before: Option<&Value>, now: &Value, format: LengthFormat) -> Option<String> {
    if before == Some(now) {
        return None;
    }
    let length = |value: &Value| match value {
        Value::Length(length) => *length,
        Value::Elevation(elevation) => elevation.map(Elevation::height),
        Value::Depth(depth) => depth.map(Depth::downward),
        _ => None,
    };
    match now {
        Value::Length(_) | Value::Elevation(_) | Value::Depth(_) => {
            match (before.and_then(length), length(now)) {
                (Some(before), Some(now)) => Some(signed(format, now - before)),
                (None, Some(now)) => Some(format!("is now {}", format.text(now))),
                (Some(_), None) => Some("is no longer known".to_owned()),
                (None, None) => None,
            }
        }
        Value::Lengths(now) => {
            let Some(Value::Lengths(before)) = before else {
                return None;
            };
            let by = before.iter().zip(now).map(|(before, now)| *now - *before);
            let moved: Vec<_> = by.filter(|by| !by.is_zero()).collect();
            let most = *moved.iter().max_by_key(|by| by.abs())?;
            Some(format!(
                "{} of {} moved, by up to {}",
                moved.len(),
                now.len(),
                signed(format, most)
            ))
        }
        _ => {
            let words = words(now, format)?;
            let was = before.and_then(|before| self::words(before, format));
            Some(match was {
                Some(was) if was == words => return None,
                Some(was) => format!("is {words}, was {was}"),
                None => format!("is {words}"),
            })
        }
    }
}

/// A value that is told in words; `None` where it is not.
fn words(value: &Value, format: LengthFormat) -> Option<String> {
    Some(match value {
        Value::Uncertainty(variance) => stated(format, *variance),
        Value::Mass(mass) => {
            mass.map_or_else(|| "not known".to_owned(), |it| format!("{it:.0} kg"))
        }
        Value::Count(count) => count.to_string(),
        Value::Name(name) => name.clone().unwrap_or_else(|| "no joint".to_owned()),
        Value::Word(word) => (*word).to_owned(),
        Value::Verdict(verdict) => verdict.map_or("none", Verdict::word).to_owned(),
        Value::Truth(Some(true)) => "yes".to_owned(),
        Value::Truth(Some(false)) => "no".to_owned(),
        _ => return None,
    })
}

fn signed(format: LengthFormat, length: crate::measure::Length) -> String {
    match format.heading() {
        "ft-in" => format.signed(length),
        unit => format!("{} {unit}", format.signed(length)),
    }
}
