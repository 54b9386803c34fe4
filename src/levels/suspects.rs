//! Which readings disagree with the others by more than chance allows, one after the other.

use super::adjust::{Adjusted, AdjustedReading, LIMIT, adjust};
use super::ground::NetworkError;
use super::network::{Network, Sigma};

/// Within which two of them are equal.
const EQUAL: f64 = 1e-9;

/// A reading, or the tape's scale.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum SuspectReading {
    /// A reading, by its index.
    Reading(usize),
    /// That the tape has no scale error.
    Tape,
}

/// What would happen without a reading.
#[derive(Clone, Debug, PartialEq)]
pub struct Suspect {
    /// The reading; several where nothing tells them apart.
    pub readings: Vec<SuspectReading>,
    /// What it has too much by what the others say, in metres; `None` where nothing tells, and of the tape.
    pub blunder: Option<f64>,
    /// Chi-square without it.
    pub chi_square_without: Option<f64>,
}

/// The readings that disagree most, each once those before it are left out. Nothing is left out of the figures.
pub fn suspects(network: &Network, adjusted: &Adjusted) -> Result<Vec<Suspect>, NetworkError> {
    let mut network = network.clone();
    let mut now = adjusted.clone();
    let mut found = Vec::new();
    loop {
        let largest = largest(&now);
        let Some(first) = largest.first().copied() else {
            return Ok(found);
        };
        if largest.len() > 1 {
            found.push(Suspect {
                readings: largest,
                blunder: None,
                chi_square_without: None,
            });
            return Ok(found);
        }
        let blunder = match first {
            SuspectReading::Reading(at) => now.readings.get(at).and_then(AdjustedReading::blunder),
            SuspectReading::Tape => None,
        };
        match first {
            SuspectReading::Reading(at) => {
                if let Some(reading) = network.readings.get_mut(at) {
                    reading.sigma = Sigma::NotStated;
                }
            }
            // A scale that nothing states: the readings alone find it.
            SuspectReading::Tape => network.tape_scale = Some(f64::INFINITY),
        }
        now = adjust(&network)?;
        found.push(Suspect {
            readings: vec![first],
            blunder,
            chi_square_without: Some(now.chi_square),
        });
    }
}

/// The readings whose residual is the largest of all above the limit; several where they are equal.
fn largest(adjusted: &Adjusted) -> Vec<SuspectReading> {
    let readings = adjusted.readings.iter().enumerate();
    let readings = readings.filter_map(|(at, it)| Some((SuspectReading::Reading(at), it.w()?)));
    let tape = adjusted.tape.iter();
    let tape = tape.filter_map(|it| Some((SuspectReading::Tape, it.reading.w()?)));
    let all: Vec<(SuspectReading, f64)> =
        readings.chain(tape).map(|(of, w)| (of, w.abs())).collect();
    let most = all.iter().map(|(_, w)| *w).fold(0.0, f64::max);
    if most <= LIMIT {
        return Vec::new();
    }
    let equal = all
        .into_iter()
        .filter(|(_, w)| most - w <= EQUAL * most.max(1.0));
    equal.map(|(of, _)| of).collect()
}
