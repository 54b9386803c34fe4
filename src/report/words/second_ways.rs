//! Whether an elevation on which a cut hangs has a second way, and what that says.

use crate::figures::{PlanFigures, PlanOf, SecondWay, WayBy};
use crate::job::Hull;
use crate::measure::{Excerpt, LengthFormat};

/// Nothing else says it.
pub const ONE_READING: &str = "rests on one reading";

/// What else says where RT is at a hull position.
pub fn second_of_rotary(ways: &[SecondWay], hull: &Hull, show: LengthFormat) -> String {
    let of_rotary = |way: &&SecondWay| way.is_to_rotary();
    let own: Vec<String> = ways
        .iter()
        .filter(of_rotary)
        .filter(|way| way.hull.name == hull.name)
        .map(|way| way_words(way, show))
        .collect();
    if !own.is_empty() {
        return own.join("; ");
    }
    // That the hull was raised from here by what the later RT says confirms the difference, not this RT.
    let mut later = ways.iter().filter(of_rotary);
    let raised = later.find(|way| way.concerns(hull));
    raised.map_or(ONE_READING.to_owned(), |way| {
        let name = Excerpt::of(&way.hull.name);
        format!("{ONE_READING}; RT at {name} {}", agreement(way, show))
    })
}

/// Whether a second way agrees, and how closely.
fn agreement(way: &SecondWay, show: LengthFormat) -> String {
    let off = way.difference();
    if off.is_zero() {
        return "agrees".to_owned();
    }
    let off = show.difference(off.abs());
    let off = off.trim_start_matches('+');
    if way.agrees() {
        format!("agrees to {off} ({} passes)", show.small(way.allowed))
    } else {
        format!("DISAGREES by {off}")
    }
}

/// What else says where the deck is.
pub fn second_of_deck(ways: &[SecondWay], show: LengthFormat) -> String {
    let mut ways = ways.iter();
    ways.find(|way| !way.is_to_rotary())
        .map_or(ONE_READING.to_owned(), |way| way_words(way, show))
}

/// What else says where the string stands, once a stick-up is read.
pub fn second_of_stick_up(plan: Option<PlanFigures>, show: LengthFormat) -> String {
    let found = plan.and_then(|plan| Some((plan, plan.read_less_plan?)));
    let Some((plan, off)) = found else {
        return ONE_READING.to_owned();
    };
    let what = match plan.of {
        PlanOf::Shoulder => "shoulder",
        PlanOf::Top => "top",
    };
    format!(
        "{what} planned at {}, by the stick-up {} from that",
        show.text(plan.planned.height()),
        show.difference(off)
    )
}

fn way_words(way: &SecondWay, show: LengthFormat) -> String {
    let by = match &way.by {
        WayBy::Raised { before, by } => {
            format!("raised by {} from {}", show.text(*by), before.name)
        }
        WayBy::AirGap => "by the air gap".to_owned(),
        WayBy::BelowRotary(depth) => {
            format!(
                "{} below RT at {}, {}",
                show.text(*depth),
                way.hull.name,
                show.text(way.hull.rotary.height())
            )
        }
    };
    format!(
        "{by}: {}, {}",
        show.text(way.second.height()),
        agreement(way, show)
    )
}
