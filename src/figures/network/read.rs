//! A network whose readings are known for what they are.

use crate::figures::corrections::CorrectionLine;
use crate::levels::{FileReading, Network, Sigma};
use crate::measure::{Elevation, Length};

/// What a reading is of.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum ReadingOf {
    /// RT at a hull position, by its index in the job.
    Rotary(usize),
    /// The stick-up of a slot at a hull position, by their indices.
    StickUp(usize, usize),
    /// The tally of a slot between two of its points.
    Tally(usize),
    /// A bench, by its index.
    Bench(usize),
    /// The mudline; that of a slot where it has its own.
    Mudline(Option<usize>),
    /// The height reference of an as-cut survey.
    Benchmark,
    /// The finished top of a slot.
    AsCut(usize),
    /// A row of a file of readings, by its line.
    File(u32),
    /// An entry of the journal, by its number.
    Journal(u64),
}

impl ReadingOf {
    /// The word in JSON.
    pub const fn word(&self) -> &'static str {
        match self {
            Self::Rotary(_) => "rotary",
            Self::StickUp(..) => "stick-up",
            Self::Tally(_) => "tally",
            Self::Bench(_) => "bench",
            Self::Mudline(_) => "mudline",
            Self::Benchmark => "benchmark",
            Self::AsCut(_) => "as-cut",
            Self::File(_) => "file",
            Self::Journal(_) => "journal",
        }
    }
}

/// A name of a point, and the one that was probably meant, where there is one.
pub type DoubtedName = (String, Option<String>);

/// A network whose readings are known for what they are.
#[derive(Clone, Debug, PartialEq)]
pub struct ReadNetwork {
    /// The network.
    pub network: Network,
    /// What each of its readings is of.
    pub of: Vec<ReadingOf>,
    /// What each was read as: its rise, but for stick-ups.
    pub shown: Vec<Length>,
    /// What was added to rises before they entered.
    pub corrections: Vec<CorrectionLine>,
    /// What corrections are on that no reading is.
    pub idle_corrections: Vec<String>,
    /// Names of points that were probably meant otherwise.
    pub doubted: Vec<DoubtedName>,
    /// Lines of the file of readings that stand twice, each with the line that it repeats.
    pub repeated: Vec<(u32, u32)>,
    /// Entries whose string has moved since, each with its point.
    pub outdated: Vec<(u64, String)>,
}

/// The lines of a file that stand twice.
pub(super) fn repeated(file: &[FileReading]) -> Vec<(u32, u32)> {
    file.iter()
        .filter_map(|it| it.repeats.map(|first| (it.line, first)))
        .collect()
}

/// What a reading was made with, where the common tape was.
const BY_TAPE: &str = "tape";

/// Whether a reading was made with the common tape.
pub(super) fn is_by_tape(how: Option<&str>) -> bool {
    how.is_some_and(|how| how.eq_ignore_ascii_case(BY_TAPE))
}

/// The name of the point of an elevation of 0.
pub const DATUM: &str = "datum";

impl ReadNetwork {
    /// The readings of a file alone, with what is fixed. A tape has no scale error there: nothing states one.
    pub fn of_file(file: &[FileReading], fixed: &[(String, Elevation)]) -> Self {
        let mut read = Self {
            network: Network::new(None),
            of: Vec::new(),
            shown: Vec::new(),
            corrections: Vec::new(),
            idle_corrections: Vec::new(),
            doubted: Vec::new(),
            repeated: repeated(file),
            outdated: Vec::new(),
        };
        for (name, at) in fixed {
            read.network.fix(name, *at);
        }
        for it in file {
            read.add(
                (&it.from, &it.to),
                (it.rise, Length::ZERO),
                it.sigma(),
                ReadingOf::File(it.line),
            );
        }
        read
    }

    /// The rise of a reading as it was read, before anything was added.
    pub fn rise_as_read(&self, reading: usize) -> Length {
        let rise = self.network.readings.get(reading).map(|it| it.rise);
        let added = self.corrections.iter().filter(|it| it.reading == reading);
        rise.unwrap_or_default() - added.map(|it| it.value).sum()
    }

    /// Adds corrections to the last reading.
    pub(super) fn correct(&mut self, added: Vec<(&'static str, Length)>) {
        let Some(reading) = self.network.readings.len().checked_sub(1) else {
            return;
        };
        for (kind, value) in added {
            self.network.raise(reading, value);
            self.corrections.push(CorrectionLine {
                reading,
                kind,
                value,
            });
        }
    }

    pub(super) fn add(
        &mut self,
        points: (&str, &str),
        (rise, tape): (Length, Length),
        sigma: Sigma,
        of: ReadingOf,
    ) {
        let ends = (self.network.point(points.0), self.network.point(points.1));
        self.add_between(ends, (rise, tape), sigma, of);
    }

    pub(super) fn add_between(
        &mut self,
        ends: (usize, usize),
        (rise, tape): (Length, Length),
        sigma: Sigma,
        of: ReadingOf,
    ) {
        self.network.read_between(ends, (rise, tape), sigma);
        self.of.push(of);
        self.shown.push(rise);
    }
}

/// The variance of so many of each, in square metres; `None` where one that is needed is not stated.
pub(super) fn variance(parts: &[(usize, Option<Length>)]) -> Sigma {
    let needed = parts.iter().filter(|(count, _)| *count > 0);
    let terms = needed.map(|(count, sigma)| {
        let sigma = sigma.as_ref()?.real_metres();
        let count = f64::from(u32::try_from(*count).unwrap_or(u32::MAX));
        Some(count * sigma * sigma)
    });
    Sigma::of_variance(terms.sum())
}

/// The name of a hull position's point.
pub fn rotary_point(hull: &str) -> String {
    format!("rotary@{hull}")
}

/// The name of the point at the top of a slot's conductor.
pub fn top_point(slot: &str) -> String {
    format!("{slot}.top")
}
