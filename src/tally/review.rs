//! What a tally gives reason to look at, once it is made up into a string.

use std::collections::hash_map::Entry;
use std::collections::{HashMap, HashSet};

use super::joint::split_number;
use super::{Joint, Kind, Order, Pins, PipeString, Tally, claims};
use crate::finding::{Code, Flag, JointRef, Named, Place, TallyFinding};
use crate::measure::Length;

/// From how many rows up lengths and losses are judged against each other.
const JUDGED_FROM: usize = 5;

/// How far a make-up loss may lie from the median of the others: connectors are machined, and 25 mm is a
/// misread figure rather than scatter.
pub const LOSS_SCATTER: Length = Length::from_mm(25);

/// Most joints that a flag names before it says how many more there are.
const NAMED: usize = 6;

/// Flags of one tally: order, totals, duplicates, losses, lengths, numbers. In no set order.
pub fn review(tally: &Tally, string: &PipeString, pins: Pins) -> Vec<Flag> {
    let mut flags = Vec::new();
    if tally.order_assumed {
        flags.push(Flag::new(
            Code::OrderAssumed,
            Place::Whole,
            TallyFinding::OrderAssumed,
        ));
    }
    if tally.effective_only {
        flags.push(Flag::new(
            Code::EffectiveOnly,
            Place::Whole,
            TallyFinding::EffectiveOnly,
        ));
    }
    flags.extend(rows_doubted(tally));
    flags.extend(unknown_kinds(tally));
    flags.extend(claims::check(tally, string));
    flags.extend(duplicates(tally, Code::DuplicateJoint, |joint| {
        Some(&joint.number)
    }));
    if !tally.serials_are_heats() {
        flags.extend(duplicates(tally, Code::DuplicateSerial, |joint| {
            joint.serial.as_deref()
        }));
    }
    flags.extend(losses(tally, string, pins));
    flags.extend(outlying_lengths(tally));
    flags.extend(outlying_losses(tally, string));
    flags.extend(gap_in_numbers(tally));
    flags
}

/// A joint with the line that lists it.
fn joint_ref(joint: &Joint) -> JointRef {
    JointRef {
        number: joint.number.to_string(),
        line: joint.line,
    }
}

/// The first of some joints, and how many more there are.
fn named(tally: &Tally, indices: &[usize]) -> Named<JointRef> {
    let first = indices.iter().take(NAMED);
    Named {
        first: first
            .filter_map(|index| tally.joints.get(*index))
            .map(joint_ref)
            .collect(),
        more: indices.len().saturating_sub(NAMED),
    }
}

/// The joint on a line.
fn on_line(tally: &Tally, line: u32) -> Option<JointRef> {
    tally
        .joints
        .iter()
        .find(|joint| joint.line == line)
        .map(joint_ref)
}

fn rows_doubted(tally: &Tally) -> Option<Flag> {
    let count = tally.doubted.len();
    let first = tally.doubted.first()?;
    let rows = tally.doubted.iter().take(NAMED);
    Some(Flag::new(
        Code::RowsDoubted,
        Place::Line(first.line),
        TallyFinding::RowsDoubted {
            rows: Named {
                first: rows
                    .filter_map(|row| Some((on_line(tally, row.line)?, row.sign)))
                    .collect(),
                more: count.saturating_sub(NAMED),
            },
            count,
        },
    ))
}

fn unknown_kinds(tally: &Tally) -> Option<Flag> {
    let first = tally.unknown_kinds.first()?;
    let mut words: Vec<(String, JointRef)> = Vec::new();
    let mut others: HashSet<&str> = HashSet::new();
    for unknown in &tally.unknown_kinds {
        let word = unknown.word.as_str();
        if !others.insert(word) || words.len() >= NAMED {
            continue;
        }
        words.extend(on_line(tally, unknown.line).map(|joint| (word.to_owned(), joint)));
    }
    Some(Flag::new(
        Code::KindUnknown,
        Place::Line(first.line),
        TallyFinding::KindUnknown {
            words: Named {
                more: others.len().saturating_sub(words.len()),
                first: words,
            },
            count: tally.unknown_kinds.len(),
        },
    ))
}

fn duplicates<'a>(
    tally: &'a Tally,
    code: Code,
    key: impl Fn(&'a Joint) -> Option<&'a str>,
) -> Option<Flag> {
    // Where each text occurred first, and whether that place is among the repeats already.
    let mut first_at: HashMap<&str, (usize, bool)> = HashMap::with_capacity(tally.joints.len());
    let mut repeats: Vec<usize> = Vec::new();
    for (index, joint) in tally.joints.iter().enumerate() {
        let Some(text) = key(joint) else { continue };
        match first_at.entry(text) {
            Entry::Occupied(mut seen) => {
                let (first, listed) = *seen.get();
                if !listed {
                    repeats.push(first);
                    seen.insert((first, true));
                }
                repeats.push(index);
            }
            Entry::Vacant(place) => {
                place.insert((index, false));
            }
        }
    }
    let first = *repeats.first()?;
    let text = tally.joints.get(first).and_then(&key)?;
    Some(Flag::new(
        code,
        Place::Joint(first),
        TallyFinding::Duplicate {
            text: text.to_owned(),
            joints: named(tally, &repeats),
        },
    ))
}

