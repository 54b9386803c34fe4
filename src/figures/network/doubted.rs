//! Names of points that were probably meant otherwise: a name that no reading of the job has checks nothing.

use std::collections::{BTreeMap, BTreeSet};

use super::read::{DoubtedName, ReadNetwork, ReadingOf};
use crate::job::Job;
use crate::journal::Inputs;

/// Letters of a name below which one that differs says nothing.
const SHORT: usize = 5;

/// What is left of a name once case, spaces and signs are taken off; signs between two digits stay as a point, for 1-1 is not
/// 11. A name of signs alone stays as it is.
fn plain(name: &str) -> String {
    let mut left = String::new();
    let mut is_after_sign = false;
    for letter in name.chars() {
        if letter.is_alphanumeric() {
            let ends_in_digit = left.ends_with(|it: char| it.is_ascii_digit());
            if is_after_sign && ends_in_digit && letter.is_ascii_digit() {
                left.push('.');
            }
            left.extend(letter.to_lowercase());
        }
        is_after_sign = !letter.is_alphanumeric();
    }
    if left.is_empty() {
        name.to_owned()
    } else {
        left
    }
}

/// The names of a network that were probably meant otherwise: each once, in the order of its points.
pub(super) fn doubted(job: &Job, inputs: &Inputs, read: &ReadNetwork) -> Vec<DoubtedName> {
    let network = &read.network;
    let mut own = BTreeSet::new();
    let mut times: BTreeMap<usize, usize> = BTreeMap::new();
    for (reading, of) in network.readings.iter().zip(&read.of) {
        let ends = [reading.from, reading.to];
        match of {
            ReadingOf::File(_) | ReadingOf::Journal(_) => {
                for end in ends {
                    *times.entry(end).or_insert(0) += 1;
                }
            }
            _ => own.extend(ends),
        }
    }
    let points = || network.points.iter().map(|it| it.name.as_str()).enumerate();
    let mut known: BTreeMap<String, &str> = points()
        .filter(|(at, _)| own.contains(at))
        .map(|(_, name)| (plain(name), name))
        .collect();
    let stated: Vec<(String, &str)> = known.iter().map(|(key, it)| (key.clone(), *it)).collect();
    let mut found = Vec::new();
    for (at, name) in points().filter(|(at, _)| !own.contains(at)) {
        let key = plain(name);
        let meant = match known.get(&key) {
            Some(other) => Some(*other),
            None if times.get(&at) == Some(&1) => near(&key, &stated),
            None => None,
        };
        known.entry(key).or_insert(name);
        if meant.is_some() || is_of_no_part(job, inputs, name) {
            found.push((name.to_owned(), meant.map(str::to_owned)));
        }
    }
    found
}

/// The point of the job that a name read only once is all but: a letter more, less or other, or a part of its words.
fn near<'a>(name: &str, stated: &[(String, &'a str)]) -> Option<&'a str> {
    let digits = |of: &str| of.chars().filter(char::is_ascii_digit).collect::<String>();
    let is_long = name.chars().count() >= SHORT;
    let one_off = |(other, _): &&(String, &str)| {
        let is_near = strsim::osa_distance(name, other) == 1;
        is_long && is_near && digits(name) == digits(other)
    };
    let part_of = |(other, _): &&(String, &str)| {
        is_long && (other.starts_with(name) || other.ends_with(name))
    };
    let found = stated.iter().find(one_off);
    found
        .or_else(|| stated.iter().find(part_of))
        .map(|(_, other)| *other)
}

/// Whether a name has the form of one of the job's own points, and the job has no such.
fn is_of_no_part(job: &Job, inputs: &Inputs, name: &str) -> bool {
    if let Some(hull) = name.strip_prefix("rotary@") {
        return job.hulls.iter().all(|it| it.name != hull);
    }
    let is_rotary = |key: &str| key == "rotary" || key == "rt" || key.starts_with("rtat");
    if is_rotary(&plain(name)) {
        return true;
    }
    let mut slots = job.slots.iter().zip(&inputs.tallies);
    let own = slots.find_map(|(slot, tally)| {
        let point = name.strip_prefix(slot.name.as_str())?;
        Some((tally, point.strip_prefix('.')?))
    });
    match own {
        Some((tally, point)) => match point.strip_prefix("plane@") {
            Some(joint) => tally.joints.iter().all(|it| it.number != joint),
            None => point == "plane",
        },
        None => name
            .rsplit_once('.')
            .is_some_and(|(_, point)| matches!(point, "top" | "shoe" | "shoulder" | "cut")),
    }
}
