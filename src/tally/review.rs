//! What a tally gives reason to look at, once it is made up into a string.

use std::collections::HashSet;

use super::glance::{Glance, Limits};
use super::repeats::repeated;
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
    let seen = Glance::of(tally, string);
    if !seen.numbers_differ {
        flags.extend(duplicates(tally, Code::DuplicateJoint, |joint| {
            Some(&joint.number)
        }));
    }
    if !(seen.serials_differ || tally.serials_are_heats()) {
        flags.extend(duplicates(tally, Code::DuplicateSerial, |joint| {
            joint.serial.as_deref()
        }));
    }
    flags.extend(losses(tally, string, pins, seen.misses_losses));
    flags.extend(outlying_lengths(tally, seen.lengths));
    flags.extend(outlying_losses(tally, string, seen.losses));
    flags.extend(seen.gap.and_then(|gap| gap_in_numbers(tally, gap)));
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

/// Joints whose number or serial is another's too.
fn duplicates<'a>(
    tally: &'a Tally,
    code: Code,
    key: impl Fn(&'a Joint) -> Option<&'a str>,
) -> Option<Flag> {
    let text = |index: usize| tally.joints.get(index).and_then(&key);
    let repeats = repeated(tally.joints.len(), text);
    let first = *repeats.first()?;
    let text = text(first)?;
    Some(Flag::new(
        code,
        Place::Joint(first),
        TallyFinding::Duplicate {
            text: text.to_owned(),
            joints: named(tally, &repeats),
        },
    ))
}

fn losses(tally: &Tally, string: &PipeString, pins: Pins, misses_some: bool) -> Vec<Flag> {
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
    if misses_some && pins.nominal_loss.is_none() && !tally.effective_only {
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

/// Some lengths that are judged against each other, each with the index of its joint.
struct Judged<'a, I> {
    lengths: I,
    tally: &'a Tally,
}

impl<I: Iterator<Item = (usize, Length)> + Clone> Judged<'_, I> {
    /// Twice their median, which is exact for an even number too.
    fn twice_the_median(&self) -> Option<Length> {
        let mut lengths: Vec<Length> = self.lengths.clone().map(|(_, length)| length).collect();
        let middle = lengths.len() / 2;
        if middle >= lengths.len() {
            return None;
        }
        let is_odd = lengths.len() % 2 == 1;
        let (below, upper, _) = lengths.select_nth_unstable(middle);
        let lower = if is_odd {
            Some(*upper)
        } else {
            below.iter().max().copied()
        };
        Some(lower? + *upper)
    }

    /// What is said of those that lie far off, by twice the median.
    fn far(&self, code: Code, is_far: impl Fn(usize, Length, Length) -> bool) -> Option<Flag> {
        let twice = self.twice_the_median()?;
        let lengths = self.lengths.clone();
        let far: Vec<usize> = lengths
            .filter(|(index, length)| is_far(*index, *length, twice))
            .map(|(index, _)| index)
            .collect();
        Some(Flag::new(
            code,
            Place::Joint(*far.first()?),
            TallyFinding::Outlying {
                median: Length::from_nm(twice.nm() / 2),
                joints: named(self.tally, &far),
            },
        ))
    }
}

/// Whether a joint without a kind is called a pup where it is numbered or in its remarks.
fn called_a_pup(joint: &Joint) -> bool {
    let remarks = joint.remarks();
    Kind::names_a_pup(&joint.number) || remarks.is_some_and(Kind::names_a_pup)
}

/// Where the least and the greatest lie so close that nothing can be far off, no joint is looked at again.
fn outlying_lengths(tally: &Tally, limits: Limits) -> Option<Flag> {
    let (least, greatest) = limits.of(JUDGED_FROM)?;
    if greatest.times(2) <= least.times(3) {
        return None;
    }
    let joints = tally.joints.iter().enumerate();
    let ordinary = joints.filter(|(_, joint)| Kind::is_ordinary(joint.kind));
    let judged = Judged {
        lengths: ordinary.filter_map(|(index, joint)| Some((index, joint.length?))),
        tally,
    };
    // Outside 0.5 to 1.5 times the median, both limits in: 4 L against the median doubled.
    judged.far(Code::LengthOutlier, |index, length, twice| {
        (length.times(4) < twice || length.times(4) > twice.times(3))
            && !tally.joints.get(index).is_some_and(called_a_pup)
    })
}

fn outlying_losses(tally: &Tally, string: &PipeString, limits: Limits) -> Option<Flag> {
    let (least, greatest) = limits.of(JUDGED_FROM)?;
    if greatest - least <= LOSS_SCATTER {
        return None;
    }
    let open_end = string.open_end();
    let joints = tally.joints.iter().enumerate();
    let ordinary =
        joints.filter(|(index, joint)| *index != open_end && Kind::is_ordinary(joint.kind));
    let judged = Judged {
        lengths: ordinary.filter_map(|(index, joint)| Some((index, joint.makeup_loss?))),
        tally,
    };
    judged.far(Code::LossOutlier, |_, loss, twice| {
        (loss.times(2) - twice).abs() > LOSS_SCATTER.times(2)
    })
}

/// The joint after which numbers are left out, and the next.
fn gap_in_numbers(tally: &Tally, gap: usize) -> Option<Flag> {
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
