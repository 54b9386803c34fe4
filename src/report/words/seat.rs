//! Words of a deck on its tops.

use crate::deck::{Chance, Rest, SeatState};
use crate::figures::{LandedGap, Seating, SlotRemedy, SpreadOf, TopSource, Verdict};
use crate::finding::Code;
use crate::job::Job;
use crate::measure::{Length, LengthFormat};

/// That the deck's legs are taken to be as they were designed, all or some of them; `None` where each was surveyed.
pub fn legs_as_designed(job: &Job, seating: &Seating) -> Option<String> {
    let unknown = &seating.legs_as_designed;
    if unknown.is_empty() {
        return None;
    }
    let where_from = if unknown.len() == job.slots.len() {
        String::new()
    } else {
        let names = unknown.iter().filter_map(|at| job.slots.get(*at));
        let names: Vec<&str> = names.map(|it| it.name.as_str()).collect();
        format!(" at {}", names.join(", "))
    };
    Some(format!(
        "LEGS AS DESIGNED, NOT SURVEYED{where_from}: how the deck was built is not in these figures"
    ))
}

/// What shims and what trims would do to the cuts that are measured, a line each.
pub fn remedies_said(job: &Job, seating: &Seating, show: LengthFormat) -> Vec<String> {
    let Some(remedies) = &seating.remedies else {
        return Vec::new();
    };
    let name = |at: usize| job.slots.get(at).map_or("", |slot| slot.name.as_str());
    let state = |it: Option<Verdict>| it.map_or("not judged", Verdict::word);
    let spread = |it: Option<SpreadOf>| {
        it.map_or_else(String::new, |it| {
            format!("; spread {} ({})", show.small(it.value), state(it.state))
        })
    };
    let cuts = |of: &dyn Fn(&SlotRemedy) -> (Length, Option<Verdict>)| {
        let all = remedies.slots.iter().map(|it| {
            let (deviation, verdict) = of(it);
            let deviation = show.small_signed(deviation);
            format!("{} {deviation} ({})", name(it.slot), state(verdict))
        });
        all.collect::<Vec<_>>().join(", ")
    };
    let shims = remedies.slots.iter().filter(|it| !it.shim.is_zero());
    let shims = shims.map(|it| format!("{} {}", name(it.slot), show.small(it.shim)));
    let shims: Vec<String> = shims.collect();
    let mut said = Vec::new();
    if !shims.is_empty() {
        said.push(format!(
            "with shims ({}) the cuts stay: {}{}",
            shims.join(", "),
            cuts(&|it| (it.deviation, it.state)),
            spread(remedies.spread)
        ));
    }
    if remedies.slots.iter().any(|it| !it.trim.is_zero()) {
        said.push(format!(
            "with trims the cuts become: {}{}",
            cuts(&|it| (it.trimmed, it.trimmed_state)),
            spread(remedies.trimmed_spread)
        ));
    }
    said
}

/// What was found when the deck was landed, a line a slot.
pub fn landed_said(job: &Job, seating: &Seating, show: LengthFormat) -> Vec<String> {
    let line = |it: &LandedGap| {
        let name = job.slots.get(it.slot).map_or("", |slot| slot.name.as_str());
        let shim = it.shim.map_or_else(String::new, |shim| {
            format!(", shim {} set", show.small(shim))
        });
        let verdict = match it.limit {
            None => "nothing says how far both may differ: tops that are not measured, or no as_cut uncertainty".to_owned(),
            Some(limit) if it.is_otherwise() => format!("MORE THAN {} APART", show.small(limit)),
            Some(_) => "agrees".to_owned(),
        };
        format!(
            "landed: {name}: gap {} found{shim}; by the tops {}: {verdict}",
            show.small(it.found),
            show.small(it.seat)
        )
    };
    seating.landed.iter().map(line).collect()
}

/// What no figure of a seat knows.
pub const SEAT_STIFF: &str = "a stiff deck at rest on stiff tops: how the deck bends, swings or is set down is not in these figures";

/// Why nothing is said of trims.
pub const NO_TRIMS: &str =
    "trims: not computed: deck.seat_within or cut.tolerance is missing, or there are too many tops";

