//! Flags of readings of height differences.

use super::parts::{Words, some_of};
use crate::finding::{
    AdjustedPoint, AdjustedPointRef, LevelFinding, SeatFinding, SlotLength, SuspectRef,
};
use crate::levels::READINGS;
use crate::measure::Excerpt;
use crate::report::words::levels::{one_of, reading_of as name};

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
            LevelFinding::AdjustedDisagrees { points, look_at } => {
                let all: Vec<String> = points.iter().map(|it| self.adjusted_point(it)).collect();
                let look_at = if look_at.is_empty() {
                    String::new()
                } else {
                    format!("; look first at {}", one_of(look_at))
                };
                format!("{}{look_at}", all.join("; "))
            }
            LevelFinding::AdjustedFar { points } => {
                let all: Vec<String> = points.iter().map(|it| self.adjusted_far(it)).collect();
                all.join("; ")
            }
            LevelFinding::DoubtedPoints { names } => {
                let one = |(name, meant): &(String, Option<String>)| {
                    let name = Excerpt::of(name);
                    match meant {
                        Some(meant) => format!("{name} (is {} meant?)", Excerpt::of(meant)),
                        None => name.to_string(),
                    }
                };
                format!(
                    "readings name points that the job does not have, so that they check nothing of it: {}",
                    some_of(names, one)
                )
            }
            LevelFinding::Outdated { entries } => {
                let one =
                    |(seq, point): &(u64, String)| format!("entry {seq} ({})", Excerpt::of(point));
                format!(
                    "the string moved, or its top was cropped, after these were read: {}; strike them, or read them again",
                    some_of(entries, one)
                )
            }
            LevelFinding::Repeated { lines } => {
                let one = |(line, first): &(u32, u32)| format!("line {line} as line {first}");
                format!(
                    "rows of {READINGS} stand twice, and count as readings of their own: {}; take out what was not read twice",
                    some_of(lines, one)
                )
            }
            LevelFinding::IdleCorrections { on } => {
                let on: Vec<String> = on.iter().map(|it| Excerpt::of(it).to_string()).collect();
                format!(
                    "no reading has as its `how` what a correction is on, so that it corrects nothing: {}",
                    on.join(", ")
                )
            }
            LevelFinding::Unsound {
                suspect,
                is_outside,
            } => {
                let suspect =
                    (!suspect.is_empty()).then(|| format!("read again: {}", one_of(suspect)));
                let outside = is_outside.then(|| {
                    "all together disagree by more than they are said to be known".to_owned()
                });
                let why: Vec<String> = suspect.into_iter().chain(outside).collect();
                format!(
                    "the cut goes by all readings adjusted, and those do not hold together: {}; correct or strike the reading, or cut by the chain (cut.elevations)",
                    why.join("; ")
                )
            }
            LevelFinding::NotAdjusted { why } => {
                format!("readings are not adjusted, and none checks another: {why}")
            }
            LevelFinding::Unchecked { readings } => format!(
                "nothing checks these readings, a mistake in one would not be seen: {}",
                some_of(readings, name)
            ),
        }
    }

    /// `top: all readings say 34.070 m, the chain 34.172 m: 102 mm lower, at most 12 mm is expected`.
    fn adjusted_point(&self, it: &AdjustedPointRef) -> String {
        format!(
            "{}, by chance at most {}",
            self.adjusted_apart(it),
            self.small(it.limit)
        )
    }

    /// The same where nothing says by how much both may differ.
    fn adjusted_far(&self, it: &AdjustedPointRef) -> String {
        format!(
            "{}, more than {}; how far both may be apart is not stated",
            self.adjusted_apart(it),
            self.small(it.limit)
        )
    }

    fn adjusted_apart(&self, it: &AdjustedPointRef) -> String {
        let (what, own) = match &it.of {
            AdjustedPoint::Rotary(hull) => (format!("RT at {}", Excerpt::of(hull)), "the chain"),
            AdjustedPoint::Top => ("top".to_owned(), "the chain"),
            AdjustedPoint::FinishedTop => ("finished top".to_owned(), "its survey"),
        };
        let off = it.adjusted - it.chain;
        let way = if off.is_negative() { "lower" } else { "higher" };
        format!(
            "{what}: all readings say {}, {own} {}: {} {way}",
            self.at(it.adjusted),
            self.at(it.chain),
            self.small(off.abs())
        )
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
            SeatFinding::Landed { otherwise } => {
                let all = otherwise.iter().map(|it| {
                    format!(
                        "{} found {}, by the tops {}, by chance at most {} apart",
                        it.slot,
                        self.small(it.found),
                        self.small(it.seat),
                        self.small(it.limit)
                    )
                });
                let all: Vec<String> = all.collect();
                format!(
                    "the deck landed otherwise than its tops say, one of the figures is wrong: {}",
                    all.join("; ")
                )
            }
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
