//! The cells of a text or of a sheet, row by row, each row with the line on which it starts.

use compact_str::CompactString;
use memchr::memchr;

use super::cell::{CellValue, MAX_MERGED, SheetCell, SheetMarks, SheetRow};
use super::row_store::{RowCells, RowStore};
use crate::finding::RowSign;
use crate::measure::{Excerpt, visible_lines};

/// Most characters of a row that are listed where it is not used.
const LISTED: usize = 200;

/// The cells of a file: places in its text, so that a million rows cost few allocations. Only rows in
/// which something is quoted are copied.
#[derive(Clone, Debug)]
pub(super) struct Grid<'t> {
    store: RowStore<'t>,
    /// Where parts of rows are looked at in place of the rows: which, in this order.
    slices: Option<Vec<RowSlice>>,
    /// Runs of blank lines: the first line, and how many.
    blanks: Vec<(u32, u32)>,
    pub(super) separator: u8,
    /// Whether every cell is known to show as it is.
    harmless: bool,
    pub(super) workbook: bool,
    /// Of a workbook: what is hidden or struck through.
    marks: SheetMarks,
    /// Bytes that are held as long as it is.
    beside: usize,
}

/// A part of a row: there may be several for each row.
#[derive(Clone, Copy, Debug)]
pub(super) struct RowSlice {
    row: u32,
    from: u32,
    to: u32,
}

impl RowSlice {
    /// The cells of a row from one on, and up to one that is not among them.
    pub(super) fn new(row: usize, from: usize, to: usize) -> Self {
        // Rows and cells are bounded far below: what is beyond stands for the end of all.
        let place = |at: usize| u32::try_from(at).unwrap_or(u32::MAX);
        Self {
            row: place(row),
            from: place(from),
            to: place(to),
        }
    }

    /// All of a row.
    pub(super) fn whole(row: usize) -> Self {
        Self::new(row, 0, usize::MAX)
    }

    /// Its row.
    pub(super) fn row(self) -> usize {
        usize::try_from(self.row).unwrap_or(usize::MAX)
    }

    /// Its first cell.
    pub(super) fn from(self) -> usize {
        usize::try_from(self.from).unwrap_or(usize::MAX)
    }

    /// The cell after its last.
    pub(super) fn to(self) -> usize {
        usize::try_from(self.to).unwrap_or(usize::MAX)
    }
}

/// A row of a grid.
#[derive(Clone, Copy, Debug)]
pub(super) struct GridRow<'g> {
    cells: RowCells<'g>,
    from: usize,
    to: usize,
}

impl<'g> GridRow<'g> {
    /// The text of a cell without spaces around it; blank beyond the end of the row.
    #[inline]
    pub(super) fn cell(&self, column: usize) -> &'g str {
        let column = self.from.saturating_add(column);
        let raw = (column < self.to).then(|| self.cells.cell(column));
        let raw = raw.flatten().unwrap_or_default();
        // Most cells have no space around them, which two bytes tell sooner than `trim` does.
        match raw.as_bytes() {
            [b'!'..=b'~'] | [b'!'..=b'~', .., b'!'..=b'~'] => raw,
            _ => raw.trim(),
        }
    }
}

impl<'t> Grid<'t> {
    /// A grid for the rows of a text, which are added one after the other.
    pub(super) const fn of_text(text: &'t str, separator: u8) -> Self {
        Self {
            store: RowStore::new(text),
            slices: None,
            blanks: Vec::new(),
            separator,
            harmless: false,
            workbook: false,
            marks: SheetMarks::NONE,
            beside: 0,
        }
    }

