//! The bridge from the total of one list to that of the other: one line a cause, nothing left over.
//!
//! Every joint adds its effective length to the total of its own list. A joint of one list alone
//! accounts for all of it; for a joint of both, the two effective lengths differ by what its length,
//! its make-up loss, or its standing at the open end explains. So the lines add up to the difference
//! of the totals, always and exactly.

use std::collections::HashMap;

use super::align::{Aligned, Alignment, align};
use super::detail::{BridgeDetail, Cause, LengthMistake, LengthReason, ListedLoss, Note, Side};
use super::lengths::{Compare, STRAPS_APART};
use super::mistakes::Mistake;
use super::reasons::{ReadingMistake, of_length, of_loss};
use crate::measure::Length;
use crate::tally::{Joint, Kind, Pins, PipeString, Tally};

/// One line of the bridge.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BridgeLine {
    /// The cause.
    pub cause: Cause,
    /// The joint's number, as its list gives it.
    pub joint: String,
    /// What it adds on the way from the first total to the second.
    pub effect: Length,
    /// Its figures.
    pub detail: BridgeDetail,
    /// The joint in the first tally.
    pub a: Option<usize>,
    /// The joint in the second tally.
    pub b: Option<usize>,
}

/// A make-up plane that is at another height above the shoe in the second list.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct PlaneMoved {
    /// The joint whose lower plane it is, in the first tally.
    pub a: usize,
    /// The same joint in the second tally.
    pub b: usize,
    /// How much higher it is there.
    pub by: Length,
}

/// The way from one total to the other.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Bridge {
    /// The string length of the first list.
    pub a: Length,
    /// The string length of the second list.
    pub b: Length,
    /// Its lines, from the shoe up.
    pub lines: Vec<BridgeLine>,
    /// What each joint of the first list adds to its string.
    pub adds: Vec<Length>,
    /// What differs besides.
    pub notes: Vec<Note>,
    /// Make-up planes that move.
    pub planes: Vec<PlaneMoved>,
    /// Which joint is which.
    pub alignment: Alignment,
}

impl Bridge {
    /// The second total less the first.
    pub fn difference(&self) -> Length {
        self.b - self.a
    }

    /// What the lines leave unexplained: zero, or the program is wrong.
    pub fn remainder(&self) -> Length {
        let explained: Length = self.lines.iter().map(|line| line.effect).sum();
        self.difference() - explained
    }
}

/// What a joint adds in its own list.
#[derive(Clone, Copy)]
struct BridgePart<'a> {
    joint: &'a Joint,
    adds: Length,
    /// What of its make-up loss is deducted.
    deducted: Length,
    /// Whether its pin is made up to nothing.
    open: bool,
}

struct BridgeBuilder<'a> {
    a: &'a Tally,
    b: &'a Tally,
    strings: [PipeString; 2],
    pins: Pins,
    compare: Compare,
    lines: Vec<BridgeLine>,
    /// What rounding makes, and of how many joints.
    rounding: (Length, usize),
}

/// Bridges two tallies of one string, whose joints have their pins this way.
pub fn bridge(a: &Tally, b: &Tally, pins: Pins) -> Bridge {
    let alignment = align(a, b);
    let strings = [PipeString::make_up(a, pins), PipeString::make_up(b, pins)];
    let mut builder = BridgeBuilder {
        a,
        b,
        strings,
        pins,
        compare: Compare::of(a, b),
        lines: Vec::new(),
        rounding: (Length::ZERO, 0),
    };
    for joint in &alignment.joints {
        builder.add_joint(*joint);
    }
    builder.add_rounding();
    let notes = notes(a, b, &alignment);
    let [of_a, of_b] = &builder.strings;
    let planes = alignment.joints.iter().filter_map(|joint| match joint {
        Aligned::Both { a, b, .. } => {
            let by = of_b.pieces.get(*b)?.lower - of_a.pieces.get(*a)?.lower;
            // The bottom joint has no lower plane.
            (*a > 0 && *b > 0 && !by.is_zero()).then_some(PlaneMoved { a: *a, b: *b, by })
        }
        _ => None,
    });
    Bridge {
        a: of_a.length,
        b: of_b.length,
        planes: planes.collect(),
        adds: of_a.pieces.iter().map(|piece| piece.effective).collect(),
        lines: builder.lines,
        notes,
        alignment,
    }
}

