//! What one walk over the joints of a tally tells: most lists hold nothing that needs another.

use std::cmp::Ordering;

use super::joint::split_number;
use super::{Joint, Kind, PipeString, Tally};
use crate::measure::Length;

/// Whether values rise one after the other, or fall.
#[derive(Clone, Copy, Debug)]
pub(super) struct Run<T> {
    before: Option<T>,
    /// Whether each so far is greater than the one before it.
    pub(super) rises: bool,
    /// Whether each is less.
    pub(super) falls: bool,
}

impl<T> Default for Run<T> {
    fn default() -> Self {
        Self {
            before: None,
            rises: true,
            falls: true,
        }
    }
}

impl<T: PartialOrd> Run<T> {
    pub(super) fn take(&mut self, value: T) {
        if let Some(before) = &self.before {
            // One comparison: texts cost.
            let order = before.partial_cmp(&value);
            self.rises &= order == Some(Ordering::Less);
            self.falls &= order == Some(Ordering::Greater);
        }
        self.before = Some(value);
    }

    /// Whether all so far rise, or all fall: then no two are the same.
    pub(super) const fn is_in_order(&self) -> bool {
        self.rises || self.falls
    }
}

/// The least and the greatest of some lengths, and how many there are.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Limits {
    limits: Option<(Length, Length)>,
    count: usize,
}

impl Limits {
    fn take(&mut self, length: Length) {
        let (least, greatest) = self.limits.unwrap_or((length, length));
        self.limits = Some((least.min(length), greatest.max(length)));
        self.count += 1;
    }

    /// The least and the greatest, where there are so many at least.
    pub(super) fn of(&self, at_least: usize) -> Option<(Length, Length)> {
        self.limits.filter(|_| self.count >= at_least)
    }
}

/// A text by its length, then by its letters: in this order numbers rise as they are counted.
type Counted<'a> = (usize, &'a str);

/// Whether texts rise, or fall, so that no two are the same.
fn are_in_order<'a>(texts: impl Iterator<Item = &'a str>) -> bool {
    let mut run: Run<Counted<'_>> = Run::default();
    for text in texts {
        run.take((text.len(), text));
        if !run.is_in_order() {
            return false;
        }
    }
    true
}

/// What is seen of the joints.
#[derive(Debug)]
pub(super) struct Glance {
    /// Whether no two of their numbers are the same, told by their order; and of their serials.
    pub(super) numbers_differ: bool,
    pub(super) serials_differ: bool,
    /// Lengths and losses of ordinary joints, the loss at the open end aside.
    pub(super) lengths: Limits,
    pub(super) losses: Limits,
    /// Whether a joint has no loss, the one with the open end aside.
    pub(super) misses_losses: bool,
    /// The joint of the conductor after which its numbers, which otherwise run in order, leave some out.
    pub(super) gap: Option<usize>,
}

impl Glance {
    pub(super) fn of(tally: &Tally, string: &PipeString) -> Self {
        let (open_end, count) = (string.open_end(), tally.conductor_joints());
        let mut seen = Self {
            numbers_differ: false,
            serials_differ: false,
            lengths: Limits::default(),
            losses: Limits::default(),
            misses_losses: false,
            gap: None,
        };
        let mut serials: Run<Counted<'_>> = Run::default();
        let mut steps = Steps::new();
        for (index, joint) in tally.joints.iter().enumerate() {
            seen.take(joint, index == open_end);
            if let Some(serial) = &joint.serial {
                serials.take((serial.len(), serial));
            }
            if index < count {
                steps.take(index, joint);
            }
        }
        seen.serials_differ = serials.is_in_order();
        // The texts themselves are looked at only where the numbers in them do not tell.
        let numbers = tally.joints.iter().map(|joint| joint.number.as_str());
        let is_all = count == tally.joints.len();
        seen.numbers_differ = (is_all && steps.are_in_order()) || are_in_order(numbers);
        seen.gap = steps.gap();
        seen
    }

    fn take(&mut self, joint: &Joint, is_open_end: bool) {
        let is_ordinary = Kind::is_ordinary(joint.kind);
        if let Some(length) = joint.length.filter(|_| is_ordinary) {
            self.lengths.take(length);
        }
        match joint.makeup_loss {
            _ if is_open_end => {}
            Some(loss) if is_ordinary => self.losses.take(loss),
            Some(_) => {}
            None => self.misses_losses = true,
        }
    }
}

/// Numbers of one beginning, and the first step between two of them that leaves some out.
#[derive(Debug)]
struct Steps<'a> {
    prefix: Option<&'a str>,
    before: u64,
    numbers: Run<u64>,
    gap: Option<usize>,
    /// Whether they have one beginning.
    are_alike: bool,
}

impl<'a> Steps<'a> {
    fn new() -> Self {
        Self {
            prefix: None,
            before: 0,
            numbers: Run::default(),
            gap: None,
            are_alike: true,
        }
    }

    fn take(&mut self, index: usize, joint: &'a Joint) {
        if !self.are_alike {
            return;
        }
        let Some((prefix, number)) = split_number(&joint.number) else {
            self.are_alike = false;
            return;
        };
        self.are_alike = *self.prefix.get_or_insert(prefix) == prefix;
        if index > 0 && self.gap.is_none() && number.abs_diff(self.before) > 1 {
            self.gap = Some(index - 1);
        }
        self.numbers.take(number);
        self.before = number;
    }

    fn are_in_order(&self) -> bool {
        self.are_alike && self.numbers.is_in_order()
    }

    fn gap(&self) -> Option<usize> {
        self.gap.filter(|_| self.are_in_order())
    }
}
