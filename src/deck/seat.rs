//! On which tops a rigid deck rests: those of the plane that is lowest at its centre of gravity among all planes that lie below no
//! top.

use super::DeckTop;
use super::outline::{PlanPoint, Side, margin, metres, outline, plan_point, side, turn};
use crate::measure::Length;

/// How it rests.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SeatState {
    /// On the tops round its centre of gravity.
    Stable,
    /// Its centre of gravity lies over a line between two contacts, or over one: it tips either way.
    Rocks,
    /// Its centre of gravity lies exactly over the outline of all tops.
    Marginal,
    /// Its centre of gravity lies outside all tops.
    Unstable,
    /// The tops lie in one line, or are under three.
    Degenerate,
}

impl SeatState {
    /// The word in JSON.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Stable => "stable",
            Self::Rocks => "rocks",
            Self::Marginal => "marginal",
            Self::Unstable => "unstable",
            Self::Degenerate => "degenerate",
        }
    }
}

/// A plane on which it may rest.
#[derive(Clone, Debug, PartialEq)]
pub struct Rest {
    /// The tops that bear, in their order.
    pub contacts: Vec<usize>,
    /// How much it rises along x, and along y, without a unit.
    pub slope: (f64, f64),
    /// Its height over each top, rounded to the nanometre.
    pub deck: Vec<Length>,
}

impl Rest {
    /// The gap over each top: never below 0.
    pub fn gaps(&self, tops: &[DeckTop]) -> Vec<Length> {
        let all = self.deck.iter().zip(tops);
        all.map(|(deck, top)| *deck - top.z).collect()
    }
}

/// How a deck seats.
#[derive(Clone, Debug, PartialEq)]
pub struct Seat {
    /// How it rests.
    pub state: SeatState,
    /// The planes on which it may rest, in the order of their contacts.
    pub rests: Vec<Rest>,
    /// How far its centre of gravity is inside the outline of the tops, in metres: negative outside; `None` without an outline.
    pub margin: Option<f64>,
}

/// A plane through three tops, with whole numbers: `normal . (point - origin) = 0`, its last part above 0.
struct Plane {
    origin: (PlanPoint, i128),
    normal: (i128, i128, i128),
}

impl Plane {
    /// `None` where the three lie in one line in plan.
    fn through(
        origin: (PlanPoint, i128),
        second: (PlanPoint, i128),
        third: (PlanPoint, i128),
    ) -> Option<Self> {
        let ((to_second, up_second), (to_third, up_third)) =
            (from(origin, second), from(origin, third));
        let normal = (
            to_second.1 * up_third - up_second * to_third.1,
            up_second * to_third.0 - to_second.0 * up_third,
            to_second.0 * to_third.1 - to_second.1 * to_third.0,
        );
        let normal = match normal.2.signum() {
            0 => return None,
            1 => normal,
            _ => (-normal.0, -normal.1, -normal.2),
        };
        Some(Self { origin, normal })
    }

    /// Above 0 where a point lies above the plane.
    const fn above(&self, point: (PlanPoint, i128)) -> i128 {
        let (at, z) = from(self.origin, point);
        self.normal.0 * at.0 + self.normal.1 * at.1 + self.normal.2 * z
    }

    /// Its height over a place, rounded to the nanometre, half away from zero.
    fn height(&self, at: PlanPoint) -> Length {
        let (at, _) = from(self.origin, (at, 0));
        let rise = -(self.normal.0 * at.0 + self.normal.1 * at.1);
        let half = self.normal.2 / 2;
        let rounded = if rise < 0 {
            (rise - half) / self.normal.2
        } else {
            (rise + half) / self.normal.2
        };
        // A plane through three tops all but in one line is as steep as one likes; what it misses by is then any large length.
        let limit = i128::from(i64::MAX / 4);
        let held = (self.origin.1 + rounded).clamp(-limit, limit);
        Length::from_nm(i64::try_from(held).unwrap_or(i64::MAX / 4))
    }

    fn slope(&self) -> (f64, f64) {
        let part = |of: i128| -real(of) / real(self.normal.2);
        (part(self.normal.0), part(self.normal.1))
    }
}

const fn from(origin: (PlanPoint, i128), point: (PlanPoint, i128)) -> (PlanPoint, i128) {
    let ((ox, oy), oz) = origin;
    let ((x, y), z) = point;
    ((x - ox, y - oy), z - oz)
}

/// A whole number as a real one, in two parts so that no digit that counts is lost.
fn real(value: i128) -> f64 {
    const PART: i128 = 1_000_000_000;
    metres(value / PART) * 1e18 + metres(value % PART) * 1e9
}

/// Seats a deck of this centre of gravity on its tops.
pub fn seat(tops: &[DeckTop], cog: (Length, Length)) -> Seat {
    let points: Vec<PlanPoint> = tops.iter().map(|top| plan_point(top.x, top.y)).collect();
    let corners = outline(&points);
    if corners.len() < 3 {
        return Seat {
            state: SeatState::Degenerate,
            rests: Vec::new(),
            margin: None,
        };
    }
    let cog = plan_point(cog.0, cog.1);
    let corner_points: Vec<PlanPoint> = corners
        .iter()
        .map(|it| points.get(*it).copied().unwrap_or_default())
        .collect();
    let found = side(&corner_points, cog);
    let margin = Some(margin(&corner_points, cog));
    let mut rests = if found == Side::Outside {
        Vec::new()
    } else {
        rests(tops, &points, cog)
    };
    let state = match found {
        Side::Outside => SeatState::Unstable,
        Side::Edge | Side::Corner => {
            rests.truncate(1);
            SeatState::Marginal
        }
        Side::Inside if rests.len() > 1 => SeatState::Rocks,
        Side::Inside => SeatState::Stable,
    };
    Seat {
        state,
        rests,
        margin,
    }
}

