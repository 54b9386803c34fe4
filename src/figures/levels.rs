//! The readings of a network adjusted, and what has to be said of them.

use super::network::{ReadNetwork, ReadingOf};
use crate::finding::{Code, Flag, LevelFinding, Named, Place, ReadingRef, SuspectRef, sort};
use crate::levels::{Adjusted, NetworkError, Suspect, SuspectReading, adjust, suspects};
use crate::measure::{Length, nearest_whole};

/// Most readings of one flag that are named.
const NAMED: usize = 40;

/// A network with its elevations.
#[derive(Clone, Debug, PartialEq)]
pub struct Levels {
    /// The readings.
    pub read: ReadNetwork,
    /// The elevations that agree best with all of them.
    pub adjusted: Adjusted,
    /// The readings that disagree most.
    pub suspects: Vec<Suspect>,
}

impl Levels {
    /// Adjusts a network.
    pub fn of(read: ReadNetwork) -> Result<Self, NetworkError> {
        let adjusted = adjust(&read.network)?;
        let suspects = suspects(&read.network, &adjusted)?;
        Ok(Self {
            read,
            adjusted,
            suspects,
        })
    }

    /// The name of a reading.
    pub fn reading(&self, at: usize) -> Option<ReadingRef> {
        let reading = self.read.network.readings.get(at)?;
        let of = self.read.of.get(at)?;
        Some(ReadingRef {
            of: of.word(),
            from: self.read.network.name(reading.from).to_owned(),
            to: self.read.network.name(reading.to).to_owned(),
            line: match of {
                ReadingOf::File(line) => Some(*line),
                _ => None,
            },
            entry: match of {
                ReadingOf::Journal(seq) => Some(*seq),
                _ => None,
            },
        })
    }

    /// Whether a reading has a name.
    pub fn is_reading(&self, at: usize, name: &ReadingRef) -> bool {
        self.is_alike(at, name)
            && match self.read.of.get(at) {
                Some(ReadingOf::File(line)) => name.line == Some(*line),
                Some(ReadingOf::Journal(seq)) => name.entry == Some(*seq),
                _ => true,
            }
    }

    /// Whether a reading is of the same between the same points, whatever its line.
    pub fn is_alike(&self, at: usize, name: &ReadingRef) -> bool {
        let network = &self.read.network;
        let found = network.readings.get(at).zip(self.read.of.get(at));
        found.is_some_and(|(reading, of)| {
            of.word() == name.of
                && network.name(reading.from) == name.from
                && network.name(reading.to) == name.to
        })
    }

    /// The name of what is suspected.
    pub fn suspect(&self, of: SuspectReading) -> Option<ReadingRef> {
        match of {
            SuspectReading::Reading(at) => self.reading(at),
            SuspectReading::Tape => Some(ReadingRef {
                of: "tape",
                from: String::new(),
                to: String::new(),
                line: None,
                entry: None,
            }),
        }
    }

    /// Whether a reading is suspected.
    pub fn is_suspect(&self, at: usize) -> bool {
        let mut all = self.suspects.iter().flat_map(|it| &it.readings);
        all.any(|it| *it == SuspectReading::Reading(at))
    }

    /// Whether chi-square lies where it should; `None` without redundancy.
    pub fn passes(&self) -> Option<bool> {
        let bounds = self.adjusted.bounds()?;
        Some((bounds.lower..=bounds.upper).contains(&self.adjusted.chi_square))
    }

    /// U = 2 sigma of a point's elevation; `None` where it is not stated.
    pub fn u_of(&self, point: usize) -> Option<Length> {
        let sigma = self.adjusted.points.get(point)?.sigma()?;
        Length::nearest_to_metres(2.0 * sigma)
    }

    /// Whether chi-square lies above where it should.
    pub fn is_above(&self) -> bool {
        let bounds = self.adjusted.bounds();
        bounds.is_some_and(|it| self.adjusted.chi_square > it.upper)
    }

    /// What has to be said of the readings.
    pub fn flags(&self) -> Vec<Flag> {
        let mut flags = Vec::new();
        if !self.suspects.is_empty() {
            let suspects = self.suspects.iter().map(|it| SuspectRef {
                readings: it
                    .readings
                    .iter()
                    .filter_map(|of| self.suspect(*of))
                    .collect(),
                blunder: it.blunder.and_then(Length::nearest_to_metres),
            });
            let finding = LevelFinding::Suspects {
                suspects: suspects.collect(),
            };
            flags.push(Flag::new(Code::ReadingSuspect, Place::Whole, finding));
        }
        if let (Some(false), Some(bounds)) = (self.passes(), self.adjusted.bounds()) {
            let finding = LevelFinding::Variance {
                value: millionths(self.adjusted.chi_square),
                bounds: [bounds.lower, bounds.upper].map(millionths),
            };
            flags.push(Flag::new(Code::VarianceOutside, Place::Whole, finding));
        }
        let unchecked = self.adjusted.readings.iter().enumerate();
        let unchecked = unchecked
            .filter(|(_, it)| it.redundancy == Some(0.0))
            .filter_map(|(at, _)| self.reading(at));
        let unchecked = Named::of(unchecked, NAMED);
        if !unchecked.first.is_empty() {
            let finding = LevelFinding::Unchecked {
                readings: unchecked,
            };
            flags.push(Flag::new(Code::ReadingUnchecked, Place::Whole, finding));
        }
        if !self.read.idle_corrections.is_empty() {
            let finding = LevelFinding::IdleCorrections {
                on: self.read.idle_corrections.clone(),
            };
            flags.push(Flag::new(Code::CorrectionIdle, Place::Whole, finding));
        }
        if !self.read.doubted.is_empty() {
            let finding = LevelFinding::DoubtedPoints {
                names: Named::of(self.read.doubted.iter().cloned(), NAMED),
            };
            flags.push(Flag::new(Code::PointDoubted, Place::Whole, finding));
        }
        if !self.read.outdated.is_empty() {
            let finding = LevelFinding::Outdated {
                entries: Named::of(self.read.outdated.iter().cloned(), NAMED),
            };
            flags.push(Flag::new(Code::ReadingOutdated, Place::Whole, finding));
        }
        if !self.read.repeated.is_empty() {
            let finding = LevelFinding::Repeated {
                lines: Named::of(self.read.repeated.iter().copied(), NAMED),
            };
            flags.push(Flag::new(Code::ReadingRepeated, Place::Whole, finding));
        }
        sort(&mut flags);
        flags
    }
}

/// A real figure in millionths, rounded; the last count that is kept where it is beyond that.
fn millionths(value: f64) -> i64 {
    nearest_whole(value * 1e6)
}
