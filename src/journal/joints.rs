//! Which joint of which list an entry speaks of.

use super::event::JointRun;
use crate::tally::{Joint, Tally};

/// Where a joint that is run is listed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Source {
    /// In the slot's tally of record, by its index.
    Tally(usize),
    /// In the list of the pipe on deck, by its index.
    Pool(usize),
}

/// The joints of that number, those of the tally first; with a serial, only those that have it or none.
pub(super) fn find<'t>(
    tally: Option<&'t Tally>,
    pool: Option<&'t Tally>,
    run: &JointRun,
) -> Vec<(Source, &'t Joint)> {
    let is_it = |joint: &Joint| {
        let serials = run.serial.as_deref().zip(joint.serial.as_deref());
        joint.number == run.joint && serials.is_none_or(|(one, other)| one == other)
    };
    let of_tally = tally
        .iter()
        .flat_map(|tally| tally.joints.iter().enumerate());
    let of_pool = pool.iter().flat_map(|pool| pool.joints.iter().enumerate());
    let of_tally = of_tally.map(|(index, joint)| (Source::Tally(index), joint));
    let of_pool = of_pool.map(|(index, joint)| (Source::Pool(index), joint));
    of_tally
        .chain(of_pool)
        .filter(|(_, joint)| is_it(joint))
        .collect()
}
