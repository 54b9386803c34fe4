//! What of each joint agrees between the lists, and what stands.

use std::collections::HashMap;

use super::NamedList;
use super::agree::{State, agreement};
use super::merge::{Merged, merge};
use super::numbers::{first_with, is_same_number, numbers_apart, serials_apart};
use super::row::{Against, Agreement, ListDecision, ListRow, ListedJoint, Place, StringLists, Why};
use crate::measure::Length;
use crate::reconcile::decide::Topic;
use crate::reconcile::lengths::STRAPS_APART;
use crate::reconcile::reasons::{ReadingMistake, of_length, of_loss};
use crate::reconcile::rounding::{LastPlaces, allowed};
use crate::tally::{Joint, Pins, PipeString};

/// Puts lists side by side; the first is the tally of record.
pub fn side_by_side<'a>(
    lists: &'a [NamedList<'a>],
    decisions: &'a [ListDecision],
    pins: Pins,
) -> StringLists {
    let strings: Vec<PipeString> = lists
        .iter()
        .map(|it| PipeString::make_up(it.tally, pins))
        .collect();
    let merged = merge(lists);
    let mut by_joint: HashMap<&str, Vec<&ListDecision>> = HashMap::new();
    for decision in decisions {
        by_joint.entry(&decision.joint).or_default().push(decision);
    }
    let table = ListTable {
        lists,
        below: below(lists, &merged),
        open_ends: strings.iter().map(PipeString::open_end).collect(),
        places: lists.iter().map(|it| LastPlaces::of(it.tally)).collect(),
        witnesses: lists.iter().map(|it| witness(lists, it)).collect(),
        decisions: by_joint,
        first_with: first_with(lists),
        numbers_apart: numbers_apart(lists, &merged),
        pins,
    };
    let mut rows: Vec<ListRow> = (0..merged.len())
        .filter_map(|row| table.row(&merged, row))
        .collect();
    for (row, decision) in exchanged(&rows, decisions) {
        if let Some(row) = rows.get_mut(row) {
            table.put(decision, row);
            table.stand_against(row, Topic::Place);
        }
    }
    let is_open = |state: State| matches!(state, State::Open | State::Conflict);
    let states = rows.iter().flat_map(ListRow::states);
    StringLists {
        open: states.filter(|(_, state)| is_open(*state)).count(),
        lengths: strings.iter().map(|string| string.length).collect(),
        joints: strings.iter().map(|string| string.pieces.len()).collect(),
        serials_apart: serials_apart(lists),
        numbers_apart: table.numbers_apart,
        rows,
    }
}

/// Decisions on the place of a joint of which no list says another by now, because it is told of the joint with which it
/// changed places: which of two is the one that moved depends on the order of the first list.
fn exchanged<'a>(
    rows: &[ListRow],
    decisions: &'a [ListDecision],
) -> Vec<(usize, &'a ListDecision)> {
    let mut found = Vec::new();
    let named = |decision: &ListDecision| {
        let named = |it: &ListedJoint| it.number == decision.joint;
        rows.iter().find(|row| row.listed.iter().any(named))
    };
    for decision in decisions.iter().filter(|it| it.topic == Topic::Place) {
        let own = named(decision).filter(|row| row.listed.iter().all(|it| !it.moved));
        let Some(own) = own else { continue };
        for (at, row) in rows.iter().enumerate() {
            if !matches!(row.place.state, State::Open | State::Majority) {
                continue;
            }
            let orders = own.listed.iter().filter_map(|it| {
                let other = row.listed_in(it.list)?;
                Some((it.index < other.index, it.index.abs_diff(other.index) == 1))
            });
            let orders: Vec<(bool, bool)> = orders.collect();
            let is_either = [true, false].map(|way| orders.iter().any(|it| it.0 == way));
            // Of more than two neighbours it is plain which one moved.
            if is_either == [true, true] && orders.iter().all(|it| it.1) {
                found.push((at, decision));
            }
        }
    }
    found
}

