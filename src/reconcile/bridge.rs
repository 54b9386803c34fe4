//! The bridge from the total of one list to that of the other: one line a cause, nothing left over.
//!
//! Every joint adds its effective length to the total of its own list. A joint of one list alone
//! accounts for all of it; for a joint of both, the two effective lengths differ by what its length,
//! its make-up loss, or its standing at the open end explains. So the lines add up to the difference
//! of the totals, always and exactly.

use std::collections::HashMap;

use super::align::{Alignment, Step, align};
use super::lengths::{Compare, STRAPS_APART};
use super::mistakes::{corrections, loss_corrections};
use crate::measure::{Length, LengthFormat};
use crate::tally::{Joint, Kind, Pins, PipeString, Tally};

/// Why the totals differ.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Cause {
    /// A joint of the first list alone.
    OnlyInA,
    /// A joint of the second list alone.
    OnlyInB,
    /// Its length differs.
    Length,
    /// Its make-up loss differs.
    MakeupLoss,
    /// It stands elsewhere: no effect on the total, but planes between move.
    Order,
    /// It is listed twice.
    ListedTwice,
    /// It stands at the open end in one list, where its loss is not deducted, and not in the other.
    OpenEnd,
}

impl Cause {
    /// The name in JSON.
    pub const fn name(self) -> &'static str {
        match self {
            Self::OnlyInA => "only-in-a",
            Self::OnlyInB => "only-in-b",
            Self::Length => "length",
            Self::MakeupLoss => "makeup-loss",
            Self::Order => "order",
            Self::ListedTwice => "listed-twice",
            Self::OpenEnd => "open-end",
        }
    }
}

/// One line of the bridge.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Line {
    /// The cause.
    pub cause: Cause,
    /// The joint's number, as its list gives it.
    pub joint: String,
    /// What it adds on the way from the first total to the second.
    pub effect: Length,
    /// The line in words.
    pub text: String,
    /// The joint in the first tally.
    pub a: Option<usize>,
    /// The joint in the second tally.
    pub b: Option<usize>,
}

/// A make-up plane that stands at another height above the shoe in the second list.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct PlaneMoved {
    /// The joint whose lower plane it is, in the first tally.
    pub a: usize,
    /// The same joint in the second tally.
    pub b: usize,
    /// How much higher it stands there.
    pub by: Length,
}

/// What differs besides lengths: it moves no total, but may matter all the same.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Note {
    /// In words.
    pub text: String,
    /// Whether an elevation may hang on it: the running joint is another.
    pub affects_elevation: bool,
}

/// The way from one total to the other.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Bridge {
    /// The string length of the first list.
    pub a: Length,
    /// The string length of the second list.
    pub b: Length,
    /// Its lines, from the shoe up.
    pub lines: Vec<Line>,
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
struct Part<'a> {
    joint: &'a Joint,
    adds: Length,
    /// What of its make-up loss is deducted.
    deducted: Length,
    /// Whether its pin is made up to nothing.
    open: bool,
}

struct Writer<'a> {
    a: &'a Tally,
    b: &'a Tally,
    strings: [PipeString; 2],
    pins: Pins,
    compare: Compare,
    show: LengthFormat,
    lines: Vec<Line>,
}

/// Bridges two tallies of one string, whose joints have their pins this way; its words are in the unit
/// of the first.
pub fn bridge(a: &Tally, b: &Tally, pins: Pins) -> Bridge {
    bridge_in(a, b, pins, LengthFormat::new(a.unit))
}