/// The planes that lie below no top and whose contacts have the centre of gravity among them.
fn rests(tops: &[DeckTop], points: &[PlanPoint], cog: PlanPoint) -> Vec<Rest> {
    let all: Vec<(PlanPoint, i128)> = points
        .iter()
        .zip(tops)
        .map(|(point, top)| (*point, i128::from(top.z.nm())))
        .collect();
    let mut found: Vec<Rest> = Vec::new();
    for (first, a) in all.iter().enumerate() {
        for (second, b) in all.iter().enumerate().skip(first + 1) {
            for c in all.iter().skip(second + 1) {
                let Some(plane) = Plane::through(*a, *b, *c) else {
                    continue;
                };
                let sides: Vec<i128> = all.iter().map(|it| plane.above(*it)).collect();
                if sides.iter().any(|it| *it > 0) {
                    continue;
                }
                let contacts = sides.iter().enumerate().filter(|(_, it)| **it == 0);
                let contacts: Vec<usize> = contacts.map(|(at, _)| at).collect();
                if found.iter().any(|it| it.contacts == contacts) || !bears(&contacts, points, cog)
                {
                    continue;
                }
                found.push(Rest {
                    contacts,
                    slope: plane.slope(),
                    deck: points.iter().map(|it| plane.height(*it)).collect(),
                });
            }
        }
    }
    found.sort_by(|one, other| one.contacts.cmp(&other.contacts));
    found
}

/// Whether the centre of gravity lies among contacts, or on their outline.
fn bears(contacts: &[usize], points: &[PlanPoint], cog: PlanPoint) -> bool {
    let of: Vec<PlanPoint> = contacts
        .iter()
        .filter_map(|it| points.get(*it).copied())
        .collect();
    let corners: Vec<PlanPoint> = outline(&of)
        .iter()
        .filter_map(|it| of.get(*it).copied())
        .collect();
    side(&corners, cog) != Side::Outside
}

/// Two planes at one height at the centre of gravity, in metres, but for what is rounded.
const SAME: f64 = 1e-12;

/// The triangles of tops round the centre of gravity that lift a deck highest there, for tops in real heights. There are several
/// where it lies over the line between two of them, or over one. `triangles` are those round it.
pub(super) fn lifted(heights: &[f64], triangles: &[([usize; 3], [f64; 3])]) -> Vec<[usize; 3]> {
    let height = |triangle: &([usize; 3], [f64; 3])| -> f64 {
        let parts = triangle.0.iter().zip(&triangle.1);
        parts
            .map(|(at, share)| share * heights.get(*at).copied().unwrap_or_default())
            .sum()
    };
    let highest = triangles.iter().map(height).fold(f64::MIN, f64::max);
    let all = triangles.iter().filter(|it| height(it) >= highest - SAME);
    all.map(|it| it.0).collect()
}

/// The triangles of tops that have the centre of gravity inside or on an edge, with its shares of their corners.
pub(super) fn triangles_round(points: &[PlanPoint], cog: PlanPoint) -> Vec<([usize; 3], [f64; 3])> {
    let mut found = Vec::new();
    for (first, a) in points.iter().enumerate() {
        for (second, b) in points.iter().enumerate().skip(first + 1) {
            for (third, c) in points.iter().enumerate().skip(second + 1) {
                let whole = turn(*a, *b, *c);
                let parts = [turn(*b, *c, cog), turn(*c, *a, cog), turn(*a, *b, cog)];
                let is_in =
                    whole != 0 && parts.iter().all(|part| part.signum() * whole.signum() >= 0);
                if is_in {
                    let shares = parts.map(|part| real(part) / real(whole));
                    found.push(([first, second, third], shares));
                }
            }
        }
    }
    found
}

/// By how much a plane that a deck may rest on is off over a top by the errors of the three that it rests on, in squares of what
/// one of them is: the greatest sum of the squares of its weights, over all triangles of other tops round the centre of gravity.
/// `None` where there is none: the deck always rests on that top.
pub fn leverage(tops: &[DeckTop], cog: (Length, Length), at: usize) -> Option<f64> {
    let points: Vec<PlanPoint> = tops.iter().map(|top| plan_point(top.x, top.y)).collect();
    let place = *points.get(at)?;
    let round = triangles_round(&points, plan_point(cog.0, cog.1)).into_iter();
    let others = round.filter(|(corners, _)| !corners.contains(&at));
    let sums = others.filter_map(|(corners, _)| {
        let [a, b, c] = corners.map(|it| points.get(it).copied().unwrap_or_default());
        let whole = turn(a, b, c);
        let parts = [turn(b, c, place), turn(c, a, place), turn(a, b, place)];
        let weights = parts.map(|part| real(part) / real(whole));
        (whole != 0).then(|| weights.iter().map(|it| it * it).sum::<f64>())
    });
    sums.reduce(f64::max)
}
