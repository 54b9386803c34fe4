//! Other lists of a slot's string: what differs from the tally of record, what is decided, and what
//! adopting another list would move.

use super::slot::{self, SlotFigures};
use crate::flag::{Code, Flag, Place};
use crate::job::{Job, OtherList};
use crate::measure::{Elevation, Length, LengthFormat};
use crate::reconcile::{Bridge, Difference, Note, bridge, differences, open_together};
use crate::tally::Tally;

/// Another list against the tally of record.
#[derive(Clone, Debug, PartialEq)]
pub struct ListFigures {
    /// The bridge from the tally of record to this list.
    pub bridge: Bridge,
    /// What asks for a decision, in the bridge's order.
    pub differences: Vec<Difference>,
    /// The slot's figures if this list were the tally of record.
    pub with_it: Box<SlotFigures>,
}

/// One for each list that could be read; `None` for those that could not.
pub(super) fn of_slot(
    job: &Job,
    index: usize,
    tally: &Tally,
    lists: &[OtherList],
) -> Vec<Option<ListFigures>> {
    let Some(slot) = job.slots.get(index) else {
        return Vec::new();
    };
    let pins = job
        .pipes
        .get(slot.pipe)
        .map(|pipe| pipe.pins)
        .unwrap_or_default();
    lists
        .iter()
        .map(|list| {
            let other = list.tally.as_ref().ok()?;
            let bridge = bridge(tally, other, pins);
            let with_it = slot::compute(job, index, slot, other);
            Some(ListFigures {
                differences: differences(tally, other, &bridge),
                bridge,
                with_it: Box::new(with_it),
            })
        })
        .collect()
}

/// What of the landing, the cut and what is fitted another list would move, in words, the weightiest
/// first.
pub fn would_move(
    job: &Job,
    show: LengthFormat,
    (tally, now): (&Tally, &SlotFigures),
    (other, then): (&Tally, &SlotFigures),
) -> Vec<String> {
    let mut words = Vec::new();
    let mut moves = |what: &str, now: Option<Elevation>, then: Option<Elevation>| match (now, then)
    {
        (Some(now), Some(then)) if now != then => {
            let by = then - now;
            let way = if by.is_negative() { "down" } else { "up" };
            let by = show.difference(by.abs());
            words.push(format!(
                "{what} moves {way} by {}",
                by.trim_start_matches('+')
            ));
        }
        (Some(_), None) => words.push(format!("{what} would not be known")),
        (None, Some(_)) => words.push(format!("{what} would be known")),
        _ => {}
    };
    let shoulder = |figures: &SlotFigures| figures.shoulder.and_then(|it| it.elevation);
    moves("the landing shoulder", shoulder(now), shoulder(then));
    moves("the shoe", now.shoe, then.shoe);
    moves("the top", now.top, then.top);
    if let (Some(one), Some(two)) = (&now.cut.place, &then.cut.place) {
        let joints = (now.number(tally, one.piece), then.number(other, two.piece));
        if joints.0 != joints.1 {
            words.push(format!(
                "the cut would lie in {}, not in {}",
                joints.1, joints.0
            ));
        }
        if let Some((one, two)) = one.to_connection.zip(two.to_connection)
            && one != two
        {
            words.push(format!(
                "the cut would stand {} off the nearest connection, not {}",
                show.text(two),
                show.text(one)
            ));
        }
    } else if now.cut.place.is_some() != then.cut.place.is_some() {
        words.push("the cut would not lie on the string, or only then".to_owned());
    }
    for (one, two) in now.accessories.iter().zip(&then.accessories) {
        let Some(accessory) = job.accessories.get(one.accessory) else {
            continue;
        };
        let place = |figures: &SlotFigures, tally: &Tally, place: &slot::AccessoryPlace| {
            let joint = place
                .piece
                .map(|piece| figures.number(tally, piece).to_owned());
            (joint, place.above_lower_plane, place.clear)
        };
        if place(now, tally, one) != place(then, other, two) {
            words.push(format!("{} would be fitted elsewhere", accessory.name));
        }
    }
    if now.in_keep_outs.len() != then.in_keep_outs.len() {
        words.push(format!(
            "connections in keep-outs: {}, not {}",
            then.in_keep_outs.len(),
            now.in_keep_outs.len()
        ));
    }
    words
}

