//! The adjustment: weighted least squares of all readings with a standard deviation.

use super::eliminate::{Edges, Eliminated, Inverse};
use super::ground::{Grounded, NetworkError};
use super::network::{Network, Reading, Sigma};
use crate::measure::{Elevation, Length};

/// Above which a residual over its own standard deviation is a suspect: one in a thousand is by chance (W. Baarda).
pub const LIMIT: f64 = 3.2905;

/// A redundancy below this is none.
const NO_REDUNDANCY: f64 = 1e-9;

/// A network adjusted.
#[derive(Clone, Debug, PartialEq)]
pub struct Adjusted {
    /// The points, in the network's order.
    pub points: Vec<AdjustedPoint>,
    /// The readings, in the network's order.
    pub readings: Vec<AdjustedReading>,
    /// The tape's scale; `None` where no reading was measured with it, or its uncertainty is not stated.
    pub tape: Option<Tape>,
    /// Readings with a standard deviation, the tape's scale among them, less what is unknown.
    pub degrees_of_freedom: usize,
    /// The sum of the squares of residuals, each over its variance.
    pub chi_square: f64,
}

/// A point.
#[derive(Clone, Debug, PartialEq)]
pub struct AdjustedPoint {
    /// Its elevation, rounded once to the nanometre.
    pub elevation: Elevation,
    /// Its variance in square metres; `None` where a reading that is not stated ties it.
    pub variance: Option<f64>,
    /// Its covariance with the tape's scale, in metres; 0 without one.
    pub with_tape: f64,
}

impl AdjustedPoint {
    /// Its standard deviation in metres.
    pub fn sigma(&self) -> Option<f64> {
        self.variance.map(f64::sqrt)
    }
}

/// A reading.
#[derive(Clone, Debug, PartialEq)]
pub struct AdjustedReading {
    /// The elevation of `to` less that of `from`, less what the tape's scale adds, less the rise as read; in metres.
    pub residual: f64,
    /// Its standard deviation in metres; 0 where it is exact, `None` where that is not stated.
    pub sigma: Option<f64>,
    /// The share of a mistake in it that its residual shows; 0 where nothing checks it, `None` where it takes no part.
    pub redundancy: Option<f64>,
}

impl AdjustedReading {
    /// The redundancy, where something checks the reading.
    fn checked(&self) -> Option<(f64, f64)> {
        let redundancy = self.redundancy.filter(|it| *it > 0.0)?;
        Some((redundancy, self.sigma?))
    }

    /// The residual over its own standard deviation; `None` where nothing checks it.
    pub fn w(&self) -> Option<f64> {
        let (redundancy, sigma) = self.checked()?;
        Some(self.residual / (sigma * redundancy.sqrt()))
    }

    /// The least mistake that would be found in four cases of five, in metres (W. Baarda: a significance of 0.1 % and a power of 80 %).
    pub fn detectable(&self) -> Option<f64> {
        const FOUND: f64 = LIMIT + 0.8416;
        let (redundancy, sigma) = self.checked()?;
        Some(FOUND * sigma / redundancy.sqrt())
    }

    /// What the other readings say less the rise as read, and how well they say it, in metres.
    pub fn others(&self) -> Option<(f64, f64)> {
        let (redundancy, sigma) = self.checked()?;
        let by = self.residual / redundancy;
        // A redundancy may be 1 up to rounding.
        let share = (1.0 - redundancy).max(0.0) / redundancy;
        Some((by, sigma * share.sqrt()))
    }

    /// What the reading has too much by what the others say, in metres.
    pub fn blunder(&self) -> Option<f64> {
        self.others().map(|(by, _)| -by)
    }
}

/// The tape's scale error, without a unit.
#[derive(Clone, Debug, PartialEq)]
pub struct Tape {
    /// What it is found to be.
    pub scale: f64,
    /// Its variance.
    pub variance: f64,
    /// As a reading that says it is 0: its `residual` is the scale.
    pub reading: AdjustedReading,
}

/// What chi-square may be, and whether it is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ChiSquare {
    /// The least.
    pub lower: f64,
    /// The most.
    pub upper: f64,
}

impl Adjusted {
    /// Within which chi-square lies in 95 of 100 cases; `None` without redundancy.
    pub fn bounds(&self) -> Option<ChiSquare> {
        use statrs::distribution::{ChiSquared, ContinuousCDF as _};
        let freedom = f64::from(u32::try_from(self.degrees_of_freedom).unwrap_or(u32::MAX));
        let distribution = ChiSquared::new(freedom).ok()?;
        Some(ChiSquare {
            lower: distribution.inverse_cdf(0.025),
            upper: distribution.inverse_cdf(0.975),
        })
    }
}

/// Metres of an exact length.
fn metres(length: Length) -> f64 {
    length.real_metres()
}

