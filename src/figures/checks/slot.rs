//! The flags of one slot that its figures raise.

use super::accuracy::{Verdict, total};
use super::cut::{AsCut, CutPlace, of_as_cut};
use super::slot::{Basis, RunningJoint, SlotFigures};
use crate::flag::{Code, Flag, Place, Severity};
use crate::job::{Job, Slot};
use crate::measure::{Elevation, Length, LengthFormat};
use crate::tally::{Kind, Tally};

/// What a check looks at.
struct Checked<'a> {
    job: &'a Job,
    slot: &'a Slot,
    tally: &'a Tally,
    figures: &'a SlotFigures,
    show: LengthFormat,
}

pub(super) fn slot(
    job: &Job,
    slot: &Slot,
    tally: &Tally,
    figures: &SlotFigures,
    running: &RunningJoint,
) -> Vec<Flag> {
    let checked = Checked {
        job,
        slot,
        tally,
        figures,
        show: LengthFormat::new(job.units),
    };
    let mut flags = Vec::new();
    checked.basis(running, &mut flags);
    checked.running_joint(running, &mut flags);
    checked.windows(&mut flags);
    checked.cut(&mut flags);
    checked.as_cut(&mut flags);
    checked.keep_outs(&mut flags);
    checked.accessories(&mut flags);
    flags
}

