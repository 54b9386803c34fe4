//! How the job's deck will sit on the tops of its conductors, as they are cut or as they shall be.

use thiserror::Error;

use super::landed::{LandedGap, landed};
use super::remedies::{Remedies, remedies, widest_gaps};
use super::whole::Figures;
use crate::deck::{
    BestFit, Chance, DeckTop, Draws, Seat, SeatState, TopDrawn, best_fit, chance, flatness, seat,
    trims,
};
use crate::finding::{Code, Flag, LandedOtherwise, Place, SeatFinding, SlotLength, sort};
use crate::job::{Job, Slot};
use crate::journal::Inputs;
use crate::measure::{Excerpt, Length};

/// Why a deck is not seated.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum SeatError {
    /// Its centre of gravity is not stated.
    #[error(
        "deck.cog is missing in job.toml; expected the centre of gravity in plan, such as cog = [1.9, 2.1]"
    )]
    NoCog,
    /// Slots whose place in plan is not stated.
    #[error("x and y of these slots are missing in job.toml: {}", .0.join(", "))]
    NoPlace(Vec<String>),
    /// Two slots at one place.
    #[error("slots {0} and {1} are at one place in plan: x and y of one of them are wrong")]
    SamePlace(Excerpt, Excerpt),
}

/// What a top's height comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TopSource {
    /// It was measured.
    AsCut,
    /// It is the target of its cut.
    Target,
}

impl TopSource {
    /// The word in JSON.
    pub const fn word(self) -> &'static str {
        match self {
            Self::AsCut => "as-cut",
            Self::Target => "target",
        }
    }
}

/// The deck after trims.
#[derive(Clone, Debug, PartialEq)]
pub struct Trimmed {
    /// The tops then.
    pub tops: Vec<DeckTop>,
    /// How it seats then.
    pub seat: Seat,
    /// How flat they are then, in metres.
    pub flatness: f64,
}

/// A deck on its tops.
#[derive(Clone, Debug, PartialEq)]
pub struct Seating {
    /// The tops, less what each slot is cut above or below the deck's plane.
    pub tops: Vec<DeckTop>,
    /// What each comes from.
    pub sources: Vec<TopSource>,
    /// How it seats.
    pub seat: Seat,
    /// The plane that fits best; `None` where the tops lie in one line.
    pub best_fit: Option<BestFit>,
    /// The least, over all planes, of the greatest distance of a top from the plane, in metres.
    pub flatness: f64,
    /// How far a top may lie from one plane.
    pub within: Option<Length>,
    /// The least trims, one a slot; `None` without a limit.
    pub trims: Option<Vec<Length>>,
    /// The deck after them.
    pub after: Option<Trimmed>,
    /// How likely it sits within its limits; `None` where it does not stand.
    pub chance: Option<Chance>,
    /// How many draws, and their seed.
    pub drawn: (u32, u64),
    /// What shims and trims would do to the cuts; `None` where nothing is needed.
    pub remedies: Option<Remedies>,
    /// What was found when the deck was landed.
    pub landed: Vec<LandedGap>,
    /// Slots whose leg was not surveyed, by their indices.
    pub legs_as_designed: Vec<usize>,
    /// What has to be said.
    pub flags: Vec<Flag>,
}

impl Trimmed {
    /// The slot with the widest gap in one of the rests, by its index; `None` where there is no gap.
    pub fn widest(&self, rest: usize) -> Option<(usize, Length)> {
        let deck = &self.seat.rests.get(rest)?.deck;
        let gaps = deck.iter().zip(&self.tops).map(|(deck, top)| *deck - top.z);
        let widest = gaps.enumerate().max_by_key(|(_, gap)| *gap)?;
        (!widest.1.is_zero()).then_some(widest)
    }
}

impl Seating {
    /// Seats the job's deck.
    pub fn of(inputs: &Inputs, figures: &Figures, drawn: (u32, u64)) -> Result<Self, SeatError> {
        Self::telling(inputs, figures, drawn, &|_| {})
    }

