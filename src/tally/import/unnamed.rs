//! Numbers that no heading names, beside joints: another length, a loss, or the joints of another list.

use super::cell_text::is_figure;
use super::grid::Grid;
use super::options::{Blocks, ColumnRole, Options};
use super::place::letters;
use super::problems::Problems;
use super::question::Question;
use super::rows::{RowKind, Rows};
use super::table::TallyTable;

/// Asks about columns without a heading that hold numbers in rows of joints. A column that only numbers
/// the rows is none of them.
pub(super) fn ask_about_unnamed(
    grid: &Grid,
    table: &TallyTable,
    rows: &Rows,
    options: &Options,
    problems: &mut Problems,
) {
    let is_settled = options.blocks == Some(Blocks::First)
        || options
            .columns
            .iter()
            .any(|choice| matches!(choice.role, ColumnRole::Length | ColumnRole::Effective));
    if is_settled {
        return;
    }
    for column in (0..table.width()).filter(|column| table.is_unnamed(*column)) {
        let numbers = || {
            // Another table has headings of its own, which is a question already.
            rows.iter()
                .take_while(|(_, kind)| *kind != RowKind::OtherHeader)
                .filter(|(row, kind)| *kind == RowKind::Joint && is_figure(grid.cell(*row, column)))
                .map(|(row, _)| row)
        };
        let Some(first) = numbers().next() else {
            continue;
        };
        if counts_rows(numbers().map(|row| grid.cell(row, column))) {
            continue;
        }
        problems.push(Question::UnnamedNumbers {
            at: table.at(grid, first, column),
            text: grid.excerpt(first, column),
            length: letters(grid.column(first, table.length())),
            column: letters(grid.column(first, column)),
        });
    }
}

/// Whether numbers do nothing but count rows, up or down, perhaps from the beginning on each page.
fn counts_rows<'a>(texts: impl Iterator<Item = &'a str>) -> bool {
    let mut before: Option<u64> = None;
    let (mut up, mut down, mut count) = (true, true, 0_usize);
    for text in texts {
        let Ok(number) = text.trim_end_matches('.').parse::<u64>() else {
            return false;
        };
        if let Some(before) = before {
            up &= number == before.saturating_add(1) || number == 1;
            down &= number.saturating_add(1) == before;
        }
        before = Some(number);
        count += 1;
    }
    count > 1 && (up || down)
}
