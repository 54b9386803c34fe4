//! A value and its uncertainty, together.
//!
//! An uncertainty is a list of terms, each from one source. Independent terms add in quadrature, a term
//! that is common to several readings adds linearly within itself first (GUM, JCGM 100). Two estimates
//! know which sources they share: what they share cancels in their difference as far as it acts on both
//! alike. Expanded uncertainty is U = 2 u.

use std::sync::Arc;

use super::ranges::range_factor;
use crate::job::Hull;
use crate::measure::Length;

/// The square of a standard uncertainty, in square nanometres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Variance(f64);

impl Variance {
    /// Known exactly.
    pub const ZERO: Self = Self(0.0);

    /// Of a standard uncertainty given as a length.
    pub fn of(uncertainty: Length) -> Self {
        Self::of_real(uncertainty.real_nm())
    }

    /// Of a standard uncertainty in nanometres.
    pub fn of_real(nanometres: f64) -> Self {
        Self(nanometres * nanometres)
    }

    /// Two independent terms together.
    #[must_use]
    pub fn and(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }

    /// So many independent terms of this size.
    #[must_use]
    #[allow(
        clippy::cast_precision_loss,
        reason = "a count of joints, far below 2^52"
    )]
    pub fn times(self, count: usize) -> Self {
        Self(self.0 * count as f64)
    }

    /// Standard uncertainty u in nanometres.
    pub fn standard_nm(self) -> f64 {
        self.0.sqrt()
    }

    /// Expanded uncertainty U = 2 u in metres.
    pub fn expanded_metres(self) -> f64 {
        2.0 * self.standard_nm() / 1e9
    }

    /// Expanded uncertainty as a length, rounded to the nanometre, for showing it.
    pub fn expanded(self) -> Length {
        Length::nearest_to_metres(self.expanded_metres()).unwrap_or_default()
    }

    /// The square of U, in square nanometres.
    pub(super) fn expanded_square(self) -> f64 {
        4.0 * self.0
    }

    /// Whether U = 2 u is at most a length.
    pub fn expanded_is_within(self, limit: Length) -> bool {
        self.expanded_square() <= limit.real_nm() * limit.real_nm()
    }
}

/// Where an error comes from. Two terms of one source have one and the same error.
#[derive(Clone, Debug, PartialEq)]
pub enum Source {
    /// The elevation of RT at a hull position.
    Rotary(Arc<Hull>),
    /// The reading of a slot's stick-up, by the slot's index.
    StickUp(usize, Arc<Hull>),
    /// The strapped lengths of a slot's string, from the top (and the landing joints above it) down:
    /// of two estimates the one that needs fewer joints shares them all.
    Straps(usize),
    /// The make-ups of those joints.
    MakeUps(usize),
    /// The tape's scale, common to all that it measured.
    TapeScale,
    /// Setting out one mark with the tape: an error of its own each time.
    Marking,
    /// The elevation of a bench, by its index in the job.
    Bench(usize),
    /// The survey of one finished top, by its slot.
    Survey(usize),
    /// The surveys of so many finished tops, of which the highest and the lowest are compared.
    Surveys(usize),
    /// The height references of so many finished tops, surveyed from different set-ups.
    Benchmarks(usize),
    /// So many readings round one finished top, of which the highest and the lowest are compared.
    Rim(usize),
    /// The height reference of the as-cut survey, common to all cuts.
    Benchmark,
    /// The mudline.
    Mudline,
}

/// One independent term of an uncertainty.
#[derive(Clone, Debug, PartialEq)]
pub struct Term {
    /// Where it comes from.
    pub source: Source,
    /// The key of the job file that states it.
    pub key: &'static str,
    /// How many equal and independent errors it is made of: one a joint, one a make-up.
    pub count: usize,
    /// By how many nanometres the value moves for one unit of the error.
    pub sensitivity: f64,
    /// The standard uncertainty of the error, in nanometres or as a ratio; `None` where it is not stated.
    pub sigma: Option<f64>,
}

impl Term {
    /// An error in nanometres that moves the value by as much.
    pub(super) fn plain(source: Source, key: &'static str, sigma: Option<Length>) -> Self {
        Self::several(source, key, 1, sigma)
    }

    /// So many such errors.
    pub(super) fn several(
        source: Source,
        key: &'static str,
        count: usize,
        sigma: Option<Length>,
    ) -> Self {
        Self {
            source,
            key,
            count,
            sensitivity: 1.0,
            sigma: sigma.map(Length::real_nm),
        }
    }

    /// The scale error of a tape over a length; `scale` in parts per million.
    pub(super) fn tape_scale(over: Length, scale: Option<f64>) -> Self {
        Self {
            source: Source::TapeScale,
            key: "tape_scale",
            count: 1,
            sensitivity: over.real_nm(),
            sigma: scale.map(|scale| scale * 1e-6),
        }
    }

    /// The range of so many readings of one standard uncertainty: its U is w(n) times that, as if one
    /// error acted on it w(n) / 2 times.
    pub(super) fn range(
        source: Source,
        key: &'static str,
        readings: usize,
        sigma: Option<Length>,
    ) -> Self {
        Self {
            sensitivity: 0.5 * range_factor(readings),
            ..Self::plain(source, key, sigma)
        }
    }

    /// What it adds to the variance; `None` where it is not stated.
    pub fn variance(&self) -> Option<Variance> {
        let one = Variance::of_real(self.sensitivity * self.sigma?);
        Some(one.times(self.count))
    }
}

/// Independent terms together; `None` where one of them is not stated, for nothing is known then. What
/// occurs no time is not needed.
pub fn total(terms: &[Term]) -> Option<Variance> {
    terms
        .iter()
        .filter(|term| term.count > 0)
        .try_fold(Variance::ZERO, |sum, term| Some(sum.and(term.variance()?)))
}

/// A value with the terms of its uncertainty.
#[derive(Clone, Debug, PartialEq)]
pub struct Estimate<T> {
    /// The value, exact.
    pub value: T,
    /// The terms.
    pub terms: Vec<Term>,
    /// How well it is known by all readings adjusted, in the place of the terms: those name then what it rests on.
    pub by_readings: Option<Variance>,
}

impl<T> Estimate<T> {
    /// A value with these terms.
    pub const fn new(value: T, terms: Vec<Term>) -> Self {
        Self {
            value,
            terms,
            by_readings: None,
        }
    }

    /// The same, known as well as all readings adjusted have it; as the terms have it where those do not say.
    #[must_use]
    pub(super) fn known_by(self, by_readings: Option<Variance>) -> Self {
        Self {
            by_readings,
            ..self
        }
    }

    /// How well it is known; `None` where an uncertainty that it needs is not stated.
    pub fn variance(&self) -> Option<Variance> {
        self.by_readings.or_else(|| total(&self.terms))
    }

    /// U = 2 u, rounded to the nanometre, for showing it.
    pub fn expanded(&self) -> Option<Length> {
        self.variance().map(Variance::expanded)
    }
}
