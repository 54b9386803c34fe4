//! How far tops are from any one plane, and the least that must be trimmed off them.
//!
//! Both are least values of figures that are linear between a few conditions: some plane at which enough of the conditions hold at once has
//! it. All such planes are looked at.

use super::DeckTop;
use super::arranged::{Condition, MOST, solutions};
use super::outline::{metres, outline, plan_point};
use crate::measure::Length;

/// Most tops for which trims are looked for.
pub const MOST_TOPS: usize = 24;

/// Within which figures are equal, in metres.
const EQUAL: f64 = 1e-10;

/// The tops as a plane sees them: what a plane over each is made of, and the top's height, in metres from the first.
struct Seen {
    unknowns: usize,
    factors: Vec<[f64; MOST]>,
    heights: Vec<f64>,
}

impl Seen {
    /// Tops in one line ask for a line, a single one for a height.
    fn of(tops: &[DeckTop]) -> Self {
        let Some(first) = tops.first() else {
            return Self {
                unknowns: 0,
                factors: Vec::new(),
                heights: Vec::new(),
            };
        };
        let points: Vec<_> = tops.iter().map(|top| plan_point(top.x, top.y)).collect();
        let corners = outline(&points);
        let from = |top: &DeckTop| {
            let (dx, dy) = (top.x - first.x, top.y - first.y);
            (dx.real_metres(), dy.real_metres())
        };
        let factors = |top: &DeckTop| -> [f64; MOST] {
            let (x, y) = from(top);
            match corners.as_slice() {
                [_, _, _, ..] => [1.0, x, y, 0.0],
                [one, two] => {
                    let (a, b) = (points.get(*one), points.get(*two));
                    let along = a
                        .zip(b)
                        .map_or((1.0, 0.0), |(a, b)| (metres(b.0 - a.0), metres(b.1 - a.1)));
                    let long = along.0.hypot(along.1);
                    [1.0, (x * along.0 + y * along.1) / long, 0.0, 0.0]
                }
                _ => [1.0, 0.0, 0.0, 0.0],
            }
        };
        Self {
            unknowns: corners.len().min(3),
            factors: tops.iter().map(factors).collect(),
            heights: tops
                .iter()
                .map(|top| (top.z - first.z).real_metres())
                .collect(),
        }
    }

    fn over(&self, plane: &[f64; MOST], at: usize) -> f64 {
        let factors = self.factors.get(at);
        let terms = factors.into_iter().flatten().zip(plane).take(self.unknowns);
        terms.map(|(factor, value)| factor * value).sum()
    }

    /// Each top less the plane.
    fn less(&self, plane: &[f64; MOST]) -> Vec<f64> {
        let heights = self.heights.iter().enumerate();
        heights
            .map(|(at, height)| height - self.over(plane, at))
            .collect()
    }
}

/// The least, over all planes, of the greatest distance of a top from the plane, in metres.
pub fn flatness(tops: &[DeckTop]) -> f64 {
    let seen = Seen::of(tops);
    if tops.len() <= seen.unknowns {
        return 0.0;
    }
    // A top above the plane, or below it, by just the figure that is looked for.
    let signs = [1.0, -1.0];
    let conditions: Vec<Condition> = seen
        .factors
        .iter()
        .zip(&seen.heights)
        .flat_map(|(factors, height)| {
            signs.map(|sign| {
                let mut all = *factors;
                if let Some(own) = all.get_mut(seen.unknowns) {
                    *own = sign;
                }
                Condition {
                    factors: all,
                    sum: *height,
                }
            })
        })
        .collect();
    let mut least = f64::INFINITY;
    solutions(&conditions, seen.unknowns + 1, |plane| {
        let most = seen
            .less(&plane)
            .into_iter()
            .map(f64::abs)
            .fold(0.0, f64::max);
        least = least.min(most);
    });
    least
}

/// The least total of trims after which all tops are within so much of one plane, and of those the least greatest one, then
/// the least second greatest, and so on; in metres, one a top. `None` for more tops than are looked at.
pub fn trims(tops: &[DeckTop], within: Length) -> Option<Vec<f64>> {
    if tops.len() > MOST_TOPS {
        return None;
    }
    let within = within.real_metres();
    if flatness(tops) <= within + EQUAL {
        return Some(vec![0.0; tops.len()]);
    }
    let seen = Seen::of(tops);
    let mut conditions = Vec::new();
    for (at, (factors, height)) in seen.factors.iter().zip(&seen.heights).enumerate() {
        for off in [within, -within] {
            conditions.push(Condition {
                factors: *factors,
                sum: height - off,
            });
        }
        for (other, other_height) in seen.factors.iter().zip(&seen.heights).skip(at + 1) {
            let mut apart = *factors;
            for (own, their) in apart.iter_mut().zip(other) {
                *own -= their;
            }
            conditions.push(Condition {
                factors: apart,
                sum: height - other_height,
            });
        }
    }
    let mut best: Option<(Vec<f64>, Vec<f64>)> = None;
    solutions(&conditions, seen.unknowns, |plane| {
        let less = seen.less(&plane);
        if less.iter().any(|it| *it < -within - EQUAL) {
            return;
        }
        let trims: Vec<f64> = less.iter().map(|it| (it - within).max(0.0)).collect();
        let mut order = vec![trims.iter().sum::<f64>()];
        let mut sorted = trims.clone();
        sorted.sort_by(|one, other| other.total_cmp(one));
        order.extend(sorted);
        let is_better = best
            .as_ref()
            .is_none_or(|(known, _)| is_less(&order, known));
        if is_better {
            best = Some((order, trims));
        }
    });
    best.map(|(_, trims)| {
        let plain = trims
            .into_iter()
            .map(|it| if it < EQUAL { 0.0 } else { it });
        plain.collect()
    })
}

/// Whether the first figure that differs is less.
fn is_less(one: &[f64], other: &[f64]) -> bool {
    let apart = one.iter().zip(other).find(|(a, b)| (*a - *b).abs() > EQUAL);
    apart.is_some_and(|(a, b)| a < b)
}
