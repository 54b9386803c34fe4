//! Tables side by side: paper tallies run in columns of ten or twenty-five joints, and are typed so.
//!
//! They are read one after the other where the joint numbers or the running totals go on from each to the
//! next; otherwise that is asked.

use super::grid::{Grid, RowSlice};
use super::headings::HeadingRole;
use super::options::{Blocks, Options};
use super::question::Question;
use super::sign_words::is_section_heading;
use super::synonyms::{Field, split_heading};
use crate::measure::{DecimalMark, Length, ParseOptions, Unit, read_length};
use crate::tally::joint::split_number;
use crate::tally::remarks::FileNote;

/// The edge of a sheet: no table begins further right.
const MAX_COLUMNS: usize = 16_384;

/// Where tables side by side begin.
#[derive(Debug)]
pub(super) struct SideBySide {
    starts: Vec<usize>,
    width: usize,
}

/// The order in which tables are read.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Reading {
    /// One table after the other, page by page.
    ByBlock,
    /// The first row of all tables, then the second.
    ByRow,
    /// The first table alone.
    First,
}

/// The parts of rows that are read in place of the rows.
pub(super) struct Plan {
    pub(super) slices: Vec<RowSlice>,
    pub(super) note: FileNote,
}

impl SideBySide {
    /// Tables whose headings repeat to the right, at equal distances.
    pub(super) fn of(roles: &[HeadingRole]) -> Option<Self> {
        let is_joint = |role: &&HeadingRole| role.field == Some(Field::Joint);
        let rank = roles.iter().filter(is_joint).map(|role| role.rank).min()?;
        let starts: Vec<usize> = (0..roles.len())
            .filter(|column| {
                let role = roles.get(*column);
                role.is_some_and(|role| is_joint(&role) && role.rank == rank)
            })
            .collect();
        let (first, second) = (*starts.first()?, *starts.get(1)?);
        let width = second - first;
        let heads = |column: usize| {
            let role = roles.get(column);
            role.map_or(("", None), |role| (role.name.as_str(), role.unit))
        };
        let evenly = starts
            .windows(2)
            .all(|pair| matches!(pair, [left, right] if right - left == width));
        let alike = starts
            .iter()
            .all(|start| (0..width).all(|offset| heads(start + offset) == heads(first + offset)));
        let has_length = roles.iter().skip(first).take(width).any(|role| {
            role.is_feet()
                || matches!(
                    role.field,
                    Some(Field::Overall | Field::EitherLength | Field::Effective)
                )
        });
        let named_before = roles
            .iter()
            .take(first)
            .any(|role| !role.heading.is_empty());
        let named_after = starts.last().is_some_and(|last| {
            roles
                .iter()
                .skip(last + width)
                .any(|role| !role.heading.is_empty())
        });
        let near = starts.last().is_some_and(|last| *last < MAX_COLUMNS);
        (near && evenly && alike && has_length && !named_before && !named_after)
            .then_some(Self { starts, width })
    }

    /// Cuts the header to that of one table.
    pub(super) fn narrow(&self, roles: &mut Vec<HeadingRole>) {
        *roles = roles.drain(self.first()..).take(self.width).collect();
    }

    /// The column in which the first table begins.
    fn first(&self) -> usize {
        self.starts.first().copied().unwrap_or(0)
    }

    /// Which parts of which rows are read, in which order.
    pub(super) fn plan(
        &self,
        grid: &Grid,
        (row, body): (usize, usize),
        roles: &[HeadingRole],
        options: &Options,
    ) -> Result<Plan, Question> {
        let by_block = self.slices(grid, body, roles, Reading::ByBlock);
        let goes_on = |slices: &[RowSlice]| self.goes_on(grid, roles, slices);
        let tables = self.starts.len();
        if options.blocks.is_none()
            && let Some(question) = self.titled(grid, row)
        {
            return Err(question);
        }
        let (slices, note) = match options.blocks {
            Some(Blocks::First) => (
                self.slices(grid, body, roles, Reading::First),
                FileNote::TablesNotRead { tables: tables - 1 },
            ),
            _ if goes_on(&by_block) => (by_block, FileNote::TablesInTurn { tables }),
            None => {
                return Err(Question::BlocksQuestion {
                    line: grid.line(row),
                    tables,
                });
            }
            Some(Blocks::Across) => {
                // There may be millions of either.
                drop(by_block);
                let by_row = self.slices(grid, body, roles, Reading::ByRow);
                if goes_on(&by_row) {
                    (by_row, FileNote::TablesByRow { tables })
                } else {
                    let by_block = self.slices(grid, body, roles, Reading::ByBlock);
                    (by_block, FileNote::TablesInTurn { tables })
                }
            }
        };
        let above = (0..body).map(|above| {
            let from = if above < row { 0 } else { self.first() };
            RowSlice::new(above, from, usize::MAX)
        });
        Ok(Plan {
            slices: above.chain(slices).collect(),
            note,
        })
    }

    /// The question of a title, above a table beyond the first, that says its joints were not run.
    fn titled(&self, grid: &Grid, header: usize) -> Option<Question> {
        let second = *self.starts.get(1)?;
        let mut cells =
            (0..header).flat_map(|row| (second..grid.width(row)).map(move |column| (row, column)));
        let (row, column) = cells
            .find(|(row, column)| is_section_heading(grid.cell(*row, *column)) == Some(true))?;
        Some(Question::BlocksTitled {
            line: grid.line(row),
            title: grid.excerpt(row, column),
            tables: self.starts.len(),
        })
    }

