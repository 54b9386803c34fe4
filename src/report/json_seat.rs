//! The JSON of `seat`.

use serde::Serialize;

use super::json::{FORMAT, FlagJson, flags, pretty};
use super::number::Number;
use super::words;
use crate::deck::{DeckTop, Rest, Seat};
use crate::figures::{Remedies, Seating, SlotRemedy, Verdict};
use crate::job::Job;
use crate::measure::{Length, LengthFormat};

/// Decimals of real figures.
const DECIMALS: usize = 9;

#[derive(Serialize)]
struct SeatTree<'a> {
    format: u32,
    state: &'static str,
    rests: Vec<RestJson<'a>>,
    cog_margin_m: Option<Number>,
    best_fit: Option<FitJson>,
    flatness_m: Number,
    trims: Option<Vec<TrimJson<'a>>>,
    trims_total_m: Option<Number>,
    after: Option<AfterJson<'a>>,
    remedies: Option<RemediesJson<'a>>,
    landed: Vec<LandedJson<'a>>,
    legs_as_designed: Vec<&'a str>,
    chance: Option<ChanceJson>,
    flags: Vec<FlagJson>,
}

#[derive(Serialize)]
struct RestJson<'a> {
    contacts: Vec<&'a str>,
    tilt_x_deg: Number,
    tilt_y_deg: Number,
    slots: Vec<RestSlotJson<'a>>,
}

#[derive(Serialize)]
struct RestSlotJson<'a> {
    slot: &'a str,
    source: &'static str,
    top_m: Number,
    leg_m: Option<Number>,
    deck_m: Number,
    gap_m: Number,
}

#[derive(Serialize)]
struct FitJson {
    a: Number,
    b: Number,
    c: Number,
    residuals_m: Vec<Number>,
}

#[derive(Serialize)]
struct TrimJson<'a> {
    slot: &'a str,
    trim_m: Number,
}

#[derive(Serialize)]
struct AfterJson<'a> {
    state: &'static str,
    rests: Vec<RestJson<'a>>,
    flatness_m: Number,
}

#[derive(Serialize)]
struct RemediesJson<'a> {
    shims: Vec<RemedyJson<'a>>,
    shims_spread_m: Option<Number>,
    shims_spread_state: Option<&'static str>,
    trims: Vec<RemedyJson<'a>>,
    trims_spread_m: Option<Number>,
    trims_spread_state: Option<&'static str>,
}

#[derive(Serialize)]
struct RemedyJson<'a> {
    slot: &'a str,
    by_m: Number,
    deviation_m: Number,
    state: Option<&'static str>,
}

#[derive(Serialize)]
struct LandedJson<'a> {
    slot: &'a str,
    gap_m: Number,
    shim_m: Option<Number>,
    seat_gap_m: Number,
    limit_m: Option<Number>,
    agrees: Option<bool>,
}

#[derive(Serialize)]
struct ChanceJson {
    level_within: Option<Number>,
    gap_within: Option<Number>,
    draws: u32,
    seed: u64,
}

fn real(value: f64) -> Number {
    Number::real(value, DECIMALS)
}

