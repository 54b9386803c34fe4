//! Which end of the page the shoe is at.
//!
//! Kinds tell, else a stated order, else a written running total, else joint numbers. Signs that
//! contradict each other are a question, not a guess.

use super::error::Problem;
use super::order_signs::{Misplaced, OrderSign};
use super::problems::Problems;
use super::synonyms::Field;
use super::table::TallyTable;
use crate::tally::claim::{Claim, Claimed, running_totals_rise};
use crate::tally::joint::{Joint, Kind, split_number};
use crate::tally::model::Order;

/// The order of a file, and whether it had to be assumed.
pub(super) struct Settled {
    pub(super) order: Order,
    pub(super) assumed: bool,
}

/// Settles the order from the joints as the page lists them.
pub(super) fn settle(
    joints: &[Joint],
    claims: &[Claim],
    table: &TallyTable,
    stated: Option<Order>,
    problems: &mut Problems,
) -> Settled {
    let kinds = from_kinds(joints, table, problems);
    let totals = from_totals(claims);
    let numbers = from_numbers(joints);
    if let (Some((order, reason)), Some(option)) = (&kinds, stated)
        && *order != option
    {
        problems.push(Problem::OrderConflict {
            option: option.name(),
            kinds: *reason,
        });
    }
    let signs = [kinds, totals, numbers];
    let mut told = signs.iter().flatten();
    let first = told.next();
    if let Some(order) = stated {
        return Settled {
            order,
            assumed: false,
        };
    }
    if let Some((order, reason)) = first
        && let Some((_, contradiction)) = told.find(|(other, _)| other != order)
    {
        problems.push(Problem::OrderQuestion {
            first: *reason,
            second: *contradiction,
        });
    }
    match first {
        Some((order, _)) => Settled {
            order: *order,
            assumed: false,
        },
        None => Settled {
            order: Order::ShoeFirst,
            assumed: !table.plain && joints.len() > 1,
        },
    }
}

/// What the kinds say; kinds where they cannot be are problems whatever the order.
fn from_kinds(
    joints: &[Joint],
    table: &TallyTable,
    problems: &mut Problems,
) -> Option<(Order, OrderSign)> {
    let (mut shoes, mut tops, mut landing) = (Vec::new(), Vec::new(), Vec::new());
    for (row, joint) in joints.iter().enumerate() {
        match joint.kind {
            Some(Kind::Shoe) => shoes.push(row),
            Some(Kind::Top) => tops.push(row),
            Some(Kind::Landing) => landing.push(row),
            None | Some(Kind::Joint | Kind::Running | Kind::Pup) => {}
        }
    }
    let line = |row: usize| joints.get(row).map_or(0, |joint| joint.line);
    let at = |row: usize| {
        let column = table.optional(Field::Kind).unwrap_or_default();
        table.place(line(row), column)
    };
    for (kind, rows) in [(Kind::Shoe, &shoes), (Kind::Top, &tops)] {
        if let Some(second) = rows.get(1) {
            problems.push(Problem::KindMisplaced {
                at: at(*second),
                what: Misplaced::Second(kind),
            });
            return None;
        }
    }
    let conductor = conductor_rows(joints.len(), &landing);
    let Some((from, to)) = conductor else {
        problems.push(Problem::KindMisplaced {
            at: at(landing.first().copied().unwrap_or_default()),
            what: Misplaced::LandingAmong,
        });
        return None;
    };
    let mut told: Vec<(Order, OrderSign)> = Vec::new();
    let end = |row: usize, first: Order, last: Order| match row {
        _ if from + 1 == to => None,
        row if row == from => Some(first),
        row if row + 1 == to => Some(last),
        _ => None,
    };
    for (rows, kind, at_first, at_last) in [
        (&shoes, Kind::Shoe, Order::ShoeFirst, Order::TopFirst),
        (&tops, Kind::Top, Order::TopFirst, Order::ShoeFirst),
    ] {
        let Some(row) = rows.first() else { continue };
        match end(*row, at_first, at_last) {
            Some(order) => {
                told.push((order, OrderSign::Kind(kind, line(*row))));
            }
            None if from + 1 == to => {}
            None => {
                problems.push(Problem::KindMisplaced {
                    at: at(*row),
                    what: Misplaced::InMiddle(kind),
                });
                return None;
            }
        }
    }
    if let Some(row) = landing.first() {
        let order = if *row == 0 {
            Order::TopFirst
        } else {
            Order::ShoeFirst
        };
        told.push((order, OrderSign::Landing(line(*row))));
    }
    let first = told.first().copied()?;
    if let Some((_, contradiction)) = told.iter().find(|(order, _)| *order != first.0) {
        problems.push(Problem::KindMisplaced {
            at: at(shoes.first().or(tops.first()).copied().unwrap_or(0)),
            what: Misplaced::Contradiction(first.1, *contradiction),
        });
        return None;
    }
    Some(first)
}

/// The rows of the conductor, where the landing joints are together at one end.
fn conductor_rows(rows: usize, landing: &[usize]) -> Option<(usize, usize)> {
    match (landing.first(), landing.last()) {
        (Some(first), Some(last)) if last - first + 1 != landing.len() => None,
        (Some(0), Some(last)) => Some((last + 1, rows)),
        (Some(first), Some(last)) if last + 1 == rows => Some((0, *first)),
        (None, None) => Some((0, rows)),
        _ => None,
    }
}

fn from_totals(claims: &[Claim]) -> Option<(Order, OrderSign)> {
    let mut running = claims
        .iter()
        .filter(|claim| matches!(claim.claimed, Claimed::Running { .. }));
    let (first, last) = (running.next()?, running.next_back()?);
    if first.value == last.value {
        return None;
    }
    Some(if running_totals_rise(claims) {
        (Order::ShoeFirst, OrderSign::TotalRises)
    } else {
        (Order::TopFirst, OrderSign::TotalFalls)
    })
}

/// Joint numbers rising from 1 are shoe first, falling to 1 top first. Landing joints have numbers
/// of their own, and a list with several beginnings of numbers says nothing.
fn from_numbers(joints: &[Joint]) -> Option<(Order, OrderSign)> {
    let mut first: Option<(&str, u64)> = None;
    let mut last = 0;
    let (mut several, mut rises, mut falls) = (false, true, true);
    for joint in joints
        .iter()
        .filter(|joint| joint.kind != Some(Kind::Landing))
    {
        let (prefix, number) = split_number(&joint.number)?;
        match first {
            None => first = Some((prefix, number)),
            Some((beginning, _)) if beginning != prefix => return None,
            Some(_) => {
                several = true;
                rises &= last < number;
                falls &= last > number;
            }
        }
        last = number;
    }
    let (_, first) = first.filter(|_| several)?;
    if rises && first == 1 {
        Some((Order::ShoeFirst, OrderSign::NumbersRise(last)))
    } else if falls && last == 1 {
        Some((Order::TopFirst, OrderSign::NumbersFall(first)))
    } else {
        None
    }
}