/// Kinds that differ, and joints of one number that only their serials distinguish.
fn notes(a: &Tally, b: &Tally, alignment: &Alignment) -> Vec<Note> {
    let is_running = |joint: &Joint| joint.kind == Some(Kind::Running);
    let both_name_one = [a, b].iter().all(|list| list.joints.iter().any(is_running));
    let mut notes = Vec::new();
    let mut alone: HashMap<&str, &Joint> = HashMap::new();
    for joint in &alignment.joints {
        if let Aligned::OnlyA { a: at, .. } = joint
            && let Some(joint) = a.joints.get(*at)
        {
            alone.insert(&joint.number, joint);
        }
    }
    for joint in &alignment.joints {
        match *joint {
            Aligned::Both {
                a: one, b: other, ..
            } => {
                let (Some(one), Some(other)) = (a.joints.get(one), b.joints.get(other)) else {
                    continue;
                };
                // A list without kinds says nothing; one that calls another joint running does.
                let running = both_name_one && is_running(one) != is_running(other);
                if running || (one.kind.is_some() && other.kind.is_some() && one.kind != other.kind)
                {
                    notes.push(Note::Kinds {
                        joint: one.number.to_string(),
                        kinds: [one.kind, other.kind],
                        lines: [one.line, other.line],
                        running,
                    });
                }
            }
            Aligned::OnlyB { b: at, .. } => {
                let joint = b.joints.get(at);
                let twin = joint.and_then(|joint| alone.get(joint.number.as_str()));
                if let (Some(joint), Some(twin)) = (joint, twin) {
                    let serial = |joint: &Joint| joint.serial.as_ref().map(ToString::to_string);
                    notes.push(Note::Serials {
                        joint: joint.number.to_string(),
                        serials: [serial(twin), serial(joint)],
                        lines: [twin.line, joint.line],
                    });
                }
            }
            Aligned::OnlyA { .. } => {}
        }
    }
    notes
}