/// How it rests: a word, and what it means.
pub const fn seat_state_parts(state: SeatState) -> (&'static str, &'static str) {
    match state {
        SeatState::Stable => ("STABLE", "it rests on the tops round its centre of gravity"),
        SeatState::Rocks => (
            "ROCKS",
            "its centre of gravity lies over a line between two contacts, it tips either way",
        ),
        SeatState::Marginal => (
            "MARGINAL",
            "its centre of gravity lies exactly over the outline of the tops",
        ),
        SeatState::Unstable => (
            "UNSTABLE - STOP",
            "its centre of gravity lies outside the tops, it would fall",
        ),
        SeatState::Degenerate => ("NO SEAT", "the tops lie in one line, or are under three"),
    }
}

/// The same as a line.
pub fn seat_state(state: SeatState) -> String {
    let (word, meaning) = seat_state_parts(state);
    format!("seat: {word}: {meaning}")
}

/// Why there is no seat.
pub fn not_seated(why: &str) -> String {
    format!("The deck is not seated: {why}")
}

/// That what stands below may rest on figures that are stopped.
pub const DECK_STOPPED: &str =
    "SOMETHING STOPS THIS JOB: see Overview before going by what stands here";

/// Which of several rests.
pub fn rest_of(number: usize, all: usize) -> String {
    format!("rest {number} of {all}, left and right show the other")
}

/// What the plan's bar is long, and which way its axes go.
pub fn plan_scale(length: &str) -> String {
    format!("{length}, x right, y up")
}

/// A gap in a list.
pub fn gap_briefly(gap: Length, show: LengthFormat) -> String {
    if gap.is_zero() {
        "bears".to_owned()
    } else {
        show.small(gap)
    }
}

/// How far the centre of gravity is inside the outline of the tops.
pub fn cog_margin(margin: Length, show: LengthFormat) -> String {
    let way = if margin.is_negative() {
        "outside"
    } else {
        "inside"
    };
    format!(
        "centre of gravity: {} {way} the outline of the tops",
        show.text(margin.abs())
    )
}

/// On which tops it rests, and its tilt.
pub fn rests_on(contacts: &[&str], (x, y): (f64, f64)) -> String {
    // A zero has no sign.
    let degrees = |it: f64| format!("{:.4}", if it.abs() < 5e-5 { 0.0 } else { it });
    format!(
        "rests on {}; tilt about x {} deg, about y {} deg",
        contacts.join(", "),
        degrees(x),
        degrees(y)
    )
}

/// A slot of a rest: its top, and the gap that stays over it, which is the shim that it needs.
pub fn seat_slot(
    (slot, source): (&str, &str),
    (top, gap): (Length, Length),
    (offset, leg): (Length, Option<Length>),
    show: LengthFormat,
) -> String {
    let counts = if offset.is_zero() {
        String::new()
    } else {
        let by = show.small_signed(offset);
        format!(
            ", counts as {} for its cut offset of {by}",
            show.text(top - offset)
        )
    };
    let leg = leg.map_or_else(String::new, |leg| {
        format!(", leg {} as surveyed", show.small_signed(leg))
    });
    let gap = if gap.is_zero() {
        "bears".to_owned()
    } else {
        format!("gap {}, the shim that it needs", show.small(gap))
    };
    format!(
        "  {slot}: top {} ({source}){counts}{leg}, {gap}",
        show.text(top)
    )
}

/// How far the tops are from one plane.
pub fn flat_to(flatness: Length, within: Option<Length>, show: LengthFormat) -> String {
    let limit = within.map_or_else(
        || "no limit is stated".to_owned(),
        |within| format!("{} is allowed", show.small(within)),
    );
    format!("tops within {} of one plane, {limit}", show.small(flatness))
}

/// The least trims.
pub fn trims(made: &[(&str, Length)], show: LengthFormat) -> String {
    if made.is_empty() {
        return "trims: none is needed to bring the tops so near one plane".to_owned();
    }
    let all: Vec<String> = made
        .iter()
        .map(|(slot, trim)| format!("{slot} {}", show.small(*trim)))
        .collect();
    let total: Length = made.iter().map(|(_, trim)| *trim).sum();
    format!(
        "trims: the least that bring all tops within the limit: {} (in all {}); a conductor can only get shorter",
        all.join(", "),
        show.small(total)
    )
}

/// How it rests once the trims are made.
pub fn after_trims(
    contacts: &[&str],
    widest: Option<(&str, Length)>,
    show: LengthFormat,
) -> String {
    let contacts = contacts.join(", ");
    let gap = widest.map_or_else(
        || "no gap".to_owned(),
        |(slot, gap)| format!("widest gap {} at {slot}", show.small(gap)),
    );
    format!("after these trims: rests on {contacts}; {gap}")
}

