//! From the bytes of a file to a [`Tally`]: decode, find the table, name the columns, classify the
//! rows, read the joints.
//!
//! Each step is a file of this folder. None of them guesses: where two readings are possible the
//! result is a [`Problem`] that names the option which settles it, and every line that is not used
//! as a joint is listed with the reason.

mod cells;
mod columns;
mod decimal;
mod decode;
mod doubts;
mod error;
mod grid;
mod heads;
mod joints;
mod order;
mod place;
mod problems;
mod rows;
mod synonyms;
mod totals;
mod units;
mod workbook;

use std::borrow::Cow;

pub use decode::decode;
pub use error::Problem;
pub use place::CellRef;
pub use problems::ReadError;
pub use synonyms::Field;

use super::{Order, Tally};
use crate::measure::{DecimalMark, Excerpt, Unit};
use columns::Table;
use grid::Grid;
use problems::Problems;
use rows::Rows;

/// Files above this size are refused before they are read: 256 MiB.
pub const MAX_FILE: u64 = 256 * 1024 * 1024;

/// Most joints in one tally. A file of the largest size could list sixteen times as many in rows of
/// four bytes; no conductor has a thousand, and the bound keeps memory within a few gigabytes.
pub const MAX_JOINTS: usize = 4_000_000;

/// The answers to the questions that a file may leave open, and what it is read for.
#[derive(Clone, Debug, Default)]
pub struct Options {
    /// The unit of columns that state none.
    pub units: Option<Unit>,
    /// The job's unit, for columns that state none where `units` is not given either.
    pub job_units: Option<Unit>,
    /// Which end of the page the shoe stands at.
    pub order: Option<Order>,
    /// The decimal mark.
    pub decimal: Option<DecimalMark>,
    /// What a column that is only called length holds.
    pub length: Option<LengthColumn>,
    /// The sheet of a workbook.
    pub sheet: Option<String>,
}

/// What the length column holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LengthColumn {
    /// Overall lengths, pin nose to box face.
    Overall,
    /// Effective lengths: make-up loss already taken off.
    Effective,
}

/// Reads a tally from the bytes of a file, text or a workbook. Pure: it opens nothing.
pub fn read(bytes: &[u8], options: &Options) -> Result<Tally, Vec<Problem>> {
    if workbook::is_one(bytes) {
        let chosen = workbook::read(bytes, options)?;
        let tally = understand(&chosen.grid, &chosen.table, options)?;
        return Ok(Tally {
            encoding: Cow::Owned(chosen.source),
            notes: chosen.notes,
            ..tally
        });
    }
    if let Some(sheet) = &options.sheet {
        return Err(vec![Problem::NoSheets {
            sheet: Excerpt::of(sheet),
        }]);
    }
    let decoded = decode(bytes).map_err(|problem| vec![problem])?;
    let (grid, table) = find_table(&decoded.text, options)?;
    let tally = understand(&grid, &table, options)?;
    Ok(Tally {
        encoding: Cow::Borrowed(decoded.encoding),
        ..tally
    })
}

/// From the table to the tally: what rows there are, and what stands in them.
fn understand(grid: &Grid, table: &Table, options: &Options) -> Result<Tally, Vec<Problem>> {
    let mut problems = Problems::default();
    let rows = Rows::classify(grid, table);
    let decimal = decimal::settle(grid, table, &rows, options.decimal, &mut problems);
    if options.decimal.is_none() {
        doubts::doubt_separator(grid, table, &rows, &mut problems);
    }
    // Without a decimal mark every length would be in doubt: this question comes first and alone.
    problems.or_stop()?;
    let mut read = joints::read(grid, table, &rows, decimal, options, &mut problems);
    let order = order::settle(
        &read.joints,
        &read.claims,
        table,
        options.order,
        &mut problems,
    );
    problems.into_result()?;
    if order.order == Order::TopFirst {
        read.joints.reverse();
    }
    Ok(Tally {
        joints: read.joints,
        order: order.order,
        order_assumed: order.assumed,
        unit: read.unit,
        effective_only: table.overall().is_none(),
        encoding: Cow::default(),
        columns: table.described(read.unit),
        skipped: read.skipped,
        notes: Vec::new(),
        claims: read.claims,
    })
}

/// Tries each separator and keeps the one under which the header names the most columns.
fn find_table<'t>(text: &'t str, options: &Options) -> Result<(Grid<'t>, Table), Vec<Problem>> {
    let mut best: Option<(usize, u8)> = None;
    let mut failure = None;
    for separator in grid::SEPARATORS {
        let sample = Grid::sample(text, separator);
        match Table::find(&sample, options) {
            Ok(table) if best.is_none_or(|(named, _)| table.named() > named) => {
                best = Some((table.named(), separator));
            }
            Ok(_) => {}
            Err(problems) => {
                // The separator that gets furthest explains best what is missing.
                let reached = problems.iter().map(Problem::reached).max().unwrap_or(0);
                if failure.as_ref().is_none_or(|(so_far, _)| reached > *so_far) {
                    failure = Some((reached, problems));
                }
            }
        }
    }
    let Some((_, separator)) = best else {
        return Err(failure.map_or_else(|| vec![Problem::NoHeader], |(_, problems)| problems));
    };
    // A title block longer than the sample would have failed above, so the whole file has the same header.
    let grid = Grid::whole(text, separator)?;
    let table = Table::find(&grid, options)?;
    Ok((grid, table))
}

#[cfg(test)]
mod tests;
