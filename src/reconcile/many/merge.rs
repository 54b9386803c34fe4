//! Which joint of each list is which: the lists are aligned one after the other with the rows so far.

use super::NamedList;
use crate::reconcile::align::{Aligned, align};
use crate::tally::{Joint, Tally};

/// One joint, with where each list has it.
#[derive(Clone, Debug)]
pub(super) struct Merged {
    /// The joint as the first list that has it gives it: the next lists are aligned with this.
    pub(super) joint: Joint,
    /// For each list its index there.
    pub(super) at: Vec<Option<usize>>,
    /// For each list whether it is out of the order of the rows there.
    pub(super) moved: Vec<bool>,
}

/// The rows of all lists, shoe first: those of the first list in its order, others where they are among those.
pub(super) fn merge(lists: &[NamedList<'_>]) -> Vec<Merged> {
    let mut rows: Vec<Merged> = Vec::new();
    for (list, named) in lists.iter().enumerate() {
        let tally = named.tally;
        let known = Tally::of_joints(
            rows.iter().map(|row| row.joint.clone()).collect(),
            lists.iter().take(list).any(|it| it.tally.effective_only),
        );
        let mut before: Vec<Option<Merged>> = rows.into_iter().map(Some).collect();
        let mut after = Vec::with_capacity(before.len());
        for aligned in align(&known, tally).joints {
            let (row, here) = aligned.places();
            let mut merged = match row.and_then(|row| before.get_mut(row)) {
                Some(row) => row.take(),
                None => here
                    .and_then(|here| tally.joints.get(here))
                    .map(|joint| Merged {
                        joint: joint.clone(),
                        at: vec![None; list],
                        moved: vec![false; list],
                    }),
            };
            if let Some(row) = &mut merged {
                row.at.push(here);
                let moved = matches!(aligned, Aligned::Both { moved: true, .. });
                row.moved.push(moved);
                // A later list may name by serial what the first one knows by number alone.
                if row.joint.serial.is_none() {
                    let joint = here.and_then(|here| tally.joints.get(here));
                    row.joint.serial = joint.and_then(|joint| joint.serial.clone());
                }
            }
            after.extend(merged);
        }
        rows = after;
    }
    rows
}