/// Which witness a list is: the list that it was made from, through any number of others.
fn witness(lists: &[NamedList<'_>], list: &NamedList<'_>) -> usize {
    let at = |name: &str| lists.iter().position(|it| it.name == name);
    let mut found = at(list.name).unwrap_or_default();
    // No more steps than lists: they could be said to be made from each other.
    for _ in 0..lists.len() {
        let from = lists.get(found).and_then(|it| it.from).and_then(at);
        match from {
            Some(from) => found = from,
            None => break,
        }
    }
    found
}

/// For each list and each of its joints the row of the nearest joint below that keeps its order there.
fn below(lists: &[NamedList<'_>], merged: &[Merged]) -> Vec<Vec<Option<usize>>> {
    let of_list = |(list, named): (usize, &NamedList<'_>)| {
        let mut rows = vec![None; named.tally.joints.len()];
        for (row, it) in merged.iter().enumerate() {
            let keeps = it.moved.get(list) == Some(&false);
            let index = it.at.get(list).copied().flatten();
            if let Some(place) = index.filter(|_| keeps).and_then(|it| rows.get_mut(it)) {
                *place = Some(row);
            }
        }
        let mut last = None;
        rows.into_iter()
            .map(|row| {
                let before = last;
                last = row.or(last);
                before
            })
            .collect()
    };
    lists.iter().enumerate().map(of_list).collect()
}

pub(super) struct ListTable<'a> {
    pub(super) lists: &'a [NamedList<'a>],
    places: Vec<LastPlaces>,
    witnesses: Vec<usize>,
    pub(super) decisions: HashMap<&'a str, Vec<&'a ListDecision>>,
    /// For each number the first list that has it.
    pub(super) first_with: HashMap<&'a str, usize>,
    /// For each list whether it numbers joints otherwise than the first.
    numbers_apart: Vec<bool>,
    /// For each list the joint at its open end.
    open_ends: Vec<usize>,
    /// For each list and each of its joints the row of the nearest joint below that keeps its order there.
    below: Vec<Vec<Option<usize>>>,
    pins: Pins,
}

/// One reading of a list.
#[derive(Clone, Copy)]
struct Reading<'a> {
    list: usize,
    joint: &'a Joint,
    value: Length,
}

