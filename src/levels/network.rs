//! Points and readings.

use std::collections::HashMap;

use crate::measure::{Elevation, Length};

/// How well a reading is known.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Sigma {
    /// A standard deviation above 0, as its variance in square metres.
    Of(f64),
    /// It is stated to be exact.
    Exact,
    /// It is not stated: the reading takes no part.
    NotStated,
}

impl Sigma {
    /// That of a variance in square metres; `None` is one that is not stated.
    pub fn of_variance(variance: Option<f64>) -> Self {
        match variance {
            None => Self::NotStated,
            Some(variance) if variance > 0.0 => Self::Of(variance),
            Some(_) => Self::Exact,
        }
    }
}

/// A reading of a height difference.
#[derive(Clone, Debug, PartialEq)]
pub struct Reading {
    /// The point from which, by its index.
    pub from: usize,
    /// The point to which.
    pub to: usize,
    /// The elevation of `to` less that of `from`, as read.
    pub rise: Length,
    /// The length that the common tape measured for it, with sign; 0 where it was not measured with that.
    pub tape: Length,
    /// How well it is known.
    pub sigma: Sigma,
}

/// A point.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Point {
    /// Its name.
    pub name: String,
    /// Its elevation, where that is fixed.
    pub fixed: Option<Elevation>,
}

/// Readings between points.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Network {
    /// The points, in the order in which they were first named.
    pub points: Vec<Point>,
    /// The readings.
    pub readings: Vec<Reading>,
    /// The standard deviation of the tape's scale, without a unit; `None` where it is not stated. Readings that the
    /// tape measured take no part then.
    pub tape_scale: Option<f64>,
    index: HashMap<String, usize>,
}

impl Network {
    /// One whose tape has this standard deviation of its scale.
    pub fn new(tape_scale: Option<f64>) -> Self {
        Self {
            tape_scale,
            ..Self::default()
        }
    }

    /// The index of a point; it is added where it is new. Names are compared exactly.
    pub fn point(&mut self, name: &str) -> usize {
        if let Some(at) = self.index.get(name) {
            return *at;
        }
        let at = self.points.len();
        self.index.insert(name.to_owned(), at);
        self.points.push(Point {
            name: name.to_owned(),
            fixed: None,
        });
        at
    }

    /// The index of a point that is there.
    pub fn find(&self, name: &str) -> Option<usize> {
        self.index.get(name).copied()
    }

    /// Fixes a point at an elevation.
    pub fn fix(&mut self, name: &str, at: Elevation) {
        let point = self.point(name);
        if let Some(point) = self.points.get_mut(point) {
            point.fixed = Some(at);
        }
    }

    /// Adds a reading between two points of these names.
    pub fn read(&mut self, (from, to): (&str, &str), rise: Length, tape: Length, sigma: Sigma) {
        let ends = (self.point(from), self.point(to));
        self.read_between(ends, (rise, tape), sigma);
    }

    /// Adds a point that no reading finds by its name.
    pub fn unnamed_point(&mut self, name: String) -> usize {
        self.points.push(Point { name, fixed: None });
        self.points.len() - 1
    }

    /// Adds a reading between two points, by their indices.
    pub fn read_between(
        &mut self,
        (from, to): (usize, usize),
        (rise, tape): (Length, Length),
        sigma: Sigma,
    ) {
        self.readings.push(Reading {
            from,
            to,
            rise,
            tape,
            sigma,
        });
    }

    /// Adds to the rise of a reading.
    pub fn raise(&mut self, reading: usize, by: Length) {
        if let Some(reading) = self.readings.get_mut(reading) {
            reading.rise += by;
        }
    }

    /// The name of a point.
    pub fn name(&self, point: usize) -> &str {
        self.points.get(point).map_or("", |it| it.name.as_str())
    }

    /// How well a reading is known, with what the tape adds to what must be stated.
    pub(super) fn sigma_of(&self, reading: &Reading) -> Sigma {
        if !reading.tape.is_zero() && self.tape_scale.is_none() {
            return Sigma::NotStated;
        }
        reading.sigma
    }
}