impl Checked<'_> {
    fn number(&self, piece: usize) -> &str {
        self.figures.number(self.tally, piece)
    }

    fn elevation(&self, elevation: Elevation) -> String {
        self.show.text(elevation.height())
    }

    fn basis(&self, running: &RunningJoint, flags: &mut Vec<Flag>) {
        let mut flag = |code, text: String| flags.push(Flag::new(code, Place::Whole, text));
        match self.figures.basis {
            Basis::None => {
                let why = if matches!(running, RunningJoint::At(_) | RunningJoint::NotAsked) {
                    "give stick_up once it is read, or plan_shoulder or plan_top before"
                } else {
                    "the plan hangs on a running joint that the tally does not give"
                };
                flag(
                    Code::NoStickUp,
                    format!("there is nothing to hang elevations on: {why}"),
                );
            }
            Basis::Read | Basis::Planned => {}
        }
        let rotary = self.job.hulls.get(self.slot.hull).map(|hull| hull.rotary);
        if let (Some(top), Some(rotary)) = (self.figures.top, rotary)
            && top < rotary
            && self.figures.string.landing.is_empty()
        {
            flag(
                Code::TopBelowRotary,
                format!("the top stands {} below RT", self.show.text(rotary - top)),
            );
        }
        if let (Some(shoe), Some(bottom)) = (self.figures.shoe, self.slot.hole_bottom)
            && shoe - bottom < self.slot.min_rathole
        {
            let above = shoe - bottom;
            let side = if above.is_negative() {
                "below"
            } else {
                "above"
            };
            flag(
                Code::ShoeOnBottom,
                format!(
                    "the shoe would stand {} {side} the bottom of the hole; at least {} above it is asked for",
                    self.show.text(above.abs()),
                    self.show.text(self.slot.min_rathole)
                ),
            );
        }
    }

    fn running_joint(&self, running: &RunningJoint, flags: &mut Vec<Flag>) {
        let mut flag = |code, place, text: String| flags.push(Flag::new(code, place, text));
        match running {
            RunningJoint::NotAsked => {}
            RunningJoint::Missing => flag(
                Code::NoRunningJoint,
                Place::Whole,
                match &self.slot.running_joint {
                    Some(number) => format!("the running joint {number} is not in the tally"),
                    None => "the tally has no single joint of kind running to carry the shoulder"
                        .to_owned(),
                },
            ),
            RunningJoint::Several(pieces) => flag(
                Code::RunningJointTwice,
                Place::Joint(pieces.first().copied().unwrap_or(0)),
                format!(
                    "the running joint {} stands {} times in the tally: where the shoulder is cannot be told",
                    self.slot.running_joint.as_deref().unwrap_or_default(),
                    pieces.len()
                ),
            ),
            RunningJoint::At(piece) => {
                if *piece == 0 {
                    let text = "the running joint is the bottom joint: its shoulder counts from its lower end".to_owned();
                    flag(Code::RunningJointAtBottom, Place::Shoulder, text);
                }
                let effective = self
                    .figures
                    .string
                    .pieces
                    .get(*piece)
                    .map(|piece| piece.effective);
                if let (Some(offset), Some(effective)) = (self.slot.shoulder_offset, effective)
                    && (offset.is_negative() || offset > effective)
                {
                    flag(
                        Code::ShoulderOffJoint,
                        Place::Shoulder,
                        format!(
                            "the shoulder's offset of {} lies off {}, which is {} long effective",
                            self.show.text(offset),
                            self.number(*piece),
                            self.show.text(effective)
                        ),
                    );
                }
            }
        }
        if let Some(number) = &self.slot.running_joint {
            let others = self.tally.joints.iter().enumerate();
            let other = others
                .into_iter()
                .find(|(_, joint)| joint.kind == Some(Kind::Running) && *joint.number != **number);
            if let Some((at, joint)) = other {
                flag(
                    Code::RunningJointOther,
                    Place::Joint(at),
                    format!(
                        "the job says {number}, the tally marks {} (line {}) as running",
                        joint.number, joint.line
                    ),
                );
            }
        }
    }

    fn windows(&self, flags: &mut Vec<Flag>) {
        let shoulder = self
            .figures
            .shoulder
            .and_then(|shoulder| shoulder.elevation);
        for (code, place, name, elevation, window) in [
            (
                Code::ShoeOutside,
                Place::Whole,
                "shoe",
                self.figures.shoe,
                self.slot.shoe_window,
            ),
            (
                Code::ShoulderOutside,
                Place::Shoulder,
                "landing shoulder",
                shoulder,
                self.slot.shoulder_window,
            ),
            (
                Code::TopOutside,
                Place::Whole,
                "top",
                self.figures.top,
                self.slot.top_window,
            ),
        ] {
            if let (Some(elevation), Some(window)) = (elevation, window)
                && !window.holds(&elevation)
            {
                let text = format!(
                    "the {name} is at {}, outside {} to {}",
                    self.elevation(elevation),
                    self.elevation(window.from),
                    self.elevation(window.to)
                );
                flags.push(Flag::new(code, place, text));
            }
        }
    }

    fn cut(&self, flags: &mut Vec<Flag>) {
        let target = self.figures.cut.target;
        let mut flag = |code, text: String| flags.push(Flag::new(code, Place::Cut, text));
        let mudline = self.job.mudline(self.slot);
        if target < mudline {
            flag(
                Code::CutBelowMudline,
                format!(
                    "the cut at {} lies {} below the mudline",
                    self.elevation(target),
                    self.show.text(mudline - target)
                ),
            );
        }
        if let (Some(top), Some(shoe)) = (self.figures.top, self.figures.shoe) {
            let unjudged = if self.slot.as_cut.is_empty() {
                ""
            } else {
                "; the readings of the finished top are not judged"
            };
            if top < target {
                flag(
                    Code::TooShort,
                    format!(
                        "the string is too short by {}: its top is at {}, the cut at {}{unjudged}",
                        self.show.text(target - top),
                        self.elevation(top),
                        self.elevation(target)
                    ),
                );
            }
            if target < shoe {
                flag(
                    Code::CutBelowShoe,
                    format!(
                        "the cut at {} lies below the shoe at {}{unjudged}",
                        self.elevation(target),
                        self.elevation(shoe)
                    ),
                );
            }
        }
        if let Some(place) = &self.figures.cut.place {
            self.cut_place(place, flags);
        }
        if let (Some(tolerance), Some(variance)) = (
            self.job.cut.tolerance,
            total(&of_as_cut(&self.job.uncertainty)),
        ) && !variance.expanded_is_within(tolerance)
        {
            flags.push(Flag::new(
                Code::ToleranceBelowUncertainty,
                Place::Cut,
                format!(
                    "a finished top is known to {} (U), the tolerance is {}: nothing can be proven within it",
                    self.show.small(variance.expanded()),
                    self.show.small(tolerance)
                ),
            ));
        }
    }

    fn cut_place(&self, place: &CutPlace, flags: &mut Vec<Flag>) {
        let mut flag = |code, text: String| flags.push(Flag::new(code, Place::Cut, text));
        if place.piece == 0 {
            flag(
                Code::CutInShoeJoint,
                format!("the cut lies in {}, the bottom joint", self.number(0)),
            );
        }
        if let Some(clearance) = self.job.cut.clearance {
            for (code, distance, what) in [
                (
                    Code::CutNearConnection,
                    place.to_connection,
                    "the nearest connection",
                ),
                (
                    Code::CutNearShoulder,
                    place.to_shoulder,
                    "the landing shoulder",
                ),
            ] {
                if let Some(distance) = distance.filter(|distance| *distance < clearance) {
                    let how = if distance.is_zero() {
                        format!("the cut lies in or touches {what}")
                    } else {
                        format!(
                            "the cut comes within {} of {what}",
                            self.show.text(distance)
                        )
                    };
                    let asked = self.show.text(clearance);
                    flag(code, format!("{how}; at least {asked} is asked for"));
                }
            }
        }
        let no_connector_mass = self
            .job
            .pipes
            .get(self.slot.pipe)
            .is_some_and(|pipe| pipe.connector_mass.is_none());
        if no_connector_mass && place.offcut_connections > 0 {
            flag(
                Code::OffcutMassPartial,
                format!(
                    "the off-cut's mass leaves out its connectors, whose mass is not given: made-up pairs {}",
                    place.offcut_connections
                ),
            );
        }
        if let Some(tolerance) = self.job.cut.tolerance {
            let mut stated = place
                .marks
                .iter()
                .filter_map(|mark| mark.variance)
                .peekable();
            if stated.peek().is_some()
                && !stated.any(|variance| variance.expanded_is_within(tolerance))
            {
                flag(
                    Code::MarksTooLoose,
                    format!(
                        "no mark finds the cut within the tolerance of {}",
                        self.show.small(tolerance)
                    ),
                );
            }
        }
    }

    fn as_cut(&self, flags: &mut Vec<Flag>) {
        let Some(as_cut) = &self.figures.cut.as_cut else {
            return;
        };
        let mut flag = |code, text: String| flags.push(Flag::new(code, Place::Cut, text));
        match as_cut.verdict {
            Some(Verdict::Outside) => flag(Code::CutOutside, self.deviation(as_cut, "is outside")),
            Some(Verdict::Unproven) => flag(
                Code::CutUnproven,
                self.deviation(as_cut, "is not proven to be within"),
            ),
            Some(Verdict::Within) | None => {}
        }
        if as_cut.readings < 4 {
            flag(
                Code::RimReadingsFew,
                format!(
                    "readings round the finished top: {}; four show how it lies",
                    as_cut.readings
                ),
            );
        }
        if let (Some(out_of_level), Some(level)) = (as_cut.out_of_level, self.job.cut.level)
            && out_of_level > level
        {
            flag(
                Code::OutOfLevel,
                format!(
                    "the finished top is {} out of level; {} is allowed",
                    self.show.small(out_of_level),
                    self.show.small(level)
                ),
            );
        }
    }

    fn deviation(&self, as_cut: &AsCut, how: &str) -> String {
        let uncertainty = as_cut.variance.map_or_else(
            || "not stated".to_owned(),
            |variance| self.show.small(variance.expanded()),
        );
        format!(
            "the finished top is {} from its target (U {uncertainty}), which {how} {}",
            self.show.small_signed(as_cut.deviation.rounded()),
            self.show.small(self.job.cut.tolerance.unwrap_or_default())
        )
    }

    fn keep_outs(&self, flags: &mut Vec<Flag>) {
        let mut worst = Severity::Check;
        let mut places: Vec<String> = Vec::new();
        let mut first = None;
        for found in &self.figures.in_keep_outs {
            let (Some(keep_out), Some(connection)) = (
                self.job.keep_outs.get(found.keep_out),
                self.figures.connections.get(found.connection),
            ) else {
                continue;
            };
            worst = worst.max(keep_out.severity);
            first.get_or_insert(connection.below);
            places.push(format!(
                "{}/{} at {} ({})",
                self.number(connection.below),
                self.number(connection.below + 1),
                self.elevation(connection.plane),
                keep_out.why
            ));
        }
        if let Some(first) = first {
            flags.push(Flag {
                code: Code::ConnectionInKeepOut,
                severity: worst,
                place: Place::Joint(first),
                text: format!("connections where none may lie: {}", places.join(", ")),
            });
        }
    }

    fn accessories(&self, flags: &mut Vec<Flag>) {
        let (Some(shoe), Some(top)) = (self.figures.shoe, self.figures.top) else {
            return;
        };
        let cut = self
            .figures
            .cut
            .place
            .as_ref()
            .map(|_| self.figures.cut.target);
        let mut found: [(Code, Vec<String>, Option<usize>); 3] = [
            (Code::AccessoryOnConnection, Vec::new(), None),
            (Code::AccessoryOffString, Vec::new(), None),
            (Code::AccessoryAboveCut, Vec::new(), None),
        ];
        for (at, place) in self.figures.accessories.iter().enumerate() {
            let Some(accessory) = self.job.accessories.get(place.accessory) else {
                continue;
            };
            let (from, to): (Elevation, Elevation) =
                (accessory.elevation, accessory.elevation + accessory.length);
            let raised = [
                place.clear == Some(false),
                from < shoe || to > top,
                cut.is_some_and(|cut| to > cut),
            ];
            for ((_, names, first), raised) in found.iter_mut().zip(raised) {
                if raised {
                    names.push(format!("{} at {}", accessory.name, self.elevation(from)));
                    first.get_or_insert(at);
                }
            }
        }
        for (code, names, first) in found {
            let Some(first) = first else { continue };
            let what = match code {
                Code::AccessoryOnConnection => "would touch a connection",
                Code::AccessoryOffString => "would lie off the string",
                _ => "would lie above the cut",
            };
            flags.push(Flag::new(
                code,
                Place::Accessory(first),
                format!("{what}: {}", names.join(", ")),
            ));
        }
    }
}

/// A length that flags of the whole job show.
pub(super) fn small(job: &Job, length: Length) -> String {
    LengthFormat::new(job.units).small(length)
}