impl<'a> ListTable<'a> {
    pub(super) fn joint(&self, list: usize, index: usize) -> Option<&'a Joint> {
        self.lists.get(list)?.tally.joints.get(index)
    }

    fn row(&self, merged: &[Merged], row: usize) -> Option<ListRow> {
        let of_row = merged.get(row)?;
        let listed: Vec<ListedJoint> = of_row
            .at
            .iter()
            .enumerate()
            .filter_map(|(list, index)| {
                let joint = self.joint(list, (*index)?)?;
                Some(ListedJoint {
                    list,
                    index: (*index)?,
                    place: (*index)? + 1,
                    line: joint.line,
                    number: joint.number.to_string(),
                    length: joint.overall(),
                    effective: joint.effective(),
                    loss: joint.makeup_loss,
                    moved: of_row.moved.get(list).copied().unwrap_or_default(),
                    above: *self.below.get(list)?.get((*index)?)?,
                    open_end: joint.effective().is_none()
                        && self.open_ends.get(list) == Some(index.as_ref()?),
                })
            })
            .collect();
        let mut found = ListRow {
            joint: of_row.joint.number.to_string(),
            serial: of_row.joint.serial.as_ref().map(ToString::to_string),
            length: self.lengths(&listed),
            loss: self.losses(&listed),
            presence: self.presence(&listed),
            place: self.place(&listed),
            number: self.number(&listed),
            listed,
        };
        for topic in self.decide(&mut found) {
            self.stand_against(&mut found, topic);
        }
        Some(found)
    }

    /// The lists that say something else than what was decided, each with what may be the reason.
    fn stand_against(&self, row: &mut ListRow, topic: Topic) {
        let listed = &row.listed;
        let lists = listed.iter().map(|it| it.list);
        match topic {
            Topic::Length => {
                let readings = self.length_readings(listed);
                let of = &mut row.length;
                let others = readings.iter().filter(|it| {
                    let rounded = self.rounded(it.list, &of.from, |it| it.length);
                    let apart = of.stands.map(|stands| (it.value - stands).abs() > rounded);
                    apart.unwrap_or(true)
                });
                of.against = against(others.map(|it| it.list), &of.from);
                self.explain_lengths(listed, &readings, of);
            }
            Topic::MakeupLoss => {
                let readings = self.loss_readings(listed);
                let of = &mut row.loss;
                let others = readings.iter().filter(|it| {
                    let rounded = self.rounded(it.list, &of.from, |it| it.loss);
                    let apart = of.stands.map(|stands| (it.value - stands).abs() > rounded);
                    apart.unwrap_or(true)
                });
                of.against = against(others.map(|it| it.list), &of.from);
                self.explain_losses(&readings, of);
            }
            Topic::Presence => {
                let stands = row.presence.stands;
                let has = |list: usize| listed.iter().any(|it| it.list == list);
                let others = (0..self.lists.len()).filter(|list| Some(has(*list)) != stands);
                row.presence.against = against(others, &row.presence.from);
            }
            Topic::Place => {
                let stands = row.place.stands.map(|it| (it.moved, it.above));
                let others = listed.iter().filter(|it| {
                    let (moved, above) = stands.unwrap_or_default();
                    it.moved != moved || (moved && it.above != above)
                });
                row.place.against = against(others.map(|it| it.list), &row.place.from);
            }
            Topic::Number => row.number.against = against(lists, &row.number.from),
        }
    }

    fn length_readings(&self, listed: &[ListedJoint]) -> Vec<Reading<'a>> {
        let readings = listed.iter().filter_map(|it| {
            let joint = self.joint(it.list, it.index)?;
            let value = joint.length?;
            Some(Reading {
                list: it.list,
                joint,
                value,
            })
        });
        readings.collect()
    }

    fn lengths(&self, listed: &[ListedJoint]) -> Agreement<Length> {
        let readings = self.length_readings(listed);
        let apart = |one: &Reading<'a>, other: &Reading<'a>| {
            // Where one gives effective lengths alone those are compared.
            let both = one.joint.overall().zip(other.joint.overall());
            let [one, other] = match both {
                Some((one, other)) => [one, other],
                None => [one, other].map(|it| self.adds(it.joint)),
            };
            (one - other).abs()
        };
        let mut found = self.agree(&readings, |it| it.length, apart);
        // An effective length is no overall one.
        let overall = found.from.iter().find_map(|list| {
            let reading = readings.iter().find(|it| it.list == *list)?;
            reading.joint.overall()
        });
        let is_overall =
            |it: &Reading<'a>| Some(it.value) == found.stands && it.joint.overall().is_some();
        if !readings.iter().any(is_overall) {
            found.stands = overall;
        }
        self.explain_lengths(listed, &readings, &mut found);
        found
    }

    /// What may be the reason of each list against what stands.
    fn explain_lengths(
        &self,
        listed: &[ListedJoint],
        readings: &[Reading<'a>],
        found: &mut Agreement<Length>,
    ) {
        for against in &mut found.against {
            let reading = readings.iter().find(|it| it.list == against.list);
            let (Some(reading), Some(right)) = (reading, found.stands) else {
                continue;
            };
            let losses = listed.iter().filter_map(|it| it.loss);
            let losses = losses.chain(self.pins.nominal_loss);
            let rounded = self.rounded(against.list, &found.from, |it| it.length);
            let fits = of_length(reading.joint, (reading.value, right), losses, rounded);
            against.why = why(fits, reading.value - right);
        }
    }

    /// What a joint adds to its string where its pin is made up.
    fn adds(&self, joint: &Joint) -> Length {
        let loss = joint.makeup_loss.or(self.pins.nominal_loss);
        joint
            .effective()
            .unwrap_or_else(|| joint.overall().unwrap_or_default() - loss.unwrap_or_default())
    }

    fn losses(&self, listed: &[ListedJoint]) -> Agreement<Length> {
        // What is not deducted in any list, or not written in any, is no matter between them.
        let is_open_end = listed.iter().all(|it| it.open_end);
        let is_blank = listed.iter().all(|it| it.loss.is_none());
        if is_open_end || is_blank {
            return Agreement {
                state: State::Agreed,
                stands: listed.iter().find_map(|it| it.loss),
                from: listed.iter().map(|it| it.list).collect(),
                against: Vec::new(),
                by: Vec::new(),
            };
        }
        let readings = self.loss_readings(listed);
        let apart = |one: &Reading<'a>, other: &Reading<'a>| (one.value - other.value).abs();
        let mut found = self.agree(&readings, |it| it.loss, apart);
        self.explain_losses(&readings, &mut found);
        found
    }

    fn loss_readings(&self, listed: &[ListedJoint]) -> Vec<Reading<'a>> {
        let readings = listed.iter().filter_map(|it| {
            let joint = self.joint(it.list, it.index)?;
            // A blank one is no reading. That of the tally of record counts all the same: it is deducted as the pipe's,
            // or not at all, in every figure; at an open end it says nothing.
            let counts = it.list == 0 && !it.open_end && joint.effective().is_none();
            let blank = counts.then(|| self.pins.nominal_loss.unwrap_or_default());
            Some(Reading {
                list: it.list,
                joint,
                value: it.loss.or(blank)?,
            })
        });
        readings.collect()
    }

    /// What may be the reason of each list against what stands.
    fn explain_losses(&self, readings: &[Reading<'a>], found: &mut Agreement<Length>) {
        for against in &mut found.against {
            let reading = readings.iter().find(|it| it.list == against.list);
            if let (Some(reading), Some(right)) = (reading, found.stands) {
                let rounded = self.rounded(against.list, &found.from, |it| it.loss);
                let fits = of_loss(reading.joint, (reading.value, right), rounded);
                against.why = why(fits, STRAPS_APART + STRAPS_APART);
            }
        }
    }

    /// By how much a list may differ from the first of those that agree.
    fn rounded(
        &self,
        list: usize,
        from: &[usize],
        place: impl Fn(&LastPlaces) -> Option<Length>,
    ) -> Length {
        let of = |list: usize| self.places.get(list).and_then(&place);
        allowed(of(list), from.first().and_then(|list| of(*list)))
    }

    /// How far readings agree: within rounding, each witness once.
    fn agree(
        &self,
        readings: &[Reading<'a>],
        place: impl Fn(&LastPlaces) -> Option<Length>,
        apart: impl Fn(&Reading<'a>, &Reading<'a>) -> Length,
    ) -> Agreement<Length> {
        let of = |list: usize| self.places.get(list).and_then(&place);
        let pair = |one: usize, other: usize| {
            readings
                .get(one)
                .zip(readings.get(other))
                .is_some_and(|(one, other)| {
                    apart(one, other) <= allowed(of(one.list), of(other.list))
                })
        };
        let (state, group) = agreement(readings.len(), pair, |at| {
            self.witness(readings.get(at).map(|it| it.list))
        });
        // The finest last place, then the first list.
        let mut standing: Vec<&Reading<'a>> =
            group.iter().filter_map(|at| readings.get(*at)).collect();
        // A list without a last place is the coarsest.
        standing.sort_by_key(|it| (of(it.list).is_none(), of(it.list), it.list));
        let first = standing.first().copied().or_else(|| readings.first());
        let from: Vec<usize> = if group.is_empty() {
            first.map(|it| it.list).into_iter().collect()
        } else {
            standing.iter().map(|it| it.list).collect()
        };
        Agreement {
            state,
            stands: first.map(|it| it.value),
            against: against(readings.iter().map(|it| it.list), &from),
            from,
            by: Vec::new(),
        }
    }

    fn witness(&self, list: Option<usize>) -> usize {
        let of = list.and_then(|list| self.witnesses.get(list));
        of.copied().unwrap_or_default()
    }

    fn presence(&self, listed: &[ListedJoint]) -> Agreement<bool> {
        let has: Vec<bool> = (0..self.lists.len())
            .map(|list| listed.iter().any(|it| it.list == list))
            .collect();
        self.choose(&has, |list| list, |one, other| one == other)
    }

    fn place(&self, listed: &[ListedJoint]) -> Agreement<Place> {
        // Lists that keep the order of the rows agree; others where they put it above the same joint.
        let key = |it: &ListedJoint| (it.moved.then_some(it.above), it.place_of());
        let places: Vec<(Option<Option<usize>>, Place)> = listed.iter().map(key).collect();
        let list = |at: usize| listed.get(at).map_or(0, |it| it.list);
        let found = self.choose(&places, list, |one, other| one.0 == other.0);
        Agreement {
            state: found.state,
            stands: found.stands.map(|(_, place)| place),
            from: found.from,
            against: found.against,
            by: Vec::new(),
        }
    }

    /// Which number is true is asked of lists that number joints alike and differ on this one.
    fn number(&self, listed: &[ListedJoint]) -> Agreement<String> {
        let is_apart = |list: usize| self.numbers_apart.get(list).copied().unwrap_or_default();
        let alike = || listed.iter().filter(|it| !is_apart(it.list));
        let of: Vec<&ListedJoint> = if alike().next().is_some() {
            alike().collect()
        } else {
            listed.iter().collect()
        };
        let numbers: Vec<String> = of.iter().map(|it| it.number.clone()).collect();
        let list = |at: usize| of.get(at).map_or(0, |it| it.list);
        self.choose(&numbers, list, |one, other| is_same_number(one, other))
    }

    /// How far values agree that are equal or not.
    fn choose<T: Clone>(
        &self,
        values: &[T],
        list: impl Fn(usize) -> usize,
        same: impl Fn(&T, &T) -> bool,
    ) -> Agreement<T> {
        let pair = |one: usize, other: usize| {
            let both = values.get(one).zip(values.get(other));
            both.is_some_and(|(one, other)| same(one, other))
        };
        let (state, group) = agreement(values.len(), pair, |at| self.witness(Some(list(at))));
        let first = group.first().copied().unwrap_or(0);
        let from: Vec<usize> = if group.is_empty() {
            vec![list(0)]
        } else {
            group.iter().map(|at| list(*at)).collect()
        };
        Agreement {
            state,
            stands: values.get(first).cloned(),
            against: against((0..values.len()).map(&list), &from),
            from,
            by: Vec::new(),
        }
    }
}

/// The lists that say something else.
fn against(lists: impl Iterator<Item = usize>, from: &[usize]) -> Vec<Against> {
    let others = lists.filter(|list| !from.contains(list));
    others
        .map(|list| Against {
            list,
            why: Why::Unknown,
        })
        .collect()
}

fn why(fits: Vec<ReadingMistake>, off: Length) -> Why {
    if !fits.is_empty() {
        Why::Mistakes(fits)
    } else if off.abs() <= STRAPS_APART {
        Why::Straps
    } else {
        Why::Unknown
    }
}
