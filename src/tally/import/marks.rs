//! Where the cells and rows of a text end, eight bytes at a time: a list has a mark every few bytes, so near to
//! each other that a search for each of them costs more than looking at all.

use std::slice::ChunksExact;

/// The places of separators and line ends, in their order.
#[derive(Clone, Debug)]
pub(super) struct Marks<'t> {
    chunks: ChunksExact<'t, u8>,
    /// The last bytes, which are no whole word; `None` once they were looked at.
    tail: Option<u64>,
    separator: u64,
    /// Where the word that is looked at begins.
    at: usize,
    next: usize,
    /// Its marks: the first bit of each of their bytes; and those of them that end a line.
    found: u64,
    line_ends: u64,
}

/// A separator or a line end.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Mark {
    pub(super) at: usize,
    pub(super) is_line_end: bool,
}

/// Bytes of a word.
const WORD: usize = 8;

/// A byte in each place of a word.
const fn everywhere(byte: u8) -> u64 {
    u64::from_le_bytes([byte; WORD])
}

/// The first bit of each byte of a word that is zero.
const fn zeros(word: u64) -> u64 {
    const REST: u64 = everywhere(0x7F);
    // No byte carries over: what is left of it without its first bit is 0x7F at most.
    !((word & REST).wrapping_add(REST) | word | REST)
}

impl<'t> Marks<'t> {
    pub(super) fn new(separator: u8, bytes: &'t [u8]) -> Self {
        let chunks = bytes.chunks_exact(WORD);
        let mut tail = [0; WORD];
        for (place, byte) in tail.iter_mut().zip(chunks.remainder()) {
            *place = *byte;
        }
        Self {
            tail: Some(u64::from_le_bytes(tail)),
            chunks,
            separator: everywhere(separator),
            at: 0,
            next: 0,
            found: 0,
            line_ends: 0,
        }
    }

    fn look_at(&mut self, word: u64) {
        const LINE_FEED: u64 = everywhere(b'\n');
        const RETURN: u64 = everywhere(b'\r');
        self.line_ends = zeros(word ^ LINE_FEED) | zeros(word ^ RETURN);
        self.found = zeros(word ^ self.separator) | self.line_ends;
        self.at = self.next;
        self.next += WORD;
    }
}

impl Iterator for Marks<'_> {
    type Item = Mark;

    #[inline]
    fn next(&mut self) -> Option<Mark> {
        while self.found == 0 {
            let chunk = self.chunks.next().and_then(<[u8]>::first_chunk);
            let word = match chunk {
                Some(chunk) => u64::from_le_bytes(*chunk),
                None => self.tail.take()?,
            };
            self.look_at(word);
        }
        let bit = self.found.trailing_zeros();
        let byte = usize::try_from(bit / u8::BITS).ok()?;
        self.found &= self.found - 1;
        Some(Mark {
            at: self.at + byte,
            is_line_end: (self.line_ends >> bit) & 1 != 0,
        })
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::laws::laws;

    proptest! {
        #![proptest_config(laws())]

        /// Against a look at each byte.
        #[test]
        fn marks_are_where_their_bytes_are(
            bytes in prop::collection::vec(
                prop_oneof![any::<u8>(), prop::sample::select(b",;\n\r-\x0B\x8A\x8D\xAC".to_vec())],
                0..70,
            ),
            separator in prop::sample::select(b",;\t|".to_vec()),
        ) {
            let expected: Vec<Mark> = (0..bytes.len())
                .map(|at| Mark { at, is_line_end: matches!(bytes[at], b'\n' | b'\r') })
                .filter(|mark| mark.is_line_end || bytes[mark.at] == separator)
                .collect();
            let found: Vec<Mark> = Marks::new(separator, &bytes).collect();
            prop_assert_eq!(found, expected);
        }
    }
}
