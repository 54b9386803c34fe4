//! What a tally file says of itself beside the joints: effective lengths, running totals, subtotals
//! and totals. They are never summed; they are checked.

use super::claim::{Claim, Claimed, Summed, running_totals_rise};
use super::{PipeString, Tally};
use crate::finding::{Code, Figure, Flag, Place, TallyFinding};
use crate::measure::Length;

/// What a total may be the sum of.
#[derive(Clone, Copy)]
enum Column {
    Effective,
    Overall,
    Losses,
}

/// Sums along the page: what each kind of total could be the sum of.
struct Sums<'a> {
    string: &'a PipeString,
    /// Heights above the top of the conductor, up to each of the landing joints and the top of them.
    landing: Vec<Length>,
    overall: Vec<Length>,
    /// Only where a total of losses is claimed.
    losses: Vec<Length>,
    is_turned: bool,
    /// Rows of the conductor in page order: the landing joints may stand at either end.
    conductor: std::ops::Range<usize>,
}

impl<'a> Sums<'a> {
    fn along_the_page(tally: &Tally, string: &'a PipeString) -> Self {
        let is_turned = tally.order == super::Order::TopFirst;
        let landing = string.landing.iter().map(|piece| piece.effective);
        let joints = tally.joints.iter();
        let conductor = match (string.pieces.len(), string.landing.len()) {
            (count, landing) if is_turned => landing..landing + count,
            (count, _) => 0..count,
        };
        let losses_are_claimed = tally.claims.iter().any(|claim| {
            matches!(
                claim.claimed,
                Claimed::Total {
                    of: Summed::Losses,
                    ..
                }
            )
        });
        let losses = joints.clone().filter(|_| losses_are_claimed);
        Self {
            string,
            landing: running(landing, false),
            overall: running(joints.map(|it| it.length.unwrap_or_default()), is_turned),
            losses: running(
                losses.map(|it| it.makeup_loss.unwrap_or_default()),
                is_turned,
            ),
            is_turned,
            conductor,
        }
    }

    /// The sum of the first rows of the page.
    fn of_first(&self, rows: usize, column: Column) -> Length {
        let sums = match column {
            Column::Effective if self.is_turned => {
                let all = self.string.pieces.len() + self.string.landing.len();
                return self.height(all) - self.height(all.saturating_sub(rows));
            }
            Column::Effective => return self.height(rows),
            Column::Overall => &self.overall,
            Column::Losses => &self.losses,
        };
        sums.get(rows).copied().unwrap_or_default()
    }

    /// The effective length of so many of the lowest joints.
    fn height(&self, joints: usize) -> Length {
        let string = self.string;
        match joints.checked_sub(string.pieces.len()) {
            None => string
                .pieces
                .get(joints)
                .map_or(Length::ZERO, |it| it.lower),
            Some(landing) => string.length + self.landing.get(landing).copied().unwrap_or_default(),
        }
    }

    /// The sum over rows `from..to`, with and without the landing joints among them.
    fn between(&self, column: Column, from: usize, to: usize) -> [Length; 2] {
        let at = |row: usize| self.of_first(row, column);
        let within = |row: usize| row.clamp(self.conductor.start, self.conductor.end);
        [at(within(to)) - at(within(from)), at(to) - at(from)]
    }
}

/// The sums of the first of some lengths, of none to all of them; from their end, where the page is turned.
fn running(lengths: impl DoubleEndedIterator<Item = Length>, is_turned: bool) -> Vec<Length> {
    let mut total = Length::ZERO;
    let mut sums = Vec::with_capacity(lengths.size_hint().0 + 1);
    sums.push(total);
    let mut add = |length| {
        total += length;
        sums.push(total);
    };
    if is_turned {
        lengths.rev().for_each(&mut add);
    } else {
        lengths.for_each(&mut add);
    }
    sums
}

