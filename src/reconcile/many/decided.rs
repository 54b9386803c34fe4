//! What was decided of a joint in the place of what its lists agree on.

use super::agree::State;
use super::row::{Agreement, Choice, ListChoice, ListDecision, ListRow, ListedJoint, Place};
use super::states::ListTable;
use crate::reconcile::decide::Topic;

impl ListTable<'_> {
    /// Puts what was decided of a row in the place of what the lists agree on.
    pub(super) fn decide(&self, row: &mut ListRow) {
        let numbers = row.listed.iter().map(|it| it.number.clone());
        let mut numbers: Vec<String> = numbers.collect();
        numbers.sort_unstable();
        numbers.dedup();
        let all = numbers
            .iter()
            .filter_map(|it| self.decisions.get(it.as_str()));
        for decision in all.flatten() {
            if !self.is_of(decision, row) {
                continue;
            }
            let by = decision.choices.clone();
            let Some(ListChoice { choice, .. }) = decision.choices.last() else {
                continue;
            };
            let state = if decision.choices.iter().any(|it| it.choice != *choice) {
                State::Conflict
            } else {
                State::Decided
            };
            let list = match choice {
                Choice::List(name) => self.lists.iter().position(|it| it.name == *name),
                Choice::Measured(_) => None,
            };
            let measured = match choice {
                Choice::Measured(length) => Some(*length),
                Choice::List(_) => None,
            };
            let listed = list.and_then(|list| row.listed_in(list)).cloned();
            let from: Vec<usize> = list.into_iter().collect();
            match decision.topic {
                Topic::Length => {
                    let stands = measured.or(listed.as_ref().and_then(|it| it.length));
                    put(&mut row.length, state, stands, from, by);
                }
                Topic::MakeupLoss => {
                    let stands = measured.or(listed.as_ref().and_then(|it| it.loss));
                    put(&mut row.loss, state, stands, from, by);
                }
                Topic::Presence => {
                    put(&mut row.presence, state, Some(listed.is_some()), from, by);
                }
                Topic::Place => {
                    let stands = listed.map(|it| Place {
                        place: it.place,
                        above: self.above(&it),
                        moved: it.moved,
                    });
                    let stands = stands.or(row.place.stands);
                    put(&mut row.place, state, stands, from, by);
                }
            }
        }
    }

    /// Whether a decision is on something of this row, and was made of what the lists say now: after a change of
    /// a list it is open again. The tally of record may say by now what was decided.
    fn is_of(&self, decision: &ListDecision, row: &ListRow) -> bool {
        let named = |it: &ListedJoint| {
            it.number == decision.joint
                && decision.line.is_none_or(|line| u64::from(it.line) == line)
        };
        if !row.listed.iter().any(named) {
            return false;
        }
        let figure = |it: &ListedJoint| match decision.topic {
            Topic::Length => it
                .length
                .or_else(|| self.joint(it.list, it.index)?.effective),
            Topic::MakeupLoss => it.loss,
            Topic::Presence | Topic::Place => None,
        };
        let outcome = decision.choices.last().and_then(|it| match &it.choice {
            Choice::Measured(length) => Some(*length),
            Choice::List(name) => decision.said.iter().find(|it| it.0 == *name)?.1,
        });
        decision.said.iter().all(|(name, said)| {
            let Some(list) = self.lists.iter().position(|it| it.name == *name) else {
                return true;
            };
            let now = row.listed_in(list).and_then(figure);
            said.is_none() || *said == now || (list == 0 && now == outcome)
        })
    }
}

fn put<T>(
    agreement: &mut Agreement<T>,
    state: State,
    stands: Option<T>,
    from: Vec<usize>,
    by: Vec<ListChoice>,
) {
    agreement.state = state;
    agreement.stands = stands;
    agreement.from = from;
    agreement.by = by;
}
