//! The tally of record that follows from decisions. Nothing is ever written into a source: the outcome
//! is a new list, in which every joint says where its figures come from.

use super::bridge::Bridge;
use super::decide::{Decision, Difference, Stands, Topic, differences};
use super::detail::Side;
use crate::tally::{Joint, LengthKind, Pins, PipeString, Tally};

/// One joint of a tally of record.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RecordRow {
    /// The joint: what is known of it, with the figures that stand.
    pub joint: Joint,
    /// Where its figures come from; never empty.
    pub sources: Vec<RecordSource>,
    /// The notes of the decisions on it.
    pub notes: Vec<String>,
}

/// Where something of a joint comes from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum RecordSource {
    /// Both lists say the same.
    Both,
    /// A list that alone was asked: for landing joints the first.
    List(Side),
    /// A list that alone has the joint.
    Alone {
        /// That list.
        list: Side,
        /// Whether it is decided that the joint is in the string.
        decided: bool,
    },
    /// What applies where the lists differ.
    Figure {
        /// Of what.
        topic: Topic,
        /// What stands; `None` where nobody decided, so that the first list applies.
        stands: Option<Stands>,
    },
    /// The number that the second list gives the joint.
    CalledInB(String),
}

/// A tally of record, shoe first.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Record {
    /// Its joints; landing joints of the first list last.
    pub rows: Vec<RecordRow>,
    /// Whether its lengths are effective ones, because one of the lists gives nothing else.
    pub effective_only: bool,
    /// How many differences are not decided: the first list applies until they are.
    pub open: usize,
}

impl Record {
    /// The string that the record makes.
    pub fn string(&self, pins: Pins) -> PipeString {
        PipeString::make_up(&self.tally(), pins)
    }

    /// The record as a tally, as a reader of its file would have it.
    pub fn tally(&self) -> Tally {
        Tally {
            joints: self.rows.iter().map(|row| row.joint.clone()).collect(),
            ..Tally::of_joints(Vec::new(), self.effective_only)
        }
    }
}

/// One joint on its way into the record.
struct RecordEntry {
    row: RecordRow,
    b: Option<usize>,
}

/// What the decisions make of two lists.
pub fn record(
    (a, b): (&Tally, &Tally),
    bridge: &Bridge,
    decisions: &[Decision],
    pins: Pins,
) -> Record {
    let differences = differences(a, b, bridge);
    let effective_only = a.effective_only || b.effective_only;
    let strings = [PipeString::make_up(a, pins), PipeString::make_up(b, pins)];
    let maker = Maker {
        lists: [a, b],
        strings: &strings,
        differences: &differences,
        decisions,
        effective_only,
    };
    let mut rows: Vec<RecordRow> = maker
        .in_order(bridge)
        .into_iter()
        .map(|it| it.row)
        .collect();
    let landing = a.joints.iter().skip(a.conductor_joints());
    rows.extend(landing.map(|joint| RecordRow {
        joint: joint.clone(),
        sources: vec![RecordSource::List(Side::A)],
        notes: Vec::new(),
    }));
    let open = differences
        .iter()
        .filter(|it| it.decided(decisions).is_none());
    Record {
        open: open.count(),
        rows,
        effective_only,
    }
}

struct Maker<'m> {
    lists: [&'m Tally; 2],
    strings: &'m [PipeString; 2],
    differences: &'m [Difference],
    decisions: &'m [Decision],
    effective_only: bool,
}

