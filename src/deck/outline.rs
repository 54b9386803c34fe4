//! Points in plan: which side of a line they are on, the outline of several, and how far a point is inside it. All tests
//! are exact.

use std::cmp::Ordering;

use crate::measure::Length;

/// A point in plan, in nanometres.
pub type PlanPoint = (i128, i128);

/// Where a point is to an outline.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// Inside.
    Inside,
    /// Exactly on an edge.
    Edge,
    /// Exactly on a corner.
    Corner,
    /// Outside.
    Outside,
}

pub fn plan_point(x: Length, y: Length) -> PlanPoint {
    (i128::from(x.nm()), i128::from(y.nm()))
}

/// Twice the area of a triangle; above 0 where it turns left.
pub const fn turn(a: PlanPoint, b: PlanPoint, c: PlanPoint) -> i128 {
    (b.0 - a.0) * (c.1 - a.1) - (b.1 - a.1) * (c.0 - a.0)
}

/// The corners of the outline of points, by their indices, turning left; under three where all lie on one line.
pub fn outline(points: &[PlanPoint]) -> Vec<usize> {
    let mut order: Vec<usize> = (0..points.len()).collect();
    let at = |index: &usize| points.get(*index).copied().unwrap_or_default();
    order.sort_by_key(at);
    order.dedup_by_key(|it| at(it));
    if order.len() < 3 {
        return order;
    }
    let chain = |order: &mut dyn Iterator<Item = usize>| {
        let mut corners: Vec<usize> = Vec::new();
        for next in order {
            while let [.., one, two] = corners.as_slice() {
                if turn(at(one), at(two), at(&next)) > 0 {
                    break;
                }
                corners.pop();
            }
            corners.push(next);
        }
        corners.pop();
        corners
    };
    let mut corners = chain(&mut order.iter().copied());
    corners.extend(chain(&mut order.iter().rev().copied()));
    corners
}

/// The edges of an outline.
fn edges(corners: &[PlanPoint]) -> impl Iterator<Item = (PlanPoint, PlanPoint)> {
    let next = corners.iter().cycle().skip(1);
    corners.iter().copied().zip(next.copied())
}

/// Where a point is to an outline that turns left.
pub fn side(corners: &[PlanPoint], point: PlanPoint) -> Side {
    if corners.contains(&point) {
        return Side::Corner;
    }
    let turns = edges(corners).map(|(from, to)| turn(from, to, point).cmp(&0));
    let mut found = Side::Inside;
    for turned in turns {
        match turned {
            Ordering::Less => return Side::Outside,
            Ordering::Equal => found = Side::Edge,
            Ordering::Greater => {}
        }
    }
    found
}

/// The least distance of a point from an outline, in metres: negative outside.
pub fn margin(corners: &[PlanPoint], point: PlanPoint) -> f64 {
    let nearest = edges(corners)
        .map(|(from, to)| distance(point, from, to))
        .fold(f64::INFINITY, f64::min);
    match side(corners, point) {
        Side::Outside => -nearest,
        Side::Edge | Side::Corner => 0.0,
        Side::Inside => nearest,
    }
}

/// A difference of two coordinates in metres.
pub fn metres(nm: i128) -> f64 {
    let nm = i64::try_from(nm).unwrap_or(if nm < 0 { i64::MIN } else { i64::MAX });
    Length::from_nm(nm).real_metres()
}

/// The distance of a point from a line between two others.
fn distance(point: PlanPoint, from: PlanPoint, to: PlanPoint) -> f64 {
    let along = (metres(to.0 - from.0), metres(to.1 - from.1));
    let here = (metres(point.0 - from.0), metres(point.1 - from.1));
    let square = along.0 * along.0 + along.1 * along.1;
    let share = if square > 0.0 {
        ((here.0 * along.0 + here.1 * along.1) / square).clamp(0.0, 1.0)
    } else {
        0.0
    };
    (here.0 - share * along.0).hypot(here.1 - share * along.1)
}
