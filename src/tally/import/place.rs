//! Places in a table, for messages.

use std::fmt;

use crate::measure::Excerpt;

/// A place in the table: line and column counted from 1, and the column's heading.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CellRef {
    /// The line of the file.
    pub line: u32,
    /// The column of the table.
    pub column: usize,
    /// The heading of that column as the file writes it.
    pub heading: Excerpt,
    /// Whether it is a cell of a workbook, which has an address: `C7`.
    pub in_sheet: bool,
}

/// The address of a cell of a workbook, row and column counted from 1.
pub(super) fn address(line: u32, column: usize) -> String {
    format!("{}{line}", letters(column))
}

/// The letters of a column, counted from 1.
pub(super) fn letters(column: usize) -> String {
    let mut letters = Vec::new();
    let mut rest = column;
    while let Some(before) = rest.checked_sub(1) {
        let letter = u8::try_from(before % 26).unwrap_or(0);
        letters.push(char::from(b'A' + letter));
        rest = before / 26;
    }
    letters.into_iter().rev().collect()
}

/// The column that letters name, counted from 0: `E` is 4.
pub(super) fn column_of_letters(text: &str) -> Option<usize> {
    let mut column = 0_usize;
    for byte in text.bytes() {
        let letter = byte.to_ascii_uppercase();
        let digit = usize::from(letter.checked_sub(b'A').filter(|digit| *digit < 26)?);
        column = column.checked_mul(26)?.checked_add(digit + 1)?;
    }
    column.checked_sub(1)
}

impl fmt::Display for CellRef {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.in_sheet {
            let cell = address(self.line, self.column);
            write!(f, "line {}, cell {cell}", self.line)?;
        } else {
            write!(f, "line {}, column {}", self.line, self.column)?;
        }
        if self.heading.is_empty() {
            Ok(())
        } else {
            write!(f, " ({})", self.heading)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_no_letters_is_no_column() {
        for text in ["", "7", "A1", "-", "é"] {
            assert_eq!(column_of_letters(text), None, "{text}");
        }
    }

    #[test]
    fn addresses_count_their_columns_in_letters() {
        for (column, letters) in [
            (1, "A"),
            (26, "Z"),
            (27, "AA"),
            (52, "AZ"),
            (703, "AAA"),
            (16_384, "XFD"),
        ] {
            assert_eq!(address(7, column), format!("{letters}7"));
            assert_eq!(column_of_letters(&letters.to_lowercase()), Some(column - 1));
        }
    }
}
