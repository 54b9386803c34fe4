//! Where an uncertainty comes from.

use super::places::bench_mark;
use crate::figures::{Source, Term};
use crate::job::Job;

/// What a term of an uncertainty acts on.
pub fn source(term: &Term, job: &Job) -> String {
    match &term.source {
        Source::Rotary(_) => "RT".to_owned(),
        Source::StickUp(..) => "reading the stick-up".to_owned(),
        Source::Straps(_) => format!("joints strapped: {}", term.count),
        Source::MakeUps(_) => format!("connections made up: {}", term.count),
        Source::TapeScale => "the tape's scale, common to all of them".to_owned(),
        Source::Marking => "reading the mark".to_owned(),
        Source::Bench(index) => bench_mark(job, *index),
        Source::Surveys(cuts) => {
            format!("the range of {cuts} finished tops, w({cuts}) / 2 times their survey")
        }
        Source::Benchmarks(cuts) => format!(
            "the range of {cuts} height references, w({cuts}) / 2 times one: they were surveyed from different set-ups, so the reference does not cancel"
        ),
        Source::Rim(_) => "the range of the readings round the top, w(n) / 2 times one".to_owned(),
        Source::Survey(_) => "the survey of the finished top".to_owned(),
        Source::Benchmark => "the survey's height reference".to_owned(),
        Source::Mudline => "the mudline".to_owned(),
    }
}

/// A figure that was entered.
pub fn from_entry(seq: u64, by: &str) -> String {
    format!("journal, entry {seq} by {by}")
}

/// A reading of the top, with what was cropped off it later taken off.
pub fn less_cropped(reading: &str) -> String {
    format!("{reading}, less what was cropped since")
}
