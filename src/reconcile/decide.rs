//! Which value stands where two lists differ, and the tally of record that follows.
//!
//! The differences are those of the bridge, each about one matter of one joint. A decision says that
//! the first list stands, the second, or a value that was measured again. Nothing is ever written
//! into a source: the outcome is a new list, in which every joint says where its figures come from.

use std::collections::HashMap;

use super::align::Step;
use super::bridge::{Bridge, Cause};
use crate::measure::Length;
use crate::tally::{Joint, Pins, PipeString, Tally};

/// What of a joint is decided.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Matter {
    /// Its length.
    Length,
    /// Its make-up loss.
    MakeupLoss,
    /// Whether it is in the string at all.
    Presence,
    /// Where it stands.
    Place,
}

impl Matter {
    /// All of them.
    pub const ALL: [Self; 4] = [Self::Length, Self::MakeupLoss, Self::Presence, Self::Place];

    /// The name in files.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Length => "length",
            Self::MakeupLoss => "makeup-loss",
            Self::Presence => "presence",
            Self::Place => "place",
        }
    }

    /// The matter that a word names.
    pub fn from_word(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|matter| matter.name() == word)
    }
}

/// What stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stands {
    /// What the first list says.
    A,
    /// What the second list says.
    B,
    /// What was measured again.
    Measured(Length),
}

/// One decision.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Decision {
    /// The matter.
    pub matter: Matter,
    /// The joint's number in the first list; in the second where the first has it not.
    pub joint: String,
    /// Whether that is the second list.
    pub in_b: bool,
    /// The line that lists it there, to tell joints of one number apart.
    pub line: u32,
    /// What the two lists said when it was decided; `None` where that is no figure, or was not noted.
    pub said: [Option<Length>; 2],
    /// What stands.
    pub stands: Stands,
    /// Why.
    pub note: String,
}

impl Decision {
    /// The figure that stands by it; `None` where that is no figure, or was not noted.
    fn outcome(&self) -> Option<Length> {
        let [a, b] = self.said;
        match self.stands {
            Stands::A => a,
            Stands::B => b,
            Stands::Measured(length) => Some(length),
        }
    }
}

/// How far a measured length may lie from what both lists say before it is taken for another joint, or
/// another unit.
const FAR: Length = Length::from_mm(1_000);

/// Twice what the longest pins are swallowed.
const LONGEST_LOSS: Length = Length::from_mm(600);

/// A difference that asks for a decision.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Difference {
    /// The matter.
    pub matter: Matter,
    /// The joint's number.
    pub joint: String,
    /// The line that lists it, in the first list or, where that has it not, in the second.
    pub line: u32,
    /// The joint in the first list.
    pub a: Option<usize>,
    /// The joint in the second list.
    pub b: Option<usize>,
    /// What the two lists say; `None` where that is no figure.
    pub said: [Option<Length>; 2],
    /// What the second list adds to the length of the string here.
    pub effect: Length,
    /// Whether no other difference is about the same matter of a joint of this number.
    pub alone: bool,
    /// How far it moves make-up planes, whichever way.
    pub moves: Length,
    /// The difference in words.
    pub text: String,
}

impl Difference {
    /// The decision on it: the last one, for people change their minds.
    pub fn decided<'d>(&self, decisions: &'d [Decision]) -> Option<&'d Decision> {
        decisions.iter().rev().find(|decision| self.is_of(decision))
    }

    /// Whether the joint is in the second list alone, so that its number and line are those there.
    pub const fn in_b(&self) -> bool {
        self.a.is_none()
    }

    /// A decision that the first list does not follow yet: it is decided otherwise than it says.
    pub fn pending<'d>(&self, decisions: &'d [Decision]) -> Option<&'d Decision> {
        let decision = self.decided(decisions)?;
        let [a, _] = self.said;
        let follows = match decision.stands {
            Stands::A => true,
            Stands::B => a.is_some() && decision.outcome() == a,
            Stands::Measured(length) => a == Some(length),
        };
        (!follows).then_some(decision)
    }

    /// Why a length that was measured again cannot stand here: another joint, or another unit.
    pub fn refuses(&self, joint: &Joint, measured: Length) -> Option<String> {
        let (overall, loss) = (
            joint.overall.or(joint.effective),
            joint.makeup_loss.unwrap_or_default(),
        );
        match self.matter {
            Matter::Presence | Matter::Place => Some("this cannot be measured".to_owned()),
            Matter::Length if measured <= loss => {
                Some("a joint cannot be shorter than its make-up loss".to_owned())
            }
            Matter::MakeupLoss if overall.is_some_and(|length| measured >= length) => {
                Some("a make-up loss cannot be as long as its joint".to_owned())
            }
            Matter::MakeupLoss if measured > LONGEST_LOSS => {
                Some("no pin is that long: is the unit right?".to_owned())
            }
            Matter::Length => {
                let far = |said: &Length| (*said - measured).abs() > FAR;
                let said = self.said.iter().flatten();
                (said.clone().count() > 0 && said.clone().all(far)).then(|| {
                    "it is more than 1 m from what either list says: is it the joint, and the unit?"
                        .to_owned()
                })
            }
            Matter::MakeupLoss => None,
        }
    }

    /// Whether a decision is on this difference, and was made of the figures that stand in the lists
    /// now: a list that changed since then asks anew.
    fn is_of(&self, decision: &Decision) -> bool {
        let same_joint = (decision.matter, decision.joint.as_str(), decision.in_b)
            == (self.matter, self.joint.as_str(), self.in_b())
            && (decision.line == self.line || self.alone);
        let [a, b] = self.said;
        let [said_a, said_b] = decision.said;
        let outcome = decision.outcome();
        // The first list may say by now what was decided: it is the tally of record then.
        let fits = |noted: Option<Length>, now| noted.is_none() || noted == now;
        same_joint && fits(said_b, b) && (fits(said_a, a) || outcome == a)
    }
}