/// Compares every written figure with the joints; the first that departs is named in the flag.
///
/// A figure departs when it differs by more than half a unit of its last written place for each
/// term that it sums.
pub(super) fn check(tally: &Tally, string: &PipeString) -> Option<Flag> {
    if tally.claims.is_empty() {
        return None;
    }
    let sums = Sums::along_the_page(tally, string);
    let rows = tally.joints.len();
    let rising = running_totals_rise(&tally.claims);
    let rest = if rising {
        Vec::new()
    } else {
        columns_that_carry_the_rest(&tally.claims, &sums, rows)
    };
    let mut wrong: Vec<(&Claim, Length)> = Vec::new();
    let mut wrong_but_gross = 0_usize;
    for claim in &tally.claims {
        let (from, to, candidates) = expectations(claim, &sums, rows, rising, &rest);
        if candidates.iter().any(|candidate| fits(claim, *candidate)) {
            continue;
        }
        let nearest = candidates
            .iter()
            .map(|(sum, _)| *sum)
            .min_by_key(|sum| (claim.value - *sum).abs())
            .unwrap_or_default();
        wrong.push((claim, nearest));
        let gross = sums.between(Column::Overall, from, to);
        if gross
            .into_iter()
            .any(|sum| fits(claim, (sum, to.saturating_sub(from))))
        {
            wrong_but_gross += 1;
        }
    }
    let (first, computed) = *wrong.first()?;
    Some(Flag::new(
        Code::TotalDisagrees,
        Place::Line(first.line),
        TallyFinding::TotalDisagrees {
            line: first.line,
            figure: figure(first),
            written: first.value,
            computed,
            others: wrong.len() - 1,
            gross: wrong_but_gross == wrong.len(),
        },
    ))
}

const fn figure(claim: &Claim) -> Figure {
    match claim.claimed {
        Claimed::Effective { .. } => Figure::Effective,
        Claimed::Running { .. } => Figure::Running,
        Claimed::Total { running: true, .. } => Figure::CarryForward,
        Claimed::Total { .. } => Figure::Total,
    }
}

/// Whether a claim is a sum of so many terms, but for half a unit of its last place for each.
fn fits(claim: &Claim, (sum, terms): (Length, usize)) -> bool {
    let terms = i64::try_from(terms.max(1)).unwrap_or(i64::MAX);
    (claim.value - sum).abs().nm().saturating_mul(2) <= claim.last_place.nm().saturating_mul(terms)
}

/// In a list whose running totals fall down the page: the columns whose carry-forwards are the rest
/// below them, and not the sum so far. Either is honest, but not one here and the other there: a
/// column means what most of its carry-forwards agree with, and where as many agree with either, what
/// the first of them is nearer to. Columns may differ, since lengths can be summed down the page beside
/// running totals that count from its bottom.
fn columns_that_carry_the_rest(claims: &[Claim], sums: &Sums<'_>, rows: usize) -> Vec<Summed> {
    let misfits = |column: Summed, rest: &[Summed]| {
        let (mut count, mut first) = (0_usize, None);
        let of_column = |claim: &&Claim| match claim.claimed {
            Claimed::Total { of, running, .. } => running && of == column,
            _ => false,
        };
        for claim in claims.iter().filter(of_column) {
            let (_, _, candidates) = expectations(claim, sums, rows, false, rest);
            count += usize::from(!candidates.iter().any(|candidate| fits(claim, *candidate)));
            let distances = candidates.iter().map(|(sum, _)| (claim.value - *sum).abs());
            first = first.or(distances.min());
        }
        (count, first)
    };
    [
        Summed::Lengths,
        Summed::Effective,
        Summed::Running,
        Summed::Losses,
    ]
    .into_iter()
    .filter(|column| misfits(*column, &[*column]) < misfits(*column, &[]))
    .collect()
}

/// The rows summed, and every sum that the claim may honestly mean, each with its count of terms.
fn expectations(
    claim: &Claim,
    sums: &Sums<'_>,
    rows: usize,
    rising: bool,
    rest: &[Summed],
) -> (usize, usize, Vec<(Length, usize)>) {
    let mut all = Vec::with_capacity(10);
    let mut may_be = |column: Column, from: usize, to: usize| {
        let terms = to.saturating_sub(from);
        all.extend(sums.between(column, from, to).map(|sum| (sum, terms)));
    };
    let (from, to) = match claim.claimed {
        Claimed::Effective { row } => {
            let [_, whole] = sums.between(Column::Effective, row, row + 1);
            return (row, row + 1, vec![(whole, 1)]);
        }
        Claimed::Running { row } => {
            let (from, to) = if rising { (0, row + 1) } else { (row, rows) };
            may_be(Column::Effective, from, to);
            (from, to)
        }
        Claimed::Total {
            page_start,
            row,
            of,
            running,
        } => {
            let columns: &[Column] = match of {
                Summed::Losses => &[Column::Losses],
                Summed::Effective | Summed::Running => &[Column::Effective],
                Summed::Lengths => &[Column::Effective, Column::Overall],
            };
            let (from, to) = match (running, rest.contains(&of)) {
                (false, _) => (page_start, row),
                (true, false) => (0, row),
                (true, true) => (row, rows),
            };
            for column in columns {
                may_be(*column, from, to);
                if !running {
                    may_be(*column, 0, row);
                }
            }
            (from, to)
        }
    };
    (from, to, all)
}
