//! Lines and columns of a text.

/// Finds the line and the column of a byte. Bytes that are asked for in their order cost one walk over
/// the text together.
pub(super) struct Places<'t> {
    text: &'t str,
    offset: usize,
    line: usize,
    column: usize,
}

impl<'t> Places<'t> {
    pub(super) const fn new(text: &'t str) -> Self {
        Self {
            text,
            offset: 0,
            line: 1,
            column: 1,
        }
    }

    /// Line and column, counted from 1, the column in characters.
    pub(super) fn of(&mut self, offset: usize) -> (usize, usize) {
        if offset < self.offset {
            *self = Self::new(self.text);
        }
        let between = self.text.get(self.offset..offset).unwrap_or_default();
        for character in between.chars() {
            if character == '\n' {
                self.line += 1;
                self.column = 1;
            } else {
                self.column += 1;
            }
        }
        self.offset += between.len();
        (self.line, self.column)
    }
}

#[cfg(test)]
mod tests {
    use super::Places;

    #[test]
    fn a_byte_has_its_line_and_column_in_whatever_order_it_is_asked_for() {
        let mut places = Places::new("ab\n\u{e4}c\n\nd");
        let at = [0, 1, 3, 5, 7, 8, 0, 5, 8, 3];
        let found = at.map(|offset| places.of(offset));
        let expected = [(1, 1), (1, 2), (2, 1), (2, 2), (3, 1), (4, 1)];
        assert_eq!(found[..6], expected);
        assert_eq!(found[6..], [(1, 1), (2, 2), (4, 1), (2, 1)]);
    }
}
