//! Values that are possible but unlikely: each is a question before it is a figure.

use super::error::Problem;
use super::found::FoundRows;
use super::grid::Grid;
use super::options::{ColumnRole, Options};
use super::problems::Problems;
use super::question::Question;
use super::rows::Rows;
use super::synonyms::Field;
use super::table::TallyTable;
use crate::measure::{Excerpt, Length, Unit};
use crate::tally::claim::Claimed;

/// Losses above this are no make-up losses: 0.6 m is twice what the longest pins swallow.
const LONG_LOSS: Length = Length::from_mm(600);

/// Losses below this, but not zero, are none either: no pin enters its box by less than 5 mm.
const SHORT_LOSS: Length = Length::from_mm(5);

/// Whole metres or feet, each followed by a cell of two or three digits that nothing needs: decimal
/// commas that were taken for separators, `1,12,192` under `joint,length,remarks`.
pub(super) fn ask_about_separator(
    grid: &Grid,
    table: &TallyTable,
    rows: &Rows,
    problems: &mut Problems,
) {
    let column = table.length();
    let needless = matches!(table.field(column + 1), None | Some(Field::Remarks));
    let coarse = matches!(table.unit(column), None | Some(Unit::Metre | Unit::Foot));
    if grid.separator != b',' || !needless || !coarse || table.has_inches(column) {
        return;
    }
    let mut joints = rows.joints().peekable();
    let Some(first) = joints.peek().copied() else {
        return;
    };
    let digits = |text: &str| text.bytes().all(|byte| byte.is_ascii_digit());
    let split = |row: usize| {
        let (whole, rest) = (grid.cell(row, column), grid.cell(row, column + 1));
        digits(whole) && digits(rest) && (1..=3).contains(&rest.len())
    };
    if joints.all(split) {
        problems.push(Problem::CommaTwice {
            at: table.at(grid, first, column),
            text: grid.excerpt(first, column),
            next: grid.excerpt(first, column + 1),
        });
    }
}

/// Losses that took their unit from the length column and are far too long or short in it are a
/// question.
pub(super) fn ask_about_losses(
    grid: &Grid,
    table: &TallyTable,
    rows: &Rows,
    options: &Options,
    found: &FoundRows,
    problems: &mut Problems,
) {
    // The root gap of a weld is as short as that.
    let shortest = if options.least_loss.is_negative() {
        options.least_loss
    } else {
        SHORT_LOSS
    };
    let Some(column) = table
        .optional(Field::Loss)
        .filter(|column| table.unit_is_inferred(*column))
    else {
        return;
    };
    let losses = || {
        found
            .joints
            .iter()
            .filter_map(|joint| joint.makeup_loss)
            .filter(|loss| !loss.is_zero())
    };
    let (count, unlikely) = (
        losses().count(),
        losses()
            .filter(|loss| *loss > LONG_LOSS || *loss < shortest)
            .count(),
    );
    if unlikely * 2 <= count {
        return;
    }
    let example = rows
        .joints()
        .map(|row| (row, grid.cell(row, column)))
        .find(|(_, text)| text.contains(|c: char| matches!(c, '1'..='9')));
    if let (Some((row, text)), Some(unit)) = (example, table.unit(column)) {
        problems.push(Problem::LossUnit {
            at: table.at(grid, row, column),
            example: Excerpt::of(text),
            unit,
        });
    }
}

/// A column that is only called length, beside losses, whose running total adds it up undiminished:
/// either it holds effective lengths, or the running total forgot the losses.
pub(super) fn ask_about_lengths(
    grid: &Grid,
    table: &TallyTable,
    options: &Options,
    found: &FoundRows,
    problems: &mut Problems,
) {
    let Some(column) = table
        .overall()
        .filter(|column| table.says_only_length(*column))
    else {
        return;
    };
    let is_chosen = options
        .columns
        .iter()
        .any(|choice| choice.role == ColumnRole::Length);
    if options.length.is_some() || is_chosen || table.effective().is_some() {
        return;
    }
    let running: Vec<Length> = found
        .claims
        .iter()
        .filter(|claim| matches!(claim.claimed, Claimed::Running { .. }))
        .map(|claim| claim.value)
        .collect();
    if running.len() < 3 || running.len() != found.joints.len() {
        return;
    }
    let rises = running.first() < running.last();
    let adds_undiminished =
        running
            .windows(2)
            .zip(found.joints.windows(2))
            .all(|(total, joints)| match (total, joints) {
                ([before, after], [upper, lower]) => {
                    let adds = if rises {
                        lower.overall()
                    } else {
                        upper.overall()
                    };
                    Some((*after - *before).abs()) == adds
                }
                _ => false,
            });
    let inner_losses = found
        .joints
        .iter()
        .filter(|joint| joint.makeup_loss.is_some_and(|loss| !loss.is_zero()))
        .count();
    if adds_undiminished && inner_losses >= 2 {
        problems.push(Problem::OverallOrEffective {
            at: table.at(grid, table.header, column),
        });
    }
}

/// From how many rows up digits after a point are judged.
const JUDGED_FROM: usize = 8;

/// Lengths in feet with two decimals, none of them above .11 and not all of them .00: hundredths of a foot
/// that happen to be small, or inches.
pub(super) fn ask_about_inches(
    grid: &Grid,
    table: &TallyTable,
    rows: &Rows,
    problems: &mut Problems,
) {
    let column = table.length();
    if !table.may_be_feet_point_inches(column) {
        return;
    }
    let (mut count, mut first) = (0_usize, None);
    for row in rows.joints() {
        let text = grid.cell(row, column);
        let (feet, decimals) = match text.split_once(['.', ',']) {
            Some((feet, decimals)) => (feet, Some(decimals)),
            None => (text, None),
        };
        let digits = |text: &str| !text.is_empty() && text.bytes().all(|it| it.is_ascii_digit());
        match decimals {
            _ if !digits(feet) => return,
            None | Some("00") => {}
            Some(decimals) if decimals.len() == 2 && digits(decimals) && decimals <= "11" => {
                first = first.or(Some(row));
            }
            Some(_) => return,
        }
        count += 1;
    }
    if let Some(row) = first.filter(|_| count >= JUDGED_FROM) {
        problems.push(Question::FeetPointInches {
            at: table.at(grid, row, column),
            text: grid.excerpt(row, column),
        });
    }
}
