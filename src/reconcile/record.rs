//! The tally of record that follows from decisions. Nothing is ever written into a source: the outcome
//! is a new list, in which every joint says where its figures come from.

use super::align::Step;
use super::bridge::Bridge;
use super::decide::{Decision, Difference, Stands, Topic, differences};
use crate::tally::{Joint, Pins, PipeString, Tally};

/// One joint of a tally of record.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RecordRow {
    /// The joint: what is known of it, with the figures that stand.
    pub joint: Joint,
    /// Where its figures come from.
    pub source: String,
    /// The notes of the decisions on it.
    pub note: String,
}

/// A tally of record, shoe first.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Record {
    /// Its joints; landing joints of the first list last.
    pub rows: Vec<RecordRow>,
    /// Whether its lengths are effective ones, because one of the lists gives nothing else.
    pub effective_only: bool,
    /// How many differences are not decided; there the first list stands until someone decides.
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
struct Entry {
    row: RecordRow,
    b: Option<usize>,
}

/// What the decisions make of two lists; `names` are what the lists are called.
pub fn record(
    (a, b): (&Tally, &Tally),
    bridge: &Bridge,
    decisions: &[Decision],
    names: [&str; 2],
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
        names,
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
        source: names[0].to_owned(),
        note: String::new(),
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
    names: [&'m str; 2],
    effective_only: bool,
}

impl Maker<'_> {
    fn decision(&self, topic: Topic, a: Option<usize>, b: Option<usize>) -> Option<Verdict<'_>> {
        let mut differences = self.differences.iter();
        let difference = differences.find(|it| (it.topic, it.a, it.b) == (topic, a, b))?;
        Some(match difference.decided(self.decisions) {
            Some(decision) => Verdict::Decided(decision),
            None => Verdict::Open,
        })
    }

    /// The joints that stand, in the order that stands: that of the first list, but for joints of
    /// which it was decided that they stand where the second has them.
    fn in_order(&self, bridge: &Bridge) -> Vec<Entry> {
        let mut order: Vec<Entry> = Vec::new();
        let mut later: Vec<Entry> = Vec::new();
        for step in &bridge.alignment.steps {
            let (a, b) = match *step {
                Step::Both { a, b, .. } => (Some(a), Some(b)),
                Step::OnlyA { a, .. } => (Some(a), None),
                Step::OnlyB { b, .. } => (None, Some(b)),
            };
            let presence = self.decision(Topic::Presence, a, b);
            // Undecided, the first list stands; a joint is measured in or out of nothing.
            let second = presence.as_ref().is_some_and(Verdict::is_second);
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
            let entry = Entry { row, b };
            let place = self.decision(Topic::Place, a, b);
            if a.is_none() || place.as_ref().is_some_and(Verdict::is_second) {
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
        presence: Option<&Verdict<'_>>,
    ) -> Option<RecordRow> {
        let [list_a, list_b] = self.lists;
        let one = a.and_then(|at| list_a.joints.get(at));
        let other = b.and_then(|at| list_b.joints.get(at));
        let mut joint = one.or(other)?.clone();
        let [name_a, name_b] = self.names;
        let mut sources: Vec<String> = Vec::new();
        let mut notes: Vec<&str> = Vec::new();
        match (one, other) {
            (Some(_), Some(_)) => {}
            (Some(_), None) => sources.push(said(name_a, presence)),
            _ => sources.push(said(name_b, presence)),
        }
        notes.extend(presence.and_then(Verdict::note));
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
                joint.overall
            }
        };
        let mut length = one
            .and_then(|joint| figure(joint, 0, a))
            .or_else(|| figure(other?, 1, b));
        if let Some(verdict) = self.decision(Topic::Length, a, b) {
            match verdict.stands() {
                Stands::A => {}
                Stands::B => length = other.and_then(|joint| figure(joint, 1, b)),
                Stands::Measured(measured) => length = Some(measured),
            }
            sources.push(format!("length: {}", verdict.source(self.names)));
            notes.extend(verdict.note());
        }
        let mut loss = one.or(other).and_then(|joint| joint.makeup_loss);
        if let Some(verdict) = self.decision(Topic::MakeupLoss, a, b) {
            match verdict.stands() {
                Stands::A => {}
                Stands::B => loss = other.and_then(|joint| joint.makeup_loss),
                Stands::Measured(measured) => loss = Some(measured),
            }
            sources.push(format!("loss: {}", verdict.source(self.names)));
            notes.extend(verdict.note());
        }
        if let Some(verdict) = self.decision(Topic::Place, a, b) {
            sources.push(format!("place: {}", verdict.source(self.names)));
            notes.extend(verdict.note());
        }
        if sources.is_empty() {
            sources.push(format!("{name_a} and {name_b}"));
        }
        let renamed = one
            .zip(other)
            .filter(|(one, other)| one.number != other.number);
        if let Some((_, other)) = renamed {
            sources.push(format!("called {} in {name_b}", other.number));
        }
        if self.effective_only {
            (joint.overall, joint.makeup_loss, joint.effective) = (None, None, length);
        } else {
            (joint.overall, joint.makeup_loss, joint.effective) = (length, loss, None);
        }
        Some(RecordRow {
            joint,
            source: sources.join("; "),
            note: notes.join("; "),
        })
    }
}

fn said(name: &str, presence: Option<&Verdict<'_>>) -> String {
    match presence {
        Some(Verdict::Open) => format!("{name} alone, not decided"),
        _ => format!("{name} alone"),
    }
}

/// What stands of one difference.
enum Verdict<'d> {
    Decided(&'d Decision),
    /// Not decided: the first list until someone decides.
    Open,
}

impl<'d> Verdict<'d> {
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

    fn source(&self, names: [&str; 2]) -> String {
        match self {
            Self::Open => format!("{}, not decided", names[0]),
            Self::Decided(decision) => match decision.stands {
                Stands::A => names[0].to_owned(),
                Stands::B => names[1].to_owned(),
                Stands::Measured(_) => "measured again".to_owned(),
            },
        }
    }
}
