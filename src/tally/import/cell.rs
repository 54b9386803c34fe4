//! Cells of a sheet, whatever kind of workbook they come from.

use std::collections::{BTreeMap, BTreeSet};

use compact_str::CompactString;

/// What a cell holds.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) enum CellValue {
    /// Nothing.
    #[default]
    Blank,
    /// Text, and what is shown as text: a date, a time, true or false.
    Text(CompactString),
    /// A number, by its shortest text.
    Number(CompactString),
    /// What a formula gives that cannot be computed.
    Failed(CompactString),
}

/// A cell.
#[derive(Clone, Debug, Default)]
pub(super) struct SheetCell {
    pub(super) value: CellValue,
    /// Whether a formula gives the value.
    pub(super) formula: bool,
}

impl SheetCell {
    /// What is shown of it.
    pub(super) fn text(&self) -> &str {
        match &self.value {
            CellValue::Blank => "",
            CellValue::Text(text) | CellValue::Number(text) | CellValue::Failed(text) => text,
        }
    }
}

/// A row that holds anything, its cells from column A to the last that does.
#[derive(Clone, Debug)]
pub(super) struct SheetRow {
    /// Its number in the sheet, counted from 1.
    pub(super) line: u32,
    /// How many of its cells are not looked at: those of tables to the left of this one.
    pub(super) skip: usize,
    pub(super) cells: Vec<SheetCell>,
}

impl SheetRow {
    /// The cells that are looked at.
    pub(super) fn looked_at(&self) -> &[SheetCell] {
        self.cells.get(self.skip..).unwrap_or_default()
    }

    /// One of them.
    pub(super) fn cell_mut(&mut self, column: usize) -> Option<&mut SheetCell> {
        self.cells.get_mut(self.skip.checked_add(column)?)
    }

    /// The same row with the cells of one table.
    pub(super) fn part(&self, from: usize, to: usize) -> Self {
        let cells = self.cells.get(..to.min(self.cells.len()));
        Self {
            line: self.line,
            skip: from.min(self.cells.len()),
            cells: cells.unwrap_or_default().to_vec(),
        }
    }
}

/// Most rows of a cell that is merged over several: a taller one frames a table and says nothing of joints.
pub(super) const MAX_MERGED: usize = 100;

/// How rows and cells of a sheet are shown: what is hidden, filtered out, struck through or merged.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct SheetMarks {
    /// Rows that are not shown, by their number, each with whether a filter is why.
    pub(super) hidden: BTreeMap<u32, bool>,
    /// Cells with a text that is struck through, or a part of it: row from 1, column from 0.
    pub(super) struck: BTreeSet<(u32, usize)>,
    /// Cells that are merged over several rows: column from 0 and first row, and the last row.
    pub(super) merged: BTreeMap<(usize, u32), u32>,
}

impl SheetMarks {
    /// Everything is shown as it is.
    pub(super) const NONE: Self = Self {
        hidden: BTreeMap::new(),
        struck: BTreeSet::new(),
        merged: BTreeMap::new(),
    };

    /// Whether everything is shown as it is.
    pub(super) fn is_empty(&self) -> bool {
        self.hidden.is_empty() && self.struck.is_empty() && self.merged.is_empty()
    }

    /// Notes that a cell goes on over the rows down to the last.
    pub(super) fn merge(&mut self, column: usize, first: u32, last: u32) {
        if first < last && usize::try_from(last - first).is_ok_and(|rows| rows < MAX_MERGED) {
            self.merged.insert((column, first), last);
        }
    }
}