/// A reading as the adjustment has it.
struct Observed {
    from: Option<usize>,
    to: Option<usize>,
    weight: f64,
    /// What the approximate elevations have more than the rise as read.
    misfit: f64,
    /// The length that the tape measured, less what it measured between the points and their groups.
    tape: f64,
}

/// Adjusts a network.
pub fn adjust(network: &Network) -> Result<Adjusted, NetworkError> {
    Adjustment::of(network)?.outcome()
}

struct Adjustment<'a> {
    network: &'a Network,
    grounded: Grounded,
    /// For each reading; `None` where it takes no part.
    observed: Vec<Option<Observed>>,
    /// The weight of the tape's scale being 0; `None` where there is no such unknown.
    tape_weight: Option<f64>,
}

impl<'a> Adjustment<'a> {
    fn of(network: &'a Network) -> Result<Self, NetworkError> {
        let grounded = Grounded::of(network)?;
        let observed = network.readings.iter();
        let observed = observed
            .map(|reading| observed_as(network, &grounded, reading))
            .collect();
        let mut all = network.readings.iter();
        let uses_tape =
            all.any(|it| !it.tape.is_zero() && !matches!(network.sigma_of(it), Sigma::NotStated));
        let scale = network.tape_scale.filter(|it| *it > 0.0 && uses_tape);
        Ok(Self {
            network,
            grounded,
            observed,
            tape_weight: scale.map(|it| 1.0 / (it * it)),
        })
    }

    fn parts(&self) -> impl Iterator<Item = &Observed> {
        self.observed.iter().flatten()
    }

    /// The edges, and the right-hand sides of the misfits and of the tape.
    fn solved(&self) -> (Eliminated, Vec<f64>, Vec<f64>) {
        let mut edges = Edges::new(self.grounded.unknowns);
        let mut misfits = vec![0.0; self.grounded.unknowns];
        let mut tape = vec![0.0; self.grounded.unknowns];
        for it in self.parts() {
            edges.add(it.from, it.to, it.weight);
            for (end, sign) in [(it.to, 1.0), (it.from, -1.0)] {
                let Some(end) = end else { continue };
                if let Some(sum) = misfits.get_mut(end) {
                    *sum -= sign * it.weight * it.misfit;
                }
                if let Some(sum) = tape.get_mut(end) {
                    *sum += sign * it.weight * it.tape;
                }
            }
        }
        let eliminated = Eliminated::of(edges);
        let (by_misfits, by_tape) = (eliminated.solve(misfits), eliminated.solve(tape));
        (eliminated, by_misfits, by_tape)
    }

    fn outcome(self) -> Result<Adjusted, NetworkError> {
        let (eliminated, by_misfits, by_tape) = self.solved();
        let inverse = eliminated.inverse();
        let at = |of: &[f64], point: Option<usize>| -> f64 {
            point
                .and_then(|point| of.get(point))
                .copied()
                .unwrap_or_default()
        };
        let across = |of: &[f64], it: &Observed| at(of, it.to) - at(of, it.from);
        // The tape's scale: what the readings leave once the points follow it. All terms of its weight are positive.
        let (mut scale, mut scale_variance, mut scale_redundancy) = (0.0, 0.0, 0.0);
        if let Some(weight) = self.tape_weight {
            let left = |it: &Observed| it.tape - across(&by_tape, it);
            let sum: f64 = self.parts().map(|it| it.weight * left(it) * left(it)).sum();
            let product = self
                .parts()
                .map(|it| it.weight * (it.misfit + across(&by_misfits, it)) * left(it));
            scale_variance = 1.0 / (sum + weight);
            // Not 1 less what is left: that would lose the digits by which equal suspects are known.
            scale_redundancy = sum * scale_variance;
            scale = product.sum::<f64>() * scale_variance;
        }
        let solution = Solution {
            moved: by_misfits
                .iter()
                .zip(&by_tape)
                .map(|(one, other)| one + scale * other)
                .collect(),
            by_tape,
            inverse,
            scale,
            scale_variance,
        };
        let mut chi_square = 0.0;
        let mut parts: usize = 0;
        let mut readings = Vec::with_capacity(self.network.readings.len());
        for (reading, observed) in self.network.readings.iter().zip(&self.observed) {
            let Some(it) = observed else {
                let is_exact = self.network.sigma_of(reading) == Sigma::Exact;
                readings.push(AdjustedReading {
                    residual: 0.0,
                    sigma: is_exact.then_some(0.0),
                    redundancy: is_exact.then_some(0.0),
                });
                continue;
            };
            let adjusted = solution.reading(it);
            chi_square += it.weight * adjusted.residual * adjusted.residual;
            parts += 1;
            readings.push(adjusted);
        }
        let tape = self.tape_weight.map(|weight| {
            let known = scale_redundancy;
            Tape {
                scale,
                variance: scale_variance,
                reading: AdjustedReading {
                    residual: scale,
                    sigma: Some((1.0 / weight).sqrt()),
                    redundancy: Some(if known < NO_REDUNDANCY { 0.0 } else { known }),
                },
            }
        });
        chi_square += self
            .tape_weight
            .map_or(0.0, |weight| weight * scale * scale);
        let (points, readings) = self.finish(&solution, readings)?;
        Ok(Adjusted {
            points,
            readings,
            tape,
            degrees_of_freedom: parts.saturating_sub(self.grounded.unknowns),
            chi_square,
        })
    }