    fn slices(
        &self,
        grid: &Grid,
        body: usize,
        roles: &[HeadingRole],
        how: Reading,
    ) -> Vec<RowSlice> {
        let mut slices = Vec::new();
        let mut page: Vec<usize> = Vec::new();
        for row in body..grid.len() {
            if !page.is_empty() && self.heads(grid, row, roles) {
                self.turn(grid, &page, how, &mut slices);
                page.clear();
            }
            page.push(row);
        }
        self.turn(grid, &page, how, &mut slices);
        slices
    }

    /// The rows of one page.
    fn turn(&self, grid: &Grid, page: &[usize], how: Reading, slices: &mut Vec<RowSlice>) {
        let mut take = |row: usize, block: usize| {
            if let Some(slice) = self.slice(grid, row, block, how) {
                slices.push(slice);
            }
        };
        match how {
            Reading::First => {
                for row in page {
                    take(*row, 0);
                }
            }
            Reading::ByBlock => {
                for block in 0..self.starts.len() {
                    for row in page {
                        take(*row, block);
                    }
                }
            }
            Reading::ByRow => {
                for row in page {
                    for block in 0..self.starts.len() {
                        take(*row, block);
                    }
                }
            }
        }
    }

    /// The part of a row that belongs to one table; nothing where it says nothing there, or only what the
    /// first table says beside it.
    fn slice(&self, grid: &Grid, row: usize, block: usize, how: Reading) -> Option<RowSlice> {
        let from = *self.starts.get(block)?;
        // What lies beyond the last table is not lost with it.
        let is_last = block + 1 == self.starts.len();
        let to = if is_last {
            usize::MAX
        } else {
            from + self.width
        };
        let texts = |from: usize, to: usize| {
            (from..to.min(grid.width(row))).map(|column| grid.cell(row, column))
        };
        let is_blank = texts(from, to).all(str::is_empty);
        if block == 0 {
            let beside = how != Reading::First && texts(to, usize::MAX).any(|it| !it.is_empty());
            // A note in the margin alone is a row of its own.
            return match (is_blank, beside) {
                (true, true) => None,
                (true, false) => Some(RowSlice::whole(row)),
                (false, _) => Some(RowSlice::new(row, from, to)),
            };
        }
        let first = self.first();
        let again = (0..self.width).all(|offset| {
            let (here, there) = (
                grid.cell(row, from + offset),
                grid.cell(row, first + offset),
            );
            here == there && !here.contains(|c: char| c.is_ascii_digit())
        });
        (!is_blank && !again).then_some(RowSlice::new(row, from, to))
    }

    /// Whether a row is the header again.
    fn heads(&self, grid: &Grid, row: usize, roles: &[HeadingRole]) -> bool {
        let mut same = 0;
        let own = roles.iter().enumerate();
        for (column, role) in own.skip(self.first()).take(self.width) {
            let cell = grid.cell(row, column);
            if cell.is_empty() {
                continue;
            }
            if split_heading(cell).0 != role.name {
                return false;
            }
            same += 1;
        }
        same >= 2
    }

    /// Whether the joint numbers go on by one from each joint to the next, or the running totals rise or
    /// fall throughout.
    fn goes_on(&self, grid: &Grid, roles: &[HeadingRole], slices: &[RowSlice]) -> bool {
        let at = |wanted: fn(Field) -> bool| {
            let mut own = roles.iter().skip(self.first()).take(self.width);
            own.position(|role| role.field.is_some_and(wanted))
        };
        let Some(joint) = at(|field| field == Field::Joint) else {
            return false;
        };
        let cell = |slice: &RowSlice, column: usize| grid.cell(slice.row(), slice.from() + column);
        let numbers: Vec<Option<(&str, u64)>> = slices
            .iter()
            .filter(|slice| cell(slice, joint).contains(|c: char| c.is_ascii_digit()))
            .map(|slice| split_number(cell(slice, joint)))
            .collect();
        let step = |by: i128| {
            numbers.len() > 1
                && numbers.windows(2).all(|pair| match pair {
                    [Some((before, a)), Some((after, b))] => {
                        before == after && i128::from(*b) - i128::from(*a) == by
                    }
                    _ => false,
                })
        };
        if step(1) || step(-1) {
            return true;
        }
        let Some(running) = at(|field| field == Field::Running) else {
            return false;
        };
        let totals: Vec<Length> = slices
            .iter()
            .filter(|slice| cell(slice, joint).contains(|c: char| c.is_ascii_digit()))
            .filter_map(|slice| total(cell(slice, running)))
            .collect();
        let rises = totals.windows(2).all(|pair| pair.first() < pair.get(1));
        let falls = totals.windows(2).all(|pair| pair.first() > pair.get(1));
        totals.len() > 1 && (rises || falls)
    }
}

/// A running total by its size alone: for whether it rises, any unit will do.
fn total(text: &str) -> Option<Length> {
    [DecimalMark::Point, DecimalMark::Comma]
        .into_iter()
        .find_map(|decimal| {
            let rules = ParseOptions {
                bare: Some(Unit::Millimetre),
                decimal,
            };
            read_length(text, &rules).ok().map(|read| read.length)
        })
}