/// The differences of a bridge, in its order. What follows from others, as a loss that counts because
/// another joint stands at the open end, asks for nothing.
pub fn differences(a: &Tally, b: &Tally, bridge: &Bridge) -> Vec<Difference> {
    let lines = bridge.lines.iter().filter_map(|line| {
        let matter = match line.cause {
            Cause::Length => Matter::Length,
            Cause::MakeupLoss => Matter::MakeupLoss,
            Cause::OnlyInA | Cause::OnlyInB | Cause::ListedTwice => Matter::Presence,
            Cause::Order => Matter::Place,
            Cause::OpenEnd => return None,
        };
        let joint = line
            .a
            .and_then(|at| a.joints.get(at))
            .or_else(|| b.joints.get(line.b?))?;
        let figure = |joint: Option<&Joint>| match matter {
            Matter::Length => joint.and_then(|joint| joint.overall.or(joint.effective)),
            Matter::MakeupLoss => joint.and_then(|joint| joint.makeup_loss),
            Matter::Presence | Matter::Place => None,
        };
        let said = [
            figure(line.a.and_then(|at| a.joints.get(at))),
            figure(line.b.and_then(|at| b.joints.get(at))),
        ];
        let moves = match matter {
            Matter::Place => line
                .a
                .zip(line.b)
                .map_or(Length::ZERO, |place| passed(bridge, place)),
            _ => line.effect.abs(),
        };
        Some(Difference {
            matter,
            joint: line.joint.clone(),
            line: joint.line,
            a: line.a,
            b: line.b,
            said,
            effect: line.effect,
            alone: true,
            moves,
            text: line.text.clone(),
        })
    });
    let mut differences: Vec<Difference> = lines.collect();
    let key = |it: &Difference| (it.matter, it.joint.clone(), it.in_b());
    let mut count: HashMap<(Matter, String, bool), usize> = HashMap::new();
    for difference in &differences {
        *count.entry(key(difference)).or_default() += 1;
    }
    for difference in &mut differences {
        difference.alone = count.get(&key(difference)) == Some(&1);
    }
    differences
}

/// How far a joint that stands elsewhere moves planes: those that it passes by what it adds, and its
/// own by what they add.
fn passed(bridge: &Bridge, (a, b): (usize, usize)) -> Length {
    let adds = |at: usize| bridge.adds.get(at).copied().unwrap_or_default();
    let passed: Length = bridge
        .alignment
        .steps
        .iter()
        .filter_map(|step| match step {
            Step::Both {
                a: other_a,
                b: other_b,
                moved: false,
            } if (*other_a < a) != (*other_b < b) => Some(adds(*other_a)),
            _ => None,
        })
        .sum();
    passed.max(adds(a))
}

/// How far undecided differences move any plane together: each alone may be small, and all of one sign.
pub fn open_together(differences: &[Difference], decisions: &[Decision]) -> Length {
    let open = differences
        .iter()
        .filter(|it| it.decided(decisions).is_none());
    let effects: Vec<Length> = open.map(|it| it.effect).collect();
    let total: Length = effects.iter().copied().sum();
    let mut sum = Length::ZERO;
    let mut most = total.abs();
    for effect in effects {
        sum += effect;
        // Seen from the shoe, and from the top on which elevations hang.
        most = most.max(sum.abs()).max((total - sum).abs());
    }
    most
}

/// A decision that belongs to no difference of the lists: they changed, or it is mistyped.
pub fn strangers<'d>(
    differences: &[Difference],
    decisions: &'d [Decision],
) -> impl Iterator<Item = &'d Decision> {
    let known = |decision: &Decision| differences.iter().any(|it| it.is_of(decision));
    decisions.iter().filter(move |decision| !known(decision))
}

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
    fn decision(&self, matter: Matter, a: Option<usize>, b: Option<usize>) -> Option<Verdict<'_>> {
        let mut differences = self.differences.iter();
        let difference = differences.find(|it| (it.matter, it.a, it.b) == (matter, a, b))?;
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
            let presence = self.decision(Matter::Presence, a, b);
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
            let place = self.decision(Matter::Place, a, b);
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
        if let Some(verdict) = self.decision(Matter::Length, a, b) {
            match verdict.stands() {
                Stands::A => {}
                Stands::B => length = other.and_then(|joint| figure(joint, 1, b)),
                Stands::Measured(measured) => length = Some(measured),
            }
            sources.push(format!("length: {}", verdict.source(self.names)));
            notes.extend(verdict.note());
        }
        let mut loss = one.or(other).and_then(|joint| joint.makeup_loss);
        if let Some(verdict) = self.decision(Matter::MakeupLoss, a, b) {
            match verdict.stands() {
                Stands::A => {}
                Stands::B => loss = other.and_then(|joint| joint.makeup_loss),
                Stands::Measured(measured) => loss = Some(measured),
            }
            sources.push(format!("loss: {}", verdict.source(self.names)));
            notes.extend(verdict.note());
        }
        if let Some(verdict) = self.decision(Matter::Place, a, b) {
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