    /// [`Seating::of`], telling how many draws were made.
    pub fn telling(
        inputs: &Inputs,
        figures: &Figures,
        drawn: (u32, u64),
        told: &dyn Fn(u32),
    ) -> Result<Self, SeatError> {
        let job = &inputs.job;
        let cog = job.deck.cog.ok_or(SeatError::NoCog)?;
        placed(job)?;
        let (mut tops, mut sources) = (Vec::new(), Vec::new());
        for (slot, of_slot) in job.slots.iter().zip(&figures.slots) {
            let as_cut = of_slot.cut.as_cut.as_ref();
            let height = as_cut.map(|it| it.mean.value.rounded());
            sources.push(match height {
                Some(_) => TopSource::AsCut,
                None => TopSource::Target,
            });
            let height = height.unwrap_or_else(|| of_slot.cut.target.height());
            tops.push(DeckTop {
                x: slot.x,
                y: slot.y,
                z: height - slot.cut_offset + slot.leg_deviation.unwrap_or_default(),
            });
        }
        let within = job.deck.seat_within.or(job.cut.tolerance);
        let found = within.and_then(|within| trims(&tops, within));
        let trims: Option<Vec<Length>> =
            found.and_then(|all| all.into_iter().map(Length::nearest_to_metres).collect());
        let after = trims.as_ref().map(|trims| {
            let tops: Vec<DeckTop> = tops
                .iter()
                .zip(trims)
                .map(|(top, trim)| DeckTop {
                    z: top.z - *trim,
                    ..*top
                })
                .collect();
            Trimmed {
                seat: seat(&tops, cog),
                flatness: flatness(&tops),
                tops,
            }
        });
        let found = seat(&tops, cog);
        let remedies = trims
            .as_ref()
            .and_then(|trims| remedies(job, figures, (&tops, &found), trims));
        let legs = job.slots.iter().enumerate();
        let legs = legs.filter(|(_, slot)| slot.leg_deviation.is_none());
        let legs_as_designed = legs.map(|(at, _)| at).collect();
        let landed = landed(inputs, &tops, &found);
        let rests = !matches!(found.state, SeatState::Unstable | SeatState::Degenerate);
        let mut seating = Self {
            chance: rests.then(|| {
                let not_stated = Chance {
                    level_within: None,
                    gap_within: None,
                };
                chances(job, figures, (&tops, &sources), (within, drawn), told)
                    .unwrap_or(not_stated)
            }),
            seat: found,
            best_fit: best_fit(&tops),
            flatness: flatness(&tops),
            tops,
            sources,
            within,
            trims,
            after,
            drawn,
            remedies,
            landed,
            legs_as_designed,
            flags: Vec::new(),
        };
        seating.flags = seating.flags_of(job, figures);
        Ok(seating)
    }

    /// The gap at each slot in one of the rests: never below 0.
    pub fn gaps(&self, rest: usize) -> Vec<Length> {
        let rest = self.seat.rests.get(rest);
        rest.map_or_else(Vec::new, |it| it.gaps(&self.tops))
    }

    fn flags_of(&self, job: &Job, figures: &Figures) -> Vec<Flag> {
        let mut flags = Vec::new();
        if let Some(within) = self.within {
            let widest = widest_gaps(&self.tops, &self.seat);
            let gaps = named(job, widest, |gap| gap > within);
            if !gaps.is_empty() {
                let finding = SeatFinding::Gaps { gaps, within };
                flags.push(Flag::new(Code::GapOutside, Place::Whole, finding));
            }
        }
        if let (Some(after), Some(tolerance), Some(trims)) =
            (&self.after, job.cut.tolerance, &self.trims)
        {
            let below = after
                .tops
                .iter()
                .zip(&job.slots)
                .zip(&figures.slots)
                .zip(trims);
            let below = below.map(|(((top, slot), of_slot), trim)| {
                let target = of_slot.cut.target.height() - slot.cut_offset;
                if trim.is_zero() {
                    Length::ZERO
                } else {
                    target + slot.leg_deviation.unwrap_or_default() - top.z
                }
            });
            let below = named(job, below.collect(), |below| below > tolerance);
            if !below.is_empty() {
                let finding = SeatFinding::Trims { below, tolerance };
                flags.push(Flag::new(Code::TrimOutside, Place::Whole, finding));
            }
        }
        let otherwise = self.landed.iter().filter(|it| it.is_otherwise());
        let otherwise: Vec<LandedOtherwise> = otherwise
            .filter_map(|it| {
                Some(LandedOtherwise {
                    slot: job.slots.get(it.slot)?.name.clone(),
                    found: it.found,
                    seat: it.seat,
                    limit: it.limit?,
                })
            })
            .collect();
        if !otherwise.is_empty() {
            let finding = SeatFinding::Landed { otherwise };
            flags.push(Flag::new(Code::LandedOtherwise, Place::Whole, finding));
        }
        sort(&mut flags);
        flags
    }
}

