//! Where the cells of each row lie in a text: few bytes a cell, since a list may have millions of them.

/// The cells of rows: places in the text of a file, or in a copy where something in a row is quoted or the row
/// is none of a text.
#[derive(Clone, Debug)]
pub(super) struct RowStore<'t> {
    text: &'t str,
    /// The cells of rows that are not in the text as they are, one after the other.
    copied: String,
    /// Of each cell where it ends, counted from the start of its row: one byte, or four where the row is long.
    ends: Vec<u8>,
    /// How many of these are of rows that ended: the others are of the row that is being made.
    made: usize,
    /// Whether the ends of that row take four bytes.
    is_long: bool,
    rows: Vec<StoredRow>,
    lines: RowLines,
    /// Whether each cell is a number, at the place of its end; empty where that is not told.
    numbers: Vec<bool>,
}

/// The first bit of a place tells something else.
const FLAG: u32 = 1 << 31;

#[derive(Clone, Copy, Debug)]
struct StoredRow {
    /// Where it starts in the text; with the flag in the copy.
    start: u32,
    /// The place of its first end; with the flag each takes four bytes.
    first: u32,
}

impl StoredRow {
    const fn is_copied(self) -> bool {
        self.start & FLAG != 0
    }

    const fn is_long(self) -> bool {
        self.first & FLAG != 0
    }

    fn start(self) -> usize {
        at(self.start & !FLAG)
    }

    fn first(self) -> usize {
        at(self.first & !FLAG)
    }
}

/// Bytes of an end in a long row.
const LONG: usize = 4;

/// The line on which each row starts.
#[derive(Clone, Debug)]
enum RowLines {
    /// Line after line from this one on.
    From(u32),
    /// Each by itself.
    Listed(Vec<u32>),
}

impl<'t> RowStore<'t> {
    /// A store for rows of a text, or of none.
    pub(super) const fn new(text: &'t str) -> Self {
        Self {
            text,
            copied: String::new(),
            ends: Vec::new(),
            made: 0,
            is_long: false,
            rows: Vec::new(),
            lines: RowLines::From(1),
            numbers: Vec::new(),
        }
    }

    /// Adds a cell to the row that is being made: where it ends, counted from the start of the row.
    #[inline]
    pub(super) fn add_end(&mut self, end: usize) {
        match u8::try_from(end) {
            Ok(end) if !self.is_long => self.ends.push(end),
            _ => self.add_long(end),
        }
    }

    /// The same in a row that is long, or becomes so by it.
    #[cold]
    fn add_long(&mut self, end: usize) {
        if !self.is_long {
            self.is_long = true;
            let short = self.ends.split_off(self.made);
            let long = short.into_iter().map(u32::from);
            self.ends.extend(long.flat_map(u32::to_le_bytes));
        }
        self.ends.extend(place(end).to_le_bytes());
    }

    /// Takes back the cells of the row that is being made.
    pub(super) fn leave_row(&mut self) {
        self.ends.truncate(self.made);
        self.is_long = false;
    }

    /// Ends a row that lies in the text as it is, a separator of one byte after each of its cells but the last, and
    /// says where it starts.
    pub(super) fn end_in_text(&mut self, start: usize, line: u32) {
        self.end_row(place(start) & !FLAG, line);
    }

