//! Where the cells and rows of a text end, many bytes at a time: a list has a mark every few bytes, so near to
//! each other that a search for each of them costs more than looking at all.

use std::slice::ChunksExact;

/// The places of separators and line ends, in their order.
#[derive(Clone, Debug)]
pub(super) struct Marks<'t> {
    blocks: ChunksExact<'t, u8>,
    /// The last bytes, which are no whole block; `None` once they were looked at.
    tail: Option<[u8; BLOCK]>,
    separator: u8,
    /// The words of the block, and which of them comes next.
    words: [Word; WORDS],
    later: usize,
    /// The word that is looked at, what is left of its marks, and where it begins.
    word: Word,
    at: usize,
    /// Where the next word begins.
    next: usize,
}

/// A separator or a line end.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Mark {
    pub(super) at: usize,
    pub(super) is_line_end: bool,
}

/// Which bytes of a word are marks: the lowest bit of each.
#[derive(Clone, Copy, Debug, Default)]
struct Word {
    found: u64,
    line_ends: u64,
}

/// Bytes of a word, and words of a block.
const BYTES: usize = 8;
const WORDS: usize = 4;
const BLOCK: usize = BYTES * WORDS;

impl<'t> Marks<'t> {
    pub(super) fn new(separator: u8, bytes: &'t [u8]) -> Self {
        let blocks = bytes.chunks_exact(BLOCK);
        let mut tail = [0; BLOCK];
        for (place, byte) in tail.iter_mut().zip(blocks.remainder()) {
            *place = *byte;
        }
        Self {
            tail: Some(tail),
            blocks,
            separator,
            words: [Word::default(); WORDS],
            later: WORDS,
            word: Word::default(),
            at: 0,
            next: 0,
        }
    }
}

/// Which bytes of a block are marks.
#[inline]
fn words(block: &[u8; BLOCK], separator: u8) -> [Word; WORDS] {
    let (mut found, mut line_ends) = ([0; BLOCK], [0; BLOCK]);
    let places = found.iter_mut().zip(&mut line_ends);
    // Sums in place of conditions: so it goes many bytes at a time.
    for ((found, line_end), byte) in places.zip(block) {
        *line_end = u8::from(*byte == b'\n') | u8::from(*byte == b'\r');
        *found = *line_end | u8::from(*byte == separator);
    }
    let mut words = [Word::default(); WORDS];
    let (found, _) = found.as_chunks();
    let (line_ends, _) = line_ends.as_chunks();
    for (word, (found, line_ends)) in words.iter_mut().zip(found.iter().zip(line_ends)) {
        word.found = u64::from_le_bytes(*found);
        word.line_ends = u64::from_le_bytes(*line_ends);
    }
    words
}

impl Iterator for Marks<'_> {
    type Item = Mark;

    #[inline]
    fn next(&mut self) -> Option<Mark> {
        while self.word.found == 0 {
            if let Some(word) = self.words.get(self.later) {
                self.word = *word;
                self.later += 1;
                self.at = self.next;
                self.next += BYTES;
                continue;
            }
            let block = self.blocks.next().and_then(<[u8]>::first_chunk);
            self.words = match block {
                Some(block) => words(block, self.separator),
                None => words(&self.tail.take()?, self.separator),
            };
            self.later = 0;
        }
        let bit = self.word.found.trailing_zeros();
        let byte = usize::try_from(bit / u8::BITS).ok()?;
        self.word.found &= self.word.found - 1;
        Some(Mark {
            at: self.at + byte,
            is_line_end: (self.word.line_ends >> bit) & 1 != 0,
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
