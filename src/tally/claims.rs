//! What a tally file says of itself beside the joints: effective lengths, running totals, subtotals
//! and totals. They are never summed; they are checked.

use std::cell::OnceCell;

use super::claim::{Claim, Claimed, Summed, running_totals_rise};
use super::{Joint, PipeString, Tally};
use crate::finding::{Code, Figure, Flag, Place, TallyFinding};
use crate::measure::Length;

/// What a total may be the sum of.
#[derive(Clone, Copy)]
enum Column {
    Effective,
    Overall,
    Losses,
}

/// What a figure may honestly be the sum of.
#[derive(Clone, Copy)]
struct Candidate {
    column: Column,
    /// The rows, in the order of the page.
    from: usize,
    to: usize,
    /// Whether landing joints among them count in any case.
    with_landing: bool,
}

impl Candidate {
    /// How many terms the sum has, but that landing joints may not be among them.
    const fn terms(self) -> usize {
        self.to.saturating_sub(self.from)
    }
}

/// Up to so many rows are summed as they are: pages have a few dozen.
const PAGE: usize = 100;

/// Sums along the page: what each kind of total could be the sum of.
struct Sums<'a> {
    joints: &'a [Joint],
    string: &'a PipeString,
    /// Heights above the top of the conductor, up to each of the landing joints and the top of them.
    landing: Vec<Length>,
    /// From none of the rows to all of them, once one is wanted.
    overall: OnceCell<Vec<Length>>,
    losses: OnceCell<Vec<Length>>,
    is_turned: bool,
    /// Rows of the conductor in page order: the landing joints may stand at either end.
    conductor: std::ops::Range<usize>,
}

impl<'a> Sums<'a> {
    fn along_the_page(tally: &'a Tally, string: &'a PipeString) -> Self {
        let is_turned = tally.order == super::Order::TopFirst;
        let landing = string.landing.iter().map(|piece| piece.effective);
        let conductor = match (string.pieces.len(), string.landing.len()) {
            (count, landing) if is_turned => landing..landing + count,
            (count, _) => 0..count,
        };
        Self {
            joints: &tally.joints,
            string,
            landing: running(landing, false),
            overall: OnceCell::new(),
            losses: OnceCell::new(),
            is_turned,
            conductor,
        }
    }

    /// What a joint has in a column that is not the effective length.
    fn of_joint(joint: &Joint, column: Column) -> Length {
        let length = match column {
            Column::Losses => joint.makeup_loss,
            Column::Overall | Column::Effective => joint.length,
        };
        length.unwrap_or_default()
    }

    fn along(&self, column: Column) -> Vec<Length> {
        let joints = self.joints.iter().map(|it| Self::of_joint(it, column));
        running(joints, self.is_turned)
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
        let sums = sums.get_or_init(|| self.along(column));
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

    /// The sum over some rows of the page.
    fn between(&self, column: Column, from: usize, to: usize) -> Length {
        if !matches!(column, Column::Effective) && (from..=from + PAGE).contains(&to) {
            let count = self.joints.len();
            let rows = if self.is_turned {
                count.saturating_sub(to)..count.saturating_sub(from)
            } else {
                from..to.min(count)
            };
            let joints = self.joints.get(rows).unwrap_or_default();
            return joints.iter().map(|it| Self::of_joint(it, column)).sum();
        }
        self.of_first(to, column) - self.of_first(from, column)
    }

    /// Whether a claim is what a candidate comes to, but for half a unit of its last place for each term.
    fn fit(&self, claim: &Claim, candidate: Candidate) -> bool {
        let terms = i64::try_from(candidate.terms().max(1)).unwrap_or(i64::MAX);
        let allowed = claim.last_place.nm().saturating_mul(terms);
        self.of(candidate)
            .any(|sum| (claim.value - sum).abs().nm().saturating_mul(2) <= allowed)
    }

    /// The sums that a candidate stands for, without the landing joints among its rows and with them.
    fn of(&self, candidate: Candidate) -> impl Iterator<Item = Length> {
        let Candidate {
            column, from, to, ..
        } = candidate;
        let within = |row: usize| {
            let clamped = row.clamp(self.conductor.start, self.conductor.end);
            if candidate.with_landing { row } else { clamped }
        };
        let (inner, outer) = ((within(from), within(to)), (from, to));
        let others = (outer != inner).then_some(outer);
        let spans = [inner].into_iter().chain(others);
        spans.map(move |(from, to)| self.between(column, from, to))
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
        let candidates = expectations(claim, rows, rising, &rest);
        if candidates
            .iter()
            .any(|candidate| sums.fit(claim, *candidate))
        {
            continue;
        }
        let may_be = candidates.iter().flat_map(|it| sums.of(*it));
        let nearest = may_be.min_by_key(|sum| (claim.value - *sum).abs());
        wrong.push((claim, nearest.unwrap_or_default()));
        let is_gross = candidates.first().is_some_and(|first| {
            let gross = Candidate {
                column: Column::Overall,
                with_landing: false,
                ..*first
            };
            sums.fit(claim, gross)
        });
        wrong_but_gross += usize::from(is_gross);
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
            let candidates = expectations(claim, rows, false, rest);
            count += usize::from(!candidates.iter().any(|it| sums.fit(claim, *it)));
            let may_be = candidates.iter().flat_map(|it| sums.of(*it));
            first = first.or_else(|| may_be.map(|sum| (claim.value - sum).abs()).min());
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

/// Everything that the claim may honestly be the sum of, its own rows first.
fn expectations(claim: &Claim, rows: usize, rising: bool, rest: &[Summed]) -> Vec<Candidate> {
    let sum = |column: Column, from: usize, to: usize| Candidate {
        column,
        from,
        to,
        with_landing: false,
    };
    match claim.claimed {
        Claimed::Effective { row } => vec![Candidate {
            with_landing: true,
            ..sum(Column::Effective, row, row + 1)
        }],
        Claimed::Running { row } if rising => vec![sum(Column::Effective, 0, row + 1)],
        Claimed::Running { row } => vec![sum(Column::Effective, row, rows)],
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
            // Those of the page first: they take the fewest steps.
            let page = columns.iter().map(|column| sum(*column, from, to));
            let all = columns.iter().filter(|_| !running);
            let all = all.map(|column| sum(*column, 0, row));
            page.chain(all).collect()
        }
    }
}
