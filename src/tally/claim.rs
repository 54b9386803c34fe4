//! Figures that a tally file writes beside its joints: what each claims to be.

use crate::measure::Length;

/// A figure written in the file that should follow from the joints.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Claim {
    /// The line that writes it.
    pub line: u32,
    /// What it claims to be.
    pub claimed: Claimed,
    /// The figure.
    pub value: Length,
    /// One unit of the last place in which it was written.
    pub last_place: Length,
}

/// What a written figure claims to be. Rows are counted in the order of the page, from 0.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Claimed {
    /// The effective length of the joint on this row.
    Effective {
        /// The joint's row.
        row: usize,
    },
    /// The running total at the joint on this row.
    Running {
        /// The joint's row.
        row: usize,
    },
    /// A total of the rows from `page_start` (its page) or from the first row, up to before `row`.
    Total {
        /// The first row of its page.
        page_start: usize,
        /// One past the last row summed.
        row: usize,
        /// What it sums.
        of: Summed,
        /// Whether it can only be a running total (a carry-forward).
        running: bool,
    },
}

/// What a written total sums, by the column that it is in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Summed {
    /// Lengths: overall or effective ones, since people write either under overall lengths.
    Lengths,
    /// Effective lengths: what makes the string.
    Effective,
    /// Effective lengths, under the running totals of the joints.
    Running,
    /// Make-up losses.
    Losses,
}

/// Whether the running totals grow down the page.
pub(super) fn running_totals_rise(claims: &[Claim]) -> bool {
    let mut running = claims
        .iter()
        .filter(|claim| matches!(claim.claimed, Claimed::Running { .. }));
    match (running.next(), running.next_back()) {
        (Some(first), Some(last)) => first.value <= last.value,
        _ => true,
    }
}
