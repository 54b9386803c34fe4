//! Other lists of a slot's string: what differs from the tally of record, what is decided, and what
//! adopting another list would move.

use super::slot::{self, SlotFigures};
use crate::flag::{Code, Flag, Place};
use crate::job::{Job, OtherList};
use crate::measure::{Elevation, Show};
use crate::reconcile::{Bridge, Difference, bridge, differences};
use crate::tally::Tally;

/// Another list against the tally of record.
#[derive(Clone, Debug, PartialEq)]
pub struct ListFigures {
    /// The bridge from the tally of record to this list.
    pub bridge: Bridge,
    /// What asks for a decision, in the bridge's order.
    pub differences: Vec<Difference>,
    /// What would move if this list were the tally of record: in words, the weightiest first.
    pub would_move: Vec<String>,
}

/// One for each list that could be read; `None` for those that could not.
pub(super) fn of_slot(
    job: &Job,
    index: usize,
    tally: &Tally,
    figures: &SlotFigures,
    lists: &[OtherList],
) -> Vec<Option<ListFigures>> {
    let Some(slot) = job.slots.get(index) else {
        return Vec::new();
    };
    let pins = job
        .pipes
        .get(slot.pipe)
        .map(|pipe| pipe.pins)
        .unwrap_or_default();
    lists
        .iter()
        .map(|list| {
            let other = list.tally.as_ref().ok()?;
            let bridge = bridge(tally, other, pins);
            let with_it = slot::compute(job, index, slot, other);
            Some(ListFigures {
                differences: differences(tally, other, &bridge),
                would_move: would_move(job, (tally, figures), (other, &with_it)),
                bridge,
            })
        })
        .collect()
}

/// What of the landing, the cut and what is fitted another list would move.
fn would_move(
    job: &Job,
    (tally, now): (&Tally, &SlotFigures),
    (other, then): (&Tally, &SlotFigures),
) -> Vec<String> {
    let show = Show::new(job.units);
    let mut words = Vec::new();
    let mut moves = |what: &str, now: Option<Elevation>, then: Option<Elevation>| match (now, then)
    {
        (Some(now), Some(then)) if now != then => {
            words.push(format!("{what} moves by {}", show.difference(then - now)));
        }
        (Some(_), None) => words.push(format!("{what} would not be known")),
        (None, Some(_)) => words.push(format!("{what} would be known")),
        _ => {}
    };
    let shoulder = |figures: &SlotFigures| figures.shoulder.and_then(|it| it.elevation);
    moves("the landing shoulder", shoulder(now), shoulder(then));
    moves("the shoe", now.shoe, then.shoe);
    moves("the top", now.top, then.top);
    if let (Some(one), Some(two)) = (&now.cut.place, &then.cut.place) {
        let joints = (now.number(tally, one.piece), then.number(other, two.piece));
        if joints.0 != joints.1 {
            words.push(format!(
                "the cut would lie in {}, not in {}",
                joints.1, joints.0
            ));
        }
        if let Some((one, two)) = one.to_connection.zip(two.to_connection)
            && one != two
        {
            words.push(format!(
                "the cut would stand {} off the nearest connection, not {}",
                show.text(two),
                show.text(one)
            ));
        }
    } else if now.cut.place.is_some() != then.cut.place.is_some() {
        words.push("the cut would not lie on the string, or only then".to_owned());
    }
    for (one, two) in now.accessories.iter().zip(&then.accessories) {
        let Some(accessory) = job.accessories.get(one.accessory) else {
            continue;
        };
        let place = |figures: &SlotFigures, tally: &Tally, place: &slot::AccessoryPlace| {
            let joint = place
                .piece
                .map(|piece| figures.number(tally, piece).to_owned());
            (joint, place.above_lower_plane, place.clear)
        };
        if place(now, tally, one) != place(then, other, two) {
            words.push(format!("{} would be fitted elsewhere", accessory.name));
        }
    }
    if now.in_keep_outs.len() != then.in_keep_outs.len() {
        words.push(format!(
            "connections in keep-outs: {}, not {}",
            then.in_keep_outs.len(),
            now.in_keep_outs.len()
        ));
    }
    words
}

/// The flags on lists that cannot be read, and on differences that nobody decided.
pub(super) fn flags(job: &Job, lists: &[OtherList], figures: &[Option<ListFigures>]) -> Vec<Flag> {
    let mut flags = Vec::new();
    let mut unreadable = Vec::new();
    let mut open: Vec<String> = Vec::new();
    let mut first = [None; 2];
    let show = Show::new(job.units);
    for (index, (list, figures)) in lists.iter().zip(figures).enumerate() {
        let Some(figures) = figures else {
            let reason = list.tally.as_ref().err();
            let reason = reason.map_or("", String::as_str);
            unreadable.push(format!("{}: {}", list.name, reason.replace('\n', "; ")));
            first[0] = first[0].or(Some(index));
            continue;
        };
        let undecided: Vec<&Difference> = figures
            .differences
            .iter()
            .filter(|it| it.moves > job.open_above && it.decided(&list.decisions).is_none())
            .collect();
        if !undecided.is_empty() {
            let mut named: Vec<String> = undecided
                .iter()
                .take(3)
                .map(|it| {
                    let by = show.difference(it.moves);
                    let by = by.trim_start_matches('+').to_owned();
                    format!("{} of joint {} ({by})", it.matter.name(), it.joint)
                })
                .collect();
            if undecided.len() > named.len() {
                named.push(format!("and {} more", undecided.len() - named.len()));
            }
            open.push(format!("{}: {}", list.name, named.join(", ")));
            first[1] = first[1].or(Some(index));
        }
    }
    if let [Some(list), _] = first {
        flags.push(Flag::new(
            Code::ListUnreadable,
            Place::List(list),
            format!(
                "another list of the string cannot be read: {}",
                unreadable.join(" | ")
            ),
        ));
    }
    if let [_, Some(list)] = first {
        flags.push(Flag::new(
            Code::DifferenceOpen,
            Place::List(list),
            format!(
                "differences that move an elevation by more than {} are not decided: {}",
                show.small(job.open_above),
                open.join(" | ")
            ),
        ));
    }
    flags
}

/// How many differences of a list nobody decided yet.
pub fn left_to_decide(list: &OtherList, figures: &ListFigures) -> usize {
    let open = |difference: &&Difference| difference.decided(&list.decisions).is_none();
    figures.differences.iter().filter(open).count()
}
