//! The steps of the reader one after the other: from bytes to a tally.

use std::borrow::Cow;

use super::ambiguities::{
    ask_about_inches, ask_about_lengths, ask_about_losses, ask_about_separator,
};
use super::decode::decode;
use super::error::Problem;
use super::grid::Grid;
use super::layout::Found;
use super::limits::Limit;
use super::options::Options;
use super::problems::Problems;
use super::rows::Rows;
use super::table::TallyTable;
use super::unnamed::ask_about_unnamed;
use super::{aligned, decimal, joints, layout, not_run, order, sheets, text, workbook};
use crate::measure::{Excerpt, Unit};
use crate::tally::model::{Order, Tally};
use crate::tally::remarks::{Doubted, FileNote};

/// Reads a tally from the bytes of a file, text or a workbook. Pure: it opens nothing.
pub fn read(bytes: &[u8], options: &Options) -> Result<Tally, Vec<Problem>> {
    if workbook::is_one(bytes) {
        let chosen = sheets::read(bytes, options)?;
        let tally = understand(&chosen.grid, &chosen.table, options)?;
        return Ok(Tally {
            encoding: Cow::Owned(chosen.source),
            notes: chosen.notes.into_iter().chain(tally.notes).collect(),
            ..tally
        });
    }
    if let Some(sheet) = &options.sheet {
        return Err(vec![Problem::NoSheets {
            sheet: Excerpt::of(sheet),
        }]);
    }
    let decoded = decode(bytes).map_err(|problem| vec![problem])?;
    let found = find_table(&decoded.text, options)?;
    let mut tally = understand(&found.grid, &found.table, options)?;
    tally.notes.extend(found.note);
    Ok(Tally {
        encoding: Cow::Borrowed(decoded.encoding),
        ..tally
    })
}

/// From the table to the tally: what rows there are, and what they hold.
fn understand(grid: &Grid, table: &TallyTable, options: &Options) -> Result<Tally, Vec<Problem>> {
    let mut problems = Problems::default();
    let mut rows = Rows::classify(grid, table);
    if let Some(row) = rows.beyond {
        problems.push(Problem::Beyond {
            line: grid.line(row),
            limit: Limit::Others,
        });
        problems.or_stop()?;
    }
    let doubted = not_run::settle(grid, table, &mut rows, options.not_run, &mut problems);
    let decimal = decimal::settle(grid, table, &rows, options.decimal, &mut problems);
    if options.decimal.is_none() {
        ask_about_separator(grid, table, &rows, &mut problems);
    }
    ask_about_unnamed(grid, table, &rows, options, &mut problems);
    // Without a decimal mark no length would be certain: this question comes first and alone.
    problems.or_stop()?;
    let mut found = joints::read(grid, table, &rows, decimal, options, &mut problems);
    ask_about_losses(grid, table, &rows, options, &found, &mut problems);
    ask_about_inches(grid, table, &rows, &mut problems);
    ask_about_lengths(grid, table, options, &found, &mut problems);
    let order = order::settle(&found, table, options, &mut problems);
    problems.into_result()?;
    order::raise_landing(&mut found, order.order);
    if order.order == Order::TopFirst {
        found.joints.reverse();
    }
    let unit = found.unit.unwrap_or(Unit::Metre);
    Ok(Tally {
        joints: found.joints,
        order: order.order,
        order_assumed: order.assumed,
        unit,
        effective_only: table.overall().is_none(),
        encoding: Cow::default(),
        columns: table.described(unit),
        skipped: found.skipped,
        notes: order
            .against
            .map(|sign| FileNote::OrderAgainstKinds {
                said: sign.to_string(),
            })
            .into_iter()
            .collect(),
        claims: found.claims,
        doubted: doubted
            .into_iter()
            .map(|(row, sign)| Doubted {
                line: grid.line(row),
                sign,
            })
            .collect(),
        unknown_kinds: found.unknown_kinds,
    })
}

/// Tries each separator and keeps the one under which the header names the most columns; where none does,
/// columns that spaces line up.
fn find_table<'t>(text: &'t str, options: &Options) -> Result<Found<'t>, Vec<Problem>> {
    let mut best: Option<(usize, u8)> = None;
    let mut failure: Option<(u8, Vec<Problem>)> = None;
    // Under which separator a quote is open where the sample ends.
    let mut open: Option<u8> = None;
    for separator in text::SEPARATORS {
        let sample = text::sample(text, separator);
        open = open.or(sample.in_quotes.then_some(separator));
        match layout::find(sample.grid, options) {
            Ok(found) if best.is_none_or(|(named, _)| found.table.named() > named) => {
                best = Some((found.table.named(), separator));
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
    if let Some((_, separator)) = best {
        // A title block longer than the sample would have failed above, so the whole file has the same
        // header.
        return layout::find(text::whole(text, separator)?, options);
    }
    // A quote that is never closed hides the header.
    if let Some(separator) = open {
        text::whole(text, separator)?;
    }
    let (reached, problems) = failure.unwrap_or_default();
    match aligned::grid(text) {
        _ if reached > 1 => Err(problems),
        Some(grid) => layout::find(grid?, options),
        None => Err(aligned::single_spaces(text).map_or(problems, |problem| vec![problem])),
    }
}