/// A deck on its tops.
pub fn seat(job: &Job, seating: &Seating, show: LengthFormat) -> Result<String, serde_json::Error> {
    let trims = seating.trims.as_ref();
    pretty(&SeatTree {
        format: FORMAT,
        state: seating.seat.state.word(),
        rests: rests(job, seating, (&seating.seat, &seating.tops)),
        cog_margin_m: seating.seat.margin.map(real),
        best_fit: seating.best_fit.as_ref().map(|it| FitJson {
            a: real(it.a),
            b: real(it.b),
            c: real(it.c),
            residuals_m: it.residuals.iter().map(|it| real(*it)).collect(),
        }),
        flatness_m: real(seating.flatness),
        trims: trims.map(|trims| {
            let trims = job.slots.iter().zip(trims);
            let made = trims.filter(|(_, trim)| !trim.is_zero());
            made.map(|(slot, trim)| TrimJson {
                slot: &slot.name,
                trim_m: Number::metres(*trim),
            })
            .collect()
        }),
        trims_total_m: trims.map(|trims| Number::metres(trims.iter().copied().sum())),
        after: seating.after.as_ref().map(|it| AfterJson {
            state: it.seat.state.word(),
            rests: rests(job, seating, (&it.seat, &it.tops)),
            flatness_m: real(it.flatness),
        }),
        remedies: seating.remedies.as_ref().map(|it| remedies(job, it)),
        landed: seating
            .landed
            .iter()
            .map(|it| LandedJson {
                slot: name_of(job, it.slot),
                gap_m: Number::metres(it.found),
                shim_m: it.shim.map(Number::metres),
                seat_gap_m: Number::metres(it.seat),
                limit_m: it.limit.map(Number::metres),
                agrees: it.limit.map(|_| !it.is_otherwise()),
            })
            .collect(),
        legs_as_designed: seating
            .legs_as_designed
            .iter()
            .map(|at| name_of(job, *at))
            .collect(),
        chance: seating.chance.map(|it| ChanceJson {
            level_within: it.level_within.map(real),
            gap_within: it.gap_within.map(real),
            draws: seating.drawn.0,
            seed: seating.drawn.1,
        }),
        flags: flags(&seating.flags, show),
    })
}

fn name_of(job: &Job, slot: usize) -> &str {
    job.slots.get(slot).map_or("", |slot| slot.name.as_str())
}

fn remedies<'a>(job: &'a Job, of: &Remedies) -> RemediesJson<'a> {
    let word = |it: Option<Verdict>| it.map(Verdict::word);
    let row = |it: &SlotRemedy, by: Length, deviation: Length, state: Option<Verdict>| RemedyJson {
        slot: name_of(job, it.slot),
        by_m: Number::metres(by),
        deviation_m: Number::metres(deviation),
        state: word(state),
    };
    let slots = || of.slots.iter();
    RemediesJson {
        shims: slots()
            .map(|it| row(it, it.shim, it.deviation, it.state))
            .collect(),
        shims_spread_m: of.spread.map(|it| Number::metres(it.value)),
        shims_spread_state: of.spread.and_then(|it| word(it.state)),
        trims: slots()
            .map(|it| row(it, it.trim, it.trimmed, it.trimmed_state))
            .collect(),
        trims_spread_m: of.trimmed_spread.map(|it| Number::metres(it.value)),
        trims_spread_state: of.trimmed_spread.and_then(|it| word(it.state)),
    }
}

fn rests<'a>(
    job: &'a Job,
    seating: &Seating,
    (seat, tops): (&Seat, &[DeckTop]),
) -> Vec<RestJson<'a>> {
    let name = |at: usize| job.slots.get(at).map_or("", |slot| slot.name.as_str());
    let of = |rest: &Rest| {
        let tilt = words::tilt(rest);
        let slots = rest.deck.iter().zip(tops).zip(&seating.sources).enumerate();
        RestJson {
            contacts: rest.contacts.iter().map(|it| name(*it)).collect(),
            tilt_x_deg: real(tilt.0),
            tilt_y_deg: real(tilt.1),
            slots: slots
                .map(|(at, ((deck, top), source))| {
                    let leg = job.slots.get(at).and_then(|it| it.leg_deviation);
                    RestSlotJson {
                        slot: name(at),
                        source: source.word(),
                        top_m: Number::metres(top.z - leg.unwrap_or_default()),
                        leg_m: leg.map(Number::metres),
                        deck_m: Number::metres(*deck),
                        gap_m: Number::metres((*deck - top.z).max(Length::ZERO)),
                    }
                })
                .collect(),
        }
    };
    seat.rests.iter().map(of).collect()
}
