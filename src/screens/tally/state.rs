//! The rows of the tally, by what they are.

use crate::report::said::RowName;
use crate::screens::identity::JointId;
use crate::tally::{FileNote, Joint, Skipped, Tally};

/// In which columns of a tally anything stands: a long one is looked through once, not for every picture.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
#[expect(clippy::struct_excessive_bools, reason = "one for each column")]
pub struct FilledColumns {
    pub(super) kind: bool,
    pub(super) overall: bool,
    pub(super) loss: bool,
    pub(super) serial: bool,
    pub(super) remarks: bool,
}

impl FilledColumns {
    /// Of a tally.
    pub fn of(tally: &Tally) -> Self {
        let has = |of: fn(&Joint) -> bool| tally.joints.iter().any(of);
        Self {
            kind: has(|joint| joint.kind.is_some()),
            overall: has(|joint| joint.overall().is_some()),
            loss: has(|joint| joint.makeup_loss.is_some()),
            serial: has(|joint| joint.serial.is_some()),
            remarks: has(|joint| joint.remarks.is_some()),
        }
    }
}

/// Which end of the string is at the top of the list.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum TallyOrder {
    /// The top of the string, as it stands.
    #[default]
    TopUp,
    /// The shoe, in the order of running.
    ShoeUp,
}

impl TallyOrder {
    /// The other way.
    pub(super) const fn other(self) -> Self {
        match self {
            Self::TopUp => Self::ShoeUp,
            Self::ShoeUp => Self::TopUp,
        }
    }

    /// Which row shows a joint, or which joint a row shows; what stands below the joints stays there.
    pub(super) const fn shown(self, row: usize, joints: usize) -> usize {
        match self {
            Self::TopUp if row < joints => joints - 1 - row,
            _ => row,
        }
    }
}

/// A row of the tally.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum TallyRow {
    /// A joint.
    Joint(JointId),
    /// A line not read as a joint, with its text.
    Skipped(u32, String),
    /// A note on the file.
    Note(FileNote),
}

/// How many rows there are: joints, then skipped lines, then notes on the file.
pub fn count(tally: &Tally) -> usize {
    tally.joints.len() + tally.skipped.len() + tally.notes.len()
}

impl TallyRow {
    /// What a row is.
    pub fn at(tally: &Tally, row: usize) -> Option<Self> {
        if let Some(joint) = tally.joints.get(row) {
            return Some(Self::Joint(JointId::of(joint)));
        }
        let under = row - tally.joints.len();
        if let Some(skip) = tally.skipped.get(under) {
            return Some(Self::Skipped(skip.line, skip.text.clone()));
        }
        Some(Self::Note(note(tally, row)?.clone()))
    }

    /// Which row it is now.
    pub fn find(&self, tally: &Tally) -> Option<usize> {
        let under = match self {
            Self::Joint(joint) => return joint.find(tally),
            Self::Skipped(line, text) => {
                let says_it = |it: &Skipped| it.text.as_str() == text;
                let mut skipped = tally.skipped.iter();
                let same = skipped.position(|it| it.line == *line && says_it(it));
                same.or_else(|| tally.skipped.iter().position(says_it))?
            }
            Self::Note(said) => {
                tally.skipped.len() + tally.notes.iter().position(|note| note == said)?
            }
        };
        Some(tally.joints.len() + under)
    }

    /// Its name, for what is said of it.
    pub fn name(&self) -> RowName {
        match self {
            Self::Joint(joint) => RowName::Joint(joint.number.clone()),
            Self::Skipped(line, _) => RowName::Line(*line),
            Self::Note(_) => RowName::Note,
        }
    }
}

/// The note in a row, if there is one.
pub fn note(tally: &Tally, row: usize) -> Option<&FileNote> {
    let before = tally.joints.len() + tally.skipped.len();
    tally.notes.get(row.checked_sub(before)?)
}
