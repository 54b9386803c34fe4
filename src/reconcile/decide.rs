//! Which value applies where two lists differ.
//!
//! The differences are those of the bridge, each about one topic of one joint. A decision says that
//! the first list stands, the second, or a value that was measured again.

use std::collections::HashMap;

use super::align::Aligned;
use super::bridge::Bridge;
use super::detail::{BridgeDetail, Cause};
use super::lengths::LONGEST_LOSS;
use crate::measure::Length;
use crate::tally::{Joint, Tally};

/// What of a joint is decided.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Topic {
    /// Its length.
    Length,
    /// Its make-up loss.
    MakeupLoss,
    /// Whether it is in the string at all.
    Presence,
    /// Its position.
    Place,
    /// Its number: which of two names is true.
    Number,
}

impl Topic {
    /// All of them.
    pub const ALL: [Self; 5] = [
        Self::Length,
        Self::MakeupLoss,
        Self::Presence,
        Self::Place,
        Self::Number,
    ];
    /// Those that make a string longer or its joints stand elsewhere: the rows of a bridge.
    pub const OF_BRIDGE: [Self; 4] = [Self::Length, Self::MakeupLoss, Self::Presence, Self::Place];

    /// The name in files.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Length => "length",
            Self::MakeupLoss => "makeup-loss",
            Self::Presence => "presence",
            Self::Place => "place",
            Self::Number => "number",
        }
    }

    /// The topic that a word names.
    pub fn from_word(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|topic| topic.name() == word)
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
    /// The topic.
    pub topic: Topic,
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
    /// The line of the file of decisions that it was read from; 0 where it is of no such file.
    pub row: u64,
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
pub(super) const FAR: Length = Length::from_mm(1_000);

/// Why a value that was measured again is refused.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Refusal {
    /// It is no length that is decided.
    NotMeasurable,
    /// One of the lists gives effective lengths alone.
    EffectiveOnly,
    /// A joint that would be no longer than its make-up loss.
    WithinLoss,
    /// A make-up loss as long as its joint.
    LossOfWholeJoint,
    /// A make-up loss longer than any pin.
    LossTooLong,
    /// Further than this from what either list says.
    Far {
        /// The most that is allowed.
        most: Length,
    },
}

/// A difference that asks for a decision.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Difference {
    /// The topic.
    pub topic: Topic,
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
    /// Whether one of the lists gives effective lengths alone.
    pub effective_only: bool,
    /// What the second list adds to the length of the string here.
    pub effect: Length,
    /// Whether no other difference is about the same topic of a joint of this number.
    pub alone: bool,
    /// How far it moves make-up planes, whichever way.
    pub moves: Length,
    /// The figures of the difference.
    pub detail: BridgeDetail,
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
    pub fn refuses(&self, joint: &Joint, measured: Length) -> Option<Refusal> {
        let (overall, loss) = (joint.length, joint.makeup_loss.unwrap_or_default());
        match self.topic {
            Topic::Presence | Topic::Place | Topic::Number => Some(Refusal::NotMeasurable),
            // A tape gives an overall length; taken for an effective one it is wrong by a make-up loss.
            Topic::Length if self.effective_only => Some(Refusal::EffectiveOnly),
            Topic::Length if measured <= loss => Some(Refusal::WithinLoss),
            Topic::MakeupLoss if overall.is_some_and(|length| measured >= length) => {
                Some(Refusal::LossOfWholeJoint)
            }
            Topic::MakeupLoss if measured > LONGEST_LOSS => Some(Refusal::LossTooLong),
            Topic::Length => {
                let far = |said: &Length| (*said - measured).abs() > FAR;
                let mut said = self.said.iter().flatten().peekable();
                (said.peek().is_some() && said.all(far)).then_some(Refusal::Far { most: FAR })
            }
            Topic::MakeupLoss => None,
        }
    }

    /// Whether a decision is on this difference, and was made of the figures that are in the lists
    /// now: after a change of a list it is open again.
    fn is_of(&self, decision: &Decision) -> bool {
        let same_joint = (decision.topic, decision.joint.as_str(), decision.in_b)
            == (self.topic, self.joint.as_str(), self.in_b())
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
/// another joint is the open end, asks for nothing.
pub fn differences(a: &Tally, b: &Tally, bridge: &Bridge) -> Vec<Difference> {
    let lines = bridge.lines.iter().filter_map(|line| {
        let topic = match line.cause {
            Cause::Length => Topic::Length,
            Cause::MakeupLoss => Topic::MakeupLoss,
            Cause::OnlyInA | Cause::OnlyInB | Cause::ListedTwice => Topic::Presence,
            Cause::Order => Topic::Place,
            Cause::OpenEnd | Cause::Rounding => return None,
        };
        let joint = line
            .a
            .and_then(|at| a.joints.get(at))
            .or_else(|| b.joints.get(line.b?))?;
        let figure = |joint: Option<&Joint>| match topic {
            Topic::Length => joint.and_then(|joint| joint.length),
            Topic::MakeupLoss => joint.and_then(|joint| joint.makeup_loss),
            Topic::Presence | Topic::Place | Topic::Number => None,
        };
        let said = [
            figure(line.a.and_then(|at| a.joints.get(at))),
            figure(line.b.and_then(|at| b.joints.get(at))),
        ];
        let moves = match topic {
            Topic::Place => line
                .a
                .zip(line.b)
                .map_or(Length::ZERO, |place| passed(bridge, place)),
            _ => line.effect.abs(),
        };
        Some(Difference {
            topic,
            joint: line.joint.clone(),
            line: joint.line,
            a: line.a,
            b: line.b,
            said,
            effective_only: a.effective_only || b.effective_only,
            effect: line.effect,
            alone: true,
            moves,
            detail: line.detail.clone(),
        })
    });
    let mut differences: Vec<Difference> = lines.collect();
    let key = |it: &Difference| (it.topic, it.joint.clone(), it.in_b());
    let mut count: HashMap<(Topic, String, bool), usize> = HashMap::new();
    for difference in &differences {
        *count.entry(key(difference)).or_default() += 1;
    }
    for difference in &mut differences {
        difference.alone = count.get(&key(difference)) == Some(&1);
    }
    differences
}

/// How far a joint in a different position moves planes: those that it passes by what it adds, and its
/// own by what they add.
fn passed(bridge: &Bridge, (a, b): (usize, usize)) -> Length {
    let adds = |at: usize| bridge.adds.get(at).copied().unwrap_or_default();
    let passed: Length = bridge
        .alignment
        .joints
        .iter()
        .filter_map(|joint| match joint {
            Aligned::Both {
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
pub fn unmatched_decisions<'d>(
    differences: &[Difference],
    decisions: &'d [Decision],
) -> impl Iterator<Item = &'d Decision> {
    let known = |decision: &Decision| differences.iter().any(|it| it.is_of(decision));
    decisions.iter().filter(move |decision| !known(decision))
}