/// The same with its words in another unit.
pub fn bridge_in(a: &Tally, b: &Tally, pins: Pins, show: LengthFormat) -> Bridge {
    let alignment = align(a, b);
    let strings = [PipeString::make_up(a, pins), PipeString::make_up(b, pins)];
    let mut writer = Writer {
        a,
        b,
        strings,
        pins,
        compare: Compare::of(a, b),
        show,
        lines: Vec::new(),
    };
    for step in &alignment.steps {
        writer.step(*step);
    }
    let notes = notes(a, b, &alignment);
    let [of_a, of_b] = &writer.strings;
    let planes = alignment.steps.iter().filter_map(|step| match step {
        Step::Both { a, b, .. } => {
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
        lines: writer.lines,
        notes,
        alignment,
    }
}

/// Kinds, numbers and losses at the open end that differ, and joints of one number that are told apart
/// by their serials alone.
fn notes(a: &Tally, b: &Tally, alignment: &Alignment) -> Vec<Note> {
    let is_running = |joint: &Joint| joint.kind == Some(Kind::Running);
    let both_name_one = [a, b].iter().all(|list| list.joints.iter().any(is_running));
    let mut notes = Vec::new();
    let mut add = |text: String, affects_elevation: bool| {
        notes.push(Note {
            text,
            affects_elevation,
        });
    };
    let mut alone: HashMap<&str, &Joint> = HashMap::new();
    for step in &alignment.steps {
        if let Step::OnlyA { a: at, .. } = step
            && let Some(joint) = a.joints.get(*at)
        {
            alone.insert(&joint.number, joint);
        }
    }
    for step in &alignment.steps {
        match *step {
            Step::Both {
                a: one, b: other, ..
            } => {
                let (Some(one), Some(other)) = (a.joints.get(one), b.joints.get(other)) else {
                    continue;
                };
                let kind = |joint: &Joint| joint.kind.map_or("none", Kind::name);
                // A list without kinds says nothing; one that calls another joint running does.
                let running = both_name_one && is_running(one) != is_running(other);
                if running || (one.kind.is_some() && other.kind.is_some() && one.kind != other.kind)
                {
                    let text = format!(
                        "joint {} is of kind {} in A (line {}), {} in B (line {})",
                        one.number,
                        kind(one),
                        one.line,
                        kind(other),
                        other.line
                    );
                    add(text, running);
                }
            }
            Step::OnlyB { b: at, .. } => {
                let joint = b.joints.get(at);
                let twin = joint.and_then(|joint| alone.get(joint.number.as_str()));
                if let (Some(joint), Some(twin)) = (joint, twin) {
                    let serial =
                        |joint: &Joint| joint.serial.as_deref().unwrap_or("none").to_owned();
                    let text = format!(
                        "joint {} has serial {} in A (line {}) and {} in B (line {}): two joints, or one serial misread?",
                        joint.number,
                        serial(twin),
                        twin.line,
                        serial(joint),
                        joint.line
                    );
                    add(text, false);
                }
            }
            Step::OnlyA { .. } => {}
        }
    }
    notes
}

impl<'a> Writer<'a> {
    fn part(tally: &'a Tally, string: &PipeString, at: usize) -> Option<Part<'a>> {
        let joint = tally.joints.get(at)?;
        let adds = string.pieces.get(at)?.effective;
        let open = string.open_end() == at && joint.effective.is_none();
        Some(Part {
            joint,
            adds,
            deducted: joint.overall.unwrap_or(adds) - adds,
            open,
        })
    }

    fn add(&mut self, cause: Cause, joint: &Joint, effect: Length, text: String, step: Step) {
        let (a, b) = match step {
            Step::Both { a, b, .. } => (Some(a), Some(b)),
            Step::OnlyA { a, .. } => (Some(a), None),
            Step::OnlyB { b, .. } => (None, Some(b)),
        };
        self.lines.push(Line {
            cause,
            joint: joint.number.to_string(),
            effect,
            text,
            a,
            b,
        });
    }

    fn step(&mut self, step: Step) {
        let [of_a, of_b] = &self.strings;
        match step {
            Step::OnlyA { a, twice } => {
                if let Some(part) = Self::part(self.a, of_a, a) {
                    self.alone(part, twice, true, step);
                }
            }
            Step::OnlyB { b, twice } => {
                if let Some(part) = Self::part(self.b, of_b, b) {
                    self.alone(part, twice, false, step);
                }
            }
            Step::Both { a, b, moved } => {
                let parts = Self::part(self.a, of_a, a).zip(Self::part(self.b, of_b, b));
                if let Some((one, other)) = parts {
                    self.both(one, other, moved, step);
                }
            }
        }
    }

    fn alone(&mut self, part: Part<'a>, twice: bool, in_a: bool, step: Step) {
        let which = if in_a { "A" } else { "B" };
        let (cause, what) = match (twice, in_a) {
            (true, _) => (Cause::ListedTwice, "listed twice in"),
            (false, true) => (Cause::OnlyInA, "only in"),
            (false, false) => (Cause::OnlyInB, "only in"),
        };
        let text = format!(
            "joint {} is {what} {which} (line {}): it adds {} there",
            part.joint.number,
            part.joint.line,
            self.show.text(part.adds)
        );
        let effect = if in_a { -part.adds } else { part.adds };
        self.add(cause, part.joint, effect, text, step);
    }

    fn both(&mut self, one: Part<'a>, other: Part<'a>, moved: bool, step: Step) {
        let number = &one.joint.number;
        if moved {
            let place = |at: Option<usize>| at.map_or(0, |at| at + 1);
            let (in_a, in_b) = match step {
                Step::Both { a, b, .. } => (place(Some(a)), place(Some(b))),
                _ => (0, 0),
            };
            let text = format!(
                "joint {number} stands elsewhere: number {in_a} from the shoe in A (line {}), number {in_b} in B (line {})",
                one.joint.line, other.joint.line
            );
            self.add(Cause::Order, one.joint, Length::ZERO, text, step);
        }
        let overall = one.joint.overall.zip(other.joint.overall);
        let Some((in_a, in_b)) = overall else {
            // One list gives effective lengths alone: losses and lengths cannot be told apart.
            let effect = other.adds - one.adds;
            if !effect.is_zero() {
                let text = self.length_text(one, other, one.adds, other.adds);
                self.add(Cause::Length, one.joint, effect, text, step);
            }
            return;
        };
        if in_a != in_b {
            let text = self.length_text(one, other, in_a, in_b);
            self.add(Cause::Length, one.joint, in_b - in_a, text, step);
        }
        let effect = one.deducted - other.deducted;
        if effect.is_zero() {
            return;
        }
        if one.open == other.open {
            let text = self.loss_text(one, other);
            self.add(Cause::MakeupLoss, one.joint, effect, text, step);
        } else {
            let (open, closed) = if one.open { ("A", "B") } else { ("B", "A") };
            let text = format!(
                "joint {number} is the open end in {open} and made up in {closed}: its make-up loss counts in {closed} alone"
            );
            self.add(Cause::OpenEnd, one.joint, effect, text, step);
        }
    }

    fn length_text(&self, one: Part<'_>, other: Part<'_>, in_a: Length, in_b: Length) -> String {
        let by = in_b - in_a;
        let side = if by.is_negative() {
            "shorter"
        } else {
            "longer"
        };
        let renamed = if one.joint.number == other.joint.number {
            String::new()
        } else {
            format!(" ({} in B)", other.joint.number)
        };
        format!(
            "joint {}{renamed} is {side} in B by {}: {} in A (line {}), {} in B (line {}); {}",
            one.joint.number,
            self.show.difference(by.abs()).trim_start_matches('+'),
            self.show.text(in_a),
            one.joint.line,
            self.show.text(in_b),
            other.joint.line,
            self.reason(one.joint, other.joint, in_a, in_b)
        )
    }

    /// The likely reason for a difference, where one fits exactly.
    fn reason(&self, one: &Joint, other: &Joint, in_a: Length, in_b: Length) -> String {
        if self.compare.equal(one, other) {
            return "no more than the two units round".to_owned();
        }
        let mut fits: Vec<String> = Vec::new();
        for (wrong, right, joint, list) in [(in_a, in_b, one, "A"), (in_b, in_a, other, "B")] {
            for (mistake, meant) in corrections(wrong, joint.written) {
                let text = format!("{} in {list}", mistake.words());
                if meant == right && !fits.contains(&text) {
                    fits.push(text);
                }
            }
            // The effective length written where the overall one belongs.
            let loss = |joint: &Joint| joint.makeup_loss.or(self.pins.nominal_loss);
            let losses = [loss(one), loss(other)].into_iter().flatten();
            let text = format!("the make-up loss is taken off already in {list}");
            if losses
                .into_iter()
                .any(|loss| !loss.is_zero() && right - loss == wrong)
                && !fits.contains(&text)
            {
                fits.push(text);
            }
        }
        if !fits.is_empty() {
            return format!("it would fit: {}", fits.join(", or "));
        }
        if (in_a - in_b).abs() <= STRAPS_APART {
            "no known mistake; two straps of one joint may differ so".to_owned()
        } else {
            "no known mistake".to_owned()
        }
    }

    /// A mistake in digits that makes one loss of the other.
    fn loss_reason(one: &Joint, other: &Joint, in_a: Length, in_b: Length) -> String {
        let written = |joint: &Joint| joint.loss_written.unwrap_or(joint.written);
        let of_a = loss_corrections(in_a, written(one)).into_iter();
        let of_b = loss_corrections(in_b, written(other)).into_iter();
        let mut fits = of_a
            .filter(|(_, meant)| *meant == in_b)
            .chain(of_b.filter(|(_, meant)| *meant == in_a));
        fits.next().map_or_else(String::new, |(mistake, _)| {
            format!("; it would fit: {} in A or in B", mistake.words())
        })
    }

    fn loss_text(&self, one: Part<'_>, other: Part<'_>) -> String {
        let loss = |part: Part<'_>| match (part.joint.makeup_loss, self.pins.nominal_loss) {
            (Some(loss), _) => self.show.small(loss),
            (None, Some(nominal)) => format!("blank, the pipe's {}", self.show.small(nominal)),
            (None, None) => "blank, none deducted".to_owned(),
        };
        let reason = match (one.joint.makeup_loss, other.joint.makeup_loss) {
            (Some(in_a), Some(in_b)) => Self::loss_reason(one.joint, other.joint, in_a, in_b),
            _ => String::new(),
        };
        format!(
            "the make-up loss of joint {} is {} in A (line {}), {} in B (line {}){reason}",
            one.joint.number,
            loss(one),
            one.joint.line,
            loss(other),
            other.joint.line
        )
    }
}
