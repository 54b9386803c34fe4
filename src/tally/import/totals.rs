//! Written totals: what they claim to sum, and how one without a label is known.

use super::error::Problem;
use super::found::FoundRows;
use super::lengths::LengthReader;
use super::problems::Problems;
use super::synonyms::Field;
use crate::measure::{Length, ParseOptions, ParsedLength, read_length};
use crate::tally::claim::{Claimed, Summed};
use crate::tally::remarks::SkipReason;

/// What the joints read so far add up to. Kept as they are read: to sum them again at every row that
/// may be a total would take the square of their number.
#[derive(Default)]
pub(super) struct Totals {
    all: Sum,
    page: Sum,
    /// The row at which the page starts, in the order of the page.
    page_start: usize,
}

impl Totals {
    /// Adds a joint: its length, and its make-up loss where it has one.
    pub(super) fn add(&mut self, length: Length, loss: Option<Length>) {
        self.all.add(length, loss);
        self.page.add(length, loss);
    }

    fn turn_the_page(&mut self, row: usize) {
        self.page = Sum::default();
        self.page_start = row;
    }

    fn is_total(&self, reading: &ParsedLength) -> bool {
        self.all.is(reading) || self.page.is(reading)
    }
}

/// A sum of joints.
#[derive(Default)]
struct Sum {
    joints: i64,
    lengths: Length,
    losses: Length,
}

impl Sum {
    fn add(&mut self, length: Length, loss: Option<Length>) {
        self.joints += 1;
        self.lengths += length;
        self.losses += loss.unwrap_or_default();
    }

    /// Whether a figure is the sum of these lengths, with the losses or without them, but for half a
    /// unit of its last place for each joint. The sum of one joint could be anything else as well.
    fn is(&self, reading: &ParsedLength) -> bool {
        let allowed = reading.last_place.nm().saturating_mul(self.joints);
        self.joints > 1
            && [self.lengths, self.lengths - self.losses]
                .into_iter()
                .any(|sum| (reading.length - sum).abs().nm().saturating_mul(2) <= allowed)
    }
}

impl Totals {
    /// A row that calls itself a total ends a page.
    pub(super) fn total(&mut self, cells: &LengthReader<'_>, row: usize, found: &mut FoundRows) {
        let checked = self.claim_all(cells, row, false, found);
        found.skip(cells.grid, row, SkipReason::Total(checked));
        self.turn_the_page(found.joints.len());
    }

    /// A row that carries a total forward.
    pub(super) fn forward(&mut self, cells: &LengthReader<'_>, row: usize, found: &mut FoundRows) {
        let checked = self.claim_all(cells, row, true, found);
        found.skip(cells.grid, row, SkipReason::CarryForward(checked));
    }

    /// The figures of a total row; whether there were any. Under a column of lengths they are totals
    /// of it. A figure with decimals or a unit under the label's own columns, or under none, is one
    /// too (a whole number counts joints), but not under a column of something else, such as masses.
    fn claim_all(
        &self,
        cells: &LengthReader<'_>,
        row: usize,
        forward: bool,
        found: &mut FoundRows,
    ) -> bool {
        let (grid, table) = (cells.grid, cells.table);
        let before = found.claims.len();
        for column in 0..grid.width(row) {
            let text = grid.cell(row, column);
            let field = table.field(column);
            let of_length = field.filter(|field| field.is_length());
            let inches = column > 0 && table.has_inches(column - 1);
            let other = field.is_none() && !table.name(column).is_empty();
            if (of_length.is_none()
                && (inches || other || !text.contains(['.', ',', '\'', 'm', 'f'])))
                || cells.is_blank(row, column)
            {
                continue;
            }
            let reading = if of_length.is_none() {
                let rules = ParseOptions {
                    bare: found.unit,
                    decimal: cells.decimal,
                };
                read_length(text, &rules)
            } else {
                cells.reading(row, column)
            };
            let Ok(reading) = reading else { continue };
            let claimed = Claimed::Total {
                page_start: self.page_start,
                row: found.joints.len(),
                of: match field {
                    Some(Field::Loss) => Summed::Losses,
                    Some(Field::Effective) => Summed::Effective,
                    Some(Field::Running) => Summed::Running,
                    _ => Summed::Lengths,
                },
                running: forward,
            };
            found.claim(grid.line(row), claimed, reading);
        }
        found.claims.len() > before
    }

    /// A length without a joint number is a total if it is the sum of what is above it.
    pub(super) fn unlabelled(
        &mut self,
        cells: &LengthReader<'_>,
        row: usize,
        found: &mut FoundRows,
        problems: &mut Problems,
    ) {
        let (grid, table) = (cells.grid, cells.table);
        let column = table.length();
        let reading = cells.reading(row, column);
        if reading.is_ok_and(|reading| self.is_total(&reading)) {
            self.claim_all(cells, row, false, found);
            found.skip(grid, row, SkipReason::UnlabelledTotal);
            self.turn_the_page(found.joints.len());
        } else {
            problems.push(Problem::JointMissing {
                at: table.at(grid, row, table.joint()),
                found: grid.excerpt(row, table.joint()),
                length: grid.excerpt(row, column),
            });
        }
    }
}
