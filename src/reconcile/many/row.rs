//! A joint in all lists of its string, and how far they agree on it: data, no sentence.

use super::agree::State;
use crate::measure::Length;
use crate::reconcile::decide::{FAR, Refusal, Topic};
use crate::reconcile::lengths::LONGEST_LOSS;
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
    /// Its effective length, where the list gives no other.
    pub effective: Option<Length>,
    /// Its make-up loss, where one is written.
    pub loss: Option<Length>,
    /// Whether it is out of the order of the rows there.
    pub moved: bool,
    /// The row of the joint below it there, of those that keep the order of the rows; `None` at the shoe.
    pub above: Option<usize>,
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

impl ListedJoint {
    pub(super) const fn place_of(&self) -> Place {
        Place {
            place: self.place,
            above: self.above,
            moved: self.moved,
        }
    }
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
    /// Its number, of the lists that number joints alike.
    pub number: Agreement<String>,
}

impl ListRow {
    /// The state of a thing of it.
    pub const fn state(&self, of: Topic) -> State {
        match of {
            Topic::Length => self.length.state,
            Topic::MakeupLoss => self.loss.state,
            Topic::Presence => self.presence.state,
            Topic::Place => self.place.state,
            Topic::Number => self.number.state,
        }
    }

    /// The lists from which a thing of it comes.
    pub fn from(&self, of: Topic) -> &[usize] {
        match of {
            Topic::Length => &self.length.from,
            Topic::MakeupLoss => &self.loss.from,
            Topic::Presence => &self.presence.from,
            Topic::Place => &self.place.from,
            Topic::Number => &self.number.from,
        }
    }

    /// The lists that say something else of a thing of it.
    pub fn against(&self, of: Topic) -> &[Against] {
        match of {
            Topic::Length => &self.length.against,
            Topic::MakeupLoss => &self.loss.against,
            Topic::Presence => &self.presence.against,
            Topic::Place => &self.place.against,
            Topic::Number => &self.number.against,
        }
    }

    /// Who decided a thing of it; several where they contradict each other.
    pub fn decided_by(&self, of: Topic) -> &[ListChoice] {
        match of {
            Topic::Length => &self.length.by,
            Topic::MakeupLoss => &self.loss.by,
            Topic::Presence => &self.presence.by,
            Topic::Place => &self.place.by,
            Topic::Number => &self.number.by,
        }
    }

    /// Puts what is chosen of a thing in the place of what stands. `list` is the place of the chosen list among all;
    /// `None` where it was measured again, or where there is no such list.
    pub fn choose(
        &mut self,
        of: Topic,
        (choice, list): (&Choice, Option<usize>),
        state: State,
        by: Vec<ListChoice>,
    ) {
        let measured = match choice {
            Choice::Measured(length) => Some(*length),
            Choice::List(_) => None,
        };
        let listed = list.and_then(|list| self.listed_in(list)).cloned();
        let from: Vec<usize> = list.into_iter().collect();
        match of {
            Topic::Length => {
                let stands = measured.or(listed.as_ref().and_then(|it| it.length));
                self.length.put(state, stands, from, by);
            }
            Topic::MakeupLoss => {
                let stands = measured.or(listed.as_ref().and_then(|it| it.loss));
                self.loss.put(state, stands, from, by);
            }
            Topic::Presence => self.presence.put(state, Some(listed.is_some()), from, by),
            Topic::Place => {
                let stands = listed.as_ref().map(ListedJoint::place_of);
                self.place
                    .put(state, stands.or(self.place.stands), from, by);
            }
            Topic::Number => {
                let stands = listed.map(|it| it.number);
                let stands = stands.or(self.number.stands.take());
                self.number.put(state, stands, from, by);
            }
        }
    }

    /// The state of each thing of it that makes the string.
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

    /// The joint in the first list whose length stands.
    pub fn length_of(&self) -> Option<&ListedJoint> {
        let first = self.length.from.first()?;
        self.listed_in(*first)
    }