/// How likely it sits within its limits.
pub fn chance_within(chance: &Chance, (draws, seed): (u32, u64)) -> String {
    let share = |it: Option<f64>| {
        it.map_or_else(
            || "not stated".to_owned(),
            |it| format!("{:.1} %", it * 100.0),
        )
    };
    format!(
        "chance that the deck is level within the spread: {}; that every gap is within the limit: {} ({draws} draws, seed {seed})",
        share(chance.level_within),
        share(chance.gap_within)
    )
}

/// What there is to say of a seat beside its state and its gaps: of one of its rests where it has several.
pub fn seat_said(job: &Job, seating: &Seating, rest: usize, show: LengthFormat) -> Vec<String> {
    let name = |at: usize| job.slots.get(at).map_or("", |slot| slot.name.as_str());
    let named = |contacts: &[usize]| contacts.iter().map(|it| name(*it)).collect::<Vec<_>>();
    let mut said = Vec::new();
    let margin = seating.seat.margin.and_then(Length::nearest_to_metres);
    said.extend(seating.seat.rests.get(rest).map(|it| {
        let tilt = tilt(it);
        rests_on(&named(&it.contacts), tilt)
    }));
    said.extend(margin.map(|it| cog_margin(it, show)));
    let flatness = Length::nearest_to_metres(seating.flatness);
    said.extend(flatness.map(|it| flat_to(it, seating.within, show)));
    said.extend(trims_said(job, seating, show));
    said.extend(remedies_said(job, seating, show));
    said.extend(landed_said(job, seating, show));
    said.extend(
        seating
            .chance
            .as_ref()
            .map(|it| chance_within(it, seating.drawn)),
    );
    said.extend(reference_said(job, seating));
    said
}

/// That the chances leave out how well surveyed tops are known against tops that are still to be cut.
pub fn reference_said(job: &Job, seating: &Seating) -> Option<String> {
    let has = |of: TopSource| seating.sources.contains(&of);
    let is_uncertain = job.uncertainty.benchmark.is_none_or(|it| !it.is_zero());
    let is_left_out =
        seating.chance.is_some() && has(TopSource::AsCut) && has(TopSource::Target) && is_uncertain;
    is_left_out.then(|| REFERENCE_LEFT_OUT.to_owned())
}

/// That tops near one plane can leave a wide gap.
const SHIM_ALL_THE_SAME: &str = "  a gap is beyond the limit all the same, for the deck rests on some of the tops alone: it takes a shim";

/// That what surveyed tops share is left out beside tops that are not.
const REFERENCE_LEFT_OUT: &str =
    "  in these the height reference of surveyed tops is taken to be right";

/// The least trims, and how the deck rests once they are made.
pub fn trims_said(job: &Job, seating: &Seating, show: LengthFormat) -> Vec<String> {
    let name = |at: usize| job.slots.get(at).map_or("", |slot| slot.name.as_str());
    let Some(all) = &seating.trims else {
        return vec![NO_TRIMS.to_owned()];
    };
    let made = all.iter().enumerate().filter(|(_, it)| !it.is_zero());
    let made: Vec<(&str, Length)> = made.map(|(at, it)| (name(at), *it)).collect();
    let mut said = vec![trims(&made, show)];
    if made.is_empty() && seating.flags.iter().any(|it| it.code == Code::GapOutside) {
        said.push(SHIM_ALL_THE_SAME.to_owned());
    }
    let after = seating.after.iter().filter(|_| !made.is_empty());
    for (after, at) in after.flat_map(|it| (0..it.seat.rests.len()).map(move |at| (it, at))) {
        let contacts = after.seat.rests.get(at).into_iter();
        let contacts = contacts.flat_map(|it| &it.contacts);
        let contacts: Vec<&str> = contacts.map(|it| name(*it)).collect();
        let widest = after.widest(at).map(|(slot, gap)| (name(slot), gap));
        said.push(after_trims(&contacts, widest, show));
    }
    said
}

/// The tilt about x and about y, in degrees.
pub fn tilt(rest: &Rest) -> (f64, f64) {
    let (b, c) = rest.slope;
    (c.atan().to_degrees(), -b.atan().to_degrees())
}