    /// Adds a row of cells that are copied.
    pub(super) fn push_copied<'c>(&mut self, cells: impl Iterator<Item = &'c str>, line: u32) {
        let start = self.copied.len();
        for cell in cells {
            self.copied.push_str(cell);
            self.add_end(self.copied.len() - start);
        }
        self.end_row(place(start) | FLAG, line);
    }

    /// Says of the cells of the last row which are numbers.
    pub(super) fn set_numbers(&mut self, are_numbers: impl Iterator<Item = bool>) {
        let is_long = self.rows.last().is_some_and(|row| row.is_long());
        let bytes = if is_long { LONG } else { 1 };
        let bytes = are_numbers.flat_map(|it| std::iter::repeat_n(it, bytes));
        self.numbers.extend(bytes);
    }

    fn end_row(&mut self, start: u32, line: u32) {
        let first = place(self.made) & !FLAG;
        let first = if self.is_long { first | FLAG } else { first };
        self.lines.push(self.rows.len(), line);
        self.rows.push(StoredRow { start, first });
        self.made = self.ends.len();
        self.is_long = false;
    }

    /// Whether a row is not in the text as it is.
    pub(super) fn is_copied(&self, row: usize) -> bool {
        self.rows.get(row).is_some_and(|row| row.is_copied())
    }

    /// How many rows there are.
    pub(super) fn len(&self) -> usize {
        self.rows.len()
    }

    /// How many bytes are kept of the rows and their text.
    pub(super) fn bytes(&self) -> usize {
        let lines = match &self.lines {
            RowLines::From(_) => 0,
            RowLines::Listed(lines) => lines.len() * size_of::<u32>(),
        };
        self.text.len()
            + self.rows.len() * size_of::<StoredRow>()
            + self.ends.len()
            + self.copied.len()
            + self.numbers.len()
            + lines
    }

    /// What was copied.
    pub(super) fn copied(&self) -> &str {
        &self.copied
    }

    /// The line on which a row starts; 0 where there is no such row.
    pub(super) fn line(&self, row: usize) -> u32 {
        match &self.lines {
            RowLines::From(first) if row < self.rows.len() => first.saturating_add(place(row)),
            RowLines::From(_) => 0,
            RowLines::Listed(lines) => lines.get(row).copied().unwrap_or(0),
        }
    }

    /// How many cells a row has.
    pub(super) fn width(&self, row: usize) -> usize {
        let Some(here) = self.rows.get(row) else {
            return 0;
        };
        let bytes = self.after(row) - here.first();
        if here.is_long() { bytes / LONG } else { bytes }
    }

    /// The place after the last end of a row.
    fn after(&self, row: usize) -> usize {
        let next = self.rows.get(row + 1);
        next.map_or(self.ends.len(), |next| next.first())
    }

    /// The cells of a row; none where there is no such row.
    #[inline]
    pub(super) fn row(&self, row: usize) -> RowCells<'_> {
        let Some(here) = self.rows.get(row) else {
            return RowCells::default();
        };
        let text = if here.is_copied() {
            &self.copied
        } else {
            self.text
        };
        RowCells {
            text,
            start: here.start(),
            ends: self
                .ends
                .get(here.first()..self.after(row))
                .unwrap_or_default(),
            gap: usize::from(!here.is_copied()),
            is_long: here.is_long(),
        }
    }

    /// Whether a cell is known to be a number.
    pub(super) fn is_number(&self, row: usize, column: usize) -> bool {
        let Some(here) = self.rows.get(row).filter(|_| column < self.width(row)) else {
            return false;
        };
        let bytes = if here.is_long() { LONG } else { 1 };
        let place = here.first() + column * bytes;
        self.numbers.get(place).copied().unwrap_or(false)
    }

    /// The text of rows as it stands in the file, separators and all; `None` where one of them is copied.
    pub(super) fn text_of_rows(&self, rows: std::ops::Range<usize>) -> Option<&str> {
        let last = rows.end.checked_sub(1)?;
        let these = self.rows.get(rows)?;
        if these.iter().any(|row| row.is_copied()) {
            return None;
        }
        let last_cell = self.width(last).checked_sub(1)?;
        let (_, end) = self.row(last).range(last_cell)?;
        self.text.get(these.first()?.start()..end)
    }
}

/// The cells of one row.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct RowCells<'g> {
    text: &'g str,
    /// Where the row starts in it.
    start: usize,
    /// The ends of its cells.
    ends: &'g [u8],
    /// In the text of a file a separator is before each cell but the first.
    gap: usize,
    is_long: bool,
}

impl<'g> RowCells<'g> {
    /// The text of a cell; `None` beyond the end of the row.
    #[inline]
    pub(super) fn cell(&self, column: usize) -> Option<&'g str> {
        let (from, to) = self.range(column)?;
        self.text.get(from..to)
    }

    /// Where a cell begins and ends.
    #[inline]
    fn range(&self, column: usize) -> Option<(usize, usize)> {
        if self.is_long {
            return self.range_in_long(column);
        }
        let end = |column: usize| self.ends.get(column).map(|end| usize::from(*end));
        let to = end(column)?;
        let from = match column.checked_sub(1) {
            None => 0,
            Some(before) => end(before)? + self.gap,
        };
        Some((self.start + from, self.start + to))
    }

    #[cold]
    fn range_in_long(&self, column: usize) -> Option<(usize, usize)> {
        let end = |column: usize| -> Option<usize> {
            let bytes = self.ends.get(column.checked_mul(LONG)?..)?;
            bytes.first_chunk().map(|it| at(u32::from_le_bytes(*it)))
        };
        let to = end(column)?;
        let from = match column.checked_sub(1) {
            None => 0,
            Some(before) => end(before)? + self.gap,
        };
        Some((self.start + from, self.start + to))
    }
}

impl RowLines {
    /// Notes the line of a row, which is the next one.
    fn push(&mut self, row: usize, line: u32) {
        match self {
            Self::From(first) if row == 0 => *first = line,
            Self::From(first) if first.checked_add(place(row)) == Some(line) => {}
            Self::From(first) => {
                let lines = (*first..).take(row).chain([line]);
                *self = Self::Listed(lines.collect());
            }
            Self::Listed(lines) => lines.push(line),
        }
    }
}

/// A place as it is kept. Texts and what is kept of their rows are bounded far below 2 GiB.
fn place(at: usize) -> u32 {
    u32::try_from(at).unwrap_or(u32::MAX)
}

fn at(place: u32) -> usize {
    // A place was a usize before.
    usize::try_from(place).unwrap_or(usize::MAX)
}