/// What the lists of one slot give reason to flag: of each kind the first list, and the words.
#[derive(Default)]
struct Raised {
    unreadable: (Option<usize>, Vec<String>),
    open: (Option<usize>, Vec<String>),
    pending: (Option<usize>, Vec<String>),
}

fn raise((first, words): &mut (Option<usize>, Vec<String>), list: usize, text: String) {
    first.get_or_insert(list);
    words.push(text);
}

/// The flags on lists that cannot be read, on differences that nobody decided, and on decisions that
/// the tally of record does not follow yet.
pub(super) fn flags(job: &Job, lists: &[OtherList], figures: &[Option<ListFigures>]) -> Vec<Flag> {
    let show = LengthFormat::new(job.units);
    let mut raised = Raised::default();
    for (index, (list, figures)) in lists.iter().zip(figures).enumerate() {
        let reasons = [
            list.tally.as_ref().err(),
            list.decisions_problem.as_ref(),
            list.decisions_torn.as_ref(),
        ];
        for reason in reasons.into_iter().flatten() {
            let text = format!("{}: {}", list.name, reason.replace('\n', "; "));
            raise(&mut raised.unreadable, index, text);
        }
        if let Some(figures) = figures {
            if let Some(text) = open_words(job, list, figures, show) {
                raise(&mut raised.open, index, text);
            }
            let pending = figures.differences.iter();
            let pending: Vec<String> = pending
                .filter(|it| it.pending(&list.decisions).is_some())
                .map(|it| format!("{} of joint {}", it.topic.name(), it.joint))
                .collect();
            if !pending.is_empty() {
                let text = format!("{}: {}", list.name, some_of(&pending));
                raise(&mut raised.pending, index, text);
            }
        }
    }
    let lead = format!(
        "differences that move an elevation by more than {}, alone or together, are not decided",
        show.small(job.open_above)
    );
    [
        (Code::ListUnreadable, raised.unreadable, "it cannot be read, so that nothing is compared"),
        (Code::DifferenceOpen, raised.open, lead.as_str()),
        (
            Code::DecisionNotFollowed,
            raised.pending,
            "decided, but the figures here still stand on the tally as it was; write the tally of record and name it in job.toml",
        ),
    ]
    .into_iter()
    .filter_map(|(code, (first, words), lead)| {
        let text = format!("{lead}: {}", words.join(" | "));
        Some(Flag::new(code, Place::List(first?), text))
    })
    .collect()
}

/// At most three, and how many more.
fn some_of(all: &[String]) -> String {
    let mut named: Vec<String> = all.iter().take(3).cloned().collect();
    if all.len() > named.len() {
        named.push(format!("and {} more", all.len() - named.len()));
    }
    named.join(", ")
}

/// What of a list nobody decided, where it matters: alone, or together with the rest.
fn open_words(
    job: &Job,
    list: &OtherList,
    figures: &ListFigures,
    show: LengthFormat,
) -> Option<String> {
    let by = |length: Length| {
        let by = show.difference(length.abs());
        by.trim_start_matches('+').to_owned()
    };
    let open: Vec<&Difference> = figures
        .differences
        .iter()
        .filter(|it| it.decided(&list.decisions).is_none())
        .collect();
    let mut named: Vec<String> = open
        .iter()
        .filter(|it| it.moves > job.open_above)
        .map(|it| {
            format!(
                "{} of joint {} ({})",
                it.topic.name(),
                it.joint,
                by(it.moves)
            )
        })
        .collect();
    let together = open_together(&figures.differences, &list.decisions);
    if named.is_empty() && together > job.open_above {
        named.push(format!(
            "{} small ones that move a plane by {} together",
            open.len(),
            by(together)
        ));
    }
    // The shoulder hangs on the running joint.
    let notes = figures
        .bridge
        .notes
        .iter()
        .filter(|note| note.affects_elevation());
    named.extend(notes.map(|note| match note {
        Note::Kinds {
            joint,
            lines: [line_a, line_b],
            ..
        } => format!(
            "joint {joint} is the running joint in one list alone (line {line_a}, there line {line_b})"
        ),
        Note::Serials { joint, .. } => format!("the serial of joint {joint}"),
    }));
    (!named.is_empty()).then(|| format!("{}: {}", list.name, some_of(&named)))
}

/// How many differences of a list nobody decided yet.
pub fn left_to_decide(list: &OtherList, figures: &ListFigures) -> usize {
    let open = |difference: &&Difference| difference.decided(&list.decisions).is_none();
    figures.differences.iter().filter(open).count()
}