fn named(job: &Job, all: Vec<Length>, is_told: impl Fn(Length) -> bool) -> Vec<SlotLength> {
    let all = job.slots.iter().zip(all);
    let told = all.filter(|(_, length)| is_told(*length));
    told.map(|(slot, length)| SlotLength {
        slot: slot.name.clone(),
        length,
    })
    .collect()
}

/// Whether every slot has a place of its own.
fn placed(job: &Job) -> Result<(), SeatError> {
    let without = job.slots.iter().filter(|slot| !slot.is_placed);
    let without: Vec<String> = without.map(|slot| slot.name.clone()).collect();
    if !without.is_empty() {
        return Err(SeatError::NoPlace(without));
    }
    for (at, slot) in job.slots.iter().enumerate() {
        let same = |other: &&Slot| (other.x, other.y) == (slot.x, slot.y);
        if let Some(other) = job.slots.iter().skip(at + 1).find(same) {
            let names = [slot, other].map(|it| Excerpt::of(&it.name));
            let [one, other] = names;
            return Err(SeatError::SamePlace(one, other));
        }
    }
    Ok(())
}

/// From how many height references the finished tops were surveyed, each once.
fn setups(job: &Job) -> Vec<Option<&String>> {
    let mut found = Vec::new();
    for slot in job.slots.iter().filter(|it| !it.as_cut.is_empty()) {
        let setup = slot.as_cut_setup.as_ref();
        if !found.contains(&setup) {
            found.push(setup);
        }
    }
    found
}

/// How likely the deck sits within its limits; `None` where an uncertainty that it takes is not stated.
fn chances(
    job: &Job,
    figures: &Figures,
    (tops, sources): (&[DeckTop], &[TopSource]),
    (within, (draws, seed)): (Option<Length>, (u32, u64)),
    told: &dyn Fn(u32),
) -> Option<Chance> {
    let stated = &job.uncertainty;
    let metres = |key: Option<Length>| key.map(Length::real_metres);
    let is_to_cut = sources.contains(&TopSource::Target);
    let setups = setups(job);
    let mut uncertain = Vec::new();
    let slots = figures.slots.iter().zip(&job.slots);
    for ((top, source), (of_slot, slot)) in tops.iter().zip(sources).zip(slots) {
        // A leg that was surveyed has an error of its own; one as designed is taken to be right.
        let leg = match slot.leg_deviation {
            Some(_) => metres(slot.leg_uncertainty)?,
            None => 0.0,
        };
        let how = match source {
            TopSource::AsCut => {
                let setup = setups
                    .iter()
                    .position(|it| *it == slot.as_cut_setup.as_ref());
                TopDrawn::Cut(metres(stated.as_cut)?.hypot(leg), setup.unwrap_or(0))
            }
            TopSource::Target => {
                let below = job.cut.hull.rotary - of_slot.cut.target;
                let own = metres(stated.stick_up)?.hypot(leg);
                TopDrawn::Target(own, below.real_metres())
            }
        };
        uncertain.push((*top, how));
    }
    // What tops that are still to be cut share is asked for where there are any.
    let (rotary, scale) = if is_to_cut {
        (metres(stated.rotary)?, stated.tape_scale? * 1e-6)
    } else {
        (0.0, 0.0)
    };
    // One height reference moves all tops alike, and the deck with them.
    let reference = match setups.len() {
        0 | 1 => (0.0, 0),
        several => (metres(stated.benchmark)?, several),
    };
    let draws = Draws {
        reference,
        rotary,
        tape_scale: scale,
        draws,
        seed,
    };
    let cog = job.deck.cog?;
    chance(&uncertain, cog, (job.cut.spread, within), draws, told)
}
