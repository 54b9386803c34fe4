//! Which end of the page the shoe is at.
//!
//! Kinds tell, else a written running total, else joint numbers. Signs that contradict each other are a
//! question, not a guess, and a stated order settles any of them.

use super::error::Problem;
use super::found::FoundRows;
use super::options::Options;
use super::order_signs::{Misplaced, OrderSign};
use super::problems::Problems;
use super::question::Question;
use super::sign_words::names_shoe;
use super::synonyms::Field;
use super::table::TallyTable;
use crate::measure::Length;
use crate::tally::claim::{Claim, Claimed, running_totals_rise};
use crate::tally::joint::{Joint, Kind};
use crate::tally::model::Order;
use crate::tally::remarks::without_reasons;

/// The order of a file, and whether it had to be assumed.
pub(super) struct Settled {
    pub(super) order: Order,
    pub(super) assumed: bool,
    /// What the kinds say where a stated order goes against them.
    pub(super) against: Option<OrderSign>,
}

/// Settles the order from the joints as the page lists them.
pub(super) fn settle(
    found: &FoundRows,
    table: &TallyTable,
    options: &Options,
    problems: &mut Problems,
) -> Settled {
    let joints = &found.joints;
    let kinds = from_kinds(found, table, options.order.is_some(), problems);
    if let Some(order) = options.order {
        return Settled {
            order,
            assumed: false,
            against: kinds
                .filter(|(told, _)| *told != order)
                .map(|(_, sign)| sign),
        };
    }
    let totals = from_totals(&found.claims);
    let numbers = found.numbers.order();
    let of_kinds = matches!(kinds, Some((_, OrderSign::Kind(..))));
    // Signs that tell nothing by themselves, but may contradict what does; kinds outrank them.
    let weak = if of_kinds {
        [None, None]
    } else {
        [from_open_end(joints, options.pins_up), from_remarks(joints)]
    };
    let signs = [kinds, totals, numbers];
    let mut told = signs.iter().flatten();
    let Some((order, first)) = told.next().copied() else {
        let other = weak
            .iter()
            .flatten()
            .find(|(order, _)| *order != Order::ShoeFirst);
        if let Some((_, sign)) = other {
            problems.push(Question::OrderUntold { sign: *sign });
        }
        return Settled {
            order: Order::ShoeFirst,
            assumed: !table.plain && joints.len() > 1,
            against: None,
        };
    };
    if let Some((_, second)) = told
        .chain(weak.iter().flatten())
        .find(|(other, _)| *other != order)
    {
        problems.push(Problem::OrderQuestion {
            first,
            second: *second,
        });
    }
    Settled {
        order,
        assumed: false,
        against: None,
    }
}

/// Brings the landing joints to the top of the string, where they are at the other end of a page whose
/// order was stated.
pub(super) fn raise_landing(found: &mut FoundRows, order: Order) {
    let is_landing = |joint: &Joint| joint.kind == Some(Kind::Landing);
    let rows = found.joints.len();
    let ends = found.ends.iter();
    let landing = ends.filter(|(_, kind)| *kind == Kind::Landing).count();
    if landing == 0 || landing == rows {
        return;
    }
    let at_first = found.joints.first().is_some_and(is_landing);
    if at_first == (order == Order::TopFirst) {
        return;
    }
    let (by, at) = if at_first {
        (rows - landing, landing)
    } else {
        (landing, rows - landing)
    };
    // What was row `at` is the first row now.
    found.joints.rotate_left(at);
    let moved = |row: usize| if row < at { row + by } else { row - at };
    for claim in &mut found.claims {
        match &mut claim.claimed {
            Claimed::Effective { row } | Claimed::Running { row } => *row = moved(*row),
            Claimed::Total {
                page_start, row, ..
            } => {
                let end = row.checked_sub(1).map_or(0, |last| moved(last) + 1);
                *page_start = moved(*page_start).min(end);
                *row = end;
            }
        }
    }
}

/// A blank or zero loss at one end alone is that of the open pin end.
fn from_open_end(joints: &[Joint], pins_up: bool) -> Option<(Order, OrderSign)> {
    let conductor = || {
        joints
            .iter()
            .filter(|joint| joint.kind != Some(Kind::Landing))
    };
    let is_open = |joint: &Joint| joint.makeup_loss.is_none_or(Length::is_zero);
    let mut open = conductor().filter(|joint| is_open(joint));
    let (only, None) = (open.next()?, open.next()) else {
        return None;
    };
    let (first, last) = (conductor().next()?, conductor().next_back()?);
    // Of two joints one is open in any list.
    if conductor().take(3).count() < 3 {
        return None;
    }
    let at_first = only.line == first.line;
    if !at_first && only.line != last.line {
        return None;
    }
    let order = if at_first == pins_up {
        Order::TopFirst
    } else {
        Order::ShoeFirst
    };
    Some((order, OrderSign::LossOpen(only.line, pins_up)))
}

/// Remarks, or a joint's own name, that name the shoe at one end of the list alone.
fn from_remarks(joints: &[Joint]) -> Option<(Order, OrderSign)> {
    let mut conductor = joints
        .iter()
        .filter(|joint| joint.kind != Some(Kind::Landing));
    let names = |joint: &Joint| {
        let remarks = joint.remarks().map(without_reasons);
        names_shoe(&joint.number) || remarks.is_some_and(|it| names_shoe(&it))
    };
    let (first, last) = (conductor.next()?, conductor.next_back()?);
    match (names(first), names(last)) {
        (true, false) => Some((Order::ShoeFirst, OrderSign::ShoeNamed(first.line))),
        (false, true) => Some((Order::TopFirst, OrderSign::ShoeNamed(last.line))),
        _ => None,
    }
}

/// What the kinds say; kinds where they cannot be are problems whatever the order.
fn from_kinds(
    found: &FoundRows,
    table: &TallyTable,
    is_stated: bool,
    problems: &mut Problems,
) -> Option<(Order, OrderSign)> {
    let (mut shoes, mut tops, mut landing) = (Vec::new(), Vec::new(), Vec::new());
    let joints = &found.joints;
    for (row, kind) in &found.ends {
        match kind {
            Kind::Shoe => shoes.push(*row),
            Kind::Top => tops.push(*row),
            Kind::Landing => landing.push(*row),
            Kind::Joint | Kind::Running | Kind::Pup => {}
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
        // A stated order settles that too.
        if is_stated {
            return Some(first);
        }
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