    /// Why a value that was measured again cannot stand for a thing of it: another joint, or another unit.
    pub fn refuses(&self, of: Topic, measured: Length) -> Option<Refusal> {
        let loss = self.loss.stands.unwrap_or_default();
        let mut lengths = self.listed.iter().filter_map(|it| it.length).peekable();
        match of {
            Topic::Presence | Topic::Place | Topic::Number => Some(Refusal::NotMeasurable),
            // A tape gives an overall length; taken for an effective one it is wrong by a make-up loss.
            Topic::Length if lengths.peek().is_none() => Some(Refusal::EffectiveOnly),
            Topic::Length if measured <= loss => Some(Refusal::WithinLoss),
            Topic::Length => lengths
                .all(|said| (said - measured).abs() > FAR)
                .then_some(Refusal::Far { most: FAR }),
            Topic::MakeupLoss if measured > LONGEST_LOSS => Some(Refusal::LossTooLong),
            Topic::MakeupLoss => {
                let length = self.length.stands;
                length
                    .is_some_and(|length| measured >= length)
                    .then_some(Refusal::LossOfWholeJoint)
            }
        }
    }

    /// The number that it has in a record.
    pub fn true_number(&self) -> &str {
        self.number.stands.as_deref().unwrap_or(&self.joint)
    }

    /// Its other names, with the lists that give them.
    pub fn other_names(&self) -> impl Iterator<Item = (usize, &str)> {
        let listed = self.listed.iter();
        let names = listed.map(|it| (it.list, it.number.as_str()));
        names.filter(|(_, name)| *name != self.true_number())
    }
}

impl<T> Agreement<T> {
    fn put(&mut self, state: State, stands: Option<T>, from: Vec<usize>, by: Vec<ListChoice>) {
        self.state = state;
        self.stands = stands;
        self.from = from;
        self.by = by;
    }
}

/// All lists of a string.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StringLists {
    /// The length of the string by each list.
    pub lengths: Vec<Length>,
    /// How many joints each list has.
    pub joints: Vec<usize>,
    /// For each list whether it has serials and none of them is in the first.
    pub serials_apart: Vec<bool>,
    /// For each list whether it numbers joints otherwise than the first: then nobody is asked which is true.
    pub numbers_apart: Vec<bool>,
    /// The joints, shoe first.
    pub rows: Vec<ListRow>,
    /// How many things are undecided, those that contradict each other included.
    pub open: usize,
}

impl StringLists {
    /// Lengths and losses that the tally of record has too, but written less fine than what stands: the rows, and of what.
    pub fn rounded(&self) -> Vec<(usize, Topic)> {
        let is_rounded = |row: &ListRow, of: Topic| {
            let Some(listed) = row.listed_in(0) else {
                return false;
            };
            let (agreement, own) = match of {
                Topic::Length => (&row.length, listed.length),
                Topic::MakeupLoss => (&row.loss, listed.loss),
                Topic::Presence | Topic::Place | Topic::Number => return false,
            };
            matches!(agreement.state, State::Agreed | State::Majority)
                && own.is_some()
                && agreement.stands != own
                && agreement.from.contains(&0)
        };
        let rows = self.rows.iter().enumerate();
        let things = rows.flat_map(|(at, row)| Topic::ALL.map(|of| (at, row, of)));
        things
            .filter(|(_, row, of)| is_rounded(row, *of))
            .map(|(at, _, of)| (at, of))
            .collect()
    }

    /// The row of the joint of a number in the first list that has that number; where it has it more than once, on a
    /// line.
    pub fn row_named(&self, number: &str, line: Option<u64>) -> Option<usize> {
        let named = |it: &ListedJoint| {
            it.number == number && line.is_none_or(|line| u64::from(it.line) == line)
        };
        let of_row = |row: &ListRow| {
            let lists = row.listed.iter().filter(|it| named(it));
            lists.map(|it| it.list).min()
        };
        let rows = self.rows.iter().enumerate();
        let found = rows.filter_map(|(at, row)| Some((of_row(row)?, at)));
        found.min_by_key(|(list, _)| *list).map(|(_, at)| at)
    }
}
