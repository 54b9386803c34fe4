//! The JSON of a string that is run: what hangs, what comes next, where it does not close.

use serde::Serialize;

use super::json_reconcile::{SuspectJson, single};
use super::number::Number;
use super::words::left_out;
use crate::figures::{Figures, Misclosure, MisclosureOf, Running, SlotView};
use crate::journal::Inputs;
use crate::measure::{Length, LengthFormat};
use crate::signing::{Verified, missing, next_hold};

/// The string as it hangs, and the next hold point.
#[derive(Serialize)]
pub(super) struct RunningJson<'a> {
    next_joint: Option<&'a str>,
    joints_run: usize,
    joints_to_run: usize,
    to_run_m: Number,
    hanging_m: Number,
    stick_up_m: Option<Number>,
    shoe_elevation_m: Number,
    still_to_lower_m: Option<Number>,
    stick_up_at_landing_m: Option<Number>,
    hook_load_kg: Option<Number>,
    hook_load_leaves_out: Vec<&'static str>,
    next_lift_kg: Option<Number>,
    misclosure: Option<MisclosureJson<'a>>,
    next_hold: Option<NextHoldJson>,
}

/// Where the string as it is run does not close, with the first possible causes.
#[derive(Serialize)]
struct MisclosureJson<'a> {
    of: &'static str,
    joint: Option<&'a str>,
    entry: u64,
    off_m: Number,
    within_m: Number,
    suspects: Vec<SuspectJson<'a>>,
    by_chance: Number,
}

impl<'a> MisclosureJson<'a> {
    fn of(it: &'a Misclosure, show: LengthFormat) -> Self {
        let (of, joint, entry) = match &it.of {
            MisclosureOf::Joint(joint, seq) => ("joint-run", Some(joint.as_str()), *seq),
            MisclosureOf::Landing(seq) => ("stick-up", None, *seq),
        };
        Self {
            of,
            joint,
            entry,
            off_m: Number::metres(it.suspects.off),
            within_m: Number::metres(it.suspects.within),
            suspects: it.first().map(|it| single(it, show)).collect(),
            by_chance: Number::millionths(it.suspects.by_chance_millionths),
        }
    }
}

/// The next hold point of a slot, who has not signed it, and what it lacks.
#[derive(Serialize)]
struct NextHoldJson {
    hold: &'static str,
    roles: Vec<&'static str>,
    lacks: Vec<String>,
}

/// The running state of a slot.
pub(super) fn running<'a>(
    inputs: &Inputs,
    figures: &'a Figures,
    view: SlotView<'a>,
    verified: &[Verified],
) -> RunningJson<'a> {
    let it = figures.running.get(view.index);
    let next = it.and_then(|it| view.tally.joints.get(it.next?));
    let length = |of: fn(&Running) -> Option<Length>| it.and_then(of).map(Number::metres);
    let load = it.and_then(|it| it.hook_load.as_ref());
    let misclosure = figures.misclosures.get(view.index);
    let next_hold = next_hold(inputs, verified, view.index).map(|next| {
        let lacks = missing(
            inputs,
            figures,
            verified,
            (view.index, next.hold),
            (None, None),
        );
        NextHoldJson {
            hold: next.hold.name(),
            roles: next.roles.iter().map(|role| role.name()).collect(),
            lacks: lacks.iter().map(super::words::missing).collect(),
        }
    });
    RunningJson {
        next_joint: next.map(|joint| joint.number.as_str()),
        joints_run: it.map_or(0, |it| it.joints_run),
        joints_to_run: it.map_or(0, |it| it.joints_to_run),
        to_run_m: Number::metres(it.map_or(Length::ZERO, |it| it.to_run)),
        hanging_m: Number::metres(it.map_or(Length::ZERO, |it| it.hanging)),
        stick_up_m: length(|it| it.stick_up),
        shoe_elevation_m: Number::metres(it.map_or(Length::ZERO, |it| it.shoe.height())),
        still_to_lower_m: length(|it| it.still_to_lower),
        stick_up_at_landing_m: length(|it| it.stick_up_at_landing),
        hook_load_kg: load.map(|load| Number::real(load.total(), 6)),
        hook_load_leaves_out: load.map_or_else(Vec::new, |load| {
            load.leaves_out.iter().map(|it| left_out(*it)).collect()
        }),
        next_lift_kg: it.and_then(|it| it.next_lift).map(|kg| Number::real(kg, 6)),
        misclosure: misclosure
            .and_then(Option::as_ref)
            .map(|it| MisclosureJson::of(it, LengthFormat::new(inputs.job.units))),
        next_hold,
    }
}
