//! Names of points that were probably meant otherwise: a name that no reading of the job has checks nothing.

use std::collections::BTreeMap;

use crate::job::Job;
use crate::journal::Inputs;
use crate::levels::Network;

/// A name, and the one that was probably meant, where there is one.
pub type DoubtedName = (String, Option<String>);

/// What is left of a name once case, spaces and signs that are not seen are taken off.
fn plain(name: &str) -> String {
    let seen = name
        .chars()
        .filter(|it| it.is_alphanumeric() || ".@-_".contains(*it));
    seen.flat_map(char::to_lowercase).collect()
}

/// The names of a network that were probably meant otherwise: each once, in the order of its points.
pub(super) fn doubted(job: &Job, inputs: &Inputs, network: &Network) -> Vec<DoubtedName> {
    let names = || network.points.iter().map(|it| it.name.as_str());
    let mut first: BTreeMap<String, &str> = BTreeMap::new();
    let mut found: Vec<DoubtedName> = Vec::new();
    for name in names() {
        match first.get(&plain(name)) {
            None => {
                first.insert(plain(name), name);
            }
            Some(known) if *known != name => {
                found.push((name.to_owned(), Some((*known).to_owned())));
            }
            Some(_) => {}
        }
    }
    for name in names().filter(|it| is_of_no_part(job, inputs, it)) {
        if found.iter().all(|(known, _)| known != name) {
            found.push((name.to_owned(), None));
        }
    }
    found
}

/// Whether a name has the form of one of the job's own points, and the job has no such.
fn is_of_no_part(job: &Job, inputs: &Inputs, name: &str) -> bool {
    if let Some(hull) = name.strip_prefix("rotary@") {
        return job.hulls.iter().all(|it| it.name != hull);
    }
    if name == "rotary" {
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