    /// The rows that it is made of.
    pub(super) fn store(&mut self) -> &mut RowStore<'t> {
        &mut self.store
    }

    /// Adds a run of blank lines.
    pub(super) fn push_blanks(&mut self, line: u32, lines: u32) {
        self.blanks.push((line, lines));
    }

    /// How many bytes the text and the places of its cells take.
    pub(super) fn bytes(&self) -> usize {
        let slices = self.slices.as_ref().map_or(0, Vec::len);
        self.beside
            + slices * size_of::<RowSlice>()
            + self.store.bytes()
            + self.blanks.len() * size_of::<(u32, u32)>()
    }

    /// A grid for rows of cells that were found one by one in a text of so many bytes, which is held beside it.
    pub(super) const fn of_cells(beside: usize) -> Grid<'static> {
        let mut grid = Grid::of_text("", b' ');
        grid.beside = beside;
        grid
    }

    /// Adds a row of cells that are copied.
    pub(super) fn push_cells<'c>(&mut self, cells: impl Iterator<Item = &'c str>, line: u32) {
        self.store.push_copied(cells, line);
    }

    /// The cells of a sheet. Rows that hold nothing are runs of blank lines.
    pub(super) fn of_rows(rows: &[SheetRow]) -> Self {
        let mut grid = Self {
            workbook: true,
            ..Self::of_text("", b'|')
        };
        let mut next = 1;
        for row in rows {
            if row.line > next {
                grid.blanks.push((next, row.line - next));
            }
            // Of tables side by side the second begins with the lines of the first again.
            next = next.max(row.line.saturating_add(1));
            let cells = row.cells.iter();
            grid.push_cells(cells.clone().map(SheetCell::text), row.line);
            let is_number = |cell: &SheetCell| matches!(cell.value, CellValue::Number(_));
            grid.store.set_numbers(cells.map(is_number));
        }
        if rows.iter().any(|row| row.skip > 0) {
            let slices = rows.iter().enumerate();
            let slices = slices.map(|(row, of)| RowSlice::new(row, of.skip, usize::MAX));
            grid.slices = Some(slices.collect());
        }
        grid
    }

    /// The same grid with what is hidden in it or struck through.
    pub(super) fn with_marks(self, marks: SheetMarks) -> Self {
        Self { marks, ..self }
    }

    /// Whether anything is hidden or struck through.
    pub(super) fn has_marks(&self) -> bool {
        !self.marks.is_empty()
    }

    /// Whether a row is not shown.
    pub(super) fn hidden(&self, row: usize) -> Option<RowSign> {
        let is_filtered = self.marks.hidden.get(&self.line(row))?;
        Some(if *is_filtered {
            RowSign::Filtered
        } else {
            RowSign::Hidden
        })
    }

    /// Whether a cell is struck through, or a part of it.
    pub(super) fn is_struck(&self, row: usize, column: usize) -> bool {
        let column = self.column(row, column).saturating_sub(1);
        self.marks.struck.contains(&(self.line(row), column))
    }

    /// The text of a cell above that goes on over this row.
    pub(super) fn merged_over(&self, row: usize, column: usize) -> Option<&str> {
        let (line, place) = (self.line(row), self.column(row, column) - 1);
        let mut above = self.marks.merged.range(..(place, line));
        let ((_, first), _) = above
            .next_back()
            .filter(|((of, _), last)| *of == place && line <= **last)?;
        // The nearest above: of tables side by side, that of the same table.
        let mut rows = (0..row).rev().take(MAX_MERGED);
        rows.find(|row| self.line(*row) == *first)
            .map(|row| self.cell(row, column))
    }

    /// The column of the file that a cell is in, counted from 1.
    pub(super) fn column(&self, row: usize, column: usize) -> usize {
        self.slice(row).from() + column + 1
    }

    /// The same cells, of which these parts of rows are looked at, in this order.
    pub(super) fn taken(self, slices: Vec<RowSlice>) -> Self {
        Self {
            slices: Some(slices),
            ..self
        }
    }

    /// The parts of rows that are looked at in place of the rows, where it is so.
    pub(super) fn slices(&self) -> Option<&[RowSlice]> {
        self.slices.as_deref()
    }

    /// What is looked at of a row.
    #[inline]
    fn slice(&self, row: usize) -> RowSlice {
        match &self.slices {
            None => RowSlice::whole(row),
            Some(slices) => {
                let none = RowSlice::new(usize::MAX, 0, 0);
                slices.get(row).copied().unwrap_or(none)
            }
        }
    }

    /// Whether a cell is a number of a workbook: its decimal mark is a point, whatever text uses.
    pub(super) fn is_number(&self, row: usize, column: usize) -> bool {
        if !self.workbook {
            return false;
        }
        let of = self.slice(row);
        let column = of.from() + column;
        column < of.to() && self.store.is_number(of.row(), column)
    }

    /// The widest of the rows from `row` on.
    pub(super) fn widest_from(&self, row: usize) -> usize {
        (row..self.len())
            .map(|row| self.width(row))
            .max()
            .unwrap_or(0)
    }

    /// The text of rows as it stands in the file, separators and all; `None` where something in them is
    /// quoted, or they are parts of rows, or cells of a workbook.
    pub(super) fn text_of(&self, rows: std::ops::Range<usize>) -> Option<&str> {
        if self.slices.is_some() {
            return None;
        }
        self.store.text_of_rows(rows)
    }

    /// Whether the cells of a row lie between the commas of a text, as they are.
    pub(super) fn is_between_commas(&self, row: usize) -> bool {
        self.separator == b',' && !self.store.is_copied(self.slice(row).row())
    }

    pub(super) fn len(&self) -> usize {
        self.slices.as_ref().map_or(self.store.len(), Vec::len)
    }

    /// The line on which a row starts.
    pub(super) fn line(&self, row: usize) -> u32 {
        self.store.line(self.slice(row).row())
    }

    /// How many cells a row has.
    pub(super) fn width(&self, row: usize) -> usize {
        let of = self.slice(row);
        let all = self.store.width(of.row());
        all.min(of.to()).saturating_sub(of.from())
    }

    /// The text of a cell without spaces around it; blank beyond the end of the row.
    #[inline]
    pub(super) fn cell(&self, row: usize, column: usize) -> &str {
        self.row(row).cell(column)
    }

    /// The cells of a row, for who looks at several of them.
    #[inline]
    pub(super) fn row(&self, row: usize) -> GridRow<'_> {
        let of = self.slice(row);
        GridRow {
            cells: self.store.row(of.row()),
            from: of.from(),
            to: of.to(),
        }
    }

    /// A text of a cell as it is kept beyond the reader: control characters as their code, but for the
    /// line ends and tabs of a remark.
    pub(super) fn kept(&self, text: &str) -> CompactString {
        if self.harmless {
            CompactString::from(text)
        } else {
            shown(text)
        }
    }

    /// Writes that into a text that is empty so far.
    #[inline]
    pub(super) fn keep(&self, text: &str, into: &mut CompactString) {
        if self.harmless {
            into.push_str(text);
        } else {
            *into = shown(text);
        }
    }

    /// What a message repeats of a cell.
    pub(super) fn excerpt(&self, row: usize, column: usize) -> Excerpt {
        Excerpt::of(self.cell(row, column))
    }

    /// The cells of a row.
    pub(super) fn cells(&self, row: usize) -> impl Iterator<Item = &str> {
        (0..self.width(row)).map(move |column| self.cell(row, column))
    }

    pub(super) fn is_blank(&self, row: usize) -> bool {
        self.cells(row).all(str::is_empty)
    }

    /// A row as one line of text, for listing it: its beginning, where it is long.
    pub(super) fn joined(&self, row: usize) -> String {
        // Where there is no space in it, it stands in the file as it is listed.
        if let Some(text) = self.text_of(row..row + 1)
            && text.len() <= LISTED
            && text.bytes().all(|byte| byte.is_ascii_graphic())
        {
            return text.to_owned();
        }
        let separator = char::from(self.separator);
        let words = self.cells(row).enumerate().flat_map(|(column, cell)| {
            let before = (column > 0).then_some(separator);
            let words = cell.split_whitespace().enumerate();
            let words = words.flat_map(|(place, word)| {
                let space = (place > 0).then_some(' ');
                space.into_iter().chain(word.chars())
            });
            before.into_iter().chain(words)
        });
        // One letter too many tells that there is more.
        let mut line: String = words.take(LISTED + 1).collect();
        if let Some((end, _)) = line.char_indices().nth(LISTED) {
            line.truncate(end);
            line.push('…');
        }
        line
    }

    /// Notes that a text holds no character that is shown as its code.
    pub(super) fn set_harmless(&mut self) {
        // Only what is quoted can hold a line end, and of those the line feed alone is kept.
        self.harmless = memchr(b'\r', self.store.copied().as_bytes()).is_none();
    }

    pub(super) fn blanks(&self) -> &[(u32, u32)] {
        &self.blanks
    }
}

#[cold]
fn shown(text: &str) -> CompactString {
    if text.contains('\r') {
        let lines = text.replace("\r\n", "\n").replace('\r', "\n");
        CompactString::from(visible_lines(&lines))
    } else {
        CompactString::from(visible_lines(text))
    }
}
