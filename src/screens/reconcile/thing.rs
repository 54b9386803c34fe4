//! Something of a joint in the lists of its string, found again by what it is, and what was seen of it.

use crate::figures::SlotLists;
use crate::journal::Inputs;
use crate::measure::Length;
use crate::reconcile::Topic;
use crate::reconcile::many::{Choice, ListChoice, ListRow, ListedJoint, StringLists};
use crate::report::said::{Gone, ThingName};

/// Something of a joint.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ThingKey {
    /// What of it.
    pub of: Topic,
    /// Its number in the first list that has it.
    pub joint: String,
    /// The line that lists it there.
    pub line: u64,
    /// Whether no other joint of that list had its number.
    pub alone: bool,
}

impl ThingKey {
    pub(super) fn of(lists: &StringLists, row: usize, of: Topic) -> Option<Self> {
        let listed = lists.rows.get(row)?.listed.first()?;
        let same = |it: &&ListedJoint| it.list == listed.list && it.number == listed.number;
        let rows = lists.rows.iter();
        let count = rows
            .filter(|row| row.listed.iter().any(|it| same(&it)))
            .count();
        Some(Self {
            of,
            joint: listed.number.clone(),
            line: u64::from(listed.line),
            alone: count == 1,
        })
    }

    /// The row of the joint now. Lines move when rows are added above them: a number that occurred once, and does
    /// so still, is the same joint on another line.
    pub(super) fn find(&self, lists: &StringLists) -> Option<usize> {
        let on_its_line = lists.row_named(&self.joint, Some(self.line));
        on_its_line.or_else(|| {
            let row = lists.row_named(&self.joint, None).filter(|_| self.alone)?;
            Self::of(lists, row, self.of).filter(|it| it.alone)?;
            Some(row)
        })
    }
}

/// What the lists say of something, and what is decided of it, as a person saw it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Seen {
    /// The lists that have the joint, by their names, with what they say.
    said: Vec<(String, String)>,
    /// What is decided.
    by: Vec<ListChoice>,
}

impl Seen {
    pub(super) fn of(all: &SlotLists, row: &ListRow, of: Topic) -> Self {
        let exact = |it: Option<Length>| it.map_or_else(String::new, Length::exact_metres);
        let says = |it: &ListedJoint| match of {
            Topic::Length => exact(it.length.or(it.effective)),
            Topic::MakeupLoss => exact(it.loss),
            Topic::Presence => String::new(),
            Topic::Place => it.place.to_string(),
            Topic::Number => it.number.clone(),
        };
        let said = row.listed.iter();
        Self {
            said: said
                .map(|it| (all.name(it.list).to_owned(), says(it)))
                .collect(),
            by: row.decided_by(of).to_vec(),
        }
    }

    /// Why this is no longer what was seen; `None` where it is.
    fn against(&self, now: &Self) -> Option<Gone> {
        if self.said != now.said {
            return Some(Gone::Figures);
        }
        let what = |it: &ListChoice| match &it.choice {
            Choice::List(name) => (it.by.clone(), name.clone()),
            Choice::Measured(length) => (it.by.clone(), format!("{} m", length.exact_metres())),
        };
        (self.by != now.by).then(|| Gone::Decided(now.by.iter().map(what).collect()))
    }
}

/// Something of a joint of one slot's string, and what was seen of it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ThingId {
    /// The slot's name.
    pub slot: String,
    /// What of which joint.
    pub key: ThingKey,
    /// What was seen of it.
    pub seen: Seen,
}

impl ThingId {
    /// Its names, for what is said of it.
    pub(in crate::screens) fn name(&self) -> ThingName {
        ThingName {
            slot: self.slot.clone(),
            joint: self.key.joint.clone(),
            of: self.key.of,
        }
    }

    /// Why it is no longer what was seen, by the lists of its slot now; `None` where it is.
    pub(super) fn changed(&self, all: &SlotLists) -> Option<Gone> {
        let row = self.key.find(&all.lists);
        let Some(row) = row.and_then(|row| all.lists.rows.get(row)) else {
            return Some(Gone::Joint);
        };
        self.seen.against(&Seen::of(all, row, self.key.of))
    }

    /// The same by a job as it was just read, for what is about to be written.
    pub fn changed_in(&self, inputs: &Inputs) -> Option<Gone> {
        let mut slots = inputs.job.slots.iter();
        let slot = slots.position(|it| it.name == self.slot);
        match slot.and_then(|slot| SlotLists::of(inputs, slot)) {
            Some(all) => self.changed(&all),
            None => Some(Gone::Slot),
        }
    }
}