impl Maker<'_> {
    fn decision(&self, topic: Topic, a: Option<usize>, b: Option<usize>) -> Option<Standing<'_>> {
        let mut differences = self.differences.iter();
        let difference = differences.find(|it| (it.topic, it.a, it.b) == (topic, a, b))?;
        Some(match difference.decided(self.decisions) {
            Some(decision) => Standing::Decided(decision),
            None => Standing::Open,
        })
    }

    /// The joints of the string in order: that of the first list, but for joints of which it was decided
    /// that they are where the second has them.
    fn in_order(&self, bridge: &Bridge) -> Vec<RecordEntry> {
        let mut order: Vec<RecordEntry> = Vec::new();
        let mut later: Vec<RecordEntry> = Vec::new();
        for joint in &bridge.alignment.joints {
            let (a, b) = joint.places();
            let presence = self.decision(Topic::Presence, a, b);
            // Undecided, the first list applies.
            let second = presence.as_ref().is_some_and(Standing::is_second);
            let stays = match (a, b) {
                (Some(_), Some(_)) => true,
                (Some(_), None) => !second,
                _ => second,
            };
            if !stays {
                continue;
            }
            let Some(row) = self.row(a, b, presence.as_ref()) else {
                continue;
            };
            let entry = RecordEntry { row, b };
            let place = self.decision(Topic::Place, a, b);
            if a.is_none() || place.as_ref().is_some_and(Standing::is_second) {
                later.push(entry);
            } else {
                order.push(entry);
            }
        }
        // In the order of the second list, each after the nearest joint below it there.
        later.sort_by_key(|entry| entry.b);
        for entry in later {
            let below = order
                .iter()
                .enumerate()
                .filter(|(_, other)| other.b.is_some() && other.b < entry.b)
                .max_by_key(|(_, other)| other.b);
            let at = below.map_or(0, |(at, _)| at + 1);
            order.insert(at, entry);
        }
        order
    }

    fn row(
        &self,
        a: Option<usize>,
        b: Option<usize>,
        presence: Option<&Standing<'_>>,
    ) -> Option<RecordRow> {
        let [list_a, list_b] = self.lists;
        let one = a.and_then(|at| list_a.joints.get(at));
        let other = b.and_then(|at| list_b.joints.get(at));
        let mut joint = one.or(other)?.clone();
        let mut sources: Vec<RecordSource> = Vec::new();
        let mut notes: Vec<&str> = Vec::new();
        if one.is_none() || other.is_none() {
            let list = if one.is_some() { Side::A } else { Side::B };
            sources.push(RecordSource::Alone {
                list,
                decided: !matches!(presence, Some(Standing::Open)),
            });
        }
        notes.extend(presence.and_then(Standing::note));
        if let Some(other) = other {
            joint.serial = joint.serial.or_else(|| other.serial.clone());
            joint.kind = joint.kind.or(other.kind);
            joint.remarks = joint.remarks.or_else(|| other.remarks.clone());
        }
        let figure = |joint: &Joint, string: usize, at: Option<usize>| {
            let piece = self.strings.get(string).and_then(|it| it.pieces.get(at?));
            if self.effective_only {
                piece.map(|piece| piece.effective)
            } else {
                joint.overall()
            }
        };
        let mut length = one
            .and_then(|joint| figure(joint, 0, a))
            .or_else(|| figure(other?, 1, b));
        if let Some(standing) = self.decision(Topic::Length, a, b) {
            match standing.stands() {
                Stands::A => {}
                Stands::B => length = other.and_then(|joint| figure(joint, 1, b)),
                Stands::Measured(measured) => length = Some(measured),
            }
            sources.push(standing.source(Topic::Length));
            notes.extend(standing.note());
        }
        let mut loss = one.or(other).and_then(|joint| joint.makeup_loss);
        if let Some(standing) = self.decision(Topic::MakeupLoss, a, b) {
            match standing.stands() {
                Stands::A => {}
                Stands::B => loss = other.and_then(|joint| joint.makeup_loss),
                Stands::Measured(measured) => loss = Some(measured),
            }
            sources.push(standing.source(Topic::MakeupLoss));
            notes.extend(standing.note());
        }
        if let Some(standing) = self.decision(Topic::Place, a, b) {
            sources.push(standing.source(Topic::Place));
            notes.extend(standing.note());
        }
        if sources.is_empty() {
            sources.push(RecordSource::Both);
        }
        let renamed = one
            .zip(other)
            .filter(|(one, other)| one.number != other.number);
        if let Some((_, other)) = renamed {
            sources.push(RecordSource::CalledInB(other.number.to_string()));
        }
        if self.effective_only {
            (joint.length_kind, joint.makeup_loss) = (LengthKind::Effective, None);
        } else {
            (joint.length_kind, joint.makeup_loss) = (LengthKind::Overall, loss);
        }
        joint.length = length;
        Some(RecordRow {
            joint,
            sources,
            notes: notes.into_iter().map(str::to_owned).collect(),
        })
    }
}

/// What stands of one difference.
enum Standing<'d> {
    Decided(&'d Decision),
    /// Not decided: the first list applies.
    Open,
}

impl<'d> Standing<'d> {
    const fn stands(&self) -> Stands {
        match self {
            Self::Decided(decision) => decision.stands,
            Self::Open => Stands::A,
        }
    }

    fn is_second(&self) -> bool {
        self.stands() == Stands::B
    }

    fn note(&self) -> Option<&'d str> {
        match *self {
            Self::Decided(decision) => Some(decision.note.as_str()).filter(|note| !note.is_empty()),
            Self::Open => None,
        }
    }

    const fn source(&self, topic: Topic) -> RecordSource {
        let stands = match self {
            Self::Open => None,
            Self::Decided(decision) => Some(decision.stands),
        };
        RecordSource::Figure { topic, stands }
    }
}