fn losses(tally: &Tally, string: &PipeString, pins: Pins) -> Vec<Flag> {
    let mut flags = Vec::new();
    let open_end = string.open_end();
    if let Some((joint, loss)) = tally
        .joints
        .get(open_end)
        .and_then(|joint| Some((joint, joint.makeup_loss?)))
        && !loss.is_zero()
    {
        flags.push(Flag::new(
            Code::LossOnOpenEnd,
            Place::Joint(open_end),
            TallyFinding::LossOnOpenEnd {
                joint: joint_ref(joint),
                loss,
            },
        ));
    }
    if pins.nominal_loss.is_none() && !tally.effective_only {
        let missing: Vec<usize> = tally
            .joints
            .iter()
            .enumerate()
            .filter(|(index, joint)| *index != open_end && joint.makeup_loss.is_none())
            .map(|(index, _)| index)
            .collect();
        if let Some(first) = missing.first() {
            flags.push(Flag::new(
                Code::LossMissing,
                Place::Joint(*first),
                TallyFinding::LossMissing {
                    joints: named(tally, &missing),
                },
            ));
        }
    }
    flags
}

/// Twice the median of some lengths, which is exact for an even number too.
fn twice_the_median(mut lengths: Vec<Length>) -> Option<Length> {
    lengths.sort_unstable();
    let upper = *lengths.get(lengths.len() / 2)?;
    if lengths.len() % 2 == 1 {
        return Some(upper.times(2));
    }
    let lower = *lengths.get((lengths.len() / 2).checked_sub(1)?)?;
    Some(lower + upper)
}

/// Whether a joint without a kind is called a pup where it is numbered or in its remarks.
fn called_a_pup(joint: &Joint) -> bool {
    let remarks = joint.remarks.as_deref();
    Kind::names_a_pup(&joint.number) || remarks.is_some_and(Kind::names_a_pup)
}

fn outlying_lengths(tally: &Tally) -> Option<Flag> {
    let judged: Vec<(usize, Length)> = tally
        .joints
        .iter()
        .enumerate()
        .filter(|(_, joint)| Kind::is_ordinary(joint.kind))
        .filter_map(|(index, joint)| Some((index, Tally::written_length(joint)?)))
        .collect();
    if judged.len() < JUDGED_FROM {
        return None;
    }
    let twice = twice_the_median(judged.iter().map(|(_, length)| *length).collect())?;
    // Outside 0.5 to 1.5 times the median, both limits in: 4 L against the median doubled.
    let far: Vec<usize> = judged
        .iter()
        .filter(|(_, length)| length.times(4) < twice || length.times(4) > twice.times(3))
        .map(|(index, _)| *index)
        .filter(|index| !tally.joints.get(*index).is_some_and(called_a_pup))
        .collect();
    let first = *far.first()?;
    Some(Flag::new(
        Code::LengthOutlier,
        Place::Joint(first),
        TallyFinding::Outlying {
            median: Length::from_nm(twice.nm() / 2),
            joints: named(tally, &far),
        },
    ))
}

fn outlying_losses(tally: &Tally, string: &PipeString) -> Option<Flag> {
    let open_end = string.open_end();
    let judged: Vec<(usize, Length)> = tally
        .joints
        .iter()
        .enumerate()
        .filter(|(index, joint)| *index != open_end && Kind::is_ordinary(joint.kind))
        .filter_map(|(index, joint)| Some((index, joint.makeup_loss?)))
        .collect();
    if judged.len() < JUDGED_FROM {
        return None;
    }
    let twice = twice_the_median(judged.iter().map(|(_, loss)| *loss).collect())?;
    let far: Vec<usize> = judged
        .iter()
        .filter(|(_, loss)| (loss.times(2) - twice).abs() > LOSS_SCATTER.times(2))
        .map(|(index, _)| *index)
        .collect();
    let first = *far.first()?;
    Some(Flag::new(
        Code::LossOutlier,
        Place::Joint(first),
        TallyFinding::Outlying {
            median: Length::from_nm(twice.nm() / 2),
            joints: named(tally, &far),
        },
    ))
}

fn gap_in_numbers(tally: &Tally) -> Option<Flag> {
    let count = tally.conductor_joints();
    let mut numbers = Vec::with_capacity(count);
    let mut prefix = None;
    for joint in tally.joints.iter().take(count) {
        let (before, number) = split_number(&joint.number)?;
        if *prefix.get_or_insert(before) != before {
            return None;
        }
        numbers.push(number);
    }
    let steps = || {
        numbers
            .windows(2)
            .filter_map(|pair| Some((*pair.first()?, *pair.get(1)?)))
    };
    let in_order = steps().all(|(a, b)| b > a) || steps().all(|(a, b)| b < a);
    if !in_order {
        return None;
    }
    let gap = steps().position(|(a, b)| a.abs_diff(b) > 1)?;
    let (below, above) = (tally.joints.get(gap)?, tally.joints.get(gap + 1)?);
    let (first, second) = match tally.order {
        Order::ShoeFirst => (below, above),
        Order::TopFirst => (above, below),
    };
    Some(Flag::new(
        Code::GapInNumbers,
        Place::Joint(gap),
        TallyFinding::GapInNumbers {
            before: joint_ref(first),
            after: joint_ref(second),
        },
    ))
}
