//! All lists of a slot's string side by side, the tally of record that follows, and what each choice would move.

use super::chain::SlotView;
use super::effects::{AdoptionEffect, effects};
use super::said::Recorded;
use super::slot::SlotFigures;
use crate::job::{RECORD, name_of};
use crate::journal::Inputs;
use crate::reconcile::Topic;
use crate::reconcile::many::{
    Choice, ListRow, ListsRecord, NamedList, State, StringLists, side_by_side,
};
use crate::tally::Tally;

/// All lists of a slot's string side by side, with their names and files; the tally of record first, lists that
/// cannot be read left out.
#[derive(Clone, Debug, PartialEq)]
pub struct SlotLists {
    /// The name of each list.
    pub names: Vec<String>,
    /// Its file, relative to the folder.
    pub files: Vec<String>,
    /// What they say.
    pub lists: StringLists,
    /// The lists that cannot be read: each with its file and the reason.
    pub unreadable: Vec<(String, String, String)>,
}

impl SlotLists {
    /// Those of the slot at an index; `None` where there is no such slot.
    pub fn of(inputs: &Inputs, slot: usize) -> Option<Self> {
        let (all, files) = named_lists(inputs, slot)?;
        let decisions = inputs.list_decisions(slot);
        let pins = inputs.job.slots.get(slot)?.pipe.pins;
        Some(Self {
            names: all.iter().map(|it| it.name.to_owned()).collect(),
            files,
            lists: side_by_side(&all, &decisions, pins),
            unreadable: unreadable(inputs, slot),
        })
    }

    /// The tally of record that follows; the things on which decisions contradict each other, where there are any.
    pub fn record(
        &self,
        inputs: &Inputs,
        slot: usize,
    ) -> Result<ListsRecord, Vec<(String, Topic)>> {
        let pins = inputs.job.slots.get(slot).map(|it| it.pipe.pins);
        let all = named_lists(inputs, slot).map_or_else(Vec::new, |(all, _)| all);
        ListsRecord::of(&all, &self.lists, pins.unwrap_or_default())
    }

    /// The joints that someone decided are not in the string.
    pub fn left_out(&self) -> impl Iterator<Item = &ListRow> {
        let is_out = |row: &&ListRow| {
            row.presence.state == State::Decided && row.presence.stands == Some(false)
        };
        self.lists.rows.iter().filter(is_out)
    }

    /// The name of a list.
    pub fn name(&self, list: usize) -> &str {
        self.names.get(list).map_or("", String::as_str)
    }
}

fn unreadable(inputs: &Inputs, slot: usize) -> Vec<(String, String, String)> {
    let lists = inputs.lists.get(slot).into_iter().flatten();
    let lists = lists.filter_map(|list| {
        let reason = list.tally.as_ref().err()?.to_string();
        Some((list.name.clone(), name_of(&list.path), reason))
    });
    lists.collect()
}

/// The lists of a slot's string that can be read, the tally of record first, and their files.
fn named_lists(inputs: &Inputs, slot: usize) -> Option<(Vec<NamedList<'_>>, Vec<String>)> {
    let (stated, tally) = (inputs.job.slots.get(slot)?, inputs.tallies.get(slot)?);
    let said = inputs.record.slots.get(slot);
    let adopted = said.and_then(|it| it.tally.as_ref());
    let file = adopted.map_or_else(|| name_of(&stated.tally), |it| it.what.0.clone());
    let mut all = vec![NamedList {
        name: RECORD,
        from: None,
        tally,
    }];
    let mut files = vec![file];
    for list in inputs.lists.get(slot).into_iter().flatten() {
        let Ok(tally) = &list.tally else { continue };
        let mut sources = stated.lists.iter();
        let source = sources.find(|it| it.name == list.name);
        all.push(NamedList {
            name: &list.name,
            from: source.and_then(|it| it.from.as_deref()),
            tally,
        });
        files.push(name_of(&list.path));
    }
    Some((all, files))
}

/// A slot's string as what stands of its lists makes it, to see what a choice would move before it is made.
#[derive(Clone, Debug)]
pub struct Trial<'a> {
    inputs: &'a Inputs,
    slot: usize,
    all: &'a SlotLists,
    named: Vec<NamedList<'a>>,
    tally: Tally,
    figures: SlotFigures,
}

impl<'a> Trial<'a> {
    /// The string of the slot at an index by what stands; `None` where there is no such slot.
    pub fn of(inputs: &'a Inputs, slot: usize, all: &'a SlotLists) -> Option<Self> {
        let (named, _) = named_lists(inputs, slot)?;
        let (tally, figures) = hung(inputs, slot, &named, &all.lists)?;
        Some(Self {
            inputs,
            slot,
            all,
            named,
            tally,
            figures,
        })
    }

    /// What would move if lists or measured values were chosen of things of rows, against those things as the tally of
    /// record has them; all else as it stands. The weightiest first.
    pub fn if_chosen(
        &self,
        choices: impl IntoIterator<Item = (usize, Topic, Choice)>,
    ) -> Vec<AdoptionEffect> {
        let (mut before, mut after) = (self.all.lists.clone(), self.all.lists.clone());
        for (row, of, choice) in choices {
            let list = match &choice {
                Choice::List(name) => self.named.iter().position(|it| it.name == name),
                Choice::Measured(_) => None,
            };
            let record = (&Choice::List(RECORD.to_owned()), Some(0));
            for (lists, choice) in [(&mut before, record), (&mut after, (&choice, list))] {
                let row = lists.rows.get_mut(row);
                // What a list does not have it says nothing of, but that it is not there.
                let says = |row: &&mut ListRow| {
                    let has = |list: usize| row.listed_in(list).is_some();
                    of == Topic::Presence || choice.1.is_none_or(has)
                };
                if let Some(row) = row.filter(says) {
                    row.choose(of, choice, State::Decided, Vec::new());
                }
            }
        }
        let hung = |lists| hung(self.inputs, self.slot, &self.named, lists);
        let both = hung(&before).zip(hung(&after));
        both.map_or_else(Vec::new, |(now, then)| {
            effects((&now.0, &now.1), (&then.0, &then.1))
        })
    }

    /// What would move if the string by what stands were adopted, against the tally of record in use.
    pub fn if_adopted(&self) -> Vec<AdoptionEffect> {
        let Some(tally) = self.inputs.tallies.get(self.slot) else {
            return Vec::new();
        };
        let now = figures_of(self.inputs, self.slot, tally);
        now.map_or_else(Vec::new, |now| {
            effects((tally, &now), (&self.tally, &self.figures))
        })
    }

    /// The string by what stands.
    pub const fn tally(&self) -> &Tally {
        &self.tally
    }
}

/// The tally that follows from lists, with its figures.
fn hung(
    inputs: &Inputs,
    slot: usize,
    named: &[NamedList<'_>],
    lists: &StringLists,
) -> Option<(Tally, SlotFigures)> {
    let pins = inputs.job.slots.get(slot)?.pipe.pins;
    let tally = ListsRecord::as_it_stands(named, lists, pins).tally();
    let figures = figures_of(inputs, slot, &tally)?;
    Some((tally, figures))
}

/// The figures of a slot with a tally, as if nothing were entered of it, by its chain.
fn figures_of(inputs: &Inputs, slot: usize, tally: &Tally) -> Option<SlotFigures> {
    let view = SlotView {
        job: &inputs.job,
        index: slot,
        slot: inputs.job.slots.get(slot)?,
        tally,
    };
    Some(SlotFigures::of(view, Recorded::NOTHING, None, |_| {
        Vec::new()
    }))
}
