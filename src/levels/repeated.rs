//! Rows of a file of readings that stand twice: each would count as a reading of its own.

use std::collections::HashMap;

/// So many rows one after the other that are alike are no chance, whatever they say of their times.
const RUN: usize = 6;

/// A row as it is written.
#[derive(Debug)]
pub(super) struct Written {
    /// Its cells, one a line.
    pub cells: String,
    /// Whether it says at what hour it was read.
    pub has_hour: bool,
}

/// Of each row the first one that it repeats: the same to the letter and at the same hour, or in a run of rows that
/// are the same. A single reading that comes out alike on the same day is none.
pub(super) fn repeated(rows: &[Written]) -> Vec<Option<usize>> {
    let mut seen: HashMap<&str, usize> = HashMap::new();
    let mut first_alike = Vec::with_capacity(rows.len());
    for (at, row) in rows.iter().enumerate() {
        let first = *seen.entry(&row.cells).or_insert(at);
        first_alike.push((first < at).then_some(first));
    }
    let mut found = vec![None; rows.len()];
    let mut start = 0;
    while let Some(alike) = first_alike.get(start) {
        let run = alike.map_or(1, |first| run_of(rows, first, start));
        let lines = rows.iter().zip(&first_alike).zip(&mut found);
        for ((row, alike), found) in lines.skip(start).take(run) {
            *found = alike.filter(|_| run >= RUN || row.has_hour);
        }
        start += run;
    }
    found
}

/// How many rows from `start` on are those from `first` on; at least 1, for these two are alike. Only rows before
/// `start` are looked at: one reading that comes out alike many times is no run.
fn run_of(rows: &[Written], first: usize, start: usize) -> usize {
    let before = rows.iter().take(start).skip(first);
    let both = before.zip(rows.iter().skip(start));
    both.take_while(|(it, again)| it.cells == again.cells)
        .count()
        .max(1)
}
