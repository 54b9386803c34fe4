//! Tables: numbers are aligned on their decimal point, and where the width does not do, the columns that
//! matter least go first, and what they hold is given back as a line.

use std::ops::Range;

use super::pen::{Pen, StyledLine, cells, width};
use crate::report::words;
use crate::screens::theme::Role;

/// How the cells of a column stand under each other.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Align {
    /// On their left edge.
    Left,
    /// On their right edge.
    Right,
    /// On the decimal point, or on the foot mark.
    Point,
}

/// The head of a column; the higher `keep`, the longer it stays.
#[derive(Clone, Copy, Debug)]
pub struct ColumnHead<'a> {
    pub text: &'a str,
    pub align: Align,
    pub keep: u8,
}

pub const fn head(text: &str, align: Align, keep: u8) -> ColumnHead<'_> {
    ColumnHead { text, align, keep }
}

/// One cell.
pub type TableCell = (String, Role);

struct ColumnWidth {
    left: usize,
    right: usize,
    width: usize,
}

/// Heads and rows.
#[derive(Clone, Debug)]
pub struct ScreenTable<'a> {
    headings: Vec<ColumnHead<'a>>,
    rows: Vec<Vec<TableCell>>,
}

/// The lengths before and after the mark on which a number stands.
fn halves(text: &str) -> (usize, usize) {
    let mark = text.find(['.', '\'']);
    let left = mark
        .and_then(|at| text.get(..at))
        .map_or(width(text), width);
    (left, width(text) - left)
}

impl<'a> ScreenTable<'a> {
    pub fn new(headings: Vec<ColumnHead<'a>>) -> Self {
        Self {
            headings,
            rows: Vec::new(),
        }
    }

    pub fn add(&mut self, row: Vec<TableCell>) {
        self.rows.push(row);
    }

    /// How many rows it has.
    pub fn len(&self) -> usize {
        self.rows.len()
    }

    fn measure(&self) -> Vec<ColumnWidth> {
        let mut columns: Vec<ColumnWidth> = self
            .headings
            .iter()
            .map(|head| ColumnWidth {
                left: 0,
                right: 0,
                width: width(head.text),
            })
            .collect();
        for row in &self.rows {
            for ((text, _), column) in row.iter().zip(&mut columns) {
                let (left, right) = halves(text);
                column.left = column.left.max(left);
                column.right = column.right.max(right);
                column.width = column.width.max(width(text));
            }
        }
        for (column, head) in columns.iter_mut().zip(&self.headings) {
            if head.align == Align::Point {
                column.width = column.width.max(column.left + column.right);
            }
        }
        columns
    }

    /// The columns that fit, and those that do not.
    fn fitting(&self, columns: &[ColumnWidth], room: usize) -> (Vec<usize>, Vec<usize>) {
        let mut shown: Vec<usize> = (0..columns.len()).collect();
        let mut left_out = Vec::new();
        loop {
            let widths = shown.iter().filter_map(|index| columns.get(*index));
            let needed: usize = widths.map(|column| column.width + 1).sum();
            // The last column may be cut short: it holds words.
            let words = shown.last().and_then(|last| columns.get(*last));
            let words = words.map_or(0, |column| column.width.saturating_sub(12));
            if needed.saturating_sub(words) <= room + 1 || shown.len() <= 1 {
                left_out.sort_unstable();
                return (shown, left_out);
            }
            let least = shown
                .iter()
                .enumerate()
                .min_by_key(|(_, index)| self.headings.get(**index).map_or(0, |head| head.keep))
                .map_or(0, |(position, _)| position);
            left_out.push(shown.remove(least));
        }
    }

    /// Draws the headings on the first row and the given rows below it. What did not fit of the
    /// selected row, counted from the first of them, is given back as a line, together with the cell to mark in it.
    pub fn draw(
        &self,
        pen: &mut Pen<'_>,
        rows: Range<usize>,
        selected: Option<usize>,
        cell: Option<usize>,
    ) -> Option<StyledLine> {
        let columns = self.measure();
        let rows = self
            .rows
            .get(rows.start.min(self.rows.len())..)
            .map_or(&[][..], |from| from.get(..rows.len()).unwrap_or(from));
        let room = usize::from(pen.area.width).saturating_sub(2);
        let (shown, left_out) = self.fitting(&columns, room);
        let spare = {
            let widths = shown.iter().filter_map(|index| columns.get(*index));
            room.saturating_sub(widths.map(|column| column.width + 1).sum())
        };
        let gap = 1 + (spare / shown.len().max(1)).min(2);
        let mut x = 1;
        for index in shown {
            let (Some(column), Some(head)) = (columns.get(index), self.headings.get(index)) else {
                continue;
            };
            let start = |text: &str| match head.align {
                Align::Left => 0,
                Align::Right => column.width - width(text).min(column.width),
                Align::Point => {
                    let slack = column.width - column.left - column.right;
                    slack + column.left - halves(text).0.min(column.left)
                }
            };
            let over = match head.align {
                Align::Left => 0,
                _ => column.width - width(head.text).min(column.width),
            };
            pen.text(x + cells(over), 0, head.text, Role::Label);
            for (row, line) in rows.iter().enumerate() {
                if let Some((text, role)) = line.get(index) {
                    // Words that have no room are left out between words: half a code names nothing.
                    let left = usize::from(pen.area.width.saturating_sub(x));
                    let short = (head.align == Align::Left).then(|| words::shortened(text, left));
                    let text = short.as_ref().unwrap_or(text);
                    pen.text(x + cells(start(text)), cells(row + 1), text, *role);
                }
                if selected == Some(row) && cell == Some(index) {
                    pen.select(x, cells(row + 1), cells(column.width));
                }
            }
            x += cells(column.width + gap);
        }
        if let Some(row) = selected {
            let (width, here) = (pen.area.width, pen.theme.glyphs.here);
            pen.sign(0, cells(row + 1), here, Role::Plain);
            if cell.is_none() {
                pen.select(0, cells(row + 1), width);
            }
        }
        let row = rows.get(selected?)?;
        let mut line = StyledLine::default();
        for index in left_out {
            if let (Some(head), Some((text, role))) = (self.headings.get(index), row.get(index)) {
                if text.is_empty() {
                    continue;
                }
                let role = if cell == Some(index) {
                    Role::Selected
                } else {
                    *role
                };
                line = line
                    .and(format!("{} ", head.text), Role::Label)
                    .and(text.clone(), role)
                    .and("   ", Role::Plain);
            }
        }
        (!line.0.is_empty()).then_some(line)
    }
}
