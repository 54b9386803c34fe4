//! A joint in all lists of its string, and how far they agree on it: data, no sentence.

use super::agree::State;
use crate::measure::Length;
use crate::reconcile::decide::Topic;
use crate::reconcile::reasons::ReadingMistake;

/// A decision on something of a joint.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ListDecision {
    /// Of what.
    pub topic: Topic,
    /// The joint's number.
    pub joint: String,
    /// The line that lists it, where its number occurs more than once.
    pub line: Option<u64>,
    /// What each person decided, the latest last.
    pub choices: Vec<ListChoice>,
    /// What the lists said when it was decided last; `None` where that is no figure.
    pub said: Vec<(String, Option<Length>)>,
}

/// What one person decided.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ListChoice {
    /// Who.
    pub by: String,
    /// When; blank where that is not known.
    pub at: String,
    /// What.
    pub choice: Choice,
    /// Why; may be blank.
    pub note: String,
}

/// What someone decided.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Choice {
    /// What a list says.
    List(String),
    /// What was measured again.
    Measured(Length),
}

/// A joint as one list has it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ListedJoint {
    /// The list, by its place among all.
    pub list: usize,
    /// Its index there.
    pub index: usize,
    /// Its place from the shoe, counted from 1.
    pub place: usize,
    /// The line that lists it.
    pub line: u32,
    /// Its number there.
    pub number: String,
    /// Its overall length; `None` where the list gives effective lengths alone.
    pub length: Option<Length>,
    /// Its make-up loss, where one is written.
    pub loss: Option<Length>,
    /// Whether it is out of the order of the rows there.
    pub moved: bool,
    /// Whether it is the open end there, whose loss is not deducted.
    pub open_end: bool,
}

/// Where a joint is in the string.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Place {
    /// Its place from the shoe in the list that stands, counted from 1.
    pub place: usize,
    /// The row of the joint below it there; `None` at the shoe.
    pub above: Option<usize>,
    /// Whether that is out of the order of the rows.
    pub moved: bool,
}

/// A list that does not agree with what stands.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Against {
    /// The list.
    pub list: usize,
    /// What may be the reason.
    pub why: Why,
}

/// Why a list may say something else.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Why {
    /// Mistakes that make what it says of what stands, at least one.
    Mistakes(Vec<ReadingMistake>),
    /// As little as two straps of one joint may differ.
    Straps,
    /// No known mistake.
    Unknown,
}

/// How far the lists agree on something of a joint, and what stands.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Agreement<T> {
    /// How far.
    pub state: State,
    /// What stands; while it is open, what the first list that has it says.
    pub stands: Option<T>,
    /// The lists that say so.
    pub from: Vec<usize>,
    /// The lists that say something else.
    pub against: Vec<Against>,
    /// Who decided; several where they contradict each other.
    pub by: Vec<ListChoice>,
}

/// A joint in all lists.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ListRow {
    /// Its number in the first list that has it.
    pub joint: String,
    /// Its serial, where a list gives one.
    pub serial: Option<String>,
    /// The joint in each list that has it.
    pub listed: Vec<ListedJoint>,
    /// Its length.
    pub length: Agreement<Length>,
    /// Its make-up loss.
    pub loss: Agreement<Length>,
    /// Whether it is in the string.
    pub presence: Agreement<bool>,
    /// Where it is in the string.
    pub place: Agreement<Place>,
}

impl ListRow {
    /// The state of each thing of it.
    pub fn states(&self) -> [(Topic, State); 4] {
        [
            (Topic::Length, self.length.state),
            (Topic::MakeupLoss, self.loss.state),
            (Topic::Presence, self.presence.state),
            (Topic::Place, self.place.state),
        ]
    }

    /// The joint in a list.
    pub fn listed_in(&self, list: usize) -> Option<&ListedJoint> {
        self.listed.iter().find(|it| it.list == list)
    }

    /// Its other names, with the lists that give them.
    pub fn other_names(&self) -> impl Iterator<Item = (usize, &str)> {
        let listed = self.listed.iter();
        let names = listed.map(|it| (it.list, it.number.as_str()));
        names.filter(|(_, name)| *name != self.joint)
    }
}

/// All lists of a string.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StringLists {
    /// The length of the string by each list.
    pub lengths: Vec<Length>,
    /// How many joints each list has.
    pub joints: Vec<usize>,
    /// The joints, shoe first.
    pub rows: Vec<ListRow>,
    /// How many things are undecided, those that contradict each other included.
    pub open: usize,
}