    /// The elevations, and the residuals of readings that take no part.
    fn finish(
        &self,
        solution: &Solution<'_>,
        mut readings: Vec<AdjustedReading>,
    ) -> Result<(Vec<AdjustedPoint>, Vec<AdjustedReading>), NetworkError> {
        let points: Vec<Option<AdjustedPoint>> = (0..self.network.points.len())
            .map(|point| self.point(point, solution))
            .collect();
        let untied: Vec<String> = points
            .iter()
            .zip(&self.network.points)
            .filter(|(it, _)| it.is_none())
            .map(|(_, point)| point.name.clone())
            .collect();
        let all: Vec<AdjustedPoint> = points.iter().flatten().cloned().collect();
        if !untied.is_empty() {
            return Err(NetworkError::Untied(untied));
        }
        for (reading, found) in self.network.readings.iter().zip(&mut readings) {
            let (from, to) = (all.get(reading.from), all.get(reading.to));
            if let (None, Some(from), Some(to)) = (found.sigma, from, to) {
                let tape = solution.scale * metres(reading.tape);
                found.residual = metres(to.elevation - from.elevation - reading.rise) - tape;
            }
        }
        Ok((all, readings))
    }

    fn point(&self, point: usize, solution: &Solution<'_>) -> Option<AdjustedPoint> {
        let in_group = self.grounded.point(point);
        let approximate = self.grounded.approximate_of(point)?;
        let unknown = self.grounded.unknown_of(in_group.group);
        let tape = metres(in_group.tape);
        let by_tape = solution.by_tape(unknown) + tape;
        let moved = solution.moved(unknown) + solution.scale * tape;
        let is_unsure = self.grounded.is_unsure.get(point) == Some(&true);
        let variance = solution.inverse.of(unknown) + by_tape * by_tape * solution.scale_variance;
        Some(AdjustedPoint {
            elevation: approximate + Length::nearest_to_metres(moved)?,
            variance: (!is_unsure).then_some(variance),
            with_tape: if is_unsure {
                0.0
            } else {
                by_tape * solution.scale_variance
            },
        })
    }
}

/// A reading with its weight, and by how much approximate elevations miss it; `None` where it takes no part.
fn observed_as(network: &Network, grounded: &Grounded, reading: &Reading) -> Option<Observed> {
    let Sigma::Of(variance) = network.sigma_of(reading) else {
        return None;
    };
    let (from, to) = (grounded.point(reading.from), grounded.point(reading.to));
    if !grounded.is_tied(from.group) || !grounded.is_tied(to.group) {
        return None;
    }
    let approximate = |point: usize| grounded.approximate_of(point);
    let rise = approximate(reading.to)? - approximate(reading.from)?;
    Some(Observed {
        from: grounded.unknown_of(from.group),
        to: grounded.unknown_of(to.group),
        weight: 1.0 / variance,
        misfit: metres(rise - reading.rise),
        tape: metres(reading.tape - (to.tape - from.tape)),
    })
}

struct Solution<'a> {
    /// How far each unknown moves from its approximate elevation, in metres.
    moved: Vec<f64>,
    /// How far each moves for a scale of 1.
    by_tape: Vec<f64>,
    inverse: Inverse<'a>,
    scale: f64,
    scale_variance: f64,
}

impl Solution<'_> {
    fn moved(&self, point: Option<usize>) -> f64 {
        let moved = point.and_then(|point| self.moved.get(point));
        moved.copied().unwrap_or_default()
    }

    fn by_tape(&self, point: Option<usize>) -> f64 {
        let by_tape = point.and_then(|point| self.by_tape.get(point));
        by_tape.copied().unwrap_or_default()
    }

    fn reading(&self, it: &Observed) -> AdjustedReading {
        let left = it.tape - (self.by_tape(it.to) - self.by_tape(it.from));
        let moved = self.moved(it.to) - self.moved(it.from);
        let variance = self.inverse.between(it.from, it.to) + left * left * self.scale_variance;
        let redundancy = 1.0 - it.weight * variance;
        AdjustedReading {
            residual: it.misfit + moved - self.scale * it.tape,
            sigma: Some((1.0 / it.weight).sqrt()),
            redundancy: Some(if redundancy < NO_REDUNDANCY {
                0.0
            } else {
                redundancy
            }),
        }
    }
}
