//! What a flag says, in one sentence, with its quantities in the units in use.

mod of_cut;
mod of_fits;
mod of_job;
mod of_journal;
mod of_levels;
mod of_lists;
mod of_string;
mod of_tally;
mod of_top;
mod parts;

use parts::Words;

use crate::finding::{Finding, Flag};
use crate::measure::LengthFormat;

/// A flag in words.
pub fn flag(flag: &Flag, format: LengthFormat) -> String {
    let words = Words(format).of(flag);
    match flag.waived {
        Some(entry) => format!("{words} (waived by entry {entry})"),
        None => words,
    }
}

impl Words {
    fn of(&self, flag: &Flag) -> String {
        match &flag.finding {
            Finding::Tally(found) => self.of_tally(flag.code, found),
            Finding::String(found) => self.of_string(found),
            Finding::Fit(found) => self.of_fits(flag.code, found),
            Finding::Top(found) => self.of_top(found),
            Finding::Cut(found) => self.of_cut(found),
            Finding::List(found) => self.of_lists(found),
            Finding::Job(found) => self.of_job(found),
            Finding::Journal(found) => self.of_journal(found),
            Finding::Level(found) => self.of_levels(found),
            Finding::Seat(found) => self.of_seat(found),
        }
    }
}