impl<'a> BridgeBuilder<'a> {
    fn part(tally: &'a Tally, string: &PipeString, at: usize) -> Option<BridgePart<'a>> {
        let joint = tally.joints.get(at)?;
        let adds = string.pieces.get(at)?.effective;
        let open = string.open_end() == at && joint.effective().is_none();
        Some(BridgePart {
            joint,
            adds,
            deducted: joint.overall().unwrap_or(adds) - adds,
            open,
        })
    }

    fn add(
        &mut self,
        cause: Cause,
        joint: &Joint,
        effect: Length,
        detail: BridgeDetail,
        at: Aligned,
    ) {
        let (a, b) = at.places();
        self.lines.push(BridgeLine {
            cause,
            joint: joint.number.to_string(),
            effect,
            detail,
            a,
            b,
        });
    }

    /// All that rounding makes is one line: it is no difference to decide.
    fn add_rounding(&mut self) {
        let (effect, joints) = self.rounding;
        if joints > 0 {
            self.lines.push(BridgeLine {
                cause: Cause::Rounding,
                joint: String::new(),
                effect,
                detail: BridgeDetail::Rounding { joints },
                a: None,
                b: None,
            });
        }
    }

    fn add_joint(&mut self, joint: Aligned) {
        let [of_a, of_b] = &self.strings;
        match joint {
            Aligned::OnlyA { a, twice } => {
                if let Some(part) = Self::part(self.a, of_a, a) {
                    self.alone(part, twice, Side::A, joint);
                }
            }
            Aligned::OnlyB { b, twice } => {
                if let Some(part) = Self::part(self.b, of_b, b) {
                    self.alone(part, twice, Side::B, joint);
                }
            }
            Aligned::Both { a, b, moved } => {
                let parts = Self::part(self.a, of_a, a).zip(Self::part(self.b, of_b, b));
                let Some((one, other)) = parts else { return };
                if moved {
                    let detail = BridgeDetail::Moved {
                        places: [a + 1, b + 1],
                        lines: [one.joint.line, other.joint.line],
                    };
                    self.add(Cause::Order, one.joint, Length::ZERO, detail, joint);
                }
                self.both(one, other, joint);
            }
        }
    }

    fn alone(&mut self, part: BridgePart<'a>, twice: bool, list: Side, at: Aligned) {
        let cause = match (twice, list) {
            (true, _) => Cause::ListedTwice,
            (false, Side::A) => Cause::OnlyInA,
            (false, Side::B) => Cause::OnlyInB,
        };
        let effect = match list {
            Side::A => -part.adds,
            Side::B => part.adds,
        };
        let detail = BridgeDetail::Alone {
            list,
            twice,
            line: part.joint.line,
            adds: part.adds,
        };
        self.add(cause, part.joint, effect, detail, at);
    }

    fn both(&mut self, one: BridgePart<'a>, other: BridgePart<'a>, at: Aligned) {
        let overall = one.joint.overall().zip(other.joint.overall());
        let Some((in_a, in_b)) = overall else {
            // One list gives effective lengths alone: losses and lengths are not distinguished.
            let effect = other.adds - one.adds;
            if !effect.is_zero() && effect.abs() <= self.compare.rounded {
                self.rounding = (self.rounding.0 + effect, self.rounding.1 + 1);
            } else if !effect.is_zero() {
                let detail = self.length(one, other, [one.adds, other.adds]);
                self.add(Cause::Length, one.joint, effect, detail, at);
            }
            return;
        };
        let (mut rounding, mut is_rounded) = (Length::ZERO, false);
        if (in_a - in_b).abs() > self.compare.rounded {
            let detail = self.length(one, other, [in_a, in_b]);
            self.add(Cause::Length, one.joint, in_b - in_a, detail, at);
        } else if in_a != in_b {
            (rounding, is_rounded) = (in_b - in_a, true);
        }
        let effect = one.deducted - other.deducted;
        let losses = one.joint.makeup_loss.zip(other.joint.makeup_loss);
        let is_small = effect.abs() <= self.compare.loss_rounded;
        if !effect.is_zero() && one.open == other.open && losses.is_some() && is_small {
            (rounding, is_rounded) = (rounding + effect, true);
        }
        if is_rounded {
            self.rounding = (self.rounding.0 + rounding, self.rounding.1 + 1);
        }
        if effect.is_zero() || (is_small && losses.is_some() && one.open == other.open) {
            return;
        }
        if one.open == other.open {
            let detail = self.loss(one, other);
            self.add(Cause::MakeupLoss, one.joint, effect, detail, at);
        } else {
            let open_in = if one.open { Side::A } else { Side::B };
            let detail = BridgeDetail::OpenEnd { open_in };
            self.add(Cause::OpenEnd, one.joint, effect, detail, at);
        }
    }

    fn length(
        &self,
        one: BridgePart<'_>,
        other: BridgePart<'_>,
        lengths: [Length; 2],
    ) -> BridgeDetail {
        let renamed = one.joint.number != other.joint.number;
        BridgeDetail::Length {
            lengths,
            lines: [one.joint.line, other.joint.line],
            called_in_b: renamed.then(|| other.joint.number.to_string()),
            reason: self.reason(one.joint, other.joint, lengths),
        }
    }

    /// The likely reason for a difference, where one fits exactly.
    fn reason(&self, one: &Joint, other: &Joint, [in_a, in_b]: [Length; 2]) -> LengthReason {
        let loss = |joint: &Joint| joint.makeup_loss.or(self.pins.nominal_loss);
        let losses = || [loss(one), loss(other)].into_iter().flatten();
        let rounded = self.compare.rounded;
        let of_a = of_length(one, (in_a, in_b), losses(), rounded).into_iter();
        let of_b = of_length(other, (in_b, in_a), losses(), rounded).into_iter();
        let of_side = |side: Side| {
            move |it: ReadingMistake| match it {
                ReadingMistake::Written(mistake) => LengthMistake::Written(mistake, side),
                ReadingMistake::LossTakenOff => LengthMistake::LossTakenOff(side),
            }
        };
        let fits: Vec<LengthMistake> = of_a
            .map(of_side(Side::A))
            .chain(of_b.map(of_side(Side::B)))
            .collect();
        if !fits.is_empty() {
            LengthReason::Mistakes(fits)
        } else if (in_a - in_b).abs() <= STRAPS_APART {
            LengthReason::Straps
        } else {
            LengthReason::Unknown
        }
    }

    fn loss(&self, one: BridgePart<'_>, other: BridgePart<'_>) -> BridgeDetail {
        let loss = |part: BridgePart<'_>| match (part.joint.makeup_loss, self.pins.nominal_loss) {
            (Some(loss), _) => ListedLoss::Written(loss),
            (None, Some(nominal)) => ListedLoss::Nominal(nominal),
            (None, None) => ListedLoss::None,
        };
        let losses = [loss(one), loss(other)];
        BridgeDetail::MakeupLoss {
            losses,
            lines: [one.joint.line, other.joint.line],
            reason: match losses {
                [ListedLoss::Written(in_a), ListedLoss::Written(in_b)] => {
                    self.loss_reason(one.joint, other.joint, in_a, in_b)
                }
                _ => None,
            },
        }
    }

    /// A mistake in digits that makes one loss of the other, to within rounding.
    fn loss_reason(
        &self,
        one: &Joint,
        other: &Joint,
        in_a: Length,
        in_b: Length,
    ) -> Option<Mistake> {
        let rounded = self.compare.loss_rounded;
        let of_a = of_loss(one, (in_a, in_b), rounded).into_iter();
        let mut all = of_a.chain(of_loss(other, (in_b, in_a), rounded));
        all.find_map(|it| match it {
            ReadingMistake::Written(mistake) => Some(mistake),
            ReadingMistake::LossTakenOff => None,
        })
    }
}
