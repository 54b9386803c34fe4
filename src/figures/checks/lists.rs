//! Flags of the other lists of a slot's string: that cannot be read, that differ, or whose decisions the
//! tally of record does not follow yet.

use std::collections::HashMap;

use crate::figures::lists::ListFigures;
use crate::figures::side_by_side::SlotLists;
use crate::finding::{Code, Flag, ListFinding, Named, OpenItem, OpenList, Place};
use crate::job::{AS_RUN, Job, MEASURED};
use crate::journal::OtherList;
use crate::reconcile::many::{Choice, ListRow, State};
use crate::reconcile::{Difference, Note, Topic, open_together};

/// Most things of one list that are named.
const NAMED: usize = 3;

/// The flags of a slot's lists.
pub(in crate::figures) fn lists(
    job: &Job,
    lists: &[OtherList],
    figures: &[Option<ListFigures>],
    side_by_side: Option<&SlotLists>,
) -> Vec<Flag> {
    let settled = Settled::of(side_by_side);
    let mut flags = Vec::new();
    // While a string is run its list is short; once it is landed `as-run-differs` tells.
    let all = || {
        let all = lists.iter().zip(figures).enumerate();
        all.filter(|(_, (list, _))| list.name != AS_RUN)
    };
    let mut first = None;
    let mut unreadable = Vec::new();
    for (index, (list, _)) in all() {
        let reasons = [
            list.tally.as_ref().err().map(ToString::to_string),
            list.decisions_problem.as_ref().map(ToString::to_string),
            list.decisions_torn.as_ref().map(ToString::to_string),
        ];
        for reason in reasons.into_iter().flatten() {
            first.get_or_insert(index);
            unreadable.push((list.name.clone(), reason));
        }
    }
    flags.extend(first.map(|index| {
        Flag::new(
            Code::ListUnreadable,
            Place::List(index),
            ListFinding::Unreadable { lists: unreadable },
        )
    }));
    let open: Vec<(usize, OpenList)> = all()
        .filter_map(|(index, (list, figures))| {
            Some((index, open_list(job, list, figures.as_ref()?, &settled)?))
        })
        .collect();
    flags.extend(open.first().map(|(index, _)| *index).map(|index| {
        Flag::new(
            Code::DifferenceOpen,
            Place::List(index),
            ListFinding::Open {
                above: job.open_above,
                lists: open.into_iter().map(|(_, list)| list).collect(),
            },
        )
    }));
    let pending = side_by_side.map_or_else(Vec::new, not_followed);
    let first = pending.first().map(|(name, _)| {
        let index = lists.iter().position(|list| list.name == *name);
        index.unwrap_or_default()
    });
    flags.extend(first.map(|index| {
        Flag::new(
            Code::DecisionNotFollowed,
            Place::List(index),
            ListFinding::NotFollowed { lists: pending },
        )
    }));
    flags
}

/// The joints of lists that are found in their rows side by side.
struct Settled<'a> {
    all: Option<&'a SlotLists>,
    rows: HashMap<(usize, usize), usize>,
}

impl<'a> Settled<'a> {
    fn of(all: Option<&'a SlotLists>) -> Self {
        let rows = all.into_iter().flat_map(|all| all.lists.rows.iter());
        let listed = rows.enumerate().flat_map(|(at, row)| {
            let listed = row.listed.iter();
            listed.map(move |it| ((it.list, it.index), at))
        });
        Self {
            rows: listed.collect(),
            all,
        }
    }

    /// Whether someone decided what differs here, for whichever list; or most lists agree with the tally of record on it:
    /// then the other list is the odd one out, and nothing is asked.
    fn has(&self, list: &str, difference: &Difference) -> bool {
        let Some(all) = self.all else { return false };
        let at = all.names.iter().position(|it| it == list);
        let place = match (difference.a, at.zip(difference.b)) {
            (Some(a), _) => Some((0, a)),
            (None, other) => other,
        };
        let row = place.and_then(|place| all.lists.rows.get(*self.rows.get(&place)?));
        row.is_some_and(|row| match row.state(difference.topic) {
            State::Decided => true,
            State::Majority => row.from(difference.topic).contains(&0),
            _ => false,
        })
    }
}

/// What is decided otherwise than the tally of record says, by the list that was chosen.
fn not_followed(all: &SlotLists) -> Vec<(String, Named<(&'static str, String)>)> {
    let mut found: Vec<(String, Vec<(&'static str, String)>)> = Vec::new();
    for row in &all.lists.rows {
        let decided = Topic::ALL
            .into_iter()
            .filter(|of| row.state(*of) == State::Decided && !follows(row, *of));
        for of in decided {
            let choice = row.decided_by(of).last().map(|it| &it.choice);
            let name = match choice {
                Some(Choice::List(name)) => name.clone(),
                _ => MEASURED.to_owned(),
            };
            let item = (of.name(), row.joint.clone());
            match found.iter_mut().find(|(known, _)| *known == name) {
                Some((_, items)) => items.push(item),
                None => found.push((name, vec![item])),
            }
        }
    }
    let found = found.into_iter();
    found
        .map(|(name, items)| (name, Named::of(items.into_iter(), NAMED)))
        .collect()
}

/// Whether the tally of record says what stands of a thing.
fn follows(row: &ListRow, of: Topic) -> bool {
    if row.from(of).contains(&0) {
        return true;
    }
    let own = row.listed_in(0);
    let Some(own) = own.filter(|_| of != Topic::Presence) else {
        // A joint that is not there is told by its presence alone.
        return of != Topic::Presence || row.presence.stands == Some(own.is_some());
    };
    match of {
        Topic::Length => {
            let effective = row.length_of().and_then(|it| it.effective);
            row.length.stands.or(effective) == own.length.or(own.effective)
        }
        Topic::MakeupLoss => row.loss.stands == own.loss,
        Topic::Presence => true,
        Topic::Place => row.place.stands.is_some_and(|it| it.above == own.above),
        Topic::Number => row.true_number() == own.number,
    }
}

/// What of a list nobody has decided, where it matters: alone, or together with the rest.
fn open_list(
    job: &Job,
    list: &OtherList,
    figures: &ListFigures,
    settled: &Settled<'_>,
) -> Option<OpenList> {
    let open: Vec<Difference> = figures
        .differences
        .iter()
        .filter(|it| it.decided(&list.decisions).is_none() && !settled.has(&list.name, it))
        .cloned()
        .collect();
    let mut items: Vec<OpenItem> = open
        .iter()
        .filter(|it| it.moves > job.open_above)
        .map(|it| OpenItem::Difference {
            topic: it.topic.name(),
            joint: it.joint.clone(),
            moves: it.moves.abs(),
        })
        .collect();
    let together = open_together(&open, &list.decisions);
    if items.is_empty() && together > job.open_above {
        items.push(OpenItem::Together {
            count: open.len(),
            moves: together,
        });
    }
    // The shoulder is on the running joint.
    items.extend(figures.bridge.notes.iter().filter_map(running_joint));
    (!items.is_empty()).then(|| OpenList {
        list: list.name.clone(),
        items: Named::of(items.into_iter(), NAMED),
    })
}

/// What of a note moves elevations: that the running joint is another.
fn running_joint(note: &Note) -> Option<OpenItem> {
    match note {
        Note::Kinds {
            joint,
            lines,
            running: true,
            ..
        } => Some(OpenItem::RunningJoint {
            joint: joint.clone(),
            lines: *lines,
        }),
        Note::Kinds { .. } | Note::Serials { .. } => None,
    }
}
