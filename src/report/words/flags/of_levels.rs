//! Flags of readings of height differences.

use super::parts::{Words, some_of};
use crate::finding::{LevelFinding, ReadingRef, SeatFinding, SlotLength, SuspectRef};
use crate::measure::Excerpt;

impl Words {
    /// Flags of readings of height differences.
    pub(super) fn of_levels(&self, found: &LevelFinding) -> String {
        match found {
            LevelFinding::Suspects { suspects } => {
                let all: Vec<String> = suspects.iter().map(|it| self.suspect(it)).collect();
                format!(
                    "the other readings disagree by more than chance allows (one case in a thousand); read again: {}",
                    all.join("; then ")
                )
            }
            LevelFinding::Variance { value, bounds } => {
                let [lower, upper] = bounds.map(thousandths);
                let what = if *value > bounds[1] {
                    "readings disagree by more than they are said to be known: one of them is wrong, or they are known less well"
                } else {
                    "readings agree better than they are said to be known: some may be copies of others, or they are known better"
                };
                let value = thousandths(*value);
                format!(
                    "{what} (chi-square {value}, in 95 of 100 cases between {lower} and {upper})"
                )
            }
            LevelFinding::Unchecked { readings } => format!(
                "nothing checks these readings, a mistake in one would not be seen: {}",
                some_of(readings, name)
            ),
        }
    }

    /// Flags of a deck on its tops.
    pub(super) fn of_seat(&self, found: &SeatFinding) -> String {
        let all = |of: &[SlotLength]| {
            let all = of.iter();
            let all = all.map(|it| format!("{} {}", it.slot, self.small(it.length)));
            all.collect::<Vec<_>>().join(", ")
        };
        match found {
            SeatFinding::Gaps { gaps, within } => format!(
                "gaps of more than {}, shims or trims are needed: {}",
                self.small(*within),
                all(gaps)
            ),
            SeatFinding::Trims { below, tolerance } => format!(
                "the trims would take tops below their targets by more than the tolerance of {}: {}",
                self.small(*tolerance),
                all(below)
            ),
        }
    }

    fn suspect(&self, suspect: &SuspectRef) -> String {
        let names: Vec<String> = suspect.readings.iter().map(name).collect();
        let names = names.join(" or ");
        match suspect.blunder {
            Some(by) => {
                let way = if by.is_negative() {
                    "too little"
                } else {
                    "too much"
                };
                format!("{names} ({} {way})", self.small(by.abs()))
            }
            None if suspect.readings.len() > 1 => {
                format!("{names} (nothing tells which)")
            }
            None => names,
        }
    }
}

fn thousandths(millionths: i64) -> String {
    if millionths == i64::MAX {
        return "more than 9000000000000".to_owned();
    }
    let rounded = millionths.saturating_add(500) / 1000;
    format!("{}.{:03}", rounded / 1000, rounded % 1000)
}

fn name(it: &ReadingRef) -> String {
    if it.from.is_empty() {
        return "the scale of the tape".to_owned();
    }
    let of = if it.of == "file" { "reading" } else { it.of };
    let line = it
        .line
        .map_or_else(String::new, |line| format!(", line {line}"));
    format!(
        "{of} {} to {}{line}",
        Excerpt::of(&it.from),
        Excerpt::of(&it.to)
    )
}
