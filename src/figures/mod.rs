//! Every figure that follows from a job and its tallies, computed once and shown by all outputs.
//!
//! Pure: [`compute`] knows no file, clock or terminal. Each slot is resolved once, with its pipe, its
//! hull position and its tally ([`SlotView`]). Its [`Chain`] says where its parts are: the stick-up at its
//! hull position gives the top, the tally gives the shoe and every make-up plane. All else is computed
//! from the chain and never changes it. A value travels with the terms of its uncertainty ([`Estimate`]).
//! [`catalogue`] lists every figure once. What cannot be known is `None`, never a zero.

mod adjusted;
mod as_cut;
mod by_readings;
pub mod catalogue;
mod chain;
mod checks;
mod connections;
mod corrections;
mod cut;
mod doubts;
mod effects;
mod estimate;
mod expected;
mod fits;
mod landed;
mod lean;
mod levels;
mod limits;
mod lists;
mod marks;
mod measured;
mod misclosure;
mod network;
mod ranges;
mod remedies;
mod rim;
mod run;
mod running;
mod said;
mod seating;
mod second_ways;
mod side_by_side;
mod slot;
mod status;
pub mod steel;
mod terms;
mod together;
mod verdict;
mod waivers;
mod whole;

pub use adjusted::{AdjustedFigures, Compared, JobLevels, UntiedEntry, levels_of};
pub use as_cut::AsCut;
pub use by_readings::ByReadings;
pub use chain::{Basis, Chain, PlanFigures, PlanOf, RunningJoint, Shoulder, SlotView};
pub use connections::Connection;
pub use corrections::CorrectionLine;
pub use cut::{Cut, CutPlace};
pub use doubts::{Doubt, doubts, known_points};
pub use effects::{AdoptionEffect, Mover};
pub use estimate::{Estimate, Source, Term, Variance, total};
pub use expected::{Expected, ExpectedOf, expected};
pub use fits::{AccessoryPlace, InKeepOut};
pub use landed::LandedGap;
pub use lean::Lean;
pub use levels::Levels;
pub use lists::{ListFigures, left_to_decide};
pub use marks::{Mark, MarkFrom, Reading, independent_groups, shared_readings};
pub use measured::{MeasuredAs, MeasuredOff};
pub use misclosure::{Misclosure, MisclosureOf};
pub use network::{DATUM, ReadNetwork, ReadingOf, rotary_point, top_point};
pub use ranges::range_factor;
pub use remedies::{Remedies, SlotRemedy, SpreadOf};
pub use rim::Rim;
pub use run::{RunStep, entered_step, pieces_to_run, run_step, run_steps};
pub use running::{HookLoad, LeftOut, Running};
pub use said::Recorded;
pub use seating::{SeatError, Seating, TopSource, Trimmed};
pub use second_ways::{SecondWay, WayBy};
pub use side_by_side::{SlotLists, Trial};
pub use slot::SlotFigures;
pub use status::{CutStatus, Release, SlotState, Standing};
pub use terms::{of_plane as plane_estimate, string_length};
pub use together::{FrameFigures, Spread};
pub use verdict::{Verdict, judge, probability_within};
pub use waivers::{may_waive, of_inputs};
pub use whole::{Figures, compute};

#[cfg(test)]
mod tests;
