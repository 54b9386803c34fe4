//! What was decided of a joint in the place of what its lists agree on.

use super::agree::State;
use super::row::{Choice, ListChoice, ListDecision, ListRow, ListedJoint};
use super::states::ListTable;
use crate::reconcile::decide::Topic;

impl ListTable<'_> {
    /// Puts what was decided of a row in the place of what the lists agree on. Gives the things that were.
    pub(super) fn decide(&self, row: &mut ListRow) -> Vec<Topic> {
        let numbers = row.listed.iter().map(|it| it.number.clone());
        let mut numbers: Vec<String> = numbers.collect();
        numbers.sort_unstable();
        numbers.dedup();
        let mut decided = Vec::new();
        let all = numbers
            .iter()
            .filter_map(|it| self.decisions.get(it.as_str()));
        for decision in all.flatten() {
            if !self.is_of(decision, row) {
                continue;
            }
            self.put(decision, row);
            decided.push(decision.topic);
        }
        decided
    }

    /// Puts what was decided in the place of what the lists agree on.
    pub(super) fn put(&self, decision: &ListDecision, row: &mut ListRow) {
        let Some(ListChoice { choice, .. }) = decision.choices.last() else {
            return;
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
        let by = decision.choices.clone();
        row.choose(decision.topic, (choice, list), state, by);
    }

    /// Whether a decision is on something of this row, and was made of what the lists say now: after a change of
    /// a list it is open again. The tally of record may say by now what was decided.
    fn is_of(&self, decision: &ListDecision, row: &ListRow) -> bool {
        // Two lists may give one number to different joints: the first list that has it says which is meant.
        let first = self.first_with.get(decision.joint.as_str());
        let named = |it: &ListedJoint| {
            Some(&it.list) == first
                && it.number == decision.joint
                && decision.line.is_none_or(|line| u64::from(it.line) == line)
        };
        if !row.listed.iter().any(named) {
            return false;
        }
        let figure = |it: &ListedJoint| match decision.topic {
            Topic::Length => it.length.or(it.effective),
            Topic::MakeupLoss => it.loss,
            Topic::Presence | Topic::Place | Topic::Number => None,
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
