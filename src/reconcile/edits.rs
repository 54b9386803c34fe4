//! The longest run of pairs that keeps the order of both lists.

use super::partners::{long, short};

/// For each place of the first list the places of the second that it may take, in order.
#[derive(Default)]
pub(super) struct PossiblePlaces {
    places: Vec<u32>,
    /// Where those of each place of the first list end in `places`.
    ends: Vec<u32>,
}

impl PossiblePlaces {
    /// Adds those of the next place.
    pub(super) fn add(&mut self, places: impl Iterator<Item = usize>) {
        self.places.extend(places.map(short));
        self.ends.push(short(self.places.len()));
    }

    /// How many there are in all.
    pub(super) fn count(&self) -> usize {
        self.places.len()
    }

    /// Those of a place.
    pub(super) fn of(&self, place: usize) -> impl DoubleEndedIterator<Item = usize> + '_ {
        let end = |place: usize| self.ends.get(place).map(|end| long(*end));
        let start = place.checked_sub(1).and_then(end).unwrap_or(0);
        let end = end(place).unwrap_or(start);
        let places = self.places.get(start..end).unwrap_or_default();
        places.iter().map(|place| long(*place))
    }
}

/// A pair on the way of a run, and the pair before it by its place among all; none where it is the first.
struct Link {
    a: u32,
    b: u32,
    before: u32,
}

/// From the places in the second list that each place of the first may take, the most pairs that do
/// not cross, in order. Ties go to the places given last. In the number of candidates r it takes
/// r log r steps (Hunt and Szymanski, 1977).
pub(super) fn longest_run(candidates: &PossiblePlaces) -> Vec<(u32, u32)> {
    // The last link of the best run of each length; links lead back to the run before.
    let mut ends: Vec<(u32, u32)> = Vec::new();
    let mut links: Vec<Link> = Vec::new();
    for a in 0..candidates.ends.len() {
        // From the last to the first, so that one place of the first list takes one place only.
        for b in candidates.of(a).rev().map(short) {
            let at = ends.partition_point(|(end, _)| *end < b);
            let before = at.checked_sub(1).and_then(|at| ends.get(at));
            let end = (b, short(links.len()));
            links.push(Link {
                a: short(a),
                b,
                before: before.map_or(u32::MAX, |(_, link)| *link),
            });
            match ends.get_mut(at) {
                Some(slot) => *slot = end,
                None => ends.push(end),
            }
        }
    }
    let mut run = Vec::with_capacity(ends.len());
    let mut link = ends.last().map_or(u32::MAX, |(_, link)| *link);
    drop(ends);
    while let Some(Link { a, b, before }) = links.get(long(link)) {
        run.push((*a, *b));
        link = *before;
    }
    run.reverse();
    run
}

/// How far two lists may differ before looking for the fewest insertions and deletions is given up:
/// the work grows with the square of this.
const MOST_EDITS: usize = 4_000;

/// The most pairs of equal places that do not cross, for lists without keys: the fewest insertions
/// and deletions between them (Myers, 1986), in time proportional to the lengths for few edits.
/// `None` beyond [`MOST_EDITS`].
pub(super) fn fewest_edits(
    (n, m): (usize, usize),
    equal: impl Fn(usize, usize) -> bool,
) -> Option<Vec<(u32, u32)>> {
    let mut grid = EditGrid {
        n,
        m,
        rows: Vec::new(),
    };
    for d in 0..=MOST_EDITS.min(n + m) {
        let mut row = Vec::with_capacity(d + 1);
        for place in 0..=d {
            let end = grid.start(d, place).map(|(start, _)| {
                let (mut a, mut b) = (start, EditGrid::second(start, d, place));
                while a < n && b < m && equal(a, b) {
                    a += 1;
                    b += 1;
                }
                a
            });
            row.push(
                end.and_then(|end| u32::try_from(end).ok())
                    .unwrap_or(NOWHERE),
            );
            if end == Some(n) && EditGrid::second(n, d, place) == m {
                grid.rows.push(row);
                return Some(grid.walk_back());
            }
        }
        grid.rows.push(row);
    }
    None
}

/// A diagonal that no way has come to.
const NOWHERE: u32 = u32::MAX;

/// How far along the first list each diagonal has come after each count of edits, kept so that the way
/// can be walked back. After d edits there are d + 1 diagonals; the one at place p joins the places a
/// and b with a - b = 2 p - d.
struct EditGrid {
    n: usize,
    m: usize,
    rows: Vec<Vec<u32>>,
}

impl EditGrid {
    /// The place in the second list on a diagonal.
    const fn second(a: usize, d: usize, place: usize) -> usize {
        (a + d).saturating_sub(2 * place)
    }

    /// Where the way starts on a diagonal, one edit on from the row before, and whether that edit was
    /// an insertion; `None` where none leads there.
    fn start(&self, d: usize, place: usize) -> Option<(usize, bool)> {
        let Some(before) = d.checked_sub(1) else {
            return Some((0, true));
        };
        let at = |place: usize| {
            let come = *self.rows.get(before)?.get(place)?;
            usize::try_from(come).ok().filter(|_| come != NOWHERE)
        };
        // Down from the diagonal above, or across from the one below: whichever is further on.
        let inserted = at(place).filter(|a| Self::second(*a, d, place) <= self.m);
        let deleted = place
            .checked_sub(1)
            .and_then(at)
            .map(|a| a + 1)
            .filter(|a| *a <= self.n);
        let is_insertion = inserted >= deleted;
        let start = if is_insertion { inserted } else { deleted };
        start.map(|start| (start, is_insertion))
    }

    fn walk_back(&self) -> Vec<(u32, u32)> {
        let (mut a, mut b) = (self.n, self.m);
        let mut pairs = Vec::new();
        for d in (0..self.rows.len()).rev() {
            let place = (a + d).saturating_sub(b) / 2;
            let Some((start, inserted)) = self.start(d, place) else {
                break;
            };
            while a > start {
                a -= 1;
                b -= 1;
                pairs.push((short(a), short(b)));
            }
            if d > 0 && inserted {
                b -= 1;
            } else if d > 0 {
                a -= 1;
            }
        }
        pairs.reverse();
        pairs
    }
}
