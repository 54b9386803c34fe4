//! Quoted fields that take in what follows them: the rows in them would be lost without a word.

/// A quoted field of comma separated text that runs over the end of its line, or is never closed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct LongField<'t> {
    /// The line on which its quote opens, counted from 1.
    pub(super) line: u64,
    /// The last line that it takes in.
    pub(super) to: u64,
    /// Its column, counted from 0.
    pub(super) column: usize,
    /// What is between its quotes, as written.
    pub(super) text: &'t str,
    /// Whether its quote closes.
    pub(super) closed: bool,
}

/// Where the reader of cells is.
#[derive(Clone, Copy, PartialEq, Eq)]
enum At {
    StartOfField,
    InField,
    InQuotes,
    /// After a quote in quotes: the end of the field, or half of a doubled quote.
    AfterQuote,
}

/// The quoted fields of a text that take in line ends, or never end.
pub(super) fn long_fields(text: &str) -> Vec<LongField<'_>> {
    let mut found = Vec::new();
    let (mut at, mut line, mut column) = (At::StartOfField, 1_u64, 0_usize);
    let (mut opened, mut from) = (1_u64, 0_usize);
    let mut end = |opened: u64, to: u64, column: usize, from: usize, until: usize, closed: bool| {
        if to > opened || !closed {
            found.push(LongField {
                line: opened,
                to,
                column,
                text: text.get(from..until).unwrap_or_default(),
                closed,
            });
        }
    };
    for (place, byte) in text.bytes().enumerate() {
        at = match (at, byte) {
            (At::StartOfField, b'"') => {
                (opened, from) = (line, place + 1);
                At::InQuotes
            }
            (At::InQuotes, b'"') => At::AfterQuote,
            (At::AfterQuote, b'"') | (At::InQuotes, _) => At::InQuotes,
            (before, _) => {
                if before == At::AfterQuote {
                    end(opened, line, column, from, place.saturating_sub(1), true);
                }
                match byte {
                    b',' => {
                        column += 1;
                        At::StartOfField
                    }
                    b'\n' | b'\r' => {
                        column = 0;
                        At::StartOfField
                    }
                    _ => At::InField,
                }
            }
        };
        line += u64::from(byte == b'\n');
    }
    match at {
        At::InQuotes => {
            let last = line - u64::from(text.ends_with('\n'));
            end(opened, last.max(opened), column, from, text.len(), false);
        }
        At::AfterQuote => end(opened, line, column, from, text.len() - 1, true),
        At::StartOfField | At::InField => {}
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn fields_that_take_in_line_ends_or_never_end_are_found_where_they_open() {
        let fields = |text| -> Vec<(u64, u64, usize, &str, bool)> {
            let fields = long_fields(text).into_iter();
            fields
                .map(|it| (it.line, it.to, it.column, it.text, it.closed))
                .collect()
        };
        assert_eq!(fields("a,\"b \"\"c\"\", d\",e\n\"f\"\n"), []);
        assert_eq!(fields("a,b \"c\nd\n"), [], "a quote within a field");
        assert_eq!(fields("a\n,\"b\nc\"\n"), [(2, 3, 1, "b\nc", true)]);
        assert_eq!(fields("a\r\n\"b\r\nc\" d\r\n"), [(2, 3, 0, "b\r\nc", true)]);
        assert_eq!(fields("a,\"b"), [(1, 1, 1, "b", false)]);
        assert_eq!(fields("a,\"b\nc\n"), [(1, 2, 1, "b\nc\n", false)]);
        assert_eq!(fields("a,\"b\nc\""), [(1, 2, 1, "b\nc", true)]);
    }
}
